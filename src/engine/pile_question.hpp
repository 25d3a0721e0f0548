// Will a pile keep, where is it going wrong, and what should be done to it?
//
// A struct in, a struct out; no I/O. docs/methods/pile_question.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/estimate.hpp"
#include "engine/cover_days.hpp"
#include "engine/next_probe.hpp"
#include "engine/pile_outcome.hpp"
#include "engine/pile_probes.hpp"
#include "engine/pile_study.hpp"

namespace beetwright::engine {

struct PileQuestion {
    StudyQuestion about;
    /// What it would come to if this were done, by its name (pile_deeds.hpp).
    std::vector<std::string> deeds = {};
    /// Whether to look for the best day to put on the best of the covers, and to take it off.
    bool looks_for_days = false;
    /// The part whose section is shown, counted from 0; absent: the one due first.
    std::optional<std::size_t> pictured = {};
    std::size_t pictures = 24;  ///< through time, at most; 0 to 60
};

/// By day, over the members.
struct PileBandDay {
    Day day{};
    Estimate<double> mean_C, warmest_C, coldest_C;
    Estimate<double> sugar_lost;  ///< share of what was piled
    Estimate<double> killed;      ///< share of cells that frost has killed
    Estimate<double> rotting;     ///< share of beets past where rot grows
};

/// Why a part becomes due for slicing.
enum class DueFor : std::uint8_t { nothing, rot, thaw };

/// Warm beets inside, ahead.
struct HotSpot {
    PlaceInPile place;
    Day day{};                 ///< on which it is warmest
    Estimate<double> celsius;  ///< then
    double chance = 0.0;       ///< that it gets warmer than pile.hot_spot by the last day
    std::optional<Estimate<double>>
        days_until;  ///< it does, from now, where it does in half of them
};

struct PartAnswer {
    PilePart part;
    PartFacts facts;
    std::vector<PileBandDay> days;
    HotSpot warmest;
    /// Days from now until it should be sliced, at the latest; where members never come to it they
    /// count as the day after the last. Absent: it is gone.
    std::optional<Estimate<double>> days_left;
    double chance_due = 0.0;           ///< that it comes to that by the last day
    DueFor due_for = DueFor::nothing;  ///< mostly
    double carbon_dioxide = 0.0;       ///< most from today on, mean of the members [m3/m3]
};

/// A section through time, on the mean of the members.
struct PilePicture {
    std::size_t part = 0;
    PartGrid grid;
    struct Frame {
        Day day{};
        PartFrame mean;
        std::vector<float> low_C, high_C;  ///< 90 % interval of the temperature
    };
    std::vector<Frame> frames;
};

/// A warning, with the part that it is about.
struct PileWarning {
    std::optional<std::size_t> part;
    std::string words;
};

struct PileAnswer {
    std::string pile;
    Instant at{};
    Day today{}, until{};
    CleanMass mass;
    ledger::PileSite site;
    std::vector<PartAnswer> parts;
    std::vector<PileBandDay> days;  ///< of the whole pile
    std::optional<std::size_t> due_first;
    Estimate<double> sugar_lost_kg;  ///< by each part's slicing
    Estimate<double> sugar_lost;     ///< the same as a share
    Estimate<Money> money_lost;      ///< against slicing everything as it was piled
    std::vector<DeedAnswer> deeds;   ///< best first
    std::optional<BestDays> best_days;
    PileLearned learned;                 ///< from readings in it
    std::vector<NextProbe> next_probes;  ///< where one more would teach most, the best first
    PilePicture picture;
    std::vector<PileWarning> warnings;
    std::size_t members = 0;
    std::vector<std::string> assumptions;
    std::vector<std::string> cautions;
};

/// Problems: those of PileStudy; a deed that has no such name; a part that there is none; steps
/// that do not stand, with the hour and the place; that it was stopped.
Result<PileAnswer> ask_pile(const ledger::Season& season, const PileQuestion& question,
                            WorkerPool& pool, Progress* progress = nullptr);

/// A few lines on a pile, for a list of all of them.
struct PileLine {
    std::string pile;
    std::optional<PileAnswer> answer;
    Problems problems;  ///< why there is none
};

/// Each of the season's piles, without deeds and pictures. Problems: that it was stopped.
Result<std::vector<PileLine>> ask_piles(const ledger::Season& season, const StudyQuestion& about,
                                        WorkerPool& pool, Progress* progress = nullptr);

}  // namespace beetwright::engine
