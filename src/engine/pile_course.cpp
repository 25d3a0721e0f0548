#include "engine/pile_course.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/sorted.hpp"
#include "engine/pile_weather.hpp"

namespace beetwright::engine {
namespace {

using check::PileCover;
using pile::Side;

constexpr Length kStraw(0.15);
/// Of a flank's length that strips leave open; assumed.
constexpr double kOpenStrips = 0.2;
constexpr double kCelsius = 273.15;

double hours_between(Instant from, Instant to) {
    return std::chrono::duration<double, std::ratio<3600>>(to - from).count();
}

/// A fan's curve falls with the square of its flow: through its plate's point at half its pressure
/// at no flow.
constexpr double kStillOverPlate = 2.0;
constexpr double kUsualPlate_Pa = 400.0;  ///< where its plate does not say; assumed
constexpr double kDryAir_kg_m3 = 1.25;

pile::Cover cover_of(PileCover cover, const pile::PileConstants& constants) {
    switch (cover) {
        case PileCover::none: return pile::no_cover(constants);
        case PileCover::fleece: return pile::fleece(constants);
        case PileCover::straw: return pile::straw(constants, kStraw);
        case PileCover::plastic: return pile::plastic(constants);
        case PileCover::strips: return pile::split(pile::plastic(constants), kOpenStrips);
    }
    return pile::no_cover(constants);
}

/// One part's plan put together: its lots, covers and fans.
class Planner {
 public:
    Planner(const CourseBasis& basis, const CourseQuestion& question)
        : basis_(basis),
          question_(question),
          part_(basis.contents->parts[question.part]),
          site_(basis.contents->site),
          constants_(question.member->constants_of(*basis.catalogue, question.part)) {}

    [[nodiscard]] const pile::PileConstants& constants() const { return constants_; }
    /// [W/m] that each duct draws while it runs.
    [[nodiscard]] const std::vector<double>& draws_W() const { return draws_W_; }

    pile::Plan plan() {
        pile::Plan plan;
        plan.shape = shape(basis_);
        plan.grid.cell_across = plan.grid.cell_up = basis_.cell;
        plan.lots = lots();
        plan.covers = covers();
        plan.ducts = ducts();
        plan.ground_C = basis_.ground_C;
        plan.deep_ground_C = basis_.deep_ground_C;
        return plan;
    }

    static pile::Shape shape(const CourseBasis& basis) {
        const ledger::PileSite& site = basis.contents->site;
        pile::Shape shape{.width = site.base_width,
                          .height = site.height,
                          .top_width = site.top_width,
                          .length = Length(1.0),
                          .ends = pile::Ends::upright};
        if (!std::isnan(site.orientation_rad)) {
            shape.facing = site.orientation_rad + 0.5 * std::numbers::pi;
        }
        return shape;
    }

 private:
    /// The mean of the air on the day before [°C].
    [[nodiscard]] double air_before(Instant piled) const {
        const weather::Series& series = basis_.outlook->members[question_.weather];
        constexpr double kDay_h = 24.0;
        const double last = std::clamp(hours_between(series.begin, piled), 0.0,
                                       static_cast<double>(series.hours.size() - 1));
        const auto to = static_cast<std::size_t>(last);
        const auto from = static_cast<std::size_t>(std::max(0.0, last - kDay_h));
        double sum = 0.0;
        for (std::size_t hour = from; hour <= to; ++hour) {
            sum += series.at(hour, weather::Element::air) - kCelsius;
        }
        return sum / static_cast<double>(to - from + 1);
    }

