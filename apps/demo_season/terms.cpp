#include "demo_season/terms.hpp"

#include "demo_season/story.hpp"

namespace beetwright::demo {
namespace {

constexpr int kEarlyEnds = 20;    // 10 October
constexpr int kLateBegins = 103;  // 1 January

Day on_day(int campaign_day) {
    return CampaignDay(campaign_day).on(kFirstDay);
}

/// Prices per tonne, or for US readers per short ton: each contract has its own round numbers.
class Pricing {
 public:
    explicit Pricing(const Reader& reader)
        : us_(reader.is_us()), mass_kg_(us_ ? kg_per_short_ton : kg_per_tonne) {}

    template <class Price>
    [[nodiscard]] Price per_mass(double metric, double us) const {
        return Price((us_ ? us : metric) / mass_kg_);
    }
    /// Per mass and kilometre, or mile.
    template <class Price>
    [[nodiscard]] Price per_way(double metric, double us) const {
        return Price((us_ ? us : metric) / mass_kg_ / way().si());
    }
    [[nodiscard]] Length way() const { return us_ ? unit::mile : unit::km; }
    [[nodiscard]] double pick(double metric, double us) const { return us_ ? us : metric; }

 private:
    bool us_;
    double mass_kg_;
};

}  // namespace

worth::Terms invented_terms(const Reader& reader) {
    const Pricing in(reader);
    worth::Terms terms;
    terms.name = "Ottermarsh contract 2031";
    terms.currency = reader.is_us() ? "USD" : "EUR";
    terms.recoverable = worth::RecoverablePayment{
        .price = in.per_mass<MoneyPerSugar>(420.0, 400.0),
        .charge = in.per_mass<MoneyPerCleanMass>(22.0, 21.0),
        .fixed_loss = 0.6 * unit::percent_sugar,
    };
    terms.supplements = {
        {.from = on_day(0),
         .to = on_day(kEarlyEnds),
         .at_from = in.per_mass<MoneyPerCleanMass>(5.0, 5.0),
         .per_day = in.per_mass<MoneyPerCleanMass>(-0.25, -0.25)},
        {.from = on_day(kLateBegins),
         .to = kLastSlicing.on(kFirstDay),
         .at_from = in.per_mass<MoneyPerCleanMass>(1.0, 1.0),
         .per_day = in.per_mass<MoneyPerCleanMass>(0.05, 0.05)},
    };
    using Rate = worth::MoneyPerCleanMassLength;
    const Length near = in.pick(30.0, 20.0) * in.way();
    const Length far = in.pick(60.0, 40.0) * in.way();
    terms.haul_allowance.fixed = in.per_mass<MoneyPerCleanMass>(1.0, 1.0);
    terms.haul_allowance.bands = {
        {.from = Length::zero(), .to = near, .rate = in.per_way<Rate>(0.10, 0.15)},
        {.from = near, .to = far, .rate = in.per_way<Rate>(0.07, 0.10)},
    };
    terms.haul_cost.fixed = in.per_mass<decltype(terms.haul_cost.fixed)>(2.0, 2.0);
    terms.haul_cost.per_length = in.per_way<decltype(terms.haul_cost.per_length)>(0.14, 0.20);
    terms.soil_charge = in.per_mass<MoneyPerMass>(9.0, 8.0);
    terms.tops_charge = in.per_mass<MoneyPerMass>(12.0, 11.0);
    return terms;
}

}  // namespace beetwright::demo
