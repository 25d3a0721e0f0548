#include "demo_season/scenes.hpp"

#include <array>

#include "demo_season/observe.hpp"

namespace beetwright::demo {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

// Held high for a stony headland, and left there. Hard soil keeps the tails: they are gone before
// the beets reach the turbines, and lie in the strip that is dug.
constexpr std::array<SetPlan, 1> kSharesHigh{{{"share.depth", 55.0}}};

// Turbines still turn as in wet clay, where they were full. Here the trucks are late, the machine
// creeps, and the few beets that come are thrown about: tails and skin go there.
constexpr std::array<SetPlan, 4> kTurbinesThin{{{"driving.speed", 4.2},
                                                {"turbine_1.speed", 70.0},
                                                {"turbine_2.speed", 70.0},
                                                {"turbine_3.speed", 70.0}}};

// As `beetwright setup` says for this field with all that has been seen there. Two broken tails of
// twenty look like a fault, and are none.
constexpr std::array<SetPlan, 17> kAsAdvised{{{"driving.speed", 5.0},
                                              {"leaf_remover.height", 90.0},
                                              {"scalper.thickness", 20.0},
                                              {"share.depth", 65.0},
                                              {"roller_bed.height", 120.0},
                                              {"roller_bed.speed", 400.0},
                                              {"roller_bed.gap", 40.0},
                                              {"roller_bed.last_reversed", 1.0},
                                              {"turbine_1.speed", 30.0},
                                              {"turbine_2.speed", 30.0},
                                              {"turbine_3.speed", 30.0},
                                              {"turbine_1.guard", 1.0},
                                              {"turbine_2.guard", 1.0},
                                              {"turbine_3.guard", 1.0},
                                              {"turbine_1.clearance", 85.0},
                                              {"turbine_2.clearance", 85.0},
                                              {"turbine_3.clearance", 85.0}}};
// It is dark, and the driver does not want to go faster.
constexpr std::array<SetPlan, 1> kNotFaster{{{"driving.speed", 6.5}}};

constexpr std::array<Scene, 3> kScenes{{
    {.field = "Chalk Ridge",
     .day = 1,
     .hour = 11,
     .set = kSharesHigh,
     .answer = check::Answer::none,
     .declined = {},
     .before_cleaning = {.whole_share = 0.12, .mean_cm = 3.9},
     .after_cleaning = {.whole_share = 0.10, .mean_cm = 4.0},
     .skin_cm2 = 9.0,
     .spots_before = 6,
     .spots_after = 6,
     .strips = 2},
    {.field = "Warren Top",
     .day = 1,
     .hour = 11,
     .set = kTurbinesThin,
     .answer = check::Answer::none,
     .declined = {},
     .before_cleaning = {.whole_share = 0.55, .mean_cm = 1.3},
     .after_cleaning = {.whole_share = 0.06, .mean_cm = 3.4},
     .skin_cm2 = 60.0,
     .spots_before = 6,
     .spots_after = 8,
     .strips = 0},
    {.field = "Tollgate",
     .day = 0,
     .hour = 17,
     .set = kAsAdvised,
     .answer = check::Answer::accepted,
     .declined = kNotFaster,
     .before_cleaning = {.whole_share = 0.90, .mean_cm = 2.5},
     .after_cleaning = {.whole_share = 0.88, .mean_cm = 2.6},
     .skin_cm2 = 10.0,
     .spots_before = 0,
     .spots_after = 2,
     .strips = 0},
}};

/// Numbers that no other look of the field has.
constexpr int kFirstNumber = 100;

TailBreaks as_seen(const TailsPlan& plan, TailBreaks usual) {
    usual.whole_share = plan.whole_share;
    usual.mean = plan.mean_cm * unit::cm;
    return usual;
}

/// A field's plan and truth, with what the scene makes of them.
struct Staged {
    FieldPlan plan;
    FieldTruth truth;
    std::uint64_t seed;
    UnitSystem units;

