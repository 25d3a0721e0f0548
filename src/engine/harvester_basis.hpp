// Everything that a question about a field's harvester rests on: the season as it is known then,
// what is known of the machine's work there, and what its outcomes are worth.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "base/result.hpp"
#include "engine/harvester_question.hpp"
#include "engine/harvester_state.hpp"
#include "ledger/amounts.hpp"
#include "ledger/model.hpp"
#include "ledger/outcome_worth.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

struct HarvesterBasis {
    static constexpr std::size_t kDraws = 160;

    ledger::Season season;
    Catalogue catalogue;
    std::size_t place = 0;  ///< of the field, in the season
    std::vector<ledger::FieldAmounts> amounts;
    Instant now{};
    std::unique_ptr<ledger::Model> model;
    ledger::FieldQuestion question;
    std::unique_ptr<ledger::OutcomeWorth> worth;
    std::optional<HarvesterState> state;
    std::vector<double> draws;  ///< of all parameters, kDraws times
    std::vector<std::string> assumptions;

    [[nodiscard]] const ledger::Field& field() const { return season.fields[place]; }
    [[nodiscard]] const harvester::Conditions& conditions() const {
        return state->conditions.conditions;
    }
    /// What outcomes earn here, for whoever tries settings; this must outlive it.
    [[nodiscard]] harvester::Worth what_is_earned() const {
        return [this](const harvester::Outcome& outcome, std::size_t draw) {
            return (*worth)(outcome, draw);
        };
    }
    [[nodiscard]] harvester::Outcome outcome(const harvester::Situation& situation,
                                             const harvester::WorkConstants& work,
                                             std::size_t draw) const;
};

/// Problems: those of harvester_state() and schedule(), no such field, and bad replacements of
/// constants. What it holds refers to itself, so it stays where it is.
Result<std::unique_ptr<HarvesterBasis>> harvester_basis(const ledger::Season& season,
                                                        const HarvesterQuestion& question,
                                                        HarvesterMemory* memory);

/// A control's value as people read it, and on its display where one is bound.
ControlReading reading_of(const ledger::Machine& owner, const harvester::Control& control,
                          double value);
ControlReading reading_of(const HarvesterBasis& basis, const harvester::Control& control,
                          double value);

/// "sticky"
std::string words_of(harvester::SoilFeel feel);

/// What to mind before somebody leaves the cab to look.
std::vector<std::string> cautions_of_looking();

/// An estimate of plain numbers [money/m2].
Estimate<MoneyPerArea> money(const Estimate<double>& estimate);

}  // namespace beetwright::engine
