#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "io/control_cells.hpp"
#include "io/names_once.hpp"
#include "io/season_read.hpp"
#include "io/season_tables.hpp"
#include "ledger/harvester_of.hpp"

namespace beetwright::io {
namespace {

/// Machines, what is said of their controls, and whether that makes a harvester.
class Machines {
 public:
    explicit Machines(const FolderReading& reading) : reading_(reading) {}

    void read() {
        read_machines();
        read_controls();
        read_dials();
        for (const auto& machine : reading_.season.machines) {
            look_at(machine);
        }
    }

 private:
    using OfMachine = std::pair<std::string, std::string>;  ///< a machine's name, a control's id

    void read_machines() {
        reading_.each(machines::table, [&](TableReader& reader, const TableRow& row) {
            if (!names_.add(reader, row, machines::name)) {
                return;
            }
            ledger::Machine m;
            m.name = row.text(machines::name);
            m.kind = row.text(machines::kind);
            m.rows =
                row.has(machines::rows) ? static_cast<std::int32_t>(row.number(machines::rows)) : 0;
            m.row_spacing = Length(row.number(machines::row_spacing));
            m.heaviest_wheel.load = Mass(row.number(machines::wheel_load));
            m.heaviest_wheel.pressure = Pressure(row.number(machines::tyre_pressure));
            m.heaviest_wheel.width = Length(row.number(machines::tyre_width));
            m.heaviest_wheel.diameter = Length(row.number(machines::tyre_diameter));
            if (row.has(machines::build)) {
                m.build = static_cast<harvester::MachineKind>(row.word(machines::build, 0));
            }
            m.hour_cost = MoneyPerTime(row.number(machines::hour_cost));
            reading_.season.machines.push_back(std::move(m));
        });
    }

    /// The machine that a row names; null where there is none, which is told, if not elsewhere.
    ledger::Machine* machine_in(TableReader& reader, const TableRow& row, std::size_t column) {
        auto& all = reading_.season.machines;
        const auto found = std::ranges::find(all, row.view(column), &ledger::Machine::name);
        if (found != all.end()) {
            return &*found;
        }
        if (!reading_.files.contains(std::string(machines::table.file))) {
            reader.fail(column, "there is no machines.csv",
                        "add the table that names the machine and its build");
        }
        return nullptr;
    }

    void read_controls() {
        reading_.each(controls::table, [&](TableReader& reader, const TableRow& row) {
            auto* machine = machine_in(reader, row, controls::machine);
            const auto named = control_in(reader, row, controls::control);
            if (machine == nullptr || !named) {
                return;
            }
            const auto [first, is_new] =
                control_lines_.try_emplace({machine->name, named->id}, row.line());
            if (!is_new) {
                reader.fail(controls::control,
                            "this control of the machine stands on line " +
                                std::to_string(first->second) + " already",
                            "say all of it in one row");
                return;
            }
            if (auto own = own_control(reader, row, *named)) {
                machine->controls.push_back(std::move(*own));
            }
        });
    }

    static std::optional<ledger::OwnControl> own_control(TableReader& reader, const TableRow& row,
                                                         const ControlNamed& named) {
        const auto unit = unit_in(reader, row, controls::unit, named);
        if (!unit || !has_only_its_own(reader, row, named)) {
            return std::nullopt;
        }
        const auto usual = value_in(reader, row, controls::usual, named, *unit);
        if (!usual) {
            return std::nullopt;
        }
        const int yes = static_cast<int>(check::Seen::yes);
        ledger::OwnControl own;
        own.control = named.id;
        own.fitted = row.word(controls::fitted, yes) == yes;
        own.hands_off = row.word(controls::hands_off, 0) == yes;
        own.least = unit->to_si(row.number(controls::least));
        own.most = unit->to_si(row.number(controls::most));
        own.step = unit->to_si(row.number(controls::step));
        own.usual = *usual;
        own.display_step = row.number(controls::display_step);
        return own;
    }

