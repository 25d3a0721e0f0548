// Runs the draws of a field, or of many, and summarises them as an Account.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "ledger/amounts.hpp"
#include "ledger/ledger.hpp"
#include "ledger/model.hpp"

namespace beetwright::ledger {

enum class Detail {
    lines,  ///< every line with its interval
    full,   ///< and what each loss costs by the slicing day, and what makes each line unsure
};

/// One field to be accounted for: its amounts and its way to the slicer.
struct FieldQuestion {
    const Field* field = nullptr;
    const FieldAmounts* amounts = nullptr;
    Day lifted{};
    Day sliced{};
};

/// The draws of one or more fields, summed over their area: lines x draws, line-major, losses
/// positive. [kg/m2, kg sugar/m2, money/m2] times m2 of area, so that sums are sums. All zero at
/// first.
struct LineDraws {
    LineDraws(std::size_t draws, Detail detail)
        : mass(kLineCount * draws),
          sugar(kLineCount * draws),
          money(kLineCount * draws),
          cost(detail == Detail::full ? kLineCount * draws : 0) {}
    std::vector<double> mass;
    std::vector<double> sugar;
    std::vector<double> money;
    std::vector<double>
        cost;  ///< gain of the last line without this loss; empty without Detail::full
    double area_m2 = 0.0;
    double days_stored_m2 = 0.0;
    std::size_t fields = 0;

    void add(const LineDraws& other);
};

/// Overwrites `out`, which was made with the same number of draws and detail, with one field's
/// draws.
void draw_field(const Model& model, const FieldQuestion& question, Detail detail, LineDraws& out);

/// The account of these draws. `question` adds the footing of a single field and, with
/// Detail::full, the contributors.
Account summarise(const Model& model, const std::string& name, const LineDraws& draws,
                  const std::optional<FieldQuestion>& question, Detail detail);

}  // namespace beetwright::ledger
