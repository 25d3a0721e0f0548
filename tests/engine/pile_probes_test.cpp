// Readings correct a pile's members: held against hidden piles that are known through and through.
#include "engine/pile_probes.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "engine/pile_question.hpp"
#include "engine/pile_twin.hpp"

namespace beetwright::engine {
namespace {

using twin::Twin;

constexpr Length kCoarse(1.0);

Twin coarse_twin(std::uint64_t seed) {
    return Twin({.seed = seed, .cell = kCoarse});
}

PileLearned learned_by(PileStudy& study, unsigned threads = 1) {
    WorkerPool pool(threads);
    Steps steps(nullptr, 1.0);
    auto learned = learn_from_probes(study, pool, steps);
    EXPECT_TRUE(learned.ok()) << (learned.ok() ? "" : learned.problems().front().text());
    return learned.ok() ? *std::move(learned) : PileLearned{};
}

const ProbeAnswer& probe_in(const PileLearned& learned, const char* name) {
    return *std::ranges::find(learned.probes, name, &ProbeAnswer::probe);
}

/// One probe's readings, changed one by one.
ledger::Season changed(ledger::Season season, const char* probe,
                       const std::function<double(double, int)>& change) {
    int number = 0;
    for (auto& reading : season.probes) {
        if (reading.probe == probe) {
            reading.temperature =
                Temperature::celsius(change(reading.temperature.in_celsius(), number++));
        }
    }
    return season;
}

/// How far off the members are at thirty days [K], root of the mean square.
double error_with(const Twin& hidden, const ledger::Season& season, PileLearned& learned) {
    const auto study = hidden.study(season);
    learned = learned_by(*study);
    WorkerPool pool(1);
    return std::sqrt(
        twin::score(twin::forecast(*study, hidden.last_day(), pool), hidden.true_celsius())
            .squares);
}

std::vector<twin::ProbeSpot> without(const char* name) {
    auto spots = Twin::four();
    std::erase_if(spots, [&](const auto& one) { return std::string_view(one.name) == name; });
    return spots;
}

// Over five hidden piles; bench_pile_probes does as many as are asked for, and the figures of
// many stand in docs/methods/pile_probes.md.
TEST(PileProbes, HalveTheErrorOfTheForecast) {
    WorkerPool pool(1);
    twin::Score before;
    twin::Score after;
    constexpr int kTwins = 5;
    for (std::uint64_t seed = 101; seed < 101 + kTwins; ++seed) {
        const Twin hidden({.seed = seed});
        const auto study = hidden.study(hidden.season());
        const auto add = [&](twin::Score& sum) {
            const auto one =
                twin::score(twin::forecast(*study, hidden.last_day(), pool), hidden.true_celsius());
            sum.squares += one.squares / kTwins;
            sum.within += one.within / kTwins;
            sum.width += one.width / kTwins;
        };
        add(before);
        const auto learned = learned_by(*study);
        add(after);
        for (const auto& probe : learned.probes) {
            EXPECT_TRUE(probe.is_trusted()) << probe.probe << ": " << probe.why;
        }
    }
    EXPECT_LT(std::sqrt(after.squares), 0.5 * std::sqrt(before.squares));
    EXPECT_GT(after.within, 0.8) << "nine in ten are promised";
    EXPECT_LT(after.width, 0.6 * before.width);
}

TEST(PileProbes, AreTheSameForAnyNumberOfThreads) {
    const Twin hidden = coarse_twin(1);
    const auto season = hidden.season();
    const auto one = hidden.study(season);
    const auto three = hidden.study(season);
    const auto learned = learned_by(*one, 1);
    const auto same = learned_by(*three, 3);
    ASSERT_EQ(learned.probes.size(), 4U);
    for (std::size_t r = 0; r < learned.probes.size(); ++r) {
        EXPECT_EQ(learned.probes[r].after->value, same.probes[r].after->value);
    }
    for (std::size_t m = 0; m < one->member_count(); ++m) {
        EXPECT_EQ(one->members()[m].constants, three->members()[m].constants);
    }
}

TEST(PileProbes, WithoutReadingsTheMembersStay) {
    const Twin hidden = coarse_twin(1);
    const auto study = hidden.study(hidden.season({}));
    const auto before = study->members();
    const auto learned = learned_by(*study);
    EXPECT_TRUE(learned.probes.empty());
    EXPECT_FALSE(learned.breathing.has_value());
    for (std::size_t m = 0; m < before.size(); ++m) {
        EXPECT_EQ(study->members()[m].constants, before[m].constants);
    }
    EXPECT_EQ(learning_runs(*study), 0.0);
}

// Readings that may be a hundred degrees off say nothing: what is known of breathing and of
// resistance is what it was.
TEST(PileProbes, ReadingsThatSayNothingMoveNothing) {
    const Twin hidden = coarse_twin(1);
    auto season = hidden.season();
    for (const char* id : {"pile.probe_error", "pile.probe_offset"}) {
        season.replacements.push_back(
            {.id = id, .value = 300.0, .low = 300.0, .high = 300.0, .why = "nothing is known"});
    }
    const auto study = hidden.study(season);
    const auto learned = learned_by(*study);
    ASSERT_TRUE(learned.breathing.has_value());
    EXPECT_NEAR(learned.breathing->after.value, learned.breathing->before.value, 0.01);
    EXPECT_NEAR(learned.breathing->after.high, learned.breathing->before.high, 0.05);
    EXPECT_NEAR(learned.resistance->after.value, learned.resistance->before.value, 0.001);
}

// From the fourth day on it says the same. What is left is what the other three say: not a bit of
// it goes in.
TEST(PileProbes, AStuckOneIsNamedAndLeftOut) {
    const Twin hidden = coarse_twin(103);
    double last = 0.0;
    const auto season = changed(hidden.season(), "east", [&](double celsius, int number) {
        last = number < 6 ? celsius : last;
        return last;
    });
    PileLearned learned;
    const double error = error_with(hidden, season, learned);
    EXPECT_EQ(probe_in(learned, "east").fault, ProbeFault::stuck);
    EXPECT_NE(probe_in(learned, "east").why.find("in a row"), std::string::npos);
    EXPECT_TRUE(probe_in(learned, "low").is_trusted());
    PileLearned of_three;
    EXPECT_NEAR(error, error_with(hidden, hidden.season(without("east")), of_three), 1e-6);
    EXPECT_EQ(of_three.probes.size(), 3U);
}

TEST(PileProbes, AJumpingOneIsNamedAndLeftOut) {
    const Twin hidden = coarse_twin(103);
    const auto season = changed(hidden.season(), "high", [](double celsius, int number) {
        return number % 5 == 2 ? celsius + 14.0 : celsius;
    });
    PileLearned learned;
    const double error = error_with(hidden, season, learned);
    EXPECT_EQ(probe_in(learned, "high").fault, ProbeFault::jumping);
    EXPECT_TRUE(probe_in(learned, "west").is_trusted());
    PileLearned of_three;
    EXPECT_NEAR(error, error_with(hidden, hidden.season(without("high")), of_three), 1e-6);
}

TEST(PileProbes, FahrenheitIsSuspected) {
    const Twin hidden = coarse_twin(103);
    const auto season =
        changed(hidden.season(), "low", [](double celsius, int) { return 1.8 * celsius + 32.0; });
    const auto study = hidden.study(season);
    const auto learned = learned_by(*study);
    EXPECT_EQ(probe_in(learned, "low").fault, ProbeFault::fahrenheit)
        << probe_in(learned, "low").why;
    EXPECT_NE(probe_in(learned, "low").why.find("Fahrenheit"), std::string::npos);
    for (const char* other : {"high", "west", "east"}) {
        EXPECT_TRUE(probe_in(learned, other).is_trusted()) << other;
    }
}

// A column headed °F in which °C were written.
TEST(PileProbes, CelsiusInAColumnOfFahrenheitIsSuspected) {
    const Twin hidden = coarse_twin(103);
    const auto season = changed(hidden.season(), "west",
                                [](double celsius, int) { return (celsius - 32.0) / 1.8; });
    const auto study = hidden.study(season);
    const auto learned = learned_by(*study);
    EXPECT_EQ(probe_in(learned, "west").fault, ProbeFault::celsius)
        << probe_in(learned, "west").why;
    EXPECT_TRUE(probe_in(learned, "low").is_trusted());
}

TEST(PileProbes, OneThatNothingExplainsIsLeftOut) {
    const Twin hidden = coarse_twin(103);
    const auto season = changed(hidden.season(), "east", [](double celsius, int number) {
        return celsius - 18.0 + 0.2 * (number % 3);
    });
    const auto study = hidden.study(season);
    const auto learned = learned_by(*study);
    EXPECT_EQ(probe_in(learned, "east").fault, ProbeFault::unreconciled)
        << probe_in(learned, "east").why;
    EXPECT_TRUE(probe_in(learned, "low").is_trusted());
    EXPECT_TRUE(probe_in(learned, "high").is_trusted());
}

// Beets up and in the middle that breathe much more than those about them: what is read there is
// far from the rest, and is so.
TEST(PileProbes, AHotSpotIsNoBrokenProbe) {
    Twin hidden = coarse_twin(103);
    PileMember truth = hidden.truth();
    truth.parts[0].waves = {0.0, -4.0, 0.0, 4.0};
    truth.parts[0].breathing = 2.0;
    truth.parts[0].resistance = 1.0;
    hidden.set_truth(truth);
    const auto season = hidden.season();
    const auto study = hidden.study(season);
    const auto learned = learned_by(*study);
    EXPECT_GT(probe_in(learned, "high").celsius, probe_in(learned, "west").celsius + 4.0);
    for (const auto& probe : learned.probes) {
        EXPECT_TRUE(probe.is_trusted()) << probe.probe << ": " << probe.why;
    }
    // How near a spot at the edge of what is known is met depends on the draw; figures over many
    // are in docs/methods/pile_probes.md. More is known of the place than before.
    const auto& high = probe_in(learned, "high");
    EXPECT_LT(high.after->high - high.after->low, high.before->high - high.before->low);
}

TEST(PileProbes, OneWhereNothingLiesIsSaidToBeSo) {
    const Twin hidden = coarse_twin(103);
    auto season = hidden.season();
    for (auto& reading : season.probes) {
        if (reading.probe == "east") {
            reading.along = Length(40.0);
        }
    }
    const auto study = hidden.study(season);
    const auto learned = learned_by(*study);
    EXPECT_EQ(probe_in(learned, "east").fault, ProbeFault::nowhere);
    EXPECT_FALSE(probe_in(learned, "east").before.has_value());
}

class StopsAt : public Progress {
 public:
    explicit StopsAt(double share) : share_(share) {}
    bool go_on(double share) override {
        reached_ = share;
        return share < share_;
    }
    [[nodiscard]] double reached() const { return reached_; }

 private:
    double share_;
    double reached_ = 0.0;
};

TEST(PileProbes, LearningIsCountedAndCanBeStopped) {
    const Twin hidden = coarse_twin(2);
    const auto season = hidden.season();
    const auto study = hidden.study(season);
    WorkerPool pool(1);
    StopsAt never(2.0);
    Steps steps(&never, learning_runs(*study));
    ASSERT_TRUE(learn_from_probes(*study, pool, steps).ok());
    EXPECT_GT(never.reached(), 0.6);
    const auto other = hidden.study(season);
    StopsAt early(0.1);
    Steps stopped(&early, learning_runs(*other));
    const auto learned = learn_from_probes(*other, pool, stopped);
    ASSERT_FALSE(learned.ok());
    EXPECT_NE(learned.problems().front().what.find("stopped"), std::string::npos);
}

}  // namespace
}  // namespace beetwright::engine
