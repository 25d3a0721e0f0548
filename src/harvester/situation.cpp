#include "harvester/situation.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace beetwright::harvester {
namespace {

using enum ControlKind;

// What the catalogue's constants are said at.
constexpr Speed kSpeed(5.0 / 3.6);
constexpr double kRushing_kmh = 6.0;
constexpr CleanMass kRoot(0.8);
constexpr Length kCrownOut(0.050);
constexpr Length kGap(0.040);
constexpr Length kBed(0.060);
constexpr Length kGuards(0.060);
constexpr Length kDrop(1.0);
constexpr double kRotor = 850.0 / 60.0;  // [rev/s]
constexpr Length kTuft(0.040);
constexpr CleanMassPerArea kUsualCrop(7.0);  // 70 t/ha
/// The gap of rolls and the diameter of a root that go together: 40 mm and that of 0.8 kg.
constexpr double kCubeRoot = 1.0 / 3.0;

constexpr double kBendSharpness = 4.0;

/// What soil does, by what it is like in the hand. Scales of our own: the coefficients say what a
/// step on them means.
struct SoilScores {
    double hard, wet;
};
constexpr SoilScores scores(SoilFeel feel) {
    switch (feel) {
        case SoilFeel::hard: return {1.0, -0.2};
        case SoilFeel::crumbly: return {0.0, 0.0};
        case SoilFeel::plastic: return {0.1, 0.6};
        case SoilFeel::sticky: return {0.1, 1.0};
    }
    return {0.0, 0.0};
}

Problem condition_problem(const char* field, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = field},
            std::move(what),
            std::move(fix)};
}

Problems problems_of(const Conditions& conditions) {
    Problems problems;
    const auto positive = [&](const char* field, double value) {
        if (!(value > 0.0) || !std::isfinite(value)) {
            problems.push_back(
                condition_problem(field, "no field has none of this", "say how much there is"));
        }
    };
    positive("beets per area", conditions.roots.beets.si());
    positive("mean mass of a beet", conditions.roots.mean_mass.si());
    positive("spacing in the row", conditions.crowns.spacing.si());
    if (!(conditions.crowns.sd.si() >= 0.0) || !std::isfinite(conditions.crowns.mean.si())) {
        problems.push_back(condition_problem("crown heights", "no heights of crowns are known",
                                             "give their mean and how much they differ"));
    }
    return problems;
}

/// The control of this kind: of several, that of the last place, which for driving is the lifter's.
const Control* last_of(const Machine& machine, ControlKind kind) {
    const Control* found = nullptr;
    for (const Control& control : machine.controls) {
        if (control.kind == kind) {
            found = &control;
        }
    }
    return found;
}
const Control* first_of(const Machine& machine, ControlKind kind) {
    const auto found = std::ranges::find(machine.controls, kind, &Control::kind);
    return found == machine.controls.end() ? nullptr : &*found;
}

class Reader {
 public:
    Reader(const Machine& machine, const Settings& settings)
        : machine_(machine), settings_(settings) {}

    [[nodiscard]] double value(const Control* control, double otherwise) const {
        return control == nullptr ? otherwise : *settings_.find(control->id());
    }
    [[nodiscard]] double last(ControlKind kind, double otherwise) const {
        return value(last_of(machine_, kind), otherwise);
    }
    [[nodiscard]] double first(ControlKind kind, double otherwise) const {
        return value(first_of(machine_, kind), otherwise);
    }
    /// Mean of `of` over all controls of a kind; `otherwise` where there are none.
    template <class Of>
    [[nodiscard]] double mean(ControlKind kind, double otherwise, Of&& of) const {
        double sum = 0.0;
        int count = 0;
        for (const Control& control : machine_.controls) {
            if (control.kind == kind) {
                sum += of(control, *settings_.find(control.id()));
                ++count;
            }
        }
        return count > 0 ? sum / count : otherwise;
    }
    [[nodiscard]] bool has(ControlKind kind) const { return last_of(machine_, kind) != nullptr; }

