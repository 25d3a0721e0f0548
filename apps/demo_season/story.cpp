#include "demo_season/story.hpp"

#include <algorithm>
#include <array>
#include <limits>

#include "base/contract.hpp"

namespace beetwright::demo {
namespace {

constexpr std::string_view kFactory = "Ottermarsh factory";
constexpr std::string_view kCopse = kBegunPile;
constexpr std::string_view kWindmill = "Windmill pile";
constexpr std::string_view kNorth = "Harvester North";
constexpr std::string_view kSouth = "Harvester South";
constexpr std::string_view kTansy = "Tansy Hill Farm";
constexpr std::string_view kHobble = "Hobble End Farm";
constexpr std::string_view kSallow = "Three Sallows Farm";
constexpr std::string_view kDrove = "Long Drove Farm";
constexpr std::string_view kOwl = "Owlbarn Farm";
constexpr std::string_view kPewter = "Pewterleaf";
constexpr std::string_view kLantern = "Lanternroot";
constexpr std::string_view kThistle = "Thistlemoor";

constexpr auto kClasses = TailsRead::in_classes;
constexpr Sampling kNone{.sheets = 0, .spots = 0, .strips = 0, .tares = 0, .labs = 0};
// Nobody went out to count: only what the buyer takes from any load.
constexpr Sampling kOnlyBuyers{.sheets = 0, .spots = 0, .strips = 0, .tares = 2, .labs = 1};

using enum Happening;

// Sampling: sheets, spots, strips, tares, labs.
// clang-format off
constexpr std::array<FieldPlan, 24> kFields{{
    {"Gorse Bank", kTansy, "sand", kPewter, 6.5, 14.2, kNorth, "Ilka", kFactory, 0, 2, {1, 2, 0, 2, 1}},
    {"Sandpit Forty", kHobble, "loamy sand", kLantern, 16.2, 22.7, kSouth, "Maren", kFactory, 2, 4, {1, 10, 1, 3, 2, kClasses}},
    {"Fox Spinney", kTansy, "sandy loam", kThistle, 9.8, 12.9, kNorth, "Joss", kFactory, 5, 6, {2, 10, 1, 3, 3}, leaf_disease},
    {"Plover Ground", kSallow, "loam", kPewter, 22.4, 8.4, kSouth, "Tobin", kFactory, 8, 10, {1, 10, 2, 3, 2}},
    {"Kiln Close", kDrove, "clay loam", kLantern, 11.3, 31.6, kNorth, "Ilka", kFactory, 11, 13, {2, 10, 1, 2, 1}},
    {"Chalk Ridge", kOwl, "loam", kThistle, 18.0, 27.3, kSouth, "Maren", kFactory, 14, 16, {1, 10, 0, 3, 2, kClasses}},
    {"Marl Pit", kDrove, "heavy clay", kPewter, 7.4, 33.0, kNorth, "Joss", kFactory, 17, 18, {1, 10, 1, 4, 1}},
    {"Lower Sallow", kSallow, "silt loam", kLantern, 25.5, 9.1, kSouth, "Tobin", kFactory, 20, 22, kOnlyBuyers},
    {"Long Furrow", kHobble, "loam", kPewter, 31.0, 20.5, kNorth, "Ilka", kFactory, 25, 27, {2, 10, 3, 5, 4}},
    {"Heron Leys", kSallow, "silt loam", kThistle, 14.6, 10.2, kSouth, "Maren", kFactory, 29, 31, {2, 10, 1, 3, 2, kClasses}, rot_nest},
    {"Crow Park", kOwl, "clay loam", kPewter, 19.7, 26.1, kNorth, "Joss", kCopse, 33, 85, {1, 10, 2, 4, 2}},
    {"Upper Sallow", kSallow, "silt loam", kLantern, 28.3, 8.8, kSouth, "Tobin", kCopse, 36, 90, {2, 10, 2, 4, 3}},
    {"Mill Dam", kDrove, "heavy clay", kPewter, 12.1, 34.4, kNorth, "Ilka", kCopse, 39, 95, {1, 10, 1, 5, 2}},
    {"Bell Meadow", kOwl, "clay loam", kThistle, 8.9, 25.7, kSouth, "Maren", kCopse, 42, 98, {1, 10, 0, 3, 1, kClasses, check::SeenAt::pile}},
    {"Causeway", kDrove, "heavy clay", kLantern, 21.6, 35.8, kNorth, "Joss", kFactory, 45, 47, {1, 3, 1, 5, 3}},
    {"Bittern Fen", kHobble, "heavy clay", kPewter, 5.6, 23.9, kSouth, "Tobin", kWindmill, 48, 125, {1, 10, 1, 2, 1}},
    {"Hollow Oak", kTansy, "loam", kLantern, 40.0, 13.5, kNorth, "Ilka", kWindmill, 51, 130, {2, 10, 3, 5, 4}},
    {"Ashen Drove", kDrove, "sandy loam", kThistle, 17.5, 30.2, kSouth, "Maren", kWindmill, 54, 138, kOnlyBuyers},
    {"Warren Top", kTansy, "sandy loam", kPewter, 23.2, 11.7, kNorth, "Joss", kWindmill, 57, 142, {2, 10, 1, 3, 2}},
    {"Old Orchard", kOwl, "loam", kThistle, 4.0, 26.8, kSouth, "Tobin", kWindmill, 60, 145, {1, 4, 0, 2, 1}},
    {"Tollgate", kHobble, "clay loam", kLantern, 13.4, 21.3, kNorth, "Ilka", kFactory, 69, 70, {1, 10, 0, 3, 2}},
    {"Reed Side", kSallow, "silt loam", kPewter, 15.8, 9.6, kSouth, "Maren", kWindmill, 71, 140, {2, 10, 0, 3, 2, kClasses}},
    {"Station Piece", kHobble, "loam", kPewter, 20.3, 19.4, kNorth, "Joss", kWindmill, 78, std::nullopt, kNone},
    {"Cuckoo Pen", kOwl, "sandy loam", kLantern, 10.5, 28.0, kSouth, "Tobin", kFactory, 81, 83, kNone},
}};
// clang-format on

// North shows depth on a scale from 0 to 10 and turns in per cent of the most; South shows depth as
// the height at which the shares are held, so that more means less deep, and turns in steps.
// clang-format off
constexpr std::array<DialPlan, 5> kDialsNorth{{
    {"share.depth", 0.5, {{{1.0, 52.0}, {5.0, 77.0}, {9.0, 104.0}}}},
    {"roller_bed.speed", 5.0, {{{30.0, 158.0}, {60.0, 249.0}, {90.0, 338.0}}}},
    {"turbine_1.speed", 5.0, {{{30.0, 30.0}, {50.0, 44.0}, {90.0, 78.0}}}},
    {"turbine_2.speed", 5.0, {{{35.0, 32.0}, {50.0, 43.0}, {90.0, 75.0}}}},
    {"turbine_3.speed", 5.0, {{{30.0, 32.0}, {50.0, 46.0}, {90.0, 80.0}}}},
}};
constexpr std::array<DialPlan, 5> kDialsSouth{{
    {"share.depth", 0.5, {{{2.0, 101.0}, {6.0, 78.0}, {10.0, 54.0}}}},
    {"roller_bed.speed", 1.0, {{{3.0, 145.0}, {9.0, 240.0}, {15.0, 342.0}}}},
    {"turbine_1.speed", 1.0, {{{4.0, 34.0}, {7.0, 49.0}, {12.0, 72.0}}}},
    {"turbine_2.speed", 1.0, {{{4.0, 32.0}, {7.0, 45.0}, {12.0, 70.0}}}},
    {"turbine_3.speed", 1.0, {{{4.0, 35.0}, {7.0, 48.0}, {12.0, 74.0}}}},
}};
// clang-format on

constexpr std::array<MachinePlan, 2> kMachines{{
    {.name = kNorth,
     .kind = "six-row self-propelled",
     .row_spacing_cm = 45.0,
     .row_spacing_in = 22.0,
     .strip_m = 10.0,
     .strip_ft = 10.0,
     .slanted_share = 0.035,
     .slanted_share_blunt = 0.035,
     .whole_root_factor = 0.9,
     .wheel_load_t = 9.4,
     .tyre_bar = 2.2,
     .tyre_width_cm = 80.0,
     .tyre_diameter_cm = 190.0,
     .hour_cost = 345.0,
     .dials = kDialsNorth},
    {.name = kSouth,
     .kind = "six-row self-propelled",
     .row_spacing_cm = 50.0,
     .row_spacing_in = 22.0,
     .strip_m = 20.0,
     .strip_ft = 20.0,
     .slanted_share = 0.035,
     .slanted_share_blunt = 0.11,
     .whole_root_factor = 1.25,
     .wheel_load_t = 11.2,
     .tyre_bar = 2.7,
     .tyre_width_cm = 71.0,
     .tyre_diameter_cm = 182.0,
     .hour_cost = 310.0,
     .dials = kDialsSouth},
}};

constexpr std::array<PartPlan, 2> kParts{{
    {.machine = kNorth,
     .day = 24,
     .hour = 16,
     .stage = check::MachineStage::lifting_shares,
     .what = "new share points on all rows"},
    {.machine = kSouth,
     .day = kNewKnives.number(),
     .hour = 5,
     .stage = check::MachineStage::scalper,
     .what = "new topping knives"},
}};

constexpr double kAsUsual = std::numeric_limits<double>::quiet_NaN();
constexpr std::array<SoilPlan, 3> kSoilsKnown{{
    {.word = "heavy clay",
     .soil_class = weather::SoilClass::clay,
     .holds_mm = 55.0,
     .stop_percent = 88.0,
     .drains_to_percent = 84.0,
     .drain_lag_h = 60.0,
     .rain_stop_mm = 2.0},
    {.word = "clay loam",
     .soil_class = std::nullopt,
     .holds_mm = kAsUsual,
     .stop_percent = kAsUsual,
     .drains_to_percent = kAsUsual,
     .drain_lag_h = 40.0,
     .rain_stop_mm = kAsUsual},
    {.word = "sand",
     .soil_class = weather::SoilClass::sand,
     .holds_mm = 25.0,
     .stop_percent = kAsUsual,
     .drains_to_percent = kAsUsual,
     .drain_lag_h = 12.0,
     .rain_stop_mm = 6.0},
}};

constexpr std::array<OperatorPlan, 4> kOperators{{
    {.name = "Ilka", .topper_bias_mm = 0.0, .break_factor = 0.90},
    {.name = "Joss", .topper_bias_mm = 2.5, .break_factor = 1.00},
    {.name = "Maren", .topper_bias_mm = -1.5, .break_factor = 0.95},
    {.name = "Tobin", .topper_bias_mm = 0.5, .break_factor = 1.17},
}};

constexpr std::array<DestinationPlan, 3> kDestinations{{
    {.name = kFactory,
     .kind = ledger::DestinationKind::factory,
     .lag_days = 3.0,
     .heating_K_per_day = 0.1},
    {.name = kCopse,
     .kind = ledger::DestinationKind::pile,
     .lag_days = 8.0,
     .heating_K_per_day = 0.15},
    {.name = kWindmill,
     .kind = ledger::DestinationKind::pile,
     .lag_days = 6.0,
     .heating_K_per_day = 0.12},
}};

constexpr std::array<PilePlan, 2> kPiles{{
    {.name = kCopse,
     .base_m = 30.0,
     .top_m = 20.0,
     .height_m = 4.5,
     .orientation_degrees = 40.0,
     .ground = ledger::PileGround::earth,
     .built = ledger::PileBuilding::from_one_end,
     .fans = 0},
    {.name = kWindmill,
     .base_m = 36.0,
     .top_m = 24.0,
     .height_m = 5.0,
     .orientation_degrees = 95.0,
     .ground = ledger::PileGround::concrete,
     .built = ledger::PileBuilding::in_layers,
     .fans = 2},
}};

// Put on the day before the frost, off once it has gone: sheets left on cost more than none.
constexpr std::array<CoverPlan, 4> kCovers{{
    {kWindmill, kFrostBegins.number() - 1, 9, check::PileCover::plastic},
    {kCopse, kFrostBegins.number() - 1, 13, check::PileCover::fleece},
    {kWindmill, kFrostEnds.number() + 1, 8, check::PileCover::none},
    {kCopse, kFrostEnds.number() + 2, 11, check::PileCover::none},
}};

// Copse Road has four loggers, two of them high; at the Windmill somebody walks with a lance every
// other day.
// clang-format off
constexpr std::array<ProbePlan, 10> kProbes{{
    {kCopse, "1", check::ProbeKind::logger, 1, 0.2, 0.0, 1.5},
    {kCopse, "2", check::ProbeKind::logger, 1, 0.5, 0.0, 3.0},
    {kCopse, "3", check::ProbeKind::logger, 1, 0.8, 3.0, 1.5},
    {kCopse, "4", check::ProbeKind::logger, 1, 0.5, -9.5, 2.0},
    {kWindmill, "lance west", check::ProbeKind::lance, 2, 0.2, 0.0, 2.0},
    {kWindmill, "lance west", check::ProbeKind::lance, 2, 0.2, 0.0, 4.0},
    {kWindmill, "lance middle", check::ProbeKind::lance, 2, 0.5, 0.0, 2.0},
    {kWindmill, "lance middle", check::ProbeKind::lance, 2, 0.5, 0.0, 4.0},
    {kWindmill, "lance east", check::ProbeKind::lance, 2, 0.8, 0.0, 2.0},
    {kWindmill, "lance east", check::ProbeKind::lance, 2, 0.8, 8.0, 4.0},
}};
// clang-format on

struct SoilWord {
    std::string_view word;
    double clay;
};
constexpr std::array<SoilWord, 7> kSoils{{{"sand", 0.05},
                                          {"loamy sand", 0.15},
                                          {"sandy loam", 0.25},
                                          {"loam", 0.4},
                                          {"silt loam", 0.45},
                                          {"clay loam", 0.65},
                                          {"heavy clay", 1.0}}};

template <class Plan>
const Plan& named(std::span<const Plan> plans, std::string_view name) {
    const auto found = std::ranges::find(plans, name, &Plan::name);
    require(found != plans.end(), "the story names only those it has introduced");
    return *found;
}

}  // namespace

std::span<const FieldPlan> field_plans() {
    return kFields;
}
std::span<const MachinePlan> machine_plans() {
    return kMachines;
}
std::span<const SoilPlan> soil_plans() {
    return kSoilsKnown;
}
std::span<const PartPlan> part_plans() {
    return kParts;
}
std::span<const OperatorPlan> operator_plans() {
    return kOperators;
}
std::span<const DestinationPlan> destination_plans() {
    return kDestinations;
}

std::span<const PilePlan> pile_plans() {
    return kPiles;
}
std::span<const CoverPlan> cover_plans() {
    return kCovers;
}
std::span<const ProbePlan> probe_plans() {
    return kProbes;
}

const MachinePlan& machine_of(const FieldPlan& field) {
    return named(machine_plans(), field.machine);
}
const OperatorPlan& operator_of(const FieldPlan& field) {
    return named(operator_plans(), field.operator_name);
}

double clay_of(std::string_view soil) {
    const auto* found = std::ranges::find(kSoils, soil, &SoilWord::word);
    require(found != kSoils.end(), "the story's soils are among its words for soils");
    return found->clay;
}

}  // namespace beetwright::demo