    [[nodiscard]] std::vector<pile::Lot> lots() const {
        const double spread = basis_.catalogue->value(ConstantId::pile_as_piled_spread);
        std::vector<pile::Lot> lots;
        for (std::size_t i = 0; i < part_.layers.size(); ++i) {
            const PileLayer& layer = part_.layers[i];
            constexpr double kLeast_C = 0.5;  ///< frozen beets are not piled
            const double celsius =
                std::max(kLeast_C, air_before(layer.piled) +
                                       spread * question_.member->parts[question_.part].as_piled);
            const double waited_d = std::max(0.0, hours_between(layer.lifted, layer.piled) / 24.0);
            pile::Lot lot{.beet = question_.beets[i].condition,
                          .sugar = question_.beets[i].sugar,
                          .celsius = celsius,
                          .degree_days = waited_d * celsius,
                          .uneven = question_.member->waves_of(*basis_.catalogue, question_.part)};
            leave_pores(lot.beet);
            if (i > 0) {
                lot.low[2] = layer.bottom.si();
                lot.piled_h = std::max(0.0, hours_between(part_.piled(), layer.piled));
            }
            if (i + 1 < part_.layers.size()) {
                lot.high[2] = layer.top.si();
            }
            lots.push_back(lot);
        }
        return lots;
    }

    /// Some draws of soil, leaf and densities would leave none. More than a bed holds falls through
    /// it as it is piled.
    void leave_pores(pile::LumpCondition& beet) const {
        constexpr double kLeast = 0.2;
        const double clean = pile::porosity({}, constants_);
        const double left = pile::porosity(beet, constants_);
        if (left < kLeast) {
            const double share = std::max(0.0, clean - kLeast) / (clean - left);
            beet.soil *= share;
            beet.leaf *= share;
        }
    }

    void put(std::vector<pile::CoverSpan>& spans, PileCover cover, Instant at) const {
        const double from = std::max(0.0, hours_between(part_.piled(), at));
        // Whatever lay there before is gone, even what was to be put on later.
        while (!spans.empty() && spans.back().from_h >= from) {
            spans.pop_back();
        }
        if (!spans.empty()) {
            spans.back().to_h = std::min(spans.back().to_h, from);
        }
        spans.push_back({.cover = cover_of(cover, constants_),
                         .on = {Side::low_flank, Side::high_flank, Side::top},
                         .from_h = from});
    }

    [[nodiscard]] pile::CoverRule frost_rule() const {
        using enum ConstantId;
        return {.on_below_C = basis_.catalogue->value(pile_cover_below) - kCelsius,
                .off_above_C = basis_.catalogue->value(pile_uncover_above) - kCelsius};
    }

    /// When people come to do something on a day; not before now.
    [[nodiscard]] Instant morning(Day day) const {
        constexpr std::chrono::hours kMorning{8};
        return std::max<Instant>(basis_.now, day + kMorning);
    }

    [[nodiscard]] std::vector<pile::CoverSpan> covers() const {
        std::vector<const check::CoverChange*> changes;
        for (const check::CoverChange& change : basis_.season->covers) {
            if (change.pile == site_.name && change.at <= basis_.now &&
                reaches(change.stretch, part_.middle())) {
                changes.push_back(&change);
            }
        }
        sort_list(changes, std::less<>(), [](const auto* change) { return change->at; });
        std::vector<pile::CoverSpan> spans;
        for (const auto* change : changes) {
            put(spans, change->cover, change->at);
        }
        if (const auto& cover = question_.deed.cover) {
            put(spans, *cover, morning(question_.deed.cover_on));
            if (question_.deed.only_in_frost) {
                spans.back().rule = frost_rule();
            }
            if (question_.deed.cover_off) {
                put(spans, PileCover::none, morning(*question_.deed.cover_off));
            }
        }
        return spans;
    }

    static pile::FanRule rule_of(const ledger::Fan& fan) {
        pile::FanRule rule = rule_of(DeedFan{.rule = fan.rule, .colder = fan.difference});
        if (fan.not_below) {
            rule.not_below_C = fan.not_below->in_celsius();
        }
        if (fan.only_below) {
            rule.only_below_C = fan.only_below->in_celsius();
        }
        return rule;
    }
    static pile::FanRule rule_of(const DeedFan& fan) {
        constexpr double kUsualColder_K = 2.0;
        /// Air of less than this freezes a pile through (storage.md 4 [V]).
        constexpr double kFreezesBelow_C = -12.0;
        pile::FanRule rule;
        if (fan.rule == ledger::FanRule::freeze) {
            rule.colder_K = 0.0;
            rule.not_below_C = -50.0;
            rule.only_below_C = kFreezesBelow_C;
        } else {
            rule.colder_K = fan.colder.is_known() ? fan.colder.si() : kUsualColder_K;
        }
        return rule;
    }

