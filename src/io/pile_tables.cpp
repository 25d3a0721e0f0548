// The tables in which people say how their piles are laid out, covered, measured and taken away.
#include <array>
#include <numbers>

#include "check/pile_log.hpp"
#include "io/columns.hpp"
#include "io/season_tables.hpp"
#include "ledger/pile_site.hpp"

namespace beetwright::io {
namespace {

using namespace columns;
using check::PileCover;
using check::ProbeKind;
using ledger::FanRule;
using ledger::PileBuilding;
using ledger::PileGround;

// Of the largest piles published 67 m are the width and 7 m the height, with room above that.
constexpr double kMostWidth = 120.0;
constexpr double kMostHeight = 15.0;
constexpr double kHour = 3600.0;

constexpr Column metres(std::string_view name, Presence presence, double least, double most,
                        std::string_view words) {
    return number(name, presence, UnitKind::length, "m", "ft", least, most, words);
}
constexpr Column temperature(std::string_view name, Presence presence, double least_C,
                             double most_C, std::string_view words) {
    constexpr double kZero = 273.15;
    return number(name, presence, UnitKind::temperature, "°C", "°F", kZero + least_C,
                  kZero + most_C, words);
}

constexpr Column kPile =
    name_of(Master::destinations, "pile", required, "the pile's name, as in destinations.csv");
constexpr Column kTo = along_pile("to", optional, "where it ends; empty: the pile's end");

constexpr std::array kGrounds{Word{"earth", code(PileGround::earth)},
                              Word{"gravel", code(PileGround::gravel)},
                              Word{"concrete", code(PileGround::concrete)}};
constexpr std::array kBuilt{Word{"from_one_end", code(PileBuilding::from_one_end)},
                            Word{"in_layers", code(PileBuilding::in_layers)}};

constexpr std::array kPiles{
    name_of(Master::destinations, "name", required, "the pile's name, as in destinations.csv"),
    metres("base_width", required, 1.0, kMostWidth, "how wide it is on the ground"),
    metres("top_width", optional, 0.0, kMostWidth, "how wide its top is; 0 or empty: a roof"),
    metres("height", required, 0.3, kMostHeight, "how high it is"),
    metres("length", required, 1.0, kLongestPile, "how long it may get"),
    number("orientation", optional, UnitKind::angle, "°", "°", 0.0, 2.0 * std::numbers::pi,
           "the way that it runs from the end at which it was begun, clockwise from north: 90 is "
           "east"),
    word("ground", kGrounds, "what it lies on; empty: not said"),
    word("built", kBuilt, "how it grows; empty: not said")};

constexpr std::array kRules{Word{"off", code(FanRule::off)},
                            Word{"difference", code(FanRule::difference)},
                            Word{"freeze", code(FanRule::freeze)}};

constexpr std::array kFans{
    kPile,
    along_pile("from", optional,
               "where its duct begins, from the end at which the pile was begun; "
               "empty: there"),
    kTo,
    number("flow", required, UnitKind::volume_per_time, "m3/h", "cu ft/min", 1.0 / kHour,
           1e7 / kHour, "air that it moves against its pressure"),
    number("pressure", optional, UnitKind::pressure, "Pa", "inH2O", 0.0, 1e4,
           "what it blows against at that flow, as its plate says; empty: not known"),
    number("power", optional, UnitKind::power, "kW", "hp", 0.0, 1e6, "what it draws then"),
    word("rule", kRules,
         "when it runs by itself: by difference, where the air outside is colder than the pile; to "
         "freeze the pile; or off, by hand alone",
         required),
    number("difference", optional, UnitKind::temperature_difference, "K", "F°", 0.0, 40.0,
           "by how much the air must be colder; by difference alone"),
    temperature("not_below", optional, -50.0, 30.0,
                "it does not run in air that is colder; empty: however cold"),
    temperature("only_below", optional, -50.0, 30.0,
                "it runs only in air that is colder; empty: however warm")};

constexpr Column kFrom =
    along_pile("from", optional,
               "where it begins, from the end at which the pile was begun; empty: "
               "there");

constexpr std::array kCoverWords{
    Word{"none", code(PileCover::none)}, Word{"fleece", code(PileCover::fleece)},
    Word{"straw", code(PileCover::straw)}, Word{"plastic", code(PileCover::plastic)},
    Word{"strips", code(PileCover::strips)}};

constexpr std::array kCovers{
    own_id,
    supersedes,
    kPile,
    instant(),
    kFrom,
    kTo,
    word("cover", kCoverWords,
         "what lies there from then on, instead of what lay there before; strips: sheets with gaps "
         "between; none: it lies open",
         required)};

constexpr std::array kProbeKinds{Word{"lance", code(ProbeKind::lance)},
                                 Word{"logger", code(ProbeKind::logger)},
                                 Word{"surface", code(ProbeKind::surface)}};

/// Steam is seen from piles whose middle has 30 °C; one of 40 °C is rotten through. More than that
/// was read in Fahrenheit.
constexpr double kHottestPile_C = 40.0;

constexpr std::array kProbes{
    own_id,
    supersedes,
    kPile,
    instant(),
    text("probe", required, "its name or number"),
    word("kind", kProbeKinds,
         "a lance pushed in for this reading, a logger that stays, or the surface, as a picture of "
         "its warmth shows it; empty: a lance"),
    along_pile("along", required, "how far along, from the end at which the pile was begun"),
    metres("across", optional, -0.5 * kMostWidth, 0.5 * kMostWidth,
           "how far from the middle line, to the right of who looks along the pile; negative: to "
           "the left; empty: on it"),
    metres("height", required, 0.0, kMostHeight, "how high over the ground its tip is"),
    temperature("temperature", required, -40.0, kHottestPile_C, "what it read")};

constexpr std::array kRemovals{
    own_id,
    supersedes,
    kPile,
    instant(),
    kFrom,
    kTo,
    mass("gross", optional, "what was taken, as weighed; empty: not weighed", "t", "short ton",
         1e9)};

}  // namespace

namespace piles {
constinit const Table table{"piles.csv", optional,
                            "How piles are laid out; a row a pile of destinations.csv.", kPiles};
}
namespace fans {
constinit const Table table{"fans.csv", optional, "Fans of piles, each with its duct.", kFans};
}
namespace covers {
constinit const Table table{"covers.csv", optional,
                            "Covers put on piles and taken off: what lies there from then on.",
                            kCovers};
}
namespace probes {
constinit const Table table{"probes.csv", optional, "Temperatures read in piles and on them.",
                            kProbes};
}
namespace removals {
constinit const Table table{"removals.csv", optional, "What was taken away from piles.", kRemovals};
}

}  // namespace beetwright::io
