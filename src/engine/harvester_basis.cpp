#include "engine/harvester_basis.hpp"

#include <algorithm>
#include <cmath>

#include "engine/as_of.hpp"
#include "engine/field_named.hpp"
#include "engine/schedule.hpp"
#include "ledger/evidence.hpp"
#include "ledger/harvester_of.hpp"

namespace beetwright::engine {

std::string words_of(harvester::SoilFeel feel) {
    switch (feel) {
        case harvester::SoilFeel::hard: return "hard";
        case harvester::SoilFeel::crumbly: return "crumbly";
        case harvester::SoilFeel::plastic: return "plastic";
        case harvester::SoilFeel::sticky: return "sticky";
    }
    return "";
}

Estimate<MoneyPerArea> money(const Estimate<double>& estimate) {
    return {MoneyPerArea(estimate.value), MoneyPerArea(estimate.low), MoneyPerArea(estimate.high)};
}

Result<std::unique_ptr<HarvesterBasis>> harvester_basis(const ledger::Season& all,
                                                        const HarvesterQuestion& question,
                                                        HarvesterMemory* memory) {
    auto basis = std::make_unique<HarvesterBasis>();
    HarvesterBasis& b = *basis;
    b.now = question.at.value_or(as_of(all));
    b.season = ledger::without_superseded(known_season(all, b.now));
    if (question.seen) {
        b.season.standing.push_back(*question.seen);
        b.season.standing.back().field = question.field;
        b.season.standing.back().at = b.now;
    }
    const auto field = std::ranges::find(b.season.fields, question.field, &ledger::Field::name);
    if (field == b.season.fields.end()) {
        return no_field_named(b.season, question.field);
    }
    b.place = static_cast<std::size_t>(field - b.season.fields.begin());
    auto catalogue = ledger::season_catalogue(b.season);
    if (!catalogue) {
        return catalogue.problems();
    }
    b.catalogue = std::move(*catalogue);
    b.amounts = ledger::season_amounts(b.season, b.catalogue);
    const ledger::Field* asked = &b.field();
    const auto days = schedule(b.season, {&asked, 1}, question.slice_after_days, b.assumptions);
    if (!days) {
        return days.problems();
    }
    b.model = std::make_unique<ledger::Model>(b.season, b.catalogue, HarvesterBasis::kDraws);
    b.question = {asked, &b.amounts[b.place], days->front().lifted, days->front().sliced};
    const ledger::Stay stay = ledger::stay_of(b.question);
    b.model->prepare({&stay, 1});
    const auto owner = std::ranges::find(b.season.machines, asked->machine, &ledger::Machine::name);
    const double hour_cost =
        owner == b.season.machines.end() ? std::nan("") : owner->hour_cost.si();
    b.worth = std::make_unique<ledger::OutcomeWorth>(*b.model, b.question, hour_cost);
    HarvesterMemory none;
    auto state = harvester_state(b.season, *asked, ledger::standing_crops(b.amounts), b.catalogue,
                                 b.now, memory == nullptr ? none : *memory);
    if (!state) {
        return state.problems();
    }
    b.state.emplace(std::move(*state));
    b.draws = b.state->belief.draws(HarvesterBasis::kDraws, b.season.seed);
    b.assumptions.insert(b.assumptions.end(), b.state->assumptions.begin(),
                         b.state->assumptions.end());
    if (!b.season.terms.pay()) {
        b.assumptions.emplace_back(
            "the season has no terms that pay: only fuel and time are weighed");
    }
    return basis;
}

ControlReading reading_of(const ledger::Machine& owner, const harvester::Control& control,
                          double value) {
    ControlReading reading{.control = control.id(),
                           .words = control.words(),
                           .value = value,
                           .text = control.text(value),
                           .shown = {}};
    const ledger::OwnControl* own = owner.find(control.id());
    if (own != nullptr && own->has_dial()) {
        if (const auto dial = ledger::dial_of(control, *own)) {
            if (const auto shown = dial->nearest_step(value)) {
                reading.shown = *shown;
            }
        }
    }
    return reading;
}

ControlReading reading_of(const HarvesterBasis& basis, const harvester::Control& control,
                          double value) {
    return reading_of(*basis.state->owner, control, value);
}

std::vector<std::string> cautions_of_looking() {
    return {
        "Look only when the machine stands: engine off, key out, everything that turns has "
        "come to rest.",
        "Stay out from under raised parts, and out of the way of trucks and other machines.",
        "What the maker's manual says of a setting goes before what stands here."};
}

harvester::Outcome HarvesterBasis::outcome(const harvester::Situation& situation,
                                           const harvester::WorkConstants& work,
                                           std::size_t draw) const {
    const auto drawn =
        std::span(draws).subspan(draw * harvester::kParameters, harvester::kParameters);
    return harvester::outcome(harvester::predictors(situation, drawn), situation, work);
}

}  // namespace beetwright::engine
