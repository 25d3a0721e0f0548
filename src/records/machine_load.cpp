#include "records/machine_load.hpp"

#include <algorithm>
#include <map>
#include <string>

#include "records/row.hpp"

namespace beetwright::records {
namespace {

ledger::Machine read_machine(Row row) {
    ledger::Machine m;
    m.name = row.text();
    m.kind = row.text();
    m.rows = static_cast<std::int32_t>(row.integer());
    m.row_spacing = Length(row.real());
    m.heaviest_wheel.load = Mass(row.real());
    m.heaviest_wheel.pressure = Pressure(row.real());
    m.heaviest_wheel.width = Length(row.real());
    m.heaviest_wheel.diameter = Length(row.real());
    m.build = row.word_if_any<harvester::MachineKind>();
    m.hour_cost = MoneyPerTime(row.real());
    return m;
}

ledger::OwnControl read_control(Row& row) {
    ledger::OwnControl own;
    own.control = row.text();
    own.fitted = row.integer() != 0;
    own.hands_off = row.integer() != 0;
    own.least = row.real();
    own.most = row.real();
    own.step = row.real();
    own.usual = row.real();
    own.display_step = row.real();
    return own;
}

ledger::Machine* find(std::vector<ledger::Machine>& machines, const std::string& name) {
    const auto found = std::ranges::find(machines, name, &ledger::Machine::name);
    return found == machines.end() ? nullptr : &*found;
}

}  // namespace

Result<std::vector<ledger::Machine>> load_machines(const Database& database) {
    std::vector<ledger::Machine> machines;
    auto read =
        for_each_row(database,
                     "SELECT name, kind, rows, row_spacing, wheel_load, tyre_pressure, tyre_width, "
                     "tyre_diameter, build, hour_cost FROM machines ORDER BY position",
                     [&](const Statement& row) { machines.push_back(read_machine(Row(row))); });
    if (read) {
        read = for_each_row(
            database,
            "SELECT machine, control, fitted, hands_off, least, most, step, usual, display_step "
            "FROM controls ORDER BY position",
            [&](const Statement& statement) {
                Row row(statement);
                if (auto* machine = find(machines, row.text())) {
                    machine->controls.push_back(read_control(row));
                }
            });
    }
    if (read) {
        read = for_each_row(database,
                            "SELECT machine, control, shown, actual, measured FROM dial_points "
                            "ORDER BY machine, control, number",
                            [&](const Statement& statement) {
                                Row row(statement);
                                auto* machine = find(machines, row.text());
                                const std::string control = row.text();
                                if (machine == nullptr) {
                                    return;
                                }
                                const auto own = std::ranges::find(machine->controls, control,
                                                                   &ledger::OwnControl::control);
                                if (own != machine->controls.end()) {
                                    ledger::DialPoint point;
                                    point.shown = row.real();
                                    point.actual = row.real();
                                    point.measured = row.day_if_any();
                                    own->dial.push_back(point);
                                }
                            });
    }
    if (!read) {
        return read.problems();
    }
    return machines;
}

Result<std::vector<check::SettingsNote>> load_settings(const Database& database) {
    std::vector<check::SettingsNote> notes;
    std::map<std::int64_t, std::size_t> note_at;  // its place among the notes, by position
    auto read = for_each_row(
        database,
        "SELECT position, id, supersedes, machine, field, at, answer FROM settings_notes "
        "ORDER BY position",
        [&](const Statement& statement) {
            Row row(statement);
            note_at[row.integer()] = notes.size();
            check::SettingsNote note;
            note.id = row.uuid();
            note.supersedes = row.uuid();
            note.machine = row.text();
            note.field = row.text();
            note.at = row.instant();
            note.answer = row.word<check::Answer>();
            notes.push_back(std::move(note));
        });
    if (read) {
        read = for_each_row(database,
                            "SELECT note, control, value FROM set_controls ORDER BY note, number",
                            [&](const Statement& statement) {
                                Row row(statement);
                                const auto found = note_at.find(row.integer());
                                if (found != note_at.end()) {
                                    check::SetControl set;
                                    set.control = row.text();
                                    set.value = row.real();
                                    notes[found->second].controls.push_back(std::move(set));
                                }
                            });
    }
    if (!read) {
        return read.problems();
    }
    return notes;
}

Result<std::vector<check::PartChange>> load_parts(const Database& database) {
    std::vector<check::PartChange> changes;
    const auto read = for_each_row(
        database,
        "SELECT id, supersedes, machine, at, stage, what FROM part_changes ORDER BY position",
        [&](const Statement& statement) {
            Row row(statement);
            check::PartChange change;
            change.id = row.uuid();
            change.supersedes = row.uuid();
            change.machine = row.text();
            change.at = row.instant();
            change.stage = row.word<check::MachineStage>();
            change.what = row.text();
            changes.push_back(std::move(change));
        });
    if (!read) {
        return read.problems();
    }
    return changes;
}

}  // namespace beetwright::records
