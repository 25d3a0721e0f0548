#include "pile/pile.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "pile/humid.hpp"

namespace beetwright::pile {
namespace {

constexpr double kHour_s = 3600.0;

Problem plan_problem(const char* field, const char* what, const char* fix) {
    return {ProblemKind::input, {.file = "", .line = 0, .field = field}, what, fix};
}

void append(Problems& to, const Problems& from) {
    to.insert(to.end(), from.begin(), from.end());
}

Problems problems_of(const Plan& plan, const PileConstants& constants) {
    Problems problems;
    if (plan.lots.empty()) {
        problems.push_back(plan_problem("lots", "a pile without loads",
                                        "say what was piled there, one lot at least"));
    }
    for (const auto& lot : plan.lots) {
        if (auto checked = check_lot(lot, constants); !checked) {
            append(problems, checked.problems());
        }
    }
    for (const auto& span : plan.covers) {
        if (span.cover.resistance < 0.0 || span.cover.air < 0.0 || !(span.to_h > span.from_h)) {
            problems.push_back(plan_problem(
                "covers", "a cover with a negative thickness, or taken off before it is put on",
                "give thicknesses from 0 on and dates in order"));
        }
        if (!(span.rule.off_above_C >= span.rule.on_below_C) && span.rule.on_below_C < 1e9) {
            problems.push_back(
                plan_problem("covers", "a cover's rule takes it off at what it is put on for",
                             "let it come off at a warmer temperature than it is put on at"));
        }
    }
    for (const auto& duct : plan.ducts) {
        if (!(duct.across_m > 0.0 && duct.across_m < plan.shape.width.si())) {
            problems.push_back(plan_problem("ducts", "a duct lies beside the pile",
                                            "give its distance from the low flank's foot"));
        }
        if (!(duct.free_kg_s > 0.0 && duct.still_Pa > 0.0)) {
            problems.push_back(plan_problem("ducts", "a fan gives no air or no pressure",
                                            "give both from its plate, above 0"));
        }
    }
    return problems;
}

bool is_weather(const WeatherHour& hour) {
    return hour.air_C > -60.0 && hour.air_C < 55.0 && hour.humidity >= 0.0 && hour.humidity < 0.1 &&
           hour.wind >= 0.0 && hour.wind < 80.0 && hour.rain_mm >= 0.0 && hour.rain_mm < 500.0 &&
           hour.sky_W_m2 > 50.0 && hour.sky_W_m2 < 700.0 && hour.deep_ground_C > -30.0 &&
           hour.deep_ground_C < 40.0 && !std::isnan(hour.coming_low_C) && hour.snow_m >= 0.0 &&
           hour.snow_m < 5.0;
}

/// Whether the bed changes between two hours.
bool changes(std::span<const Lot> lots, double before_h, double now_h) {
    return std::ranges::any_of(lots, [&](const Lot& lot) {
        return (lot.piled_h > before_h && lot.piled_h <= now_h) ||
               (lot.removed_h > before_h && lot.removed_h <= now_h);
    });
}

}  // namespace

Pile::Pile(const Plan& plan, const PileConstants& constants, const RunRules& rules, Grid grid)
    : plan_(plan),
      constants_(constants),
      rules_(rules),
      grid_(std::move(grid)),
      lot_of_cell_(lots_of_cells(grid_, plan_.lots)),
      state_(grid_.box),
      airflow_(grid_.box),
      step_(grid_.box) {
    for (const auto& duct : plan_.ducts) {
        Duct made{.cells = {},
                  .free_kg_s = duct.free_kg_s,
                  .still_Pa = duct.still_Pa,
                  .way = duct.way,
                  .runs = false};
        for (std::size_t c = grid_.box.begin(); c < grid_.box.end(); ++c) {
            const bool is_lowest = (c - grid_.box.begin()) % grid_.box.up == grid_.ground_layers;
            const double beside = std::abs(grid_.centre[0][c] - duct.across_m);
            if (is_lowest && lot_of_cell_[c] != kNoLot &&
                beside <= 0.5 * std::max(duct.width_m, grid_.cell[0])) {
                made.cells.push_back(c);
            }
        }
        ducts_.push_back(std::move(made));
    }
}

Result<std::unique_ptr<Pile>> Pile::make(const Plan& plan, const PileConstants& constants,
                                         const RunRules& rules) {
    auto problems = problems_of(plan, constants);
    auto grid = make_grid(plan.shape, plan.grid);
    if (!grid) {
        append(problems, grid.problems());
    }
    if (!problems.empty()) {
        return problems;
    }
    std::unique_ptr<Pile> pile(new Pile(plan, constants, rules, *std::move(grid)));
    if (std::ranges::all_of(pile->lot_of_cell_, [](std::size_t lot) { return lot == kNoLot; })) {
        return plan_problem("lots", "no lot lies within the pile", "look at their places again");
    }
    const auto& g = pile->grid_;
    for (std::size_t c = g.box.begin(); c < g.box.end(); ++c) {
        if (g.is_ground(c)) {
            const double depth = g.centre[2][c] / g.layer_bottom.front();
            pile->state_.celsius[c] = plan.ground_C + depth * (plan.deep_ground_C - plan.ground_C);
        }
    }
    pile->lay_bed();
    return pile;
}

void Pile::lay_bed() {
    const Bed before = std::move(bed_);
    bed_ = make_bed(grid_, plan_.lots, lot_of_cell_, constants_, hour_);
    put_new_beet(before);
    airflow_.lay(bed_, grid_);
    step_.lay(bed_, grid_, plan_.lots, constants_);
    is_laid_ = true;
}

void Pile::put_new_beet(const Bed& before) {
    const auto& box = grid_.box;
    for (std::size_t c = box.begin(); c < box.end(); ++c) {
        if (grid_.is_ground(c)) {
            if (!is_laid_) {
                state_.heat[c] = enthalpy(state_.celsius[c], bed_.content(c));
            }
            continue;
        }
        const bool had = is_laid_ && before.has_beet(c);
        const bool has = bed_.has_beet(c);
        if (had == has) {
            continue;
        }
        const double held = (has ? bed_ : before).pores[c] * dry_air_density(5.0, 0.005);
        const double sign = has ? 1.0 : -1.0;
        if (has) {
            const auto& lot = plan_.lots[bed_.lot[c]];
            state_.celsius[c] = lot.celsius;
            state_.heat[c] = enthalpy(lot.celsius, bed_.content(c));
            state_.humidity[c] = humidity_ratio_of(0.95 * saturation_Pa(lot.celsius));
            state_.carbon_dioxide[c] = 0.0;
            state_.film[c] = lot.film * constants_.film * bed_.volume[c];
            state_.dried[c] = 0.0;
            Breathing::put(state_.health, c, lot, constants_);
        }
        balance_.piled += sign * state_.heat[c];
        balance_.piled_water += sign * (state_.film[c] + held * state_.humidity[c]);
        // What is owed to a cell that is taken away goes with it.
        balance_.piled_carbon_dioxide +=
            sign * held * state_.carbon_dioxide[c] - (has ? 0.0 : step_.owed()[c]);
        if (!has) {
            state_.heat[c] = state_.celsius[c] = state_.film[c] = 0.0;
            state_.humidity[c] = state_.carbon_dioxide[c] = 0.0;
        }
        if (!state_.air_celsius.empty()) {
            state_.air_celsius[c] = state_.celsius[c];
        }
    }
}

void Pile::set_covers(const WeatherHour& hour) {
    covers_.assign(grid_.sides.size(), no_cover(constants_));
    lies_.resize(plan_.covers.size(), false);
    const double coldest = std::min(hour.air_C, hour.coming_low_C);
    for (std::size_t n = 0; n < plan_.covers.size(); ++n) {
        const auto& span = plan_.covers[n];
        const bool is_time = hour_ >= span.from_h && hour_ < span.to_h;
        const bool is_asked_for = coldest < span.rule.on_below_C;
        const bool stays = lies_[n] && hour.air_C <= span.rule.off_above_C;
        const bool lies = is_time && (is_asked_for || stays);
        work_.covers_put_on += lies && !lies_[n] ? 1 : 0;
        work_.covers_taken_off += !lies && lies_[n] ? 1 : 0;
        lies_[n] = lies;
        if (!lies) {
            continue;
        }
        for (std::size_t s = 0; s < grid_.sides.size(); ++s) {
            if (std::ranges::find(span.on, grid_.sides[s].side) != span.on.end()) {
                covers_[s] = span.cover;
            }
        }
    }
}

double Pile::mean_celsius() const {
    double sum = 0.0;
    double mass = 0.0;
    for (std::size_t c = grid_.box.begin(); c < grid_.box.end(); ++c) {
        sum += bed_.beet[c] * state_.celsius[c];
        mass += bed_.beet[c];
    }
    return mass > 0.0 ? sum / mass : 0.0;
}

void Pile::set_fans(const WeatherHour& hour) {
    if (ducts_.empty()) {
        return;
    }
    const double mean = mean_celsius();
    for (std::size_t n = 0; n < ducts_.size(); ++n) {
        const auto& plan = plan_.ducts[n];
        ducts_[n].runs =
            hour_ >= plan.from_h && hour_ < plan.to_h && hour.air_C <= mean - plan.rule.colder_K &&
            hour.air_C >= plan.rule.not_below_C && hour.air_C <= plan.rule.only_below_C;
    }
}

Problem Pile::does_not_stand(const char* what, std::size_t cell) const {
    const auto metres = [&](std::size_t a) {
        return std::to_string(std::lround(10.0 * grid_.centre[a][cell]) / 10) + "." +
               std::to_string(std::abs(std::lround(10.0 * grid_.centre[a][cell]) % 10));
    };
    return {ProblemKind::limit,
            {.file = "", .line = 0, .field = "pile"},
            std::string(what) + " in hour " + std::to_string(static_cast<long>(hour_)) + " at " +
                metres(0) + " m across, " + metres(1) + " m along, " + metres(2) + " m up",
            "look at the weather of that hour and at what was piled there"};
}

Result<Done> Pile::step(double seconds) {
    const auto outcome = step_.advance(state_, outside_, seconds, rules_.step, balance_);
    ++work_.steps;
    work_.evaluations += outcome.evaluations;
    if (outcome.stands) {
        return Done{};
    }
    ++work_.halvings;
    if (0.5 * seconds < rules_.shortest_s) {
        return does_not_stand("the heat of the pile does not come to a stand", outcome.worst);
    }
    for (int half = 0; half < 2; ++half) {
        if (auto done = step(0.5 * seconds); !done) {
            return done;
        }
    }
    return Done{};
}

Result<Done> Pile::blow() {
    const auto& air = state_.air_celsius.empty() ? state_.celsius : state_.air_celsius;
    const auto flow = airflow_.update(air, state_.humidity,
                                      {outside_.density, outside_.wind_Pa, outside_.cover_air},
                                      ducts_, rules_.flow);
    ++work_.flows;
    work_.flow_steps += flow.steps;
    work_.flow_iterations += flow.iterations;
    if (!flow.stands) {
        const auto fastest = std::ranges::max_element(airflow_.speed());
        return does_not_stand("the flow of air does not come to a stand",
                              static_cast<std::size_t>(fastest - airflow_.speed().begin()));
    }
    step_.follow(airflow_);
    return Done{};
}

Result<Done> Pile::pass(const WeatherHour& hour) {
    if (!is_weather(hour) ||
        !(hour.sun_W_m2.empty() || hour.sun_W_m2.size() == grid_.sides.size())) {
        return Problem{ProblemKind::input,
                       {.file = "", .line = 0, .field = "weather"},
                       "no weather like this in hour " + std::to_string(static_cast<long>(hour_)),
                       "look at its figures and their units"};
    }
    if (hour_ > 0.0 && changes(plan_.lots, hour_ - 1.0, hour_)) {
        lay_bed();
    }
    set_covers(hour);
    set_fans(hour);
    set_outside(outside_, hour, grid_.sides, covers_, constants_);
    const auto count = static_cast<int>(std::ceil(kHour_s / rules_.longest_s - 1e-9));
    for (int n = 0; n < count; ++n) {
        if (auto done = blow(); !done) {
            return done;
        }
        if (auto done = step(kHour_s / count); !done) {
            return done;
        }
    }
    hour_ += 1.0;
    return Done{};
}

Totals totals(const Pile& pile) {
    Totals sum;
    const auto& bed = pile.bed();
    const auto& state = pile.state();
    double degrees = 0.0;
    for (std::size_t c = bed.box.begin(); c < bed.box.end(); ++c) {
        sum.heat += state.heat[c];
        if (!bed.has_beet(c)) {
            continue;
        }
        const double held = bed.pores[c] * dry_air_density(5.0, 0.005);
        const double sugar = bed.beet[c] * pile.lots()[bed.lot[c]].sugar;
        sum.film += state.film[c];
        sum.vapour += held * state.humidity[c];
        sum.carbon_dioxide += held * state.carbon_dioxide[c];
        sum.beet += bed.beet[c];
        sum.sugar_piled += sugar;
        sum.sugar_left += sugar * state.health.left[c];
        sum.invert += bed.beet[c] * state.health.invert[c];
        sum.dried += state.dried[c];
        degrees += bed.beet[c] * state.celsius[c];
        sum.coldest_C = std::min(sum.coldest_C, state.celsius[c]);
        if (state.celsius[c] > sum.warmest_C) {
            sum.warmest_C = state.celsius[c];
            sum.warmest = c;
        }
    }
    sum.mean_C = sum.beet > 0.0 ? degrees / sum.beet : 0.0;
    return sum;
}

}  // namespace beetwright::pile
