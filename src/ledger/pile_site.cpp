#include "ledger/pile_site.hpp"

#include <cmath>
#include <numbers>
#include <utility>

#include "base/number_text.hpp"

namespace beetwright::ledger {
namespace {

constexpr double kDegree = std::numbers::pi / 180.0;
/// Beets slide on slopes of 45 to 50 degrees (common practice, for which no figure was found). Of
/// published clamps the steepest is 7.5 m wide and 3.5 m high, 43 degrees if it is a roof.
constexpr double kSteepest_rad = 50.0 * kDegree;
/// Beets do not lie as a ruler draws them, nor does a tape hang straight.
constexpr double kUneven_m = 0.3;
/// Ends are met to rounding, for they may have been written in feet.
constexpr double kRounding_m = 1e-6;

Problem problem(const char* field, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = field},
            std::move(what),
            std::move(fix)};
}

std::string number(double value, const char* unit) {
    return general_text(value, 4) + " " + unit;
}
std::string words(Length length) {
    return number(length / unit::m, "m") + " (" + number(length / unit::foot, "ft") + ")";
}
std::string celsius(Temperature temperature) {
    return number(temperature.in_celsius(), "°C");
}

constexpr const char* kLookAtTape = "look at the tape and at the unit in the header";

/// Whether a place along lies on the pile; what does not is told.
void look_at_end(const char* field, Length along, const PileSite& site, Problems& problems) {
    if (along > site.length + Length(kRounding_m)) {
        problems.push_back(problem(
            field, words(along) + " along the pile, which is " + words(site.length) + " long",
            std::string(kLookAtTape) + "; if the pile has grown, write its length in piles.csv"));
    }
}

}  // namespace

Length PileSite::half_width_at(Length height_over_ground) const {
    if (height_over_ground > height) {
        return Length(-1.0);
    }
    const double share = height_over_ground / height;
    return 0.5 * (base_width + share * (top_width - base_width));
}

double PileSite::slope_rad() const {
    return std::atan2(height.si(), 0.5 * (base_width - top_width).si());
}

Problems problems_of(const PileSite& site) {
    Problems problems;
    if (site.top_width > site.base_width) {
        problems.push_back(problem("top_width",
                                   "its top, " + words(site.top_width) +
                                       ", is wider than its base, " + words(site.base_width),
                                   "were they mixed up? A roof has a top of 0"));
        return problems;
    }
    // As wide above as below: walls hold it.
    const bool has_walls = site.top_width == site.base_width;
    if (!has_walls && site.slope_rad() > kSteepest_rad) {
        problems.push_back(problem(
            "height",
            "its flanks would stand at " + number(site.slope_rad() / kDegree, "degrees") +
                ", and beets slide at 45 to 50",
            "look at widths and height, and their units; between walls top and base are alike"));
    }
    return problems;
}

Problems problems_of(const check::Stretch& stretch) {
    Problems problems;
    if (stretch.from >= stretch.to) {
        problems.push_back(problem(
            "to", "it ends at " + words(stretch.to) + " and begins at " + words(stretch.from),
            "from is nearer to the pile's beginning than to"));
    }
    return problems;
}

Problems problems_of(const check::Stretch& stretch, const PileSite& site) {
    Problems problems = problems_of(stretch);
    if (problems.empty()) {
        look_at_end(stretch.to.is_known() ? "to" : "from",
                    stretch.to.is_known() ? stretch.to : stretch.from, site, problems);
    }
    return problems;
}

Problems problems_of(const Fan& fan, const PileSite& site) {
    Problems problems = problems_of(fan.stretch, site);
    const bool by_difference = fan.rule == FanRule::difference;
    if (by_difference != fan.difference.is_known()) {
        problems.push_back(
            problem("difference",
                    by_difference ? "this fan runs by difference, and does not say by which"
                                  : "this difference is of no use to a fan that does not run by it",
                    by_difference ? "write by how much the air outside must be colder: 2 K, 4 F°"
                                  : "leave it empty, or write difference under rule"));
    }
    if (fan.rule == FanRule::freeze && !fan.only_below) {
        problems.push_back(problem("only_below",
                                   "this fan freezes the pile, and does not say in which air",
                                   "write below which temperature of the air it runs"));
    }
    if (fan.not_below && fan.only_below && *fan.not_below >= *fan.only_below) {
        problems.push_back(problem("not_below",
                                   "it never runs: not below " + celsius(*fan.not_below) +
                                       ", and only below " + celsius(*fan.only_below),
                                   "not_below is the colder of the two"));
    }
    return problems;
}

Problems problems_of(const check::ProbeReading& reading, const PileSite& site) {
    Problems problems;
    look_at_end("along", reading.along, site, problems);
    const Length uneven(kUneven_m);
    if (reading.height > site.height + uneven) {
        problems.push_back(problem("height",
                                   words(reading.height) + " over the ground is above the pile, " +
                                       words(site.height) + " high",
                                   "write how high the tip of the probe is over the ground, not "
                                   "how deep it is in the pile"));
        return problems;
    }
    const Length half =
        site.half_width_at(reading.height < site.height ? reading.height : site.height);
    if (Length(std::abs(reading.across.si())) > half + uneven) {
        problems.push_back(problem("across",
                                   words(reading.across) +
                                       " from the middle line is beside the "
                                       "pile, which reaches " +
                                       words(half) + " at that height",
                                   "measure from the middle line, to the tip of the probe"));
    }
    return problems;
}

}  // namespace beetwright::ledger
