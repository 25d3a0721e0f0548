#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "io/control_cells.hpp"
#include "io/row_ids.hpp"
#include "io/season_read.hpp"
#include "io/season_tables.hpp"
#include "ledger/harvester_of.hpp"

namespace beetwright::io {
namespace {

constexpr std::string_view kDisplay = "display";

/// The season's machines as harvesters, each made once.
class Harvesters {
 public:
    explicit Harvesters(const ledger::Season& masters) : masters_(masters) {}

    struct Known {
        const ledger::Machine* machine;
        Result<harvester::Machine> harvester;
    };
    /// Null where no machine has this name.
    const Known* find(const std::string& name) {
        const auto known = known_.find(name);
        if (known != known_.end()) {
            return &known->second;
        }
        const auto found = std::ranges::find(masters_.machines, name, &ledger::Machine::name);
        if (found == masters_.machines.end()) {
            return nullptr;
        }
        return &known_.emplace(name, Known{&*found, ledger::harvester_of(*found)}).first->second;
    }

 private:
    const ledger::Season& masters_;
    std::map<std::string, Known> known_;
};

/// Gathers the rows of each note.
class Notes {
 public:
    explicit Notes(const FolderReading& reading)
        : reading_(reading), harvesters_(reading.masters) {}

    void take(TableReader& reader, const TableRow& row) {
        const auto* known = machine_in(reader, row);
        if (known == nullptr) {
            return;
        }
        check::SettingsNote* note = note_of(reader, row);
        if (note != nullptr) {
            add(reader, row, *known, *note);
        }
    }

 private:
    struct Place {
        std::size_t index;
        int line;
        std::string supersedes;
        bool says_nothing;  ///< its first row names no control
    };

    const Harvesters::Known* machine_in(TableReader& reader, const TableRow& row) {
        const auto* known = harvesters_.find(row.text(settings::machine));
        if (known != nullptr && known->harvester.ok()) {
            return known;
        }
        if (known != nullptr && !known->machine->build) {
            // Once: what is amiss is the machine's, and each of its notes has it.
            if (told_.insert(known->machine->name).second) {
                const Problem& problem = known->harvester.problems().front();
                reader.fail(settings::machine, problem.what, problem.fix);
            }
        } else if (known == nullptr && reading_.masters.machines.empty() &&
                   !reading_.files.contains(std::string(machines::table.file))) {
            if (told_.insert("").second) {
                reader.fail(settings::machine, "no machines.csv says what can be set on it",
                            "add the table that names the machine and its build");
            }
        } else if (known != nullptr && reading_.problems.empty()) {
            const Problem& problem = known->harvester.problems().front();
            reader.fail(settings::machine,
                        "what the season says of this machine is not in order: " + problem.what,
                        problem.fix);
        }
        return nullptr;  // and where nothing was told here, the name or the machine was before
    }

    /// The note of this row; nothing where it contradicts an earlier row of its note.
    check::SettingsNote* note_of(TableReader& reader, const TableRow& row) {
        const std::string name = row.text(settings::id);
        check::SettingsNote one;
        one.machine = row.text(settings::machine);
        one.field = row.text(settings::field);
        one.at = row.instant(settings::at);
        one.answer = static_cast<check::Answer>(row.word(settings::answer, 0));
        auto& notes = reading_.season.settings;
        const auto found = places_.find(name);
        if (found == places_.end()) {
            return begin(reader, row, std::move(one));
        }
        auto& known = notes[found->second.index];
        const bool same = known.machine == one.machine && known.field == one.field &&
                          known.at == one.at && known.answer == one.answer &&
                          found->second.supersedes == row.view(settings::supersedes);
        if (!same) {
            reader.fail(settings::id,
                        "this note began on line " + std::to_string(found->second.line) +
                            " with another machine, field, time, answer or correction",
                        "say the same on each of its rows, or give this one another id");
            return nullptr;
        }
        if (found->second.says_nothing || !row.has(settings::control)) {
            reader.fail(
                settings::control,
                "this note names no control on line " +
                    std::to_string(found->second.says_nothing ? found->second.line : row.line()) +
                    ", and has other rows",
                "leave that row out, or name the control that was set");
            return nullptr;
        }
        return &known;
    }

