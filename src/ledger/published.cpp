#include <array>

#include "ledger/field_evidence.hpp"

namespace beetwright::ledger {
namespace {

constexpr std::array<ConstantId, kAmountCount - 1> kStandIns{
    ConstantId::prior_yield,
    ConstantId::prior_soil_tare,
    ConstantId::prior_tops,
    ConstantId::prior_deep_share,
    ConstantId::prior_slanted_share,
    ConstantId::prior_long_petioles,
    ConstantId::prior_short_petioles,
    ConstantId::prior_untouched,
    ConstantId::prior_tail_loss,
    ConstantId::prior_tail_break_area,
    ConstantId::prior_scar_area,
    ConstantId::prior_skin_damage,
    ConstantId::prior_rot,
    ConstantId::prior_frost,
    ConstantId::prior_whole_roots,
    ConstantId::prior_pieces,
    ConstantId::prior_pol,
    ConstantId::prior_potassium,
    ConstantId::prior_sodium,
    ConstantId::prior_amino_nitrogen,
};

}  // namespace

AmountEvidence published_amount(Amount amount, const Catalogue& catalogue) {
    if (amount == Amount::deep_scars) {
        // DeepCutBasis::usual_depth has no scars.
        return {{.mean = 0.0, .sd = 0.0}, RestsOn::published, "constant topping.deep_excess"};
    }
    const ConstantId id = kStandIns[static_cast<std::size_t>(amount)];
    num::Uncertain number;
    number.mean = catalogue.value(id);
    number.sd = (catalogue.at_score(id, kIntervalZ) - catalogue.at_score(id, -kIntervalZ)) /
                (2.0 * kIntervalZ);
    if (amount == Amount::tail_moment) {
        // The stand-in is the mass lost; the moment is that, over the loss at 5 cm.
        const double loss_at_5cm = catalogue.value(ConstantId::tip_loss_at_5cm);
        number.mean /= loss_at_5cm;
        number.sd /= loss_at_5cm;
    }
    return {number, RestsOn::published,
            "constant " + std::string(catalogue_rows()[static_cast<std::size_t>(id)].id)};
}

}  // namespace beetwright::ledger