    /// A choice has neither a range nor numbers on a display.
    static bool has_only_its_own(TableReader& reader, const TableRow& row,
                                 const ControlNamed& named) {
        if (!named.traits->is_choice()) {
            return true;
        }
        for (const auto column :
             {controls::least, controls::most, controls::step, controls::display_step}) {
            if (row.has(column)) {
                reader.fail(column, named.id + " is chosen, and this belongs to amounts",
                            "leave it empty");
                return false;
            }
        }
        return true;
    }

    void read_dials() {
        reading_.each(dials::table, [&](TableReader& reader, const TableRow& row) {
            auto* machine = machine_in(reader, row, dials::machine);
            const auto named = control_in(reader, row, dials::control);
            if (machine == nullptr || !named) {
                return;
            }
            if (named->traits->is_choice()) {
                reader.fail(dials::control, named->id + " is chosen, not measured",
                            "leave its points out");
                return;
            }
            const auto unit = unit_in(reader, row, dials::unit, *named);
            if (!unit) {
                return;
            }
            auto own =
                std::ranges::find(machine->controls, named->id, &ledger::OwnControl::control);
            if (own == machine->controls.end()) {
                own = machine->controls.insert(own, ledger::OwnControl{.control = named->id});
            }
            own->dial.push_back({{row.number(dials::shown), unit->to_si(row.number(dials::actual))},
                                 row.day(dials::measured)});
            point_lines_[{machine->name, named->id}].push_back(row.line());
        });
    }

    void look_at(const ledger::Machine& machine) {
        if (!machine.build && machine.controls.empty()) {
            return;
        }
        const auto harvester = ledger::harvester_of(machine);
        if (!harvester) {
            for (const Problem& problem : harvester.problems()) {
                tell(machine, problem);
            }
            return;
        }
        for (const auto& own : machine.controls) {
            const auto* control = harvester->find(own.control);
            if (control != nullptr && own.has_dial()) {
                look_at_dial(machine, own, *control);
            }
        }
    }

    /// A problem of the whole machine, or of one of its controls, at the row that speaks of it.
    void tell(const ledger::Machine& machine, const Problem& problem) {
        Where where{.file = std::string(machines::table.file),
                    .line = names_.line_of(machine.name),
                    .field = problem.where.field == "rows" ? "rows" : "build"};
        const auto control = control_lines_.find({machine.name, problem.where.field});
        const auto points = point_lines_.find({machine.name, problem.where.field});
        if (control != control_lines_.end()) {
            where = {.file = std::string(controls::table.file),
                     .line = control->second,
                     .field = "control"};
        } else if (points != point_lines_.end()) {
            where = {.file = std::string(dials::table.file),
                     .line = points->second.front(),
                     .field = "control"};
        }
        reading_.problems.add(where, problem.what, problem.fix);
    }

    /// Points are looked at one after another, so that each is told that does not go with those
    /// before it.
    void look_at_dial(const ledger::Machine& machine, const ledger::OwnControl& own,
                      const harvester::Control& control) {
        const auto& lines = point_lines_.at({machine.name, own.control});
        const auto add = [&](int line, const char* field, const Problem& problem) {
            reading_.problems.add(
                {.file = std::string(dials::table.file), .line = line, .field = field},
                problem.what, problem.fix);
        };
        auto sound = own;
        sound.dial.clear();
        const auto problems_before = reading_.problems.count();
        for (std::size_t i = 0; i < own.dial.size(); ++i) {
            sound.dial.push_back(own.dial[i]);
            const auto dial = ledger::dial_of(control, sound);
            if (dial || dial.problems().front().kind == ProblemKind::missing) {
                continue;
            }
            const Problem& problem = dial.problems().front();
            add(lines[i], problem.kind == ProblemKind::limit ? "actual" : "shown", problem);
            sound.dial.pop_back();
        }
        const auto dial = ledger::dial_of(control, sound);
        if (!dial && reading_.problems.count() == problems_before) {
            add(lines.front(), "control", dial.problems().front());
        }
    }

    const FolderReading& reading_;
    NamesOnce names_;
    std::map<OfMachine, int> control_lines_;
    std::map<OfMachine, std::vector<int>> point_lines_;
};

}  // namespace

void read_machines(const FolderReading& reading) {
    Machines(reading).read();
}

}  // namespace beetwright::io
