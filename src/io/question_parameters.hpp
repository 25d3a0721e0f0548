// The parameters of a question as text, read one by one; what is wrong with any is gathered.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.hpp"
#include "base/result.hpp"
#include "base/time.hpp"
#include "base/unit.hpp"
#include "engine/enough_question.hpp"
#include "engine/ledger_question.hpp"
#include "io/questions.hpp"
#include "io/table.hpp"

namespace beetwright::io {

class Parameters {
 public:
    using Values = std::map<std::string, std::string>;
    /// `values` outlives it. A name that the question does not have is a problem.
    Parameters(const QuestionInfo& question, const Values& values);

    // Each says nothing, or what is usual, where a parameter is left out or is no good.

    [[nodiscard]] std::string text(const std::string& name) const;
    /// "2d", "17w".
    std::optional<int> days(const std::string& name);
    /// ISO 8601; a day alone is its noon.
    std::optional<Instant> instant(const std::string& name);
    std::optional<Day> day(const std::string& name);
    bool yes(const std::string& name, bool otherwise);
    /// Digits alone; what bounds it has, whoever is asked says.
    std::size_t whole(const std::string& name, std::size_t otherwise);
    /// A number over nought.
    std::optional<double> positive(const std::string& name);
    /// Which of these words it is.
    std::size_t one_of(const std::string& name, std::span<const std::string_view> words,
                       std::size_t otherwise);
    /// How many draws; what the engine allows at all, it says itself.
    std::size_t draws(const std::string& name, const Patience& patience);
    std::optional<engine::GroupBy> group(const std::string& name);
    UnitSystem units(const std::string& name, UnitSystem otherwise);
    /// "1/10,0/10": hits of beets, spot by spot.
    std::vector<engine::SpotCount> spots(const std::string& name);
    /// "4,5.5,-1": centimetres.
    std::vector<Length> heights(const std::string& name);
    /// By the column's name, the number of one of its words; 0 where none is said.
    int word(const Column& column);
    /// By the column's name, SI: a number in its metric unit, or with a unit of its kind behind it,
    /// within its bounds; NaN where none is said.
    double amount(const Column& column);
    [[nodiscard]] const Problems& problems() const { return problems_; }

 private:
    const Values& values_;
    Problems problems_;
};

}  // namespace beetwright::io
