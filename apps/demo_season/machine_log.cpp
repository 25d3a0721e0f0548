#include "demo_season/machine_log.hpp"

#include <algorithm>
#include <string>

#include "base/contract.hpp"
#include "base/random.hpp"
#include "ledger/harvester_of.hpp"

namespace beetwright::demo {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

constexpr double kRpm = 1.0 / 60.0;
constexpr double kMm = 0.001;
constexpr int kTurbines = 3;
/// Displays were measured in the week before the campaign.
constexpr int kMeasuredDaysBefore = 6;

const Scale& scale_of(const harvester::Control& control) {
    switch (harvester::traits(control.kind).unit_kind()) {
        case UnitKind::length: return scale::depth;
        case UnitKind::speed: return scale::forward_speed;
        default: return scale::rpm;
    }
}

ledger::OwnControl bound_to(const DialPlan& plan, const harvester::Machine& harvester,
                            const Reader& reader) {
    const harvester::Control* control = harvester.find(plan.control);
    require(control != nullptr, "the story's machines have what their displays show");
    const auto unit = find_unit(harvester::traits(control->kind).unit);
    require(unit.has_value(), "a control is read in a unit that is known");
    ledger::OwnControl own;
    own.control = plan.control;
    own.display_step = plan.step;
    for (const auto& point : plan.points) {
        ledger::DialPoint measured;
        measured.shown = point.shown;
        measured.actual = reader.read(unit->to_si(point.actual), scale_of(*control));
        measured.measured = kFirstDay - days(kMeasuredDaysBefore);
        own.dial.push_back(measured);
    }
    return own;
}

/// What stands on the displays of one machine, and what is read off elsewhere.
class Setting {
 public:
    Setting(const ledger::Machine& machine, const harvester::Machine& harvester,
            const Reader& reader, check::SettingsNote& note)
        : machine_(machine), harvester_(harvester), reader_(reader), note_(note) {}

    /// To the step of its display that is nearest to what is wanted.
    void turn(const std::string& id, double wanted) {
        const harvester::Control& control = find(id);
        const ledger::OwnControl* own = machine_.find(id);
        require(own != nullptr, "this control of the story's machines has a display");
        const auto dial = ledger::dial_of(control, *own);
        require(dial.ok(), "the story's displays are in order");
        const auto [low, high] =
            std::minmax(dial->points().front().actual, dial->points().back().actual);
        const auto step = dial->nearest_step(std::clamp(wanted, low, high));
        require(step.ok(), "between its points a display has steps");
        note_.controls.push_back({id, step->actual});
    }
    /// As a tape or the board computer says it.
    void set(const std::string& id, double wanted, const Scale& on) {
        const harvester::Control& control = find(id);
        note_.controls.push_back(
            {id, reader_.read(std::clamp(wanted, control.least, control.most), on)});
    }
    void choose(const std::string& id, harvester::Guard guard) {
        note_.controls.push_back({id, static_cast<double>(guard)});
    }
    /// By its display where it has one; `value` in the unit that people read it in.
    void put(const SetPlan& plan) {
        const std::string id(plan.control);
        const harvester::Control& control = find(id);
        if (harvester::traits(control.kind).is_choice()) {
            note_.controls.push_back({id, plan.value});
            return;
        }
        const auto unit = find_unit(harvester::traits(control.kind).unit);
        require(unit.has_value(), "a control is read in a unit that is known");
        const double value = unit->to_si(plan.value);
        if (const ledger::OwnControl* own = machine_.find(id)) {
            const auto dial = ledger::dial_of(control, *own);
            require(dial.ok(), "the story's displays are in order");
            const auto [low, high] =
                std::minmax(dial->points().front().actual, dial->points().back().actual);
            if (low <= value && value <= high) {
                return turn(id, value);
            }
        }
        set(id, value, scale_of(control));
    }

 private:
    [[nodiscard]] const harvester::Control& find(const std::string& id) const {
        const harvester::Control* control = harvester_.find(id);
        require(control != nullptr, "the story sets what its machines have");
        return *control;
    }

