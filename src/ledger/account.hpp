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
    bool takes_section = false;  ///< the history of its own section of a pile (Model::take)
};

inline Stay stay_of(const FieldQuestion& question) {
    return {question.field->destination, question.lifted, question.sliced,
            question.takes_section ? question.field->name : std::string()};
}

enum class Measure : unsigned char {
    mass,   ///< [kg]
    sugar,  ///< [kg]
    money,
    cost,  ///< what the last line would gain without this loss; with Detail::full only
};
inline constexpr std::size_t kMeasureCount = 4;

/// The draws of one or more fields, summed over their area, so that sums are sums. Losses are
/// positive.
class LineDraws {
 public:
    /// All zero.
    LineDraws(std::size_t draws, Detail detail);

    /// The draws of a line; empty where it moves none of that, or where `mass` follows `sugar`: a
    /// storage line's beet loses kMassLostPerSugar kg for each kg of sugar breathed.
    [[nodiscard]] std::span<const double> of(Measure measure, Line line) const;
    [[nodiscard]] std::span<double> of(Measure measure, Line line);

    void add(const LineDraws& other);
    /// Memory that each draw takes.
    static std::size_t bytes_of_a_draw(Detail detail);

    double area_m2 = 0.0;
    double days_stored_m2 = 0.0;
    std::size_t fields = 0;

 private:
    std::size_t count_;
    std::vector<double> values_;  ///< series after series
};

/// Overwrites `out`, which was made with the same number of draws and detail, with one field's
/// draws. Once `steps` are stopped, what `out` holds is of no use.
void draw_field(const Model& model, const FieldQuestion& question, Detail detail, LineDraws& out,
                Steps* steps = nullptr);

/// The account of these draws. `question` adds the footing of a single field and, with
/// Detail::full, the contributors. Once `steps` are stopped, what it gives is of no use.
Account summarise(const Model& model, const std::string& name, const LineDraws& draws,
                  const std::optional<FieldQuestion>& question, Detail detail,
                  Steps* steps = nullptr);

}  // namespace beetwright::ledger
