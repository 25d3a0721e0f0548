// The pile's own steps against SUNDIALS' CVODE on the same equations of a small section:
// tests/oracles/pile.csv, worked out by tools/oracles/pile_cvode.cpp.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "oracle.hpp"
#include "pile/reference_section.hpp"

namespace beetwright::pile {
namespace {

/// Greatest differences over the section's cells and the hours that the oracle has.
struct Difference {
    double celsius = 0.0;
    double humidity = 0.0;  ///< as a share
    double gas = 0.0;       ///< as a share of the greatest
    double lost = 0.0;      ///< of the sugar lost, as a share
};

Difference difference(double longest_s) {
    static const Oracle oracle("pile");
    auto made = Pile::make(reference_section(), reference_constants(), reference_rules(longest_s));
    EXPECT_TRUE(made.ok());
    auto& pile = **made;
    const auto& box = pile.grid().box;
    Difference most;
    for (int k = 0; k < kReferenceHours; ++k) {
        const auto done = pile.pass(reference_hour(k, pile.grid().sides.size()));
        EXPECT_TRUE(done.ok()) << done.problems().front().text();
        if ((k + 1) % 24 != 0) {
            continue;
        }
        const std::string hour = "h" + std::to_string(k + 1) + ' ';
        double gas = 0.0;
        double greatest = 0.0;
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            if (!pile.bed().has_beet(i)) {
                continue;
            }
            const std::string cell = hour + 'c' + std::to_string(reference_number(box, i)) + ' ';
            const auto& state = pile.state();
            most.celsius =
                std::max(most.celsius, std::abs(state.celsius[i] - oracle.at(cell + "celsius")));
            most.humidity = std::max(
                most.humidity, std::abs(state.humidity[i] / oracle.at(cell + "humidity") - 1.0));
            gas = std::max(gas, std::abs(state.carbon_dioxide[i] - oracle.at(cell + "gas")));
            greatest = std::max(greatest, oracle.at(cell + "gas"));
        }
        most.gas = std::max(most.gas, gas / greatest);
        const auto sum = totals(pile);
        const double lost = 1.0 - sum.sugar_left / sum.sugar_piled;
        most.lost = std::max(most.lost, std::abs(lost / (1.0 - oracle.at(hour + "left")) - 1.0));
    }
    return most;
}

// Hourly steps against CVODE's: a day and a night with wind, whose weather steps every hour.
TEST(Reference, HourlyStepsAreNearCvodes) {
    const auto hourly = difference(3600.0);
    EXPECT_LT(hourly.celsius, 0.1);
    EXPECT_LT(hourly.lost, 1e-3);
    RecordProperty("hourly_K", std::to_string(hourly.celsius));
}

// Shorter steps come to CVODE's solution.
TEST(Reference, ShortStepsComeToCvodes) {
    double last = 0.0;
    for (const double longest_s : {1800.0, 600.0, 200.0}) {
        const auto now = difference(longest_s);
        if (last > 0.0) {
            EXPECT_LT(now.celsius, 0.6 * last) << longest_s;
        }
        last = now.celsius;
        if (longest_s == 200.0) {
            EXPECT_LT(now.celsius, 0.01);
            EXPECT_LT(now.humidity, 0.002);
            EXPECT_LT(now.gas, 0.006);
            EXPECT_LT(now.lost, 6e-5);
        }
    }
}

}  // namespace
}  // namespace beetwright::pile
