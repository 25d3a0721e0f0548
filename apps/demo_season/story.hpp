// The demo season's story: who, where and when. All of it is invented; the year lies ahead so that
// nobody takes it for a real one. What the seed decides (weather, crop, counts) is not here.
//
// A dry September with clods, a wet October and November, a frost at the end of November, one field
// with leaf disease, one with a nest of rot. It is told on kToldOn, with two fields still standing.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "base/time.hpp"
#include "check/machine_log.hpp"
#include "check/pile_log.hpp"
#include "check/sheet.hpp"
#include "ledger/season.hpp"
#include "weather/soil.hpp"

namespace beetwright::demo {

inline constexpr std::string_view kSeasonName = "Ottermarsh Beet Ring 2031";
inline constexpr Day kFirstDay = std::chrono::year_month_day{
    std::chrono::year{2031}, std::chrono::September, std::chrono::day{20}};
inline constexpr CampaignDay kToldOn{75};        ///< 4 December
inline constexpr CampaignDay kLastLifting{81};   ///< 10 December
inline constexpr CampaignDay kLastSlicing{148};  ///< 15 February
inline constexpr CampaignDay kRainBegins{21};    ///< 11 October
inline constexpr CampaignDay kRainEases{60};
inline constexpr CampaignDay kFrostBegins{63};  ///< 22 November
inline constexpr CampaignDay kFrostEnds{70};
/// Harvester South cut crowns at a slant with blunt knives until this day.
inline constexpr CampaignDay kNewKnives{44};  ///< 3 November

enum class Happening : std::uint8_t { none, leaf_disease, rot_nest };

/// How the tails were written down on a field's sheets.
enum class TailsRead : std::uint8_t { measured, in_classes };

/// What was counted, dug, weighed and analysed in a field.
struct Sampling {
    int sheets = 1;
    int spots = 10;  ///< of ten beets each
    int strips = 1;
    int tares = 3;
    int labs = 2;
    TailsRead tails = TailsRead::measured;
    check::SeenAt seen_at = check::SeenAt::tank;
};

struct FieldPlan {
    std::string_view name;
    std::string_view grower;
    std::string_view soil;
    std::string_view variety;
    double area_ha;
    double haul_km;
    std::string_view machine;
    std::string_view operator_name;
    std::string_view destination;
    int lifting_day;                 ///< of the campaign; planned, where it lies after kToldOn
    std::optional<int> slicing_day;  ///< absent: not decided
    Sampling sampling;
    Happening happening = Happening::none;

    [[nodiscard]] bool is_lifted() const { return CampaignDay(lifting_day) <= kToldOn; }
};

/// Numbers of a display and what was measured at them, in the control's usual unit.
struct DialPlan {
    struct Point {
        double shown;
        double actual;
    };
    std::string_view control;
    double step;  ///< of the display
    std::array<Point, 3> points;
};

struct MachinePlan {
    std::string_view name;
    std::string_view kind;
    double row_spacing_cm;
    double row_spacing_in;  ///< where the story is told in US units
    double strip_m;         ///< length of the strips dug behind it
    double strip_ft;
    double slanted_share;        ///< of its topping cuts, with sharp knives
    double slanted_share_blunt;  ///< before kNewKnives
    double whole_root_factor;    ///< against an average machine
    double wheel_load_t;         ///< of the wheel that bears most, with a full tank
    double tyre_bar;
    double tyre_width_cm;
    double tyre_diameter_cm;
    double hour_cost;  ///< machine and crew, without fuel
    std::array<DialPlan, 5> dials;
};

/// New parts or a repair.
struct PartPlan {
    std::string_view machine;
    int day;   ///< of the campaign
    int hour;  ///< UTC
    check::MachineStage stage;
    std::string_view what;
};

/// A soil of which the ring knows more than its word says; NaN: no more than that.
struct SoilPlan {
    std::string_view word;
    std::optional<weather::SoilClass> soil_class;
    double holds_mm;
    double stop_percent;
    double drains_to_percent;
    double drain_lag_h;
    double rain_stop_mm;
};

struct OperatorPlan {
    std::string_view name;
    double topper_bias_mm;  ///< how much deeper than asked this one sets the topper
    double break_factor;    ///< break diameters against an average hand
};

struct DestinationPlan {
    std::string_view name;
    ledger::DestinationKind kind;
    double lag_days;           ///< how slowly its beets follow the air
    double heating_K_per_day;  ///< of still air about its beets at 5 °C, from breathing
};

/// How a pile is laid out; its length follows from what is brought there.
struct PilePlan {
    std::string_view name;
    double base_m;
    double top_m;
    double height_m;
    double orientation_degrees;
    ledger::PileGround ground;
    ledger::PileBuilding built;
    int fans;  ///< each with an equal part of its length
};

struct CoverPlan {
    std::string_view pile;
    int day;   ///< of the campaign
    int hour;  ///< UTC
    check::PileCover cover;
};

/// A place in a pile where its temperature is read.
struct ProbePlan {
    std::string_view pile;
    std::string_view name;
    check::ProbeKind kind;
    int every_days;
    double along_share;  ///< of what is filled of its length
    double across_m;
    double height_m;
};

std::span<const FieldPlan> field_plans();
std::span<const MachinePlan> machine_plans();
std::span<const SoilPlan> soil_plans();
std::span<const PartPlan> part_plans();
std::span<const OperatorPlan> operator_plans();
std::span<const DestinationPlan> destination_plans();
std::span<const PilePlan> pile_plans();
std::span<const CoverPlan> cover_plans();
std::span<const ProbePlan> probe_plans();

const MachinePlan& machine_of(const FieldPlan& field);
const OperatorPlan& operator_of(const FieldPlan& field);

/// How clayey the grower's word for a soil is: 0 for sand, 1 for heavy clay.
double clay_of(std::string_view soil);

/// The name of the one sheet that was corrected: its field.
inline constexpr std::string_view kCorrectedField = "Crow Park";
/// The pile of which the first metres were taken away, and when.
inline constexpr std::string_view kBegunPile = "Copse Road pile";
inline constexpr CampaignDay kFirstTaken{73};  ///< 2 December
/// A fortnight in which temperatures are read in the piles, up to the day before today.
inline constexpr CampaignDay kProbesBegin{61};

/// The field whose frost-hurt beets went to a pile all the same.
inline constexpr std::string_view kFrostedIntoPile = "Reed Side";

}  // namespace beetwright::demo
