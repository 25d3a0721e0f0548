#include "ledger/standing_draws.hpp"

#include "base/random.hpp"

namespace beetwright::ledger {

std::vector<Standing> standing_draws(const Model& model, const Field& field,
                                     const FieldAmounts& amounts) {
    const std::size_t count = model.draws().count();
    const std::uint64_t entity = stable_hash(field.name);
    std::vector<AmountDraw> drawn(count);
    for (std::size_t a = 0; a < kAmountCount; ++a) {
        const auto scores = model.draws().field_scores(entity, static_cast<unsigned>(a));
        const num::UncertainQuantile quantile(amounts.amounts[a].number);
        for (std::size_t i = 0; i < count; ++i) {
            drawn[i][a] = quantile.at(scores[i]);
        }
    }
    const double exponent = model.catalogue().value(ConstantId::tip_exponent);
    std::vector<Standing> standings;
    standings.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        standings.push_back(standing_of(drawn[i], model.constants()[i], amounts, exponent));
    }
    return standings;
}

}  // namespace beetwright::ledger
