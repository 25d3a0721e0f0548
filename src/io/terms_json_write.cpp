
#include "io/json.hpp"
#include "io/json_object.hpp"
#include "io/terms_json.hpp"

namespace beetwright::io {
namespace {

using worth::Terms;

/// The unit in which a quantity of this kind is written back.
constexpr std::string_view written_unit(UnitKind kind) {
    switch (kind) {
        case UnitKind::fraction: return "%";
        case UnitKind::length: return "km";
        case UnitKind::area: return "ha";
        case UnitKind::mass: return "t";
        case UnitKind::money_per_mass_length: return "money/t/km";
        default: return "money/t";
    }
}

class Writer {
 public:
    explicit Writer(const Terms& terms) : terms_(terms) {}

    Json object() {
        Json object = {{"beetwright_terms", kTermsVersion},
                       {"name", terms_.name},
                       {"currency", terms_.currency},
                       {"reference_pol", amount(terms_.reference_pol)},
                       {"molasses_formula", formula_key()}};
        add_price(object);
        add_dates(object);
        add_tare_and_haul(object);
        return object;
    }

 private:
    template <class Q>
    [[nodiscard]] std::string amount(Q quantity) const {
        return amount_text(quantity.si(), written_unit(kind_of<Q>()), terms_.currency);
    }
    [[nodiscard]] std::string share(double value) const {
        return amount_text(value, "%", terms_.currency);
    }

    [[nodiscard]] std::string_view formula_key() const {
        for (const auto& row : worth::molasses_formulas()) {
            if (row.formula == terms_.molasses_formula) {
                return row.key;
            }
        }
        return "";
    }

    void add_price(Json& object) const {
        if (terms_.recoverable) {
            object["recoverable"] = {{"price", amount(terms_.recoverable->price)},
                                     {"charge", amount(terms_.recoverable->charge)},
                                     {"fixed_loss", amount(terms_.recoverable->fixed_loss)}};
        } else if (terms_.pay()) {
            object["base_price"] = amount(terms_.base_price);
        } else {
            object["base_price"] = nullptr;  // not known yet
        }
        for (const auto& step : terms_.slide) {
            object["slide"].push_back({{"from", amount(step.from)},
                                       {"to", amount(step.to)},
                                       {"percent_per_point", step.change_per_content}});
        }
        if (terms_.quota) {
            Json& quota = object["quota"];
            if (terms_.quota->contracted.is_known()) {
                quota["contracted"] = amount(terms_.quota->contracted);
            }
            if (terms_.quota->contracted_area.is_known()) {
                quota["contracted_area"] = amount(terms_.quota->contracted_area);
            }
            quota["price_beyond"] = amount(terms_.quota->price_beyond);
        }
    }

    void add_dates(Json& object) const {
        for (const auto& row : terms_.supplements) {
            object["supplements"].push_back({{"from", to_text(row.from)},
                                             {"to", to_text(row.to)},
                                             {"at_from", amount(row.at_from)},
                                             {"per_day", amount(row.per_day)}});
        }
        for (const auto& row : terms_.premiums) {
            object["premiums"].push_back({{"from", to_text(row.from)},
                                          {"to", to_text(row.to)},
                                          {"share", share(row.share)}});
        }
    }

    void add_tare_and_haul(Json& object) const {
        if (terms_.tare_rule == worth::TareRule::fixed) {
            object["fixed_crown_tare"] = share(terms_.fixed_crown_tare);
        }
        object["soil_charge"] = amount(terms_.soil_charge);
        object["tops_charge"] = amount(terms_.tops_charge);
        if (terms_.haul_allowance_with_soil != worth::HaulAllowanceWithSoil{}) {
            object["haul_allowance"] = tariff("with soil", terms_.haul_allowance_with_soil);
        } else {
            object["haul_allowance"] = tariff("clean", terms_.haul_allowance);
        }
        object["haul_cost"] = {{"fixed", amount(terms_.haul_cost.fixed)},
                               {"per_length", amount(terms_.haul_cost.per_length)}};
    }

    template <class Tariff>
    [[nodiscard]] Json tariff(std::string_view basis, const Tariff& tariff) const {
        Json object = {
            {"basis", basis}, {"fixed", amount(tariff.fixed)}, {"factor", tariff.factor}};
        for (const auto& band : tariff.bands) {
            object["bands"].push_back({{"from", amount(band.from)},
                                       {"to", amount(band.to)},
                                       {"rate", amount(band.rate)}});
        }
        return object;
    }

    const Terms& terms_;
};

}  // namespace

std::string write_terms(const Terms& terms) {
    return Writer(terms).object().lines() + "\n";
}

}  // namespace beetwright::io