    void lay(std::vector<pile::DuctPlan>& ducts, double m3_s_per_metre, double plate_Pa,
             double draws_W, const pile::FanRule& rule, double from_h) {
        ducts.push_back({.across_m = 0.5 * site_.base_width.si(),
                         .free_kg_s = std::numbers::sqrt2 * m3_s_per_metre * kDryAir_kg_m3,
                         .still_Pa = kStillOverPlate * plate_Pa,
                         .rule = rule,
                         .from_h = from_h});
        draws_W_.push_back(draws_W);
    }

    std::vector<pile::DuctPlan> ducts() {
        std::vector<pile::DuctPlan> ducts;
        const double efficiency = basis_.catalogue->value(ConstantId::pile_fan_efficiency);
        for (const ledger::Fan& fan : site_.fans) {
            if (fan.rule == ledger::FanRule::off || !reaches(fan.stretch, part_.middle())) {
                continue;
            }
            const Length from = fan.stretch.from.is_known() ? fan.stretch.from : Length::zero();
            const Length to = fan.stretch.to.is_known() ? fan.stretch.to : site_.length;
            const double metres = std::max(1.0, (to - from).si());
            const double plate = fan.pressure.is_known() ? fan.pressure.si() : kUsualPlate_Pa;
            const double power =
                fan.power.is_known() ? fan.power.si() : fan.flow.si() * plate / efficiency;
            lay(ducts, fan.flow.si() / metres, plate, power / metres, rule_of(fan), 0.0);
        }
        if (const auto& fan = question_.deed.fan) {
            const double kg_per_metre =
                basis_.catalogue->value(ConstantId::pile_bulk_density) * site_.section().si();
            constexpr double kTonne_kg = 1000.0;
            const double flow =
                basis_.catalogue->value(ConstantId::pile_fan_rate) * kg_per_metre / kTonne_kg;
            lay(ducts, flow, kUsualPlate_Pa, flow * kUsualPlate_Pa / efficiency, rule_of(*fan),
                std::max(0.0, hours_between(part_.piled(), basis_.now)));
        }
        return ducts;
    }

    const CourseBasis& basis_;
    const CourseQuestion& question_;
    const PilePart& part_;
    const ledger::PileSite& site_;
    pile::PileConstants constants_;
    std::vector<double> draws_W_;
};

/// A section's cells as a picture has them.
class Picture {
 public:
    explicit Picture(const pile::Pile& pile) : pile_(pile), box_(pile.grid().box) {}

    [[nodiscard]] std::size_t across() const { return box_.across; }
    [[nodiscard]] std::size_t up() const { return box_.up - pile_.grid().ground_layers; }
    [[nodiscard]] std::size_t count() const { return across() * up(); }
    /// Of the box, by the picture's.
    [[nodiscard]] std::size_t cell(std::size_t picture) const {
        return box_.index(picture % across(), 0, pile_.grid().ground_layers + picture / across());
    }

    [[nodiscard]] PartFrame frame() const {
        const auto& state = pile_.state();
        PartFrame frame;
        for (auto* field :
             {&frame.celsius, &frame.sugar_left, &frame.killed, &frame.air_across, &frame.air_up}) {
            field->assign(count(), 0.0F);
        }
        for (std::size_t i = 0; i < count(); ++i) {
            const std::size_t c = cell(i);
            if (!pile_.bed().has_beet(c)) {
                continue;
            }
            frame.celsius[i] = static_cast<float>(state.celsius[c]);
            frame.sugar_left[i] = static_cast<float>(state.health.left[c]);
            frame.killed[i] = static_cast<float>(state.health.damage[c]);
            frame.air_across[i] = static_cast<float>(speed(c, num::Direction::across));
            frame.air_up[i] = static_cast<float>(speed(c, num::Direction::up));
        }
        return frame;
    }

