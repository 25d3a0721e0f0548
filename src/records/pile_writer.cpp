#include "records/pile_writer.hpp"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <optional>
#include <string_view>

namespace beetwright::records {
namespace {

template <class Enum>
std::optional<std::int64_t> code(const std::optional<Enum>& word) {
    return word ? std::optional(static_cast<std::int64_t>(*word)) : std::nullopt;
}

double kelvin(const std::optional<Temperature>& temperature) {
    return temperature ? temperature->in_kelvin() : std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

bool PileWriter::write(std::span<const ledger::PileSite> piles) {
    return write_sites(piles) && write_fans(piles);
}

bool PileWriter::write_sites(std::span<const ledger::PileSite> piles) {
    Statement insert;
    if (!prepared("INSERT INTO piles (name, base_width, top_width, height, length, orientation, "
                  "ground, built) VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (name) DO UPDATE SET "
                  "base_width = excluded.base_width, top_width = excluded.top_width, "
                  "height = excluded.height, length = excluded.length, "
                  "orientation = excluded.orientation, ground = excluded.ground, "
                  "built = excluded.built",
                  insert)) {
        return false;
    }
    return std::ranges::all_of(piles, [&](const ledger::PileSite& p) {
        return run(insert, std::string_view(p.name), p.base_width.si(), p.top_width.si(),
                   p.height.si(), p.length.si(), p.orientation_rad, code(p.ground), code(p.built));
    });
}

bool PileWriter::write_fans(std::span<const ledger::PileSite> piles) {
    Statement clear;
    Statement insert;
    if (!prepared("DELETE FROM fans WHERE pile = ?", clear) ||
        !prepared("INSERT INTO fans (pile, number, along_from, along_to, flow, pressure, power, "
                  "rule, difference, not_below, only_below) "
                  "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return std::ranges::all_of(piles, [&](const ledger::PileSite& p) {
        std::int64_t number = 0;
        return p.fans.empty() ||
               (run(clear, std::string_view(p.name)) &&
                std::ranges::all_of(p.fans, [&](const ledger::Fan& fan) {
                    return run(insert, std::string_view(p.name), ++number, fan.stretch.from.si(),
                               fan.stretch.to.si(), fan.flow.si(), fan.pressure.si(),
                               fan.power.si(), static_cast<std::int64_t>(fan.rule),
                               fan.difference.si(), kelvin(fan.not_below), kelvin(fan.only_below));
                }));
    });
}

}  // namespace beetwright::records
