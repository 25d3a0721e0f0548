#include "engine/settle_question.hpp"

#include <map>

#include "engine/field_named.hpp"
#include "ledger/evidence.hpp"
#include "ledger/model.hpp"

namespace beetwright::engine {
namespace {

using ledger::Amount;

struct FieldQuality {
    double soil = 0.0;  ///< kg/kg clean
    double tops = 0.0;
    SugarContent pol;
    SugarContent molasses;
};

FieldQuality quality_of(const ledger::FieldAmounts& amounts, const ledger::Season& season,
                        const Catalogue& catalogue) {
    const auto mean = [&](Amount amount) { return amounts.of(amount).number.mean; };
    FieldQuality quality;
    quality.soil = mean(Amount::soil);
    quality.tops = mean(Amount::tops);
    quality.pol = SugarContent(mean(Amount::pol));
    quality.molasses = worth::molasses_loss(
        season.terms.molasses_formula, catalogue, AmountContent(mean(Amount::potassium)),
        AmountContent(mean(Amount::sodium)), AmountContent(mean(Amount::amino_nitrogen)),
        quality.pol);
    return quality;
}

worth::Delivery delivery_of(const ledger::Load& load, const ledger::Field& field,
                            const FieldQuality& quality) {
    worth::Delivery delivery;
    delivery.ticket = load.ticket.empty() ? load.id.text() : load.ticket;
    delivery.delivered = std::chrono::floor<std::chrono::days>(load.at);
    const double clean_kg = load.gross.si() / (1.0 + quality.soil + quality.tops);
    delivery.clean = CleanMass(clean_kg);
    delivery.soil = Mass(clean_kg * quality.soil);
    delivery.tops = Mass(clean_kg * quality.tops);
    delivery.pol = quality.pol;
    delivery.molasses_loss = quality.molasses;
    delivery.haul = field.haul.is_known() ? field.haul : Length::zero();
    return delivery;
}

}  // namespace

Result<SettleAnswer> ask_settle(const ledger::Season& recorded, const std::string& wanted) {
    const ledger::Season season = ledger::without_superseded(recorded);
    auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    const auto amounts = ledger::season_amounts(season, *catalogue);
    std::map<std::string, std::size_t> index;
    for (std::size_t f = 0; f < season.fields.size(); ++f) {
        index[season.fields[f].name] = f;
    }
    if (!wanted.empty() && !index.contains(wanted)) {
        return no_field_named(season, wanted);
    }
    SettleAnswer answer;
    std::vector<worth::Delivery> deliveries;
    std::map<std::string, bool> told;
    for (const auto& load : season.loads) {
        const auto found = index.find(load.field);
        if (found == index.end() || (!wanted.empty() && load.field != wanted)) {
            continue;
        }
        const auto& field_amounts = amounts[found->second];
        const bool analysed = field_amounts.of(Amount::pol).rests_on == RestsOn::measured &&
                              field_amounts.of(Amount::soil).rests_on == RestsOn::measured;
        if (!analysed && !told[load.field]) {
            told[load.field] = true;
            answer.assumptions.push_back(load.field +
                                         ": no sample of sugar or soil of its own; settled with "
                                         "figures that were learned or published.");
        }
        const auto quality = quality_of(field_amounts, season, *catalogue);
        deliveries.push_back(delivery_of(load, season.fields[found->second], quality));
    }
    if (deliveries.empty()) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = wanted},
                       "there are no weighed loads to settle",
                       "import loads.csv"};
    }
    auto settled = worth::settle_season(season.terms, deliveries);
    if (!settled) {
        return settled.problems();
    }
    answer.settled = std::move(*settled);
    return answer;
}

}  // namespace beetwright::engine
