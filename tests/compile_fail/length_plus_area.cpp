// A length is not an area.
#include "base/quantity.hpp"

using namespace beetwright;

auto wrong = 1.0 * unit::m + 1.0 * unit::m2;
