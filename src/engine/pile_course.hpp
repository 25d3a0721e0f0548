// A part of a pile through its days, in one member.
//
// A part is a section of 1 m along (src/pile/pile.hpp): what differs along a pile is when it was
// piled and with whose beets, and each part has its own course. docs/methods/pile_question.md.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "base/catalogue.hpp"
#include "base/result.hpp"
#include "engine/pile_deeds.hpp"
#include "engine/pile_members.hpp"
#include "engine/pile_parts.hpp"
#include "pile/pile.hpp"
#include "weather/outlook.hpp"
#include "weather/sun.hpp"

namespace beetwright::engine {

/// A day's end in a part; means by mass of clean beet as piled.
struct PartDay {
    double mean_C = 0.0;
    double warmest_C = 0.0;  ///< of its cells
    double coldest_C = 0.0;
    double sugar_left = 1.0;      ///< of what was piled
    double killed = 0.0;          ///< share of cells of beets that frost has killed
    double thawed = 0.0;          ///< of them, those in beets that are thawed
    double rotting = 0.0;         ///< share of beets past the thermal time from which rot grows
    double thermal_time = 0.0;    ///< since lifting [°C·d]
    double carbon_dioxide = 0.0;  ///< of the air in its pores, where there is most [m3/m3]
    std::uint32_t warmest = 0;    ///< which cell of the picture
};

/// What a part looks like at a day's end, cell by cell of its picture.
struct PartFrame {
    Day day{};
    std::vector<float> celsius, sugar_left, killed;
    std::vector<float> air_across, air_up;  ///< between the beets [m/s]
};

/// The cells of a section, row by row from the ground up, each from the left flank on. The left is
/// that of whoever looks along the pile from where it was begun.
struct PartGrid {
    std::size_t across = 0, up = 0;
    Length cell_across, cell_up;
    std::vector<bool> has_beet;

    [[nodiscard]] Length across_at(std::size_t cell) const;  ///< from the middle line
    [[nodiscard]] Length height_at(std::size_t cell) const;
};

struct PlaceInPile {
    Length along, across, height;  ///< across from the middle line; negative: on the left
};

/// An instant and a place in a section at which its warmth is asked for.
struct SampleAt {
    Instant at{};
    Length across;  ///< from the middle line
    Length height;
};
/// NaN where no beets lay then.
struct Sample {
    double celsius = std::numeric_limits<double>::quiet_NaN();
    double slope_K_m = 0.0;  ///< how fast it changes from there to its neighbours
};

struct PartCourse {
    std::vector<PartDay> days;      ///< from the day on which it was piled
    std::vector<PartFrame> frames;  ///< on the days that were asked for
    /// After each day, of its beets on the mean: what the ledger's lump asks.
    std::vector<pile::Exposure> exposure;
    std::vector<Sample> samples;   ///< as they were asked for
    double fan_J_per_metre = 0.0;  ///< of power drawn, from now on
    /// Of the air that its fans' plates promise, what passes while they blow, from now on; 1: none
    /// blew.
    double fan_share = 1.0;
    double covered = 0.0;  ///< how often a cover was put on, from now on

    /// Null where none was asked for, or where nothing lay there at its end.
    [[nodiscard]] const PartFrame* frame_on(Day day) const;
};

/// A layer's beets in one draw.
struct LayerBeet {
    pile::LumpCondition condition;
    double sugar = 0.0;                             ///< [kg/kg] as piled
    double molasses = 0.0, soil = 0.0, tops = 0.0;  ///< [kg/kg]
};

/// What a member may have moved of it (PartScores), in that order.
inline std::array<double*, 5> traits_of(pile::LumpCondition& beet) {
    return {&beet.tail_wound, &beet.crown_wound, &beet.skin_wound, &beet.leaf, &beet.soil};
}

/// Everything that courses of one pile have in common. What it points at outlives them.
struct CourseBasis {
    const ledger::Season* season = nullptr;
    const Catalogue* catalogue = nullptr;
    const PileContents* contents = nullptr;
    const weather::Outlook* outlook = nullptr;
    std::span<const weather::SunPosition> suns;
    double ground_C = 10.0, deep_ground_C = 10.0;
    Instant now{};
    Day until{};
    Length cell{0.5};
};

struct CourseQuestion {
    std::size_t part = 0;
    std::size_t weather = 0;  ///< which member of the outlook
    const PileMember* member = nullptr;
    std::span<const LayerBeet> beets;  ///< by layer
    PileDeed deed;
    std::span<const Day> frames;             ///< in order of time
    std::span<const SampleAt> samples = {};  ///< likewise
    std::optional<Instant> ends = {};        ///< before the last day
};

/// The cells of a part's picture.
Result<PartGrid> part_grid(const CourseBasis& basis);

/// Problems: those of Pile::make and Pile::pass.
Result<PartCourse> part_course(const CourseBasis& basis, const CourseQuestion& question);

}  // namespace beetwright::engine