    const ledger::Machine& machine_;
    const harvester::Machine& harvester_;
    const Reader& reader_;
    check::SettingsNote& note_;
};

harvester::Machine must_be_harvester(const ledger::Machine& machine) {
    auto harvester = ledger::harvester_of(machine);
    require(harvester.ok(), "the story's machines are in order");
    return std::move(*harvester);
}

}  // namespace

void describe(const MachinePlan& plan, const Reader& reader, ledger::Machine& machine) {
    machine.build = harvester::MachineKind::six_row_turbines;
    machine.hour_cost = plan.hour_cost * unit::money_per_hour;
    const auto harvester = must_be_harvester(machine);
    for (const DialPlan& dial : plan.dials) {
        machine.controls.push_back(bound_to(dial, harvester, reader));
    }
}

check::SettingsNote observed_settings(const Look& look, const ledger::Machine& machine) {
    auto clock = stream_of(look, "demo time settings", 0);
    auto chances = stream_of(look, "demo settings", 0);
    const Reader reader(look.units);
    check::SettingsNote note;
    note.at = look.truth.lifted.on(kFirstDay) + hours(6) + minutes(clock.below(90));
    note.id = id_at(look, "settings", 0, note.at);
    note.machine = look.plan.machine;
    note.field = look.plan.name;
    const auto harvester = must_be_harvester(machine);
    Setting setting(machine, harvester, reader, note);
    const double dry = look.truth.dryness;
    const double wet = look.truth.wetness;
    const auto about = [&](double usual, double in_dry, double in_wet, double sd) {
        return usual + in_dry * dry + in_wet * wet + sd * chances.normal();
    };
    setting.set("driving.speed", about(5.2, -0.4, -0.8, 0.2) / 3.6, scale::forward_speed);
    setting.set("leaf_remover.height", about(90.0, 0.0, 0.0, 5.0) * kMm, scale::depth);
    const double topper = 20.0 + operator_of(look.plan).topper_bias_mm;
    setting.set("scalper.thickness", (topper + chances.normal()) * kMm, scale::depth);
    setting.turn("share.depth", about(72.0, 12.0, -8.0, 3.0) * kMm);
    setting.turn("roller_bed.speed", about(245.0, -45.0, 35.0, 8.0) * kRpm);
    for (int turbine = 1; turbine <= kTurbines; ++turbine) {
        const std::string id = "turbine_" + std::to_string(turbine);
        setting.turn(id + ".speed", about(44.0, -12.0, 12.0, 2.0) * kRpm);
        setting.choose(id + ".guard",
                       dry > 0.5 ? harvester::Guard::closed : harvester::Guard::tined);
    }
    return note;
}

check::SettingsNote settings_note(const Look& look, const ledger::Machine& machine, Instant at,
                                  int number, check::Answer answer, std::span<const SetPlan> set) {
    const Reader reader(look.units);
    check::SettingsNote note;
    note.at = at;
    note.id = id_at(look, "settings", number, at);
    note.machine = look.plan.machine;
    note.field = look.plan.name;
    note.answer = answer;
    const auto harvester = must_be_harvester(machine);
    Setting setting(machine, harvester, reader, note);
    for (const SetPlan& plan : set) {
        setting.put(plan);
    }
    return note;
}

std::vector<check::PartChange> part_changes(std::uint64_t seed) {
    std::vector<check::PartChange> changes;
    for (const auto& plan : part_plans()) {
        RandomStream bits(seed, "demo id part", changes.size());
        const Instant at = CampaignDay(plan.day).on(kFirstDay) + hours(plan.hour);
        const std::uint64_t high = bits.word64();
        changes.push_back({.id = Uuid::version7(at, high, bits.word64()),
                           .supersedes = {},
                           .machine = std::string(plan.machine),
                           .at = at,
                           .stage = plan.stage,
                           .what = std::string(plan.what)});
    }
    return changes;
}

}  // namespace beetwright::demo
