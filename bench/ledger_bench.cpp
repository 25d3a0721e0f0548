// The ledger of 5,000 fields x 1,000 draws, on one core, and the share it reaches of a simple
// ceiling.
//
// Goal: under 1 s and 200 MB. The ceiling is arithmetic: the same number of multiply-adds as a draw
// of a field's amounts and lines must at least do, run over arrays in the first-level cache. Ratios
// in one run; nothing here passes or fails.
#include <sys/resource.h>

#include <array>
#include <chrono>
#include <cstdio>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "engine/ledger_question.hpp"

namespace {

using namespace beetwright;

constexpr std::size_t kFields = 5000;
constexpr std::size_t kDraws = 1000;

double seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

// Every field has one sheet of ten spots of ten, a strip, a tare and a laboratory sample.
ledger::Season made_up_season() {
    ledger::Season season;
    season.name = "bench";
    season.currency = "EUR";
    season.first_day = Day(std::chrono::days(22000));
    for (const char* name : {"North pile", "South pile"}) {
        ledger::Destination place;
        place.name = name;
        place.kind = ledger::DestinationKind::pile;
        for (int day = 0; day < 240; ++day) {
            place.temperatures.push_back({season.first_day + std::chrono::days(day),
                                          Temperature::celsius(10.0 - 0.03 * day)});
        }
        season.destinations.push_back(place);
    }
    for (std::size_t f = 0; f < kFields; ++f) {
        RandomStream random(1, "bench", f);
        ledger::Field field;
        field.name = "field " + std::to_string(f);
        field.machine = "machine " + std::to_string(f % 20);
        field.destination = season.destinations[f % 2].name;
        field.area = (5.0 + 20.0 * random.uniform()) * unit::ha;
        field.haul = 20.0 * unit::km;
        field.lifted = season.first_day + std::chrono::days(f % 60);
        field.sliced = *field.lifted + std::chrono::days(10 + f % 90);
        const Instant at = *field.lifted + std::chrono::hours(8);
        season.fields.push_back(field);

        check::BeetSheet sheet;
        sheet.id = Uuid::version7(at, f, 1);
        sheet.field = field.name;
        sheet.at = at;
        for (int b = 0; b < 100; ++b) {
            check::CountedBeet beet;
            beet.spot = 1 + b / 10;
            beet.topping = random.chance(0.1) ? check::Topping::too_deep : check::Topping::correct;
            beet.tip = check::TipBreak::measured(6.0 * random.uniform() * unit::cm);
            beet.skin_damage = 30.0 * random.uniform() * unit::cm2;
            beet.rot = random.chance(0.01) ? check::Seen::yes : check::Seen::no;
            sheet.beets.push_back(beet);
        }
        season.beet_sheets.push_back(std::move(sheet));

        ledger::Load load;
        load.id = Uuid::version7(at, f, 2);
        load.field = field.name;
        load.at = at;
        load.gross = field.area / unit::ha * tonnes<MassWithSoil>(80.0);
        season.loads.push_back(load);

        check::LabSample lab;
        lab.id = Uuid::version7(at, f, 3);
        lab.field = field.name;
        lab.at = at;
        lab.pol = (16.0 + 2.0 * random.uniform()) * unit::percent_sugar;
        lab.potassium = 4.0 * unit::mmol_per_100g;
        lab.sodium = 0.5 * unit::mmol_per_100g;
        lab.amino_nitrogen = 1.5 * unit::mmol_per_100g;
        season.labs.push_back(lab);
    }
    return season;
}

// Multiply-adds of a draw: 20 amounts of about 10, and 19 lines x 3 measures of about 3.
constexpr std::size_t kMultiplyAdds = 20 * 10 + 19 * 3 * 3;

double arithmetic_ceiling_s() {
    std::array<double, 64> values{};
    const double seconds = seconds_of([&] {
        for (std::size_t n = 0; n < kFields * kDraws * kMultiplyAdds / values.size(); ++n) {
            for (auto& v : values) {
                v = v * 0.999 + 0.001;
            }
        }
    });
    // The result is used, so that the loop is not left out.
    return values[0] > 2.0 ? 0.0 : seconds;
}

}  // namespace

int main() {
    const auto season = made_up_season();
    engine::LedgerQuestion question;
    question.draws = kDraws;
    question.detail = ledger::Detail::lines;
    WorkerPool pool(1);
    std::size_t accounts = 0;
    const double seconds = seconds_of([&] {
        const auto answer = engine::ask(season, question, pool);
        accounts = answer ? answer->fields.size() : 0;
    });
    const double ceiling = arithmetic_ceiling_s();
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("ledger: %zu fields x %zu draws in %.2f s on one core; goal 1 s: ratio %.2f\n",
                accounts, kDraws, seconds, seconds);
    std::printf("        arithmetic ceiling %.2f s: reaches %.0f %% of it\n", ceiling,
                100.0 * ceiling / seconds);
    std::printf("        peak memory %.0f MB; goal 200 MB\n",
                static_cast<double>(usage.ru_maxrss) / 1024.0);
    return accounts == kFields ? 0 : 1;
}