    /// Between the centres of the cells about it that hold beets.
    [[nodiscard]] Sample sample(const SampleAt& place) const {
        const double x =
            place.across.si() / pile_.grid().cell[0] + 0.5 * static_cast<double>(across()) - 0.5;
        const double z = place.height.si() / pile_.grid().cell[2] - 0.5;
        const auto low = [](double at, std::size_t count) {
            const double most = static_cast<double>(count) - 2.0;
            return static_cast<std::size_t>(std::clamp(std::floor(at), 0.0, std::max(0.0, most)));
        };
        const std::size_t i = low(x, across());
        const std::size_t k = low(z, up());
        const double right = std::clamp(x - static_cast<double>(i), 0.0, 1.0);
        const double above = std::clamp(z - static_cast<double>(k), 0.0, 1.0);
        // Of the four cells about it those that hold beets, by how near they are; a trace of each,
        // so that a place at the very edge has its nearest cell's.
        constexpr double kTrace = 1e-6;
        int corners = 0;
        double sum = 0.0;
        double weights = 0.0;
        double to_right = 0.0;
        double upwards = 0.0;
        for (const std::size_t di : {0U, 1U}) {
            for (const std::size_t dk : {0U, 1U}) {
                if (i + di >= across() || k + dk >= up()) {
                    continue;
                }
                const std::size_t c = cell((k + dk) * across() + i + di);
                if (!pile_.bed().has_beet(c)) {
                    continue;
                }
                const double celsius = pile_.state().celsius[c];
                const double of_x = di == 1 ? right : 1.0 - right;
                const double of_z = dk == 1 ? above : 1.0 - above;
                sum += (of_x * of_z + kTrace) * celsius;
                weights += of_x * of_z + kTrace;
                to_right += (di == 1 ? of_z : -of_z) * celsius;
                upwards += (dk == 1 ? of_x : -of_x) * celsius;
                ++corners;
            }
        }
        if (corners == 0) {
            return {};
        }
        const double slope = corners < 4 ? 0.0
                                         : std::hypot(to_right / pile_.grid().cell[0],
                                                      upwards / pile_.grid().cell[2]);
        return {.celsius = sum / weights, .slope_K_m = slope};
    }

 private:
    /// Between the beets, mean of a cell's two openings [m/s].
    [[nodiscard]] double speed(std::size_t cell, num::Direction direction) const {
        const auto& flow = pile_.airflow().flow(static_cast<std::size_t>(direction));
        const double through = 0.5 * (flow[cell] + flow[cell - box_.stride(direction)]);
        const double length = pile_.grid().cell[direction == num::Direction::across ? 0 : 2];
        const double face = pile_.grid().volume[cell] / length;
        return face > 0.0 ? through / face / kDryAir_kg_m3 : 0.0;
    }

