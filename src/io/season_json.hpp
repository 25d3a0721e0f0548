// season.json: what holds for the season as a whole. docs/formats/season_json.md.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "base/time.hpp"
#include "base/unit.hpp"

namespace beetwright::io {

inline constexpr int kSeasonFormat = 1;

struct SeasonHead {
    std::string name;
    std::string currency;
    UnitSystem units = UnitSystem::metric;
    Day first_day{};
    std::uint64_t seed = 1;
    std::vector<std::string> files;  ///< that belong to the season; empty: not said
};

/// Reads season.json; all problems at once. A format newer than ours is refused.
Result<SeasonHead> read_season_json(std::string_view json, const std::string& file);
std::string write_season_json(const SeasonHead& head);

}  // namespace beetwright::io
