#include "engine/settle_question.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "engine/field_named.hpp"
#include "engine/schedule.hpp"
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
    delivery.ticket = load.ticket.empty() ? load.id.short_text() : load.ticket;
    delivery.delivered = std::chrono::floor<std::chrono::days>(load.at);
    const double clean_kg = load.gross.si() / (1.0 + quality.soil + quality.tops);
    delivery.clean = CleanMass(clean_kg);
    delivery.soil = Mass(clean_kg * quality.soil);
    delivery.tops = Mass(clean_kg * quality.tops);
    delivery.pol = quality.pol;
    delivery.molasses_loss = quality.molasses;
    delivery.haul = field.haul;
    return delivery;
}

/// The area that the season's loads come from or are still to come from: all of its fields.
Area grown(const ledger::Season& season) {
    Area sum = Area::zero();
    for (const auto& field : season.fields) {
        sum += field.area;
    }
    return sum;
}

/// Loads of these fields are settled, and something about each field is not known.
class Doubts {
 public:
    Doubts(const ledger::Season& season, const std::vector<ledger::FieldAmounts>& amounts)
        : season_(season), amounts_(amounts), look_at_haul_(worth::look_at_haul(season.terms)) {}

    void look_at(std::size_t field) {
        if (!looked_at_.insert(field).second) {
            return;
        }
        const auto& name = season_.fields[field].name;
        const bool analysed = amounts_[field].of(Amount::pol).rests_on == RestsOn::measured &&
                              amounts_[field].of(Amount::soil).rests_on == RestsOn::measured;
        if (!analysed) {
            without_sample_.push_back(name);
        }
        if (look_at_haul_ && !season_.fields[field].haul.is_known()) {
            without_haul_.push_back(name);
        }
    }
    void tell_in(std::vector<std::string>& assumptions) const {
        tell(assumptions, without_sample_,
             "no sample of sugar or soil of its own; settled with figures that were learned or "
             "published.");
        tell(assumptions, without_haul_,
             "the way to the factory is not known; what the terms pay and charge for it is left "
             "out. Give it in fields.csv under haul.");
    }

 private:
    const ledger::Season& season_;
    const std::vector<ledger::FieldAmounts>& amounts_;
    bool look_at_haul_;
    std::set<std::size_t> looked_at_;
    std::vector<std::string> without_sample_;
    std::vector<std::string> without_haul_;
};

/// Whether a field's loads are asked for.
bool is_wanted(const ledger::Field& field, const SettleQuestion& question) {
    return (question.field.empty() || field.name == question.field) &&
           (question.grower.empty() || field.grower == question.grower);
}

/// Of a season settled whole, the loads asked for: earlier ones of others used up the contract too.
/// `fields`: of each delivery, where it came from.
void take_wanted(worth::SettledSeason settled, const std::vector<const ledger::Field*>& fields,
                 const SettleQuestion& question, SettleAnswer& answer) {
    for (auto& load : settled.loads) {
        const ledger::Field& field = *fields[load.place];
        if (is_wanted(field, question)) {
            answer.settled.within_quota += load.within_quota;
            answer.settled.beyond_quota += load.beyond_quota;
            answer.fields.push_back(field.name);
            answer.settled.loads.push_back(std::move(load));
        }
    }
}

void tell_contract(const ledger::Season& season, std::vector<std::string>& assumptions) {
    const auto& quota = season.terms.quota;
    if (!quota || !quota->contracted_area.is_known()) {
        return;
    }
    const double share = 1.0 - quota->contracted_area / grown(season);
    if (share > 0.0) {
        assumptions.push_back(
            "The contract is by area, and all fields of the season were grown "
            "for it: " +
            std::to_string(std::lround(100.0 * share)) + " % of every load is beyond it.");
    }
}

}  // namespace

Result<SettleAnswer> ask_settle(const ledger::Season& recorded, const SettleQuestion& question) {
    const ledger::Season season = ledger::without_superseded(recorded);
    auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    if (!season.terms.pay()) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = "terms"},
                       "the season does not know yet what is paid",
                       "import a terms.json with a price; docs/formats/terms.md"};
    }
    const auto amounts = ledger::season_amounts(season, *catalogue);
    std::map<std::string, std::size_t> index;
    for (std::size_t f = 0; f < season.fields.size(); ++f) {
        index[season.fields[f].name] = f;
    }
    if (!question.field.empty() && !index.contains(question.field)) {
        return no_field_named(season, question.field);
    }
    if (!question.grower.empty() &&
        std::ranges::find(season.fields, question.grower, &ledger::Field::grower) ==
            season.fields.end()) {
        return no_grower_named(season, question.grower);
    }
    SettleAnswer answer;
    std::vector<const ledger::Field*> fields;  // of each delivery
    std::vector<worth::Delivery> deliveries;
    std::set<std::string> strange;
    Doubts doubts(season, amounts);
    bool any_wanted = false;
    for (const auto& load : season.loads) {
        const auto found = index.find(load.field);
        if (found == index.end()) {
            strange.insert(load.field);
            continue;
        }
        const ledger::Field& field = season.fields[found->second];
        if (is_wanted(field, question)) {
            any_wanted = true;
            doubts.look_at(found->second);
        }
        const auto quality = quality_of(amounts[found->second], season, *catalogue);
        fields.push_back(&field);
        deliveries.push_back(delivery_of(load, field, quality));
    }
    if (!any_wanted) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = question.field + question.grower},
                       "there are no weighed loads to settle",
                       "import loads.csv"};
    }
    auto settled = worth::settle_season(season.terms, deliveries, grown(season));
    if (!settled) {
        return settled.problems();
    }
    take_wanted(std::move(*settled), fields, question, answer);
    doubts.tell_in(answer.assumptions);
    tell(answer.assumptions, {strange.begin(), strange.end()},
         "not a field of this season; its loads are left out.");
    tell_contract(season, answer.assumptions);
    return answer;
}

}  // namespace beetwright::engine