    const pile::Pile& pile_;
    const num::Box& box_;
};

/// Calls use(cell of the pile's box, cell of the picture, kg) for each cell that holds beet; their
/// mass.
template <class Use>
double for_each_beet(const pile::Pile& pile, const Picture& picture, Use&& use) {
    double mass = 0.0;
    for (std::size_t i = 0; i < picture.count(); ++i) {
        const std::size_t cell = picture.cell(i);
        if (pile.bed().has_beet(cell)) {
            const double beet = pile.bed().beet[cell];
            mass += beet;
            use(cell, i, beet);
        }
    }
    return mass;
}

PartDay day_of(const pile::Pile& pile, const Picture& picture, double rot_onset) {
    constexpr double kThawed_C = -1.0;
    constexpr double kAir_g_mol = 28.966;
    constexpr double kCarbonDioxide_g_mol = 44.0095;
    PartDay day{.warmest_C = -99.0, .coldest_C = 99.0, .sugar_left = 0.0};
    const auto& state = pile.state();
    const auto add = [&](std::size_t cell, std::size_t in_picture, double beet) {
        const double celsius = state.celsius[cell];
        const double killed = beet * state.health.damage[cell];
        day.mean_C += beet * celsius;
        day.sugar_left += beet * state.health.left[cell];
        day.killed += killed;
        day.thawed += celsius > kThawed_C ? killed : 0.0;
        day.thermal_time += beet * state.health.thermal_time[cell];
        day.rotting += state.health.thermal_time[cell] > rot_onset ? beet : 0.0;
        day.coldest_C = std::min(day.coldest_C, celsius);
        day.carbon_dioxide = std::max(
            day.carbon_dioxide, state.carbon_dioxide[cell] * kAir_g_mol / kCarbonDioxide_g_mol);
        if (celsius > day.warmest_C) {
            day.warmest_C = celsius;
            day.warmest = static_cast<std::uint32_t>(in_picture);
        }
    };
    const double mass = for_each_beet(pile, picture, add);
    for (double* const sum : {&day.mean_C, &day.sugar_left, &day.killed, &day.thawed,
                              &day.thermal_time, &day.rotting}) {
        *sum /= mass;
    }
    return day;
}

/// The least of the air in the 24 hours after this one [°C]: what a forecast of the night says.
double coming_low(const weather::Series& series, std::size_t hour) {
    constexpr std::size_t kDay_h = 24;
    double least = series.at(hour, weather::Element::air);
    const std::size_t end = std::min(series.hours.size(), hour + kDay_h + 1);
    for (std::size_t later = hour + 1; later < end; ++later) {
        least = std::min(least, series.at(later, weather::Element::air));
    }
    return least - kCelsius;
}

/// What fans drew and moved while they blew.
struct FanHours {
    double drawn_J = 0.0;
    double hours = 0.0, shares = 0.0;

