#include "io/pile_writing.hpp"

#include <algorithm>
#include <cmath>

namespace beetwright::io {
namespace {

Estimate<double> mapped(const Estimate<double>& from, auto&& map) {
    return {map(from.value), map(from.low), map(from.high)};
}

}  // namespace

std::string with_interval(const Estimate<double>& estimate, std::string_view unit) {
    const Reading reading{estimate.value, estimate.low, estimate.high, unit};
    std::string text = value_text(reading);
    if (!unit.empty()) {
        text += " " + std::string(unit);
    }
    const std::string interval = interval_text(reading);
    return interval.empty() ? text : text + " (" + interval + ")";
}

std::string percent_text(const Estimate<double>& share) {
    return with_interval(mapped(share, [](double one) { return 100.0 * one; }), "%");
}

std::string PileWriter::celsius(const Estimate<double>& at) const {
    return with_interval(mapped(at, [&](double c) { return is_us_ ? c * 1.8 + 32.0 : c; }),
                         is_us_ ? "°F" : "°C");
}

std::string PileWriter::length(Length metres) const {
    const auto unit = *find_unit(is_us_ ? "ft" : "m");
    const double value = unit.from_si(metres.si());
    constexpr double kLong = 10.0;
    return figure_text(value, value < kLong && std::round(value) != value ? 1 : 0) + " " +
           std::string(unit.symbol);
}

std::string PileWriter::mass(CleanMass mass) const {
    const auto unit = *find_unit(is_us_ ? "short ton" : "t");
    return figure_text(unit.from_si(mass.si()), 0) + " " + std::string(unit.symbol);
}

std::string PileWriter::sugar(const Estimate<double>& kg) const {
    const auto unit = *find_unit(is_us_ ? "short ton" : "t");
    return with_interval(mapped(kg, [&](double one) { return unit.from_si(one); }), unit.symbol);
}

std::string PileWriter::money(const Estimate<Money>& money) const {
    return with_interval({money.value.si(), money.low.si(), money.high.si()}, people_.currency());
}

std::string PileWriter::stretch(const engine::PilePart& part) const {
    return length(part.from) + " to " + length(part.to);
}

std::string Columns::text() const {
    std::vector<std::size_t> widths;
    for (const auto& row : rows_) {
        widths.resize(std::max(widths.size(), row.size()), 0);
        for (std::size_t i = 0; i < row.size(); ++i) {
            widths[i] = std::max(widths[i], width_of(row[i]));
        }
    }
    std::string text;
    for (const auto& row : rows_) {
        std::string line = "  ";
        for (std::size_t i = 0; i < row.size(); ++i) {
            line += row[i];
            if (i + 1 < row.size()) {
                line.append(widths[i] - width_of(row[i]) + 2, ' ');
            }
        }
        text += line + "\n";
    }
    return text;
}

}  // namespace beetwright::io