    check::SettingsNote* begin(TableReader& reader, const TableRow& row, check::SettingsNote one) {
        auto& notes = reading_.season.settings;
        const std::string name = row.text(settings::id);
        const bool says_nothing = !row.has(settings::control);
        if (says_nothing && one.answer != check::Answer::declined) {
            reader.fail(settings::control, "this row does not say what was set",
                        "name the control; only a note that advice was declined may have none");
            return nullptr;
        }
        one.id = note_id(name, one.machine);
        const Where here{
            .file = std::string(settings::table.file), .line = row.line(), .field = ""};
        const auto [first, is_new] = reading_.places.try_emplace(one.id, here);
        if (!is_new) {
            reader.fail(settings::id,
                        "this is the id of " + first->second.file + ", line " +
                            std::to_string(first->second.line),
                        "give each its own");
            return nullptr;
        }
        reading_.corrections.add({.table = &settings::table,
                                  .kind = Observed::settings,
                                  .index = notes.size(),
                                  .line = row.line(),
                                  .id = one.id,
                                  .text = row.text(settings::supersedes),
                                  .name = name,
                                  .named_within = one.machine});
        places_[name] = {notes.size(), row.line(), row.text(settings::supersedes), says_nothing};
        notes.push_back(std::move(one));
        return &notes.back();
    }

    void add(TableReader& reader, const TableRow& row, const Harvesters::Known& known,
             check::SettingsNote& note) {
        if (!row.has(settings::control)) {
            if (row.has(settings::value) || row.has(settings::unit)) {
                reader.fail(settings::control, "this value is of no control",
                            "name the control that was set, or leave value and unit empty");
            }
            return;
        }
        const auto named = control_in(reader, row, settings::control);
        if (!named) {
            return;
        }
        if (!row.has(settings::value)) {
            reader.fail(settings::value, "this is empty", "fill it in: what it was set to");
            return;
        }
        if (std::ranges::count(note.controls, named->id, &check::SetControl::control) > 0) {
            reader.fail(settings::control, "this note has set " + named->id + " already",
                        "keep what it was set to last");
            return;
        }
        const auto value = set_value(reader, row, known, *named);
        if (!value) {
            return;
        }
        note.controls.push_back({named->id, *value});
        const auto problems = ledger::problems_of(note.controls, *known.harvester);
        if (!problems.empty()) {
            const bool is_there = known.harvester->find(named->id) != nullptr;
            reader.fail(is_there ? settings::value : settings::control, problems.front().what,
                        problems.front().fix);
            note.controls.pop_back();
        }
    }

    std::optional<double> set_value(TableReader& reader, const TableRow& row,
                                    const Harvesters::Known& known, const ControlNamed& named) {
        if (row.view(settings::unit) == kDisplay && !named.traits->is_choice()) {
            return shown_value(reader, row, known, named);
        }
        const auto unit = unit_in(reader, row, settings::unit, named);
        return unit ? value_in(reader, row, settings::value, named, *unit) : std::nullopt;
    }

    /// What the display's number means, by the machine's own points.
    static std::optional<double> shown_value(TableReader& reader, const TableRow& row,
                                             const Harvesters::Known& known,
                                             const ControlNamed& named) {
        constexpr Unit as_shown{"1", UnitKind::number, 1.0, 0.0, UnitSystem::both};
        const auto shown = value_in(reader, row, settings::value, named, as_shown);
        const harvester::Control* control = known.harvester->find(named.id);
        if (!shown || control == nullptr) {
            return shown;  // that the machine has it not is told with the values
        }
        const auto* own = known.machine->find(named.id);
        const auto dial = ledger::dial_of(
            *control, own != nullptr ? *own : ledger::OwnControl{.control = named.id});
        if (!dial) {
            reader.fail(settings::unit, dial.problems().front().what,
                        dial.problems().front().fix + ", or give the value in " +
                            std::string(named.traits->unit));
            return std::nullopt;
        }
        const auto meant = dial->from_shown(*shown);
        if (!meant) {
            reader.fail(settings::value, meant.problems().front().what,
                        meant.problems().front().fix);
            return std::nullopt;
        }
        return meant->actual;
    }

    const FolderReading& reading_;
    Harvesters harvesters_;
    std::map<std::string, Place, std::less<>> places_;
    std::set<std::string> told_;  ///< machines of which something is amiss that all rows would tell
};

}  // namespace

void read_settings(const FolderReading& reading) {
    Notes notes(reading);
    reading.each(settings::table,
                 [&](TableReader& reader, const TableRow& row) { notes.take(reader, row); });
}

void read_parts(const FolderReading& reading) {
    RowIds ids(reading, parts::table, Observed::part);
    reading.each(parts::table, [&](TableReader& reader, const TableRow& row) {
        check::PartChange p;
        p.machine = row.text(parts::machine);
        p.at = row.instant(parts::at);
        p.stage = static_cast<check::MachineStage>(row.word(parts::stage, 0));
        p.what = row.text(parts::what);
        p.id = ids.of(reader, row, reading.season.parts.size());
        if (!p.id.is_nil()) {
            reading.season.parts.push_back(std::move(p));
        }
    });
}

}  // namespace beetwright::io
