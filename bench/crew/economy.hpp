// What outcomes are worth to the crews: one field, its terms and its pile.
#pragma once

#include <memory>

#include "engine/ledger_question.hpp"
#include "ledger/outcome_worth.hpp"
#include "ledger/season.hpp"

namespace beetwright::crew {

class Economy {
 public:
    static constexpr std::size_t kDraws = 200;

    explicit Economy(int days_in_pile);

    [[nodiscard]] const Catalogue& catalogue() const { return catalogue_; }
    [[nodiscard]] const ledger::OutcomeWorth& worth() const { return *worth_; }
    /// What an outcome truly earns [money/ha]: its mean over what nobody can know.
    [[nodiscard]] double earned(const harvester::Outcome& outcome) const;

 private:
    ledger::Season season_;
    Catalogue catalogue_;
    std::vector<ledger::FieldAmounts> amounts_;
    std::unique_ptr<ledger::Model> model_;
    ledger::FieldQuestion question_;
    std::unique_ptr<ledger::OutcomeWorth> worth_;
};

}  // namespace beetwright::crew
