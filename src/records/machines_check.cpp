#include "records/machines_check.hpp"

#include <map>
#include <set>
#include <string>
#include <utility>

#include "ledger/harvester_of.hpp"
#include "records/edited_rows.hpp"
#include "records/machine_load.hpp"

namespace beetwright::records {
namespace {

/// The same, told of this machine and this place.
Problem of_machine(const std::string& machine, Where where, const Problem& problem) {
    return {ProblemKind::conflict, std::move(where),
            "with what was imported before, of \"" + machine + "\": " + problem.what, problem.fix};
}

class MachinesCheck {
 public:
    MachinesCheck(const io::RowPlaces& places, Problems& problems)
        : places_(places), problems_(problems) {}

    void look_at(const ledger::Machine& machine) {
        auto harvester = ledger::harvester_of(machine);
        if (!harvester) {
            if (!machine.build && machine.controls.empty()) {
                return;  // nothing is said of it, which is no contradiction
            }
            told_.insert(machine.name);
            for (const Problem& problem : harvester.problems()) {
                tell(machine.name, "controls.csv", problem);
            }
            return;
        }
        for (const auto& own : machine.controls) {
            const auto* control = harvester->find(own.control);
            if (control == nullptr || !own.has_dial()) {
                continue;
            }
            if (const auto dial = ledger::dial_of(*control, own); !dial) {
                tell(machine.name, "dials.csv", dial.problems().front());
            }
        }
        harvesters_.emplace(machine.name, std::move(*harvester));
    }

    void look_at(const check::SettingsNote& note) {
        if (note.controls.empty()) {
            return;
        }
        const auto harvester = harvesters_.find(note.machine);
        if (harvester == harvesters_.end()) {
            tell_not_described(note);
            return;
        }
        for (const Problem& problem : ledger::problems_of(note.controls, harvester->second)) {
            problems_.push_back(of_machine(note.machine, place(note, "value"), problem));
        }
    }

 private:
    void tell(const std::string& machine, const char* file, const Problem& problem) {
        problems_.push_back(
            of_machine(machine, {.file = file, .line = 0, .field = problem.where.field}, problem));
    }
    Where place(const check::SettingsNote& note, const char* column) const {
        Where where = place_of(note.id, places_, column);
        if (where.file.empty()) {
            where.file = "settings.csv";
        }
        return where;
    }
    /// Its machine's build was taken back; where it is in question, that is told already.
    void tell_not_described(const check::SettingsNote& note) {
        if (told_.insert(note.machine).second) {
            problems_.push_back({ProblemKind::conflict, place(note, "machine"),
                                 "how \"" + note.machine +
                                     "\" was set is known, and its build is not said any more",
                                 "write the build that it had in machines.csv"});
        }
    }

    const io::RowPlaces& places_;
    Problems& problems_;
    std::map<std::string, harvester::Machine> harvesters_;
    std::set<std::string> told_;  ///< machines whose notes cannot be looked at
};

}  // namespace

Result<Done> check_machines(const Database& database, const io::RowPlaces& places,
                            Problems& problems) {
    const auto machines = load_machines(database);
    if (!machines) {
        return machines.problems();
    }
    const auto notes = load_settings(database);
    if (!notes) {
        return notes.problems();
    }
    MachinesCheck check(places, problems);
    for (const auto& machine : *machines) {
        check.look_at(machine);
    }
    for (const auto& note : *notes) {
        check.look_at(note);
    }
    return Done{};
}

}  // namespace beetwright::records
