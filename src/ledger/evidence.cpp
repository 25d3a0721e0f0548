#include "ledger/evidence.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "beet/topping.hpp"
#include "ledger/field_evidence.hpp"
#include "ledger/learned.hpp"
#include "ledger/observation_kinds.hpp"

namespace beetwright::ledger {
namespace {

/// Amounts that belong to the crop and the weather of the season rather than to a machine.
constexpr bool is_of_season(Amount amount) {
    switch (amount) {
        case Amount::pol:
        case Amount::potassium:
        case Amount::sodium:
        case Amount::amino_nitrogen:
        case Amount::rotten:
        case Amount::frosted: return true;
        default: return false;
    }
}

template <class Observation>
void drop_superseded(std::vector<Observation>& all) {
    std::set<Uuid> gone;
    for (const auto& one : all) {
        if (!one.supersedes.is_nil()) {
            gone.insert(one.supersedes);
        }
    }
    std::erase_if(all, [&](const Observation& one) { return gone.contains(one.id); });
}

/// What other fields say: by machine or season, and amount.
class Lessons {
 public:
    Lessons(const Season& season, const std::vector<MeasuredField>& fields,
            const Catalogue& catalogue)
        : least_(static_cast<std::size_t>(catalogue.value(ConstantId::learned_least_fields))) {
        for (std::size_t f = 0; f < fields.size(); ++f) {
            for (std::size_t a = 0; a < kAmountCount; ++a) {
                if (fields[f].measured[a] && teaches(season.fields[f], a)) {
                    estimates_[group(season.fields[f], a)].push_back(fields[f].measured[a]->number);
                }
            }
        }
    }

    [[nodiscard]] std::optional<AmountEvidence> about(const Field& field,
                                                      std::size_t amount) const {
        const auto found = estimates_.find(group(field, amount));
        if (found == estimates_.end()) {
            return std::nullopt;
        }
        const auto next = predict_another(found->second, least_);
        if (!next) {
            return std::nullopt;
        }
        const bool of_season = is_of_season(static_cast<Amount>(amount));
        std::string words = std::to_string(found->second.size());
        words += of_season ? " other fields of the season" : " other fields of " + field.machine;
        return AmountEvidence{*next, RestsOn::learned, words};
    }

 private:
    using Group = std::pair<std::string, std::size_t>;

    static Group group(const Field& field, std::size_t amount) {
        return {is_of_season(static_cast<Amount>(amount)) ? std::string() : field.machine, amount};
    }
    /// Fields whose machine nobody named may have been lifted by any: they say nothing of another.
    static bool teaches(const Field& field, std::size_t amount) {
        return is_of_season(static_cast<Amount>(amount)) || !field.machine.empty();
    }

    std::size_t least_;
    std::map<Group, std::vector<num::Uncertain>> estimates_;
};

/// How crown_above_scar() of one scar changes with the root's width.
ScarShape shape_of_one_scar(double above_scar) {
    double low = 0.0;
    double high = 1.0;
    for (int i = 0; i < 50; ++i) {
        const double middle = 0.5 * (low + high);
        (beet::crown_above_scar(middle) < above_scar ? low : high) = middle;
    }
    return {.narrower_ratio = beet::crown_above_scar(low * kWidestStep) / above_scar,
            .wider_ratio = beet::crown_above_scar(low / kWidestStep) / above_scar};
}

void settle_deep_cut_basis(FieldAmounts& amounts) {
    const auto& scars = amounts.of(Amount::deep_scars);
    if (scars.number.mean <= 0.0) {
        return;
    }
    amounts.deep_cut_basis = DeepCutBasis::scars;
    if (scars.rests_on == RestsOn::learned) {
        amounts.scar_shape = shape_of_one_scar(scars.number.mean);
    }
}

}  // namespace

Season without_superseded(const Season& season) {
    Season standing = season;
    for_each_kind(standing, [](auto& all) { drop_superseded(all); });
    return standing;
}

std::vector<FieldAmounts> season_amounts(const Season& season, const Catalogue& catalogue) {
    const auto fields = measure_fields(season, catalogue);
    const Lessons lessons(season, fields, catalogue);
    std::vector<FieldAmounts> all(fields.size());
    for (std::size_t f = 0; f < fields.size(); ++f) {
        FieldAmounts& amounts = all[f];
        amounts.area = season.fields[f].area;
        amounts.mass_basis = fields[f].mass_basis;
        amounts.tail_shape = fields[f].tail_shape;
        amounts.scar_shape = fields[f].scar_shape;
        for (std::size_t a = 0; a < kAmountCount; ++a) {
            if (fields[f].measured[a]) {
                amounts.amounts[a] = *fields[f].measured[a];
            } else if (auto learned = lessons.about(season.fields[f], a);
                       learned && static_cast<Amount>(a) != Amount::beet_mass) {
                amounts.amounts[a] = *learned;
            } else {
                amounts.amounts[a] = published_amount(static_cast<Amount>(a), catalogue);
            }
        }
        settle_deep_cut_basis(amounts);
    }
    return all;
}

}  // namespace beetwright::ledger
