#include "engine/zones_question.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "demo/season.hpp"
#include "engine/zone_worth.hpp"
#include "ground/driven.hpp"
#include "io/season_folder.hpp"

namespace beetwright::engine {
namespace {
}  // namespace
}  // namespace beetwright::engine
