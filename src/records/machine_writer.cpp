#include "records/machine_writer.hpp"

#include <algorithm>
#include <cstdint>
#include <optional>
#include <string_view>

namespace beetwright::records {

bool MachineWriter::write(std::span<const ledger::Machine> machines) {
    return write_machines(machines) && write_controls(machines) && write_dials(machines);
}

bool MachineWriter::write_machines(std::span<const ledger::Machine> machines) {
    Statement insert;
    if (!prepared(
            "INSERT INTO machines (name, kind, rows, row_spacing, wheel_load, tyre_pressure, "
            "tyre_width, tyre_diameter, build, hour_cost) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) "
            "ON CONFLICT (name) DO UPDATE SET kind = excluded.kind, rows = excluded.rows, "
            "row_spacing = excluded.row_spacing, wheel_load = excluded.wheel_load, "
            "tyre_pressure = excluded.tyre_pressure, tyre_width = excluded.tyre_width, "
            "tyre_diameter = excluded.tyre_diameter, build = excluded.build, "
            "hour_cost = excluded.hour_cost",
            insert)) {
        return false;
    }
    return std::ranges::all_of(machines, [&](const ledger::Machine& m) {
        const auto& wheel = m.heaviest_wheel;
        const auto build =
            m.build ? std::optional(static_cast<std::int64_t>(*m.build)) : std::nullopt;
        return run(insert, std::string_view(m.name), std::string_view(m.kind), std::int64_t{m.rows},
                   m.row_spacing.si(), wheel.load.si(), wheel.pressure.si(), wheel.width.si(),
                   wheel.diameter.si(), build, m.hour_cost.si());
    });
}

bool MachineWriter::write_controls(std::span<const ledger::Machine> machines) {
    Statement insert;
    if (!prepared(
            "INSERT INTO controls (machine, control, fitted, hands_off, least, most, step, usual, "
            "display_step) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (machine, control) "
            "DO UPDATE SET fitted = excluded.fitted, hands_off = excluded.hands_off, "
            "least = excluded.least, most = excluded.most, step = excluded.step, "
            "usual = excluded.usual, display_step = excluded.display_step",
            insert)) {
        return false;
    }
    return std::ranges::all_of(machines, [&](const ledger::Machine& m) {
        return std::ranges::all_of(m.controls, [&](const ledger::OwnControl& own) {
            return run(insert, std::string_view(m.name), std::string_view(own.control),
                       std::int64_t{own.fitted}, std::int64_t{own.hands_off}, own.least, own.most,
                       own.step, own.usual, own.display_step);
        });
    });
}

bool MachineWriter::write_dials(std::span<const ledger::Machine> machines) {
    Statement clear;
    Statement insert;
    if (!prepared("DELETE FROM dial_points WHERE machine = ? AND control = ?", clear) ||
        !prepared("INSERT INTO dial_points VALUES (?, ?, ?, ?, ?, ?)", insert)) {
        return false;
    }
    return std::ranges::all_of(machines, [&](const ledger::Machine& m) {
        return std::ranges::all_of(m.controls, [&](const ledger::OwnControl& own) {
            const std::string_view machine = m.name;
            const std::string_view control = own.control;
            std::int64_t number = 0;
            return !own.has_dial() ||
                   (run(clear, machine, control) &&
                    std::ranges::all_of(own.dial, [&](const ledger::DialPoint& point) {
                        const auto measured = point.measured
                                                  ? std::optional<std::int64_t>(
                                                        point.measured->time_since_epoch().count())
                                                  : std::nullopt;
                        return run(insert, machine, control, ++number, point.shown, point.actual,
                                   measured);
                    }));
        });
    });
}

}  // namespace beetwright::records