    void add(const pile::Pile& pile, const std::vector<double>& draws_W) {
        for (std::size_t d = 0; d < pile.ducts().size(); ++d) {
            const pile::Duct& duct = pile.ducts()[d];
            if (duct.runs) {
                drawn_J += draws_W[d] * 3600.0;
                hours += 1.0;
                shares +=
                    std::numbers::sqrt2 * std::abs(pile.airflow().duct_flow()[d]) / duct.free_kg_s;
            }
        }
    }
    [[nodiscard]] double share() const { return hours > 0.0 ? shares / hours : 1.0; }
};

pile::Exposure exposure_of(const pile::Pile& pile, const Picture& picture) {
    pile::Exposure mean;
    const auto add = [&](std::size_t cell, std::size_t /*in_picture*/, double beet) {
        const auto one = pile.state().health.exposure(cell);
        mean.breathing += beet * one.breathing;
        mean.healing += beet * one.healing;
        mean.rotting += beet * one.rotting;
        mean.thawed += beet * one.thawed;
        mean.thermal_time += beet * one.thermal_time;
    };
    const double mass = for_each_beet(pile, picture, add);
    for (double* const sum :
         {&mean.breathing, &mean.healing, &mean.rotting, &mean.thawed, &mean.thermal_time}) {
        *sum /= mass;
    }
    return mean;
}

}  // namespace

Length PartGrid::across_at(std::size_t cell) const {
    return (static_cast<double>(cell % across) + 0.5 - 0.5 * static_cast<double>(across)) *
           cell_across;
}
Length PartGrid::height_at(std::size_t cell) const {
    return (static_cast<double>(cell / across) + 0.5) * cell_up;
}

const PartFrame* PartCourse::frame_on(Day day) const {
    const auto found = std::ranges::find(frames, day, &PartFrame::day);
    return found == frames.end() ? nullptr : &*found;
}

Result<PartGrid> part_grid(const CourseBasis& basis) {
    pile::GridSpec spec;
    spec.cell_across = spec.cell_up = basis.cell;
    const auto grid = pile::make_grid(Planner::shape(basis), spec);
    if (!grid) {
        return grid.problems();
    }
    PartGrid picture{.across = grid->box.across,
                     .up = grid->box.up - grid->ground_layers,
                     .cell_across = Length(grid->cell[0]),
                     .cell_up = Length(grid->cell[2]),
                     .has_beet = {}};
    for (std::size_t i = 0; i < picture.across * picture.up; ++i) {
        const std::size_t cell =
            grid->box.index(i % picture.across, 0, grid->ground_layers + i / picture.across);
        picture.has_beet.push_back(grid->volume[cell] > 0.0);
    }
    return picture;
}

Result<PartCourse> part_course(const CourseBasis& basis, const CourseQuestion& question) {
    const PilePart& part = basis.contents->parts[question.part];
    const weather::Series& series = basis.outlook->members[question.weather];
    Planner planner(basis, question);
    auto made = pile::Pile::make(planner.plan(), planner.constants());
    if (!made) {
        return made.problems();
    }
    pile::Pile& pile = **made;
    const Picture picture(pile);
    const double of_air =
        question.member->air * basis.catalogue->value(ConstantId::pile_station_spread);
    const double ground_albedo = basis.catalogue->value(ConstantId::pile_ground_albedo);
    const double rot_onset = planner.constants().lump.rot_onset;
    const Instant end =
        std::min(part.removed.value_or(basis.until + std::chrono::days(1) - series.clock),
                 question.ends.value_or(Instant::max()));
    const auto first_hour =
        static_cast<std::size_t>(std::clamp(hours_between(series.begin, part.piled()), 0.0,
                                            static_cast<double>(series.hours.size() - 1)));
    PartCourse course;
    FanHours fans;
    auto covered_before = pile.work().covers_put_on;
    auto next_frame = question.frames.begin();
    course.samples.resize(question.samples.size());
    std::size_t next_sample = 0;
    for (std::size_t hour = first_hour; hour < series.hours.size() && series.begin_of(hour) < end;
         ++hour) {
        // Anew in each part, though all of a pile meet the same: that is a hundredth of a course's
        // time, and keeping it for all members would be most of an answer's memory.
        auto weather = pile_hour(series, hour, basis.suns[hour], pile.grid().sides, ground_albedo);
        weather.air_C += of_air;
        weather.deep_ground_C = basis.deep_ground_C;
        weather.coming_low_C = coming_low(series, hour) + of_air;
        if (const auto passed = pile.pass(weather); !passed) {
            return passed.problems();
        }
        for (; next_sample < question.samples.size() &&
               question.samples[next_sample].at < series.begin_of(hour + 1);
             ++next_sample) {
            if (question.samples[next_sample].at >= series.begin_of(hour)) {
                course.samples[next_sample] = picture.sample(question.samples[next_sample]);
            }
        }
        if (series.begin_of(hour) >= basis.now) {
            fans.add(pile, planner.draws_W());
        } else {
            covered_before = pile.work().covers_put_on;
        }
        const bool is_last = hour + 1 == series.hours.size() || series.begin_of(hour + 1) >= end;
        const Day day = series.day_of(hour);
        if (is_last || series.day_of(hour + 1) != day) {
            course.days.push_back(day_of(pile, picture, rot_onset));
            course.exposure.push_back(exposure_of(pile, picture));
            while (next_frame != question.frames.end() && *next_frame < day) {
                ++next_frame;  // before it was piled
            }
            if (next_frame != question.frames.end() && *next_frame == day) {
                ++next_frame;
                course.frames.push_back(picture.frame());
                course.frames.back().day = day;
            }
        }
    }
    course.fan_J_per_metre = fans.drawn_J;
    course.fan_share = fans.share();
    course.covered = static_cast<double>(pile.work().covers_put_on - covered_before);
    return course;
}

}  // namespace beetwright::engine