    [[nodiscard]] Look look() const {
        return {.plan = plan, .truth = truth, .seed = seed, .units = units};
    }
};

Staged staged(const Look& look, const Scene& scene, const LossPhysics& physics) {
    Staged stage{look.plan, look.truth, look.seed, look.units};
    stage.plan.sampling.seen_at = check::SeenAt::tank;
    stage.plan.sampling.spots = scene.spots_after;
    stage.truth.tails = as_seen(scene.after_cleaning, look.truth.tails);
    stage.truth.tail_share =
        physics.tail_loss_at_5cm * stage.truth.tails.moment(physics.tail_exponent);
    stage.truth.skin_damage = scene.skin_cm2 * unit::cm2;
    return stage;
}

/// Skin is not judged on the roller bed: most of it is torn after that.
check::BeetSheet sheet_before_cleaning(Staged stage, const Scene& scene, int number) {
    stage.plan.sampling.seen_at = check::SeenAt::before_cleaning;
    stage.plan.sampling.spots = scene.spots_before;
    stage.truth.tails = as_seen(scene.before_cleaning, stage.truth.tails);
    auto sheet = observed_sheet(stage.look(), number);
    for (auto& beet : sheet.beets) {
        beet.skin_damage = Area();
    }
    return sheet;
}

void add_scene(const Look& look, const Scene& scene, const ledger::Machine& machine,
               const LossPhysics& physics, ledger::Season& season) {
    auto clock = stream_of(look, "demo time scene", scene.hour);
    const Instant begins = (look.truth.lifted + scene.day).on(kFirstDay) + hours(scene.hour) +
                           minutes(clock.below(20));
    season.settings.push_back(
        settings_note(look, machine, begins, kFirstNumber, scene.answer, scene.set));
    if (!scene.declined.empty()) {
        season.settings.push_back(settings_note(look, machine, begins + minutes(5),
                                                kFirstNumber + 1, check::Answer::declined,
                                                scene.declined));
    }
    const Staged stage = staged(look, scene, physics);
    // Each a while after the one before.
    Instant now = begins;
    const auto put = [&](auto one, std::string_view kind, int number, auto& all) {
        now += minutes(20 + clock.below(15));
        one.at = now;
        one.id = id_at(look, kind, number, now);
        all.push_back(std::move(one));
    };
    if (scene.spots_before > 0) {
        put(sheet_before_cleaning(stage, scene, kFirstNumber), "sheet", kFirstNumber,
            season.beet_sheets);
    }
    put(observed_sheet(stage.look(), kFirstNumber + 1), "sheet", kFirstNumber + 1,
        season.beet_sheets);
    for (int i = 0; i < scene.strips; ++i) {
        put(observed_strip(stage.look(), kFirstNumber + i), "strip", kFirstNumber + i,
            season.strips);
    }
}

/// In a scene as many beets are counted to the hectare as before it, so that all of a field's
/// counts together stand for the field: this share of it is lifted in the scene.
double share_of_field(const Scene& scene, const FieldPlan& plan) {
    const double before = plan.sampling.sheets * plan.sampling.spots;
    return scene.spots_after / (before + scene.spots_after);
}

}  // namespace

std::span<const Scene> scenes() {
    return kScenes;
}

FieldTruth with_scenes(const FieldPlan& plan, FieldTruth usual, const LossPhysics& physics) {
    for (const Scene& scene : kScenes) {
        if (scene.field == plan.name) {
            const double share = share_of_field(scene, plan);
            const auto tails = as_seen(scene.after_cleaning, usual.tails);
            const double lost = physics.tail_loss_at_5cm * tails.moment(physics.tail_exponent);
            usual.tail_share += share * (lost - usual.tail_share);
            usual.skin_damage += share * (scene.skin_cm2 * unit::cm2 - usual.skin_damage);
        }
    }
    return usual;
}

void add_scenes(const Look& look, const ledger::Machine& machine, const LossPhysics& physics,
                ledger::Season& season) {
    for (const Scene& scene : kScenes) {
        if (scene.field == look.plan.name) {
            add_scene(look, scene, machine, physics, season);
        }
    }
}

}  // namespace beetwright::demo
