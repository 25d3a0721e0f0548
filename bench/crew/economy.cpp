#include "crew/economy.hpp"

#include <array>
#include <cmath>

#include "ledger/evidence.hpp"

namespace beetwright::crew {

Economy::Economy(int days_in_pile) {
    season_.name = "bench";
    season_.currency = "EUR";
    season_.first_day = Day(std::chrono::days(22000));
    ledger::Destination pile;
    pile.name = "pile";
    pile.kind = ledger::DestinationKind::pile;
    for (int day = 0; day < 240; ++day) {
        pile.temperatures.push_back(
            {season_.first_day + std::chrono::days(day), Temperature::celsius(9.0 - 0.03 * day)});
    }
    season_.destinations.push_back(pile);
    ledger::Field field;
    field.name = "field";
    field.destination = pile.name;
    field.area = 10.0 * unit::ha;
    field.haul = 20.0 * unit::km;
    field.lifted = season_.first_day + std::chrono::days(20);
    field.sliced = *field.lifted + std::chrono::days(days_in_pile);
    season_.fields.push_back(field);
    worth::Terms& terms = season_.terms;
    terms.name = "bench";
    terms.currency = "EUR";
    terms.recoverable = worth::RecoverablePayment{
        .price = MoneyPerSugar(0.42),
        .charge = MoneyPerCleanMass(0.022),
        .fixed_loss = 0.6 * unit::percent_sugar,
    };
    terms.haul_cost.fixed = worth::MoneyPerMassWithSoil(0.004);
    terms.soil_charge = MoneyPerMass(0.012);
    terms.tops_charge = MoneyPerMass(0.012);

    catalogue_ = *ledger::season_catalogue(season_);
    amounts_ = ledger::season_amounts(season_, catalogue_);
    model_ = std::make_unique<ledger::Model>(season_, catalogue_, kDraws);
    question_ = {&season_.fields[0], amounts_.data(), *field.lifted, *field.sliced};
    const std::array stays{ledger::stay_of(question_)};
    model_->prepare(stays);
    worth_ = std::make_unique<ledger::OutcomeWorth>(*model_, question_, std::nan(""));
}

double Economy::earned(const harvester::Outcome& outcome) const {
    constexpr std::size_t kOfThem = 50;
    double sum = 0.0;
    for (std::size_t i = 0; i < kOfThem; ++i) {
        sum += (*worth_)(outcome, i).total();
    }
    return 1e4 * sum / kOfThem;
}

}  // namespace beetwright::crew