 private:
    const Machine& machine_;
    const Settings& settings_;
};

double log_of_usual(const Control& control, double value) {
    return std::log(value / control.usual);
}

}  // namespace

double thinness(double over_flow) {
    const auto soft = [](double x) {
        return x > 30.0 ? x : std::log1p(std::exp(x));  // e^-30 is nothing beside 30
    };
    return (soft(kBendSharpness * over_flow) - soft(0.0)) / kBendSharpness;
}

Result<Situation> situation(const Machine& machine, const Settings& settings,
                            const Conditions& conditions, const Catalogue& catalogue) {
    Problems problems = check(settings, machine);
    for (Problem& problem : problems_of(conditions)) {
        problems.push_back(std::move(problem));
    }
    for (const ControlKind kind :
         {forward_speed, leaf_remover_height, scalper_thickness, share_depth}) {
        if (first_of(machine, kind) == nullptr) {
            problems.push_back({ProblemKind::missing,
                                {.file = "", .line = 0, .field = std::string(traits(kind).id)},
                                "this machine has no " + std::string(traits(kind).words),
                                "what comes out is reckoned for machines that top and lift"});
        }
    }
    if (!problems.empty()) {
        return problems;
    }

    const Reader read(machine, settings);
    Situation s;
    s.crowns = conditions.crowns;
    s.roots = conditions.roots;
    s.standing = conditions.standing();
    s.lifting_speed = Speed(read.last(forward_speed, kSpeed.si()));
    s.topping = {Length(read.first(leaf_remover_height, 0.0)),
                 Length(read.first(scalper_thickness, 0.0)),
                 Speed(read.first(forward_speed, kSpeed.si()))};
    const double row_spacing = 1.0 / (conditions.roots.beets * conditions.crowns.spacing).si();
    s.width = Length(machine.rows * row_spacing);

    const SoilScores soil = scores(conditions.soil.feel);
    const double mass_ratio = conditions.roots.mean_mass / kRoot;
    const double root_size = std::cbrt(mass_ratio);
    const double depth = read.first(share_depth, 0.0);
    const double needed_constant = catalogue.value(ConstantId::harvester_depth_needed);
    const double needed =
        needed_constant * root_size - catalogue.value(ConstantId::harvester_depth_out_of_ground) *
                                          (conditions.crowns.mean - kCrownOut).si();
    const double shallow = needed - depth;
    s.depth_over_needed_constant = depth / needed_constant;

    s.usual_speed = Speed(last_of(machine, forward_speed)->usual);
    // What has to go through, over what the machine's usual speeds were made for.
    const Control* driving = last_of(machine, forward_speed);
    const double flow =
        std::log((s.lifting_speed.si() / driving->usual) * (s.standing / kUsualCrop));
    const ControlKind cleaner = read.has(turbine_speed) ? turbine_speed : axial_roll_speed;
    const double turbines = read.mean(cleaner, 0.0, log_of_usual);
    const double rolls = read.mean(roller_speed, 0.0, log_of_usual);
    const double squares = read.mean(cleaner, 0.0, [](const Control& control, double value) {
        return value * value / (control.usual * control.usual);
    });
    s.cleaning_effort = 0.5 * (squares + std::exp(2.0 * rolls));
    const bool has_cleaner = read.has(cleaner);
    const double turbines_over = has_cleaner ? turbines - flow : 0.0;
    const double rolls_over = read.has(roller_speed) ? rolls - flow : 0.0;
    // A closed guard keeps what it keeps; what its clearance does is told of tined ones too.
    const double tined = read.mean(turbine_guard, 0.0, [](const Control&, double value) {
        return value == static_cast<double>(Guard::tined) ? 1.0 : 0.0;
    });
    const double guards = read.mean(guard_clearance, kGuards.si(),
                                    [](const Control&, double value) { return value; }) -
                          kGuards.si();
    const double bed = read.first(roller_bed_height, kBed.si()) - kBed.si();
    const double gap = std::log(read.first(roller_gap, kGap.si()) / kGap.si());
    const double reversed = read.first(last_roller_reversed, 0.0);
    const double dead = std::isnan(conditions.leaf.dead_share) ? 0.0 : conditions.leaf.dead_share;
    const double frozen =
        std::isnan(conditions.leaf.frozen_share) ? 0.0 : conditions.leaf.frozen_share;

    const auto set = [&](Term term, double value) {
        s.terms[static_cast<std::size_t>(term)] = value;
    };
    set(Term::one, 1.0);
    set(Term::shallow, shallow);
    set(Term::hard, soil.hard);
    set(Term::faster, (s.lifting_speed - kSpeed).si());
    // Each for itself: one that runs thin does harm that two in step do not undo.
    const double rushing_kmh = std::max(3.6 * s.lifting_speed.si() - kRushing_kmh, 0.0);
    set(Term::rushing, rushing_kmh * rushing_kmh);
    const double met =
        1.0 - catalogue.value(ConstantId::harvester_cushion) * std::max(soil.wet, 0.0);
    set(Term::turbines_thin, read.mean(cleaner, 0.0, [&](const Control& control, double value) {
        return met * thinness(log_of_usual(control, value) - flow);
    }));
    set(Term::turbines, turbines);
    set(Term::rolls_thin, met * thinness(rolls_over));
    set(Term::tined, tined);
    set(Term::reversed, reversed);
    set(Term::gap_over_root, gap - kCubeRoot * std::log(mass_ratio));
    set(Term::bed_height, bed);
    set(Term::guard_height, guards);
    set(Term::root_mass, std::log(mass_ratio));
    set(Term::drop, std::log(read.first(unloading_drop, kDrop.si()) / kDrop.si()));
    set(Term::wet, soil.wet);
    set(Term::deep_by_wet, -shallow * (1.0 + 2.0 * std::max(soil.wet, 0.0)));
    set(Term::turbines_over_flow, turbines_over);
    set(Term::rolls_in_wet, rolls_over * (0.2 + 0.8 * std::max(soil.wet, 0.0)));
    const double rolls_power = std::exp(rolls_over);
    set(Term::cleaning_power,
        ((has_cleaner ? 0.5 * (std::exp(turbines_over) + rolls_power) : rolls_power) - 1.0) *
            (1.0 - catalogue.value(ConstantId::harvester_falls_by_itself) * soil.hard));
    set(Term::tined_in_wet, tined * std::max(soil.wet, 0.0));
    set(Term::guards_high_in_wet, guards * tined * std::max(soil.wet, 0.0));
    set(Term::bed_high_in_wet, bed * std::max(soil.wet, 0.0));
    set(Term::gap_in_wet, gap * std::max(soil.wet, 0.0));
    set(Term::reversed_in_wet, reversed * std::max(soil.wet, 0.0));
    set(Term::deep_by_hard, -shallow * (1.0 + 2.0 * soil.hard) / 3.0);
    set(Term::gap, gap);
    const double limp = std::min(dead + frozen, 1.0);
    set(Term::limp, limp);
    const double rotor = read.first(leaf_remover_speed, kRotor) / kRotor;
    s.rotor_effort = rotor * rotor;
    set(Term::rotor, std::log(rotor));
    const double over_usual = std::log(rotor);
    set(Term::rotor_on_leaf, over_usual * (over_usual < 0.0 ? 1.0 : limp));
    set(Term::tuft, (s.topping.leaf_remover_height - s.crowns.mean - kTuft).si());
    set(Term::topping_faster, (s.topping.forward_speed - kSpeed).si());
    const auto usual = topping_constants([&](ConstantId id) { return catalogue.value(id); });
    if (const auto cuts = cut_depths(s.crowns, s.topping, usual); !cuts.ok()) {
        return cuts.problems();
    }
    return s;
}

}  // namespace beetwright::harvester
