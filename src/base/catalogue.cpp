#include "base/catalogue.hpp"

#include <array>
#include <cmath>

#include "base/estimate.hpp"
#include "base/random.hpp"
#include "base/unit.hpp"

namespace beetwright {
namespace {

constexpr std::array<ConstantRow, kConstantCount> kRows{{
#include "catalogue_rows.inc"
}};

constexpr std::size_t index(ConstantId id) {
    return static_cast<std::size_t>(id);
}

}  // namespace

std::string_view words(HowKnown how) {
    switch (how) {
        case HowKnown::measured: return "measured";
        case HowKnown::derived: return "derived";
        case HowKnown::common_practice: return "common practice";
        case HowKnown::from_memory: return "from memory";
        case HowKnown::assumed: return "assumed";
    }
    return "";
}

std::string_view words(Spread spread) {
    switch (spread) {
        case Spread::fixed: return "fixed";
        case Spread::normal: return "normal";
        case Spread::lognormal: return "lognormal";
        case Spread::uniform: return "uniform";
    }
    return "";
}

std::span<const ConstantRow> catalogue_rows() {
    return kRows;
}

std::optional<ConstantId> find_constant(std::string_view id) {
    for (std::size_t i = 0; i < kRows.size(); ++i) {
        if (kRows[i].id == id) {
            return static_cast<ConstantId>(i);
        }
    }
    return std::nullopt;
}

Catalogue::Catalogue() {
    numbers_.reserve(kRows.size());
    for (const auto& row : kRows) {
        numbers_.push_back({row.value, row.low, row.high, false});
    }
}

Result<Done> Catalogue::replace(std::string_view id, double value, double low, double high) {
    const auto found = find_constant(id);
    if (!found) {
        return Problem{ProblemKind::input,
                       {.file = "", .line = 0, .field = std::string(id)},
                       "no constant has this id",
                       "`beetwright constants` lists them"};
    }
    const auto& row = kRows[index(*found)];
    const bool ordered = low <= value && value <= high;
    const bool positive = row.spread != Spread::lognormal || low > 0.0;
    if (!ordered || !positive || !std::isfinite(low) || !std::isfinite(high)) {
        return Problem{ProblemKind::input,
                       {.file = "", .line = 0, .field = std::string(id)},
                       "low, value and high are not in order",
                       positive ? "give low <= value <= high in " + std::string(row.unit)
                                : "give 0 < low <= value <= high in " + std::string(row.unit)};
    }
    numbers_[index(*found)] = {value, low, high, true};
    return Done{};
}

double Catalogue::at_score(ConstantId id, double z) const {
    const auto& row = kRows[index(id)];
    const auto& n = numbers_[index(id)];
    const auto unit = find_unit(row.unit);
    require(unit.has_value(), "every row of the catalogue has a known unit");
    double number = n.value;
    // Each side has its own half-width, so that a skewed range keeps its ends.
    const double side = std::abs(z) / kIntervalZ;
    switch (row.spread) {
        case Spread::fixed: break;
        case Spread::normal: number += side * (z < 0 ? n.low - n.value : n.high - n.value); break;
        case Spread::lognormal:
            number *= std::pow(z < 0 ? n.low / n.value : n.high / n.value, side);
            break;
        case Spread::uniform: {
            const double beyond = (n.high - n.low) * 0.05 / kIntervalLevel;
            number = n.low - beyond + normal_cdf(z) * (n.high - n.low + 2.0 * beyond);
            break;
        }
    }
    return unit->to_si(number);
}

bool Catalogue::is_replaced(ConstantId id) const {
    return numbers_[index(id)].replaced;
}
double Catalogue::value_in_unit(ConstantId id) const {
    return numbers_[index(id)].value;
}
double Catalogue::low_in_unit(ConstantId id) const {
    return numbers_[index(id)].low;
}
double Catalogue::high_in_unit(ConstantId id) const {
    return numbers_[index(id)].high;
}

}  // namespace beetwright
