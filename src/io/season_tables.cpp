#include "io/season_tables.hpp"

#include <array>
#include <numbers>

#include "base/quantity.hpp"
#include "check/sheet.hpp"
#include "check/standing_look.hpp"
#include "io/columns.hpp"
#include "ledger/season.hpp"
#include "weather/soil.hpp"

namespace beetwright::io {
namespace {

using namespace columns;
using check::Evenness;
using check::SeenAt;
using check::SoilInHand;
using check::Topping;
using harvester::MachineKind;
using ledger::DestinationKind;
using weather::SoilClass;

constexpr std::array kSeenAt{
    Word{"tank", code(SeenAt::tank)}, Word{"before cleaning", code(SeenAt::before_cleaning)},
    Word{"pile", code(SeenAt::pile)}, Word{"delivery", code(SeenAt::delivery)},
    Word{"row", code(SeenAt::row)}};
constexpr std::array kTopping{Word{"petioles long", code(Topping::petioles_long)},
                              Word{"petioles short", code(Topping::petioles_short)},
                              Word{"correct", code(Topping::correct)},
                              Word{"too deep", code(Topping::too_deep)},
                              Word{"slanted", code(Topping::slanted)},
                              Word{"crown untouched", code(Topping::crown_untouched)}};
constexpr std::array kPlaces{Word{"factory", code(DestinationKind::factory)},
                             Word{"pile", code(DestinationKind::pile)}};

constexpr double kMostArea = 1e8;      // 10,000 ha
constexpr double kMostYield = 20.0;    // 200 t/ha
constexpr double kMostHaul = 1e6;      // 1,000 km
constexpr double kMostBreak = 0.20;    // 20 cm
constexpr double kMostSkin = 0.20;     // 2,000 cm2
constexpr double kMostBeets = 1000.0;  // at one spot

constexpr std::array kFields{
    text("name", required, "a name of its own"),
    text("grower", optional, "whose field it is"),
    number("area", required, UnitKind::area, "ha", "acre", 1.0, kMostArea, "how large it is"),
    explained_in(
        Master::soils,
        text("soil", optional,
             "the soil in the grower's word: loam, heavy clay; soils.csv may say more of it")),
    text("variety", optional, "the variety sown"),
    machine,
    text("operator", optional, "who drove"),
    name_of(Master::destinations, "destination", optional,
            "where its beets go, as in destinations.csv"),
    number("haul", optional, UnitKind::length, "km", "mi", 0.0, kMostHaul,
           "the way from its loading place to the factory"),
    number("yield", optional, UnitKind::mass_per_area, "t/ha", "short ton/acre", 0.0, kMostYield,
           "clean beet expected, topped correctly, where none was weighed"),
    number("yield_low", optional, UnitKind::mass_per_area, "t/ha", "short ton/acre", 0.0,
           kMostYield, "it will hardly be less (one chance in twenty)"),
    number("yield_high", optional, UnitKind::mass_per_area, "t/ha", "short ton/acre", 0.0,
           kMostYield, "it will hardly be more (one chance in twenty)"),
    day("lifted", optional, "the day it was lifted; empty: not yet"),
    day("sliced", optional, "the day its beets are sliced; empty: not decided")};

constexpr std::array kBuilds{Word{"turbines", code(MachineKind::six_row_turbines)},
                             Word{"axial_rolls", code(MachineKind::six_row_axial_rolls)},
                             Word{"two_stage", code(MachineKind::two_stage)}};
constexpr double kMostHourCost = 1e6 / 3600.0;  // 1,000,000 an hour, for weak currencies

constexpr std::array kMachines{
    text("name", required, "a name of its own"),
    text("kind", optional, "what kind of machine, in the owner's words"),
    count("rows", optional, 48.0, "rows lifted at once"),
    number("row_spacing", optional, UnitKind::length, "cm", "in", 0.2, 1.2, "from row to row"),
    number("wheel_load", optional, UnitKind::mass, "t", "short ton", 100.0, 5e4,
           "what the wheel that bears most bears with a full tank"),
    number("tyre_pressure", optional, UnitKind::pressure, "bar", "psi", 2e4, 1e6,
           "pressure in its tyre"),
    number("tyre_width", optional, UnitKind::length, "cm", "in", 0.1, 2.0, "how wide that is"),
    number("tyre_diameter", optional, UnitKind::length, "cm", "in", 0.3, 3.0, "how high it stands"),
    word("build", kBuilds,
         "by what it cleans, or whether a topper goes first; controls.csv may say more; empty: not "
         "said"),
    number("hour_cost", optional, UnitKind::money_per_time, "money/h", "money/h", 0.0,
           kMostHourCost, "what an hour of machine and crew costs, fuel not counted")};

constexpr std::array kSoilClasses{Word{"sand", code(SoilClass::sand)},
                                  Word{"loamy sand", code(SoilClass::loamy_sand)},
                                  Word{"sandy loam", code(SoilClass::sandy_loam)},
                                  Word{"loam", code(SoilClass::loam)},
                                  Word{"silt loam", code(SoilClass::silt_loam)},
                                  Word{"silt", code(SoilClass::silt)},
                                  Word{"silty clay loam", code(SoilClass::silty_clay_loam)},
                                  Word{"silty clay", code(SoilClass::silty_clay)},
                                  Word{"clay", code(SoilClass::clay)}};

constexpr double kHour = 3600.0;
constexpr std::array kSoils{
    text("name", required, "the grower's word for it, as fields have it under soil"),
    word("class", kSoilClasses,
         "what it is by the share of its grains; empty: as its name says, else loam"),
    number("holds", optional, UnitKind::length, "mm", "in", 0.005, 0.3,
           "rain that its dry topsoil takes up; empty: as usual"),
    number("stop_filling", optional, UnitKind::fraction, "%", "%", 0.1, 1.0,
           "filling of the topsoil from which one stops lifting; empty: as usual"),
    number("drains_to", optional, UnitKind::fraction, "%", "%", 0.0, 1.0,
           "filling to which it drains by itself; empty: as usual"),
    number("drain_lag", optional, UnitKind::duration, "h", "h", 0.5 * kHour, 1000.0 * kHour,
           "time in which what is above that falls to 37 %; empty: as usual"),
    number("rain_stop", optional, UnitKind::length, "mm", "in", 0.0, 0.2,
           "rain within a day from which one stops lifting; empty: as usual")};

constexpr std::array kDestinations{text("name", required, "a name of its own"),
                                   word("kind", kPlaces, "a factory or a pile", required)};

constexpr std::array kTemperatures{
    name_of(Master::destinations, "destination", required, "as in destinations.csv"),
    day("day", required, "the day"),
    number("mean", required, UnitKind::temperature, "°C", "°F", 223.15, 333.15,
           "mean temperature of the beets that day")};

constexpr std::array kLoads{
    own_id,
    supersedes,
    field,
    instant(),
    name_of(Master::destinations, "destination", optional, "where it went, as in destinations.csv"),
    text("ticket", optional, "the weighbridge's number"),
    mass("gross", required, "beet as weighed, without the vehicle", "t", "short ton", 1e7),
    along_pile("along_from", optional,
               "where in the pile it was tipped, along it, from the end at which the pile was "
               "begun"),
    along_pile("along_to", optional, "and to where")};

constexpr Column kSheet =
    text("sheet", required, "the sheet's name or id; rows with the same one are one sheet");
constexpr Column kOperator = text("operator", optional, "who drove");
constexpr Column kSeenAtColumn = word(
    "seen_at", kSeenAt,
    "where the beets were looked at; row: in the row, topped, before the shares, where tails and "
    "skin are not judged; empty: the tank");

constexpr std::array kBeets{
    kSheet,
    supersedes,
    field,
    machine,
    kOperator,
    instant(),
    kSeenAtColumn,
    count("spot", required, 1e6, "the number of the spot; ten beets of one place share it"),
    word("topping", kTopping, "how the crown was cut; empty: not judged"),
    number("scar", optional, UnitKind::length, "cm", "in", 0.0, kMostBreak,
           "diameter of the topping cut"),
    Column{.name = "tip_break",
           .kind = CellKind::break_diameter,
           .words = "diameter of the break: measured, a class such as 2-4 or >8, or `whole`",
           .unit_kind = UnitKind::length,
           .metric_unit = "cm",
           .us_unit = "in",
           .least = 0.0,
           .most = kMostBreak},
    number("skin_damage", optional, UnitKind::area, "cm2", "sq in", 0.0, kMostSkin,
           "skin torn or abraded"),
    word("rot", kYesNo, "rot seen"),
    word("frost", kYesNo, "frost seen")};

constexpr Column class_count(std::string_view name, std::string_view words) {
    return count(name, optional, kMostBeets, words);
}

constexpr std::array kSpots{kSheet,
                            supersedes,
                            field,
                            machine,
                            kOperator,
                            instant(),
                            kSeenAtColumn,
                            count("spot", required, 1e6, "the number of the spot"),
                            count("beets", required, kMostBeets, "beets judged there", 1.0),
                            class_count("petioles_long", "with leaf stalks over 2 cm"),
                            class_count("petioles_short", "with leaf stalks up to 2 cm"),
                            class_count("correct", "topped correctly"),
                            class_count("too_deep", "topped too deep"),
                            class_count("slanted", "cut at a slant"),
                            class_count("crown_untouched", "crown left whole"),
                            class_count("tip_whole", "tail on"),
                            class_count("tip_0_2", "tail broken at up to 2 cm"),
                            class_count("tip_2_4", "at 2 to 4 cm"),
                            class_count("tip_4_6", "at 4 to 6 cm"),
                            class_count("tip_6_8", "at 6 to 8 cm"),
                            class_count("tip_over_8", "at over 8 cm"),
                            class_count("rot", "with rot"),
                            class_count("frost", "hurt by frost")};

constexpr std::array kStrips{
    own_id,
    supersedes,
    field,
    machine,
    instant(),
    number("area", required, UnitKind::area, "m2", "sq ft", 0.1, 1e5, "area searched and dug"),
    mass("whole_roots", required, "whole roots found, clean"),
    mass("pieces", optional, "broken pieces found, clean"),
    mass("tails", optional, "tails found, clean")};

constexpr std::array kTares{
    own_id,
    supersedes,
    field,
    instant(),
    mass("gross", required, "the sample as taken"),
    mass("soil", required, "soil on it"),
    mass("tops", optional, "leaf and crown cut off it; empty: not determined")};

constexpr std::array kLabs{
    own_id,
    supersedes,
    field,
    instant(),
    number("pol", required, UnitKind::fraction, "%", "%", 0.05, 0.30, "sugar in clean beet"),
    content("potassium", worth::Element::potassium, 0.2, "potassium in clean beet"),
    content("sodium", worth::Element::sodium, 0.2, "sodium in clean beet"),
    content("amino_nitrogen", worth::Element::amino_nitrogen, 0.2, "amino nitrogen in clean beet")};

constexpr std::array kSoilInHand{
    Word{"hard", code(SoilInHand::hard)}, Word{"crumbly", code(SoilInHand::crumbly)},
    Word{"plastic", code(SoilInHand::plastic)}, Word{"sticky", code(SoilInHand::sticky)}};
constexpr std::array kEvenness{Word{"even", code(Evenness::even)},
                               Word{"fair", code(Evenness::fair)},
                               Word{"uneven", code(Evenness::uneven)}};
constexpr double kFewestPlants = 1.0;  // 10,000 to 300,000 to the hectare
constexpr double kMostPlants = 30.0;
constexpr double kLightestRoot = 0.02;  // [kg]
constexpr double kHeaviestRoot = 10.0;

/// As crop::crown_heights takes them.
constexpr double kHighestCrown = 0.5;
constexpr std::size_t kMostCrowns = 100;
constexpr std::array kStanding{
    own_id,
    supersedes,
    field,
    instant(),
    count("spots", optional, 1000.0, "spots dug by hand", 1.0),
    number("area", optional, UnitKind::area, "m2", "sq ft", 0.1, 1e5,
           "area dug, all spots together"),
    mass("roots", optional, "clean beet dug from that area"),
    number("pol", optional, UnitKind::fraction, "%", "%", 0.05, 0.30, "sugar in those beets"),
    content("potassium", worth::Element::potassium, 0.2, "potassium in them"),
    content("sodium", worth::Element::sodium, 0.2, "sodium in them"),
    content("amino_nitrogen", worth::Element::amino_nitrogen, 0.2, "amino nitrogen in them"),
    number("leaf_sick", optional, UnitKind::fraction, "%", "%", 0.0, 1.0,
           "leaf area that is diseased, judged by eye; empty: not judged"),
    word("leaf_frozen", kYesNo, "leaf killed by frost"),
    word("soil_in_hand", kSoilInHand, "how the soil feels that is lifted from; empty: not judged"),
    number("crown_height", optional, UnitKind::length, "cm", "in", -kHighestCrown, kHighestCrown,
           "mean height of crowns over the ground, by eye; negative: below it"),
    word("evenness", kEvenness, "whether crowns stand at one height; empty: not judged"),
    number("plants", optional, UnitKind::per_area, "1/ha", "1/acre", kFewestPlants, kMostPlants,
           "beets that stand, by number"),
    number("root_mass", optional, UnitKind::mass, "kg", "lb", kLightestRoot, kHeaviestRoot,
           "mean clean mass of one beet"),
    Column{.name = "crowns",
           .kind = CellKind::numbers,
           .words = "heights of crowns over the ground, one beet after another in a row, parted by "
                    "spaces; negative: below it",
           .unit_kind = UnitKind::length,
           .metric_unit = "cm",
           .us_unit = "in",
           .least = -kHighestCrown,
           .most = kHighestCrown,
           .most_numbers = kMostCrowns}};

constexpr double kAnyNumber = 1e12;
/// As a browser tells how sure a position is; more says nothing of a place in a field.
constexpr double kLeastSure_m = 1000.0;

constexpr Column degrees(std::string_view name, double most_deg, std::string_view words) {
    constexpr double kDegree = std::numbers::pi / 180.0;
    return number(name, required, UnitKind::angle, "°", "°", -most_deg * kDegree,
                  most_deg * kDegree, words);
}

constexpr Column what_was_seen() {
    Column column = id("of", "the id of what was seen there; it may come later");
    column.presence = required;
    return column;
}

constexpr std::array kSeenPlaces{
    own_id,
    supersedes,
    field,
    instant(),
    what_was_seen(),
    count("spot", optional, 1e6, "of a sheet of beets, the number of the spot; empty: all of it"),
    degrees("latitude", 90.0, "north of the equator, WGS 84; negative: south"),
    degrees("longitude", 180.0, "east of Greenwich, WGS 84; negative: west"),
    number("accuracy", optional, UnitKind::length, "m", "ft", 0.0, kLeastSure_m,
           "how far off the position may be, as the device says it; empty: not said")};

constexpr std::array kConstants{
    text("id", required, "the constant's id, as `beetwright constants` shows it"),
    number("value", required, UnitKind::number, "", "", -kAnyNumber, kAnyNumber,
           "your number, in the constant's unit"),
    number("low", required, UnitKind::number, "", "", -kAnyNumber, kAnyNumber,
           "it is hardly less (one chance in twenty)"),
    number("high", required, UnitKind::number, "", "", -kAnyNumber, kAnyNumber,
           "it is hardly more (one chance in twenty)"),
    text("why", optional, "where it comes from")};

}  // namespace

namespace fields {
constinit const Table table{"fields.csv", required, "The season's fields.", kFields,
                            Master::fields};
}
namespace machines {
constinit const Table table{"machines.csv", optional, "The machines.", kMachines, Master::machines};
}
namespace soils {
constinit const Table table{"soils.csv", optional,
                            "Soils, by the grower's word for them: what lifting on them goes by. A "
                            "soil that is not here goes by its word.",
                            kSoils, Master::soils};
}
namespace destinations {
constinit const Table table{"destinations.csv", optional, "Factories and piles.", kDestinations,
                            Master::destinations};
}
namespace temperatures {
constinit const Table table{"temperatures.csv", optional,
                            "Daily mean temperatures of the beets at a destination, without gaps.",
                            kTemperatures};
}
namespace loads {
constinit const Table table{"loads.csv", optional, "Weighed loads.", kLoads};
}
namespace beets {
constinit const Table table{"beets.csv", optional, "Counted beets, a row a beet.", kBeets};
}
namespace spots {
constinit const Table table{"spots.csv", optional,
                            "Counted beets, a row a spot: how many of each class.", kSpots};
}
namespace strips {
constinit const Table table{"strips.csv", optional, "Strips searched and dug behind the machine.",
                            kStrips};
}
namespace tares {
constinit const Table table{"tares.csv", optional, "Tare samples.", kTares};
}
namespace labs {
constinit const Table table{"labs.csv", optional, "Laboratory results.", kLabs};
}
namespace standing {
constinit const Table table{"standing.csv", optional,
                            "Looks at crops that still stand; each row says at least one thing of "
                            "the crop.",
                            kStanding};
}
namespace places {
constinit const Table table{
    "places.csv", optional,
    "Where in a field something was seen: a row an observation, or a spot of it.", kSeenPlaces};
}
namespace constants {
constinit const Table table{"constants.csv", optional,
                            "The season's own numbers in place of catalogue rows.", kConstants};
}

std::span<const Table* const> season_tables() {
    static constexpr std::array all{
        &fields::table,       &machines::table,     &controls::table, &dials::table,
        &soils::table,        &destinations::table, &piles::table,    &fans::table,
        &temperatures::table, &loads::table,        &beets::table,    &spots::table,
        &strips::table,       &tares::table,        &labs::table,     &standing::table,
        &settings::table,     &parts::table,        &covers::table,   &probes::table,
        &removals::table,     &places::table,       &constants::table};
    return all;
}

std::span<const Table* const> observation_tables() {
    static constexpr std::array all{
        &loads::table,  &beets::table,    &spots::table,    &strips::table, &tares::table,
        &labs::table,   &standing::table, &settings::table, &parts::table,  &covers::table,
        &probes::table, &removals::table, &places::table};
    return all;
}

}  // namespace beetwright::io
