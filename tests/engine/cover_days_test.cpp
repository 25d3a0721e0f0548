// The day on which a cover best goes on: weeks first, then days about the best of them.
#include "engine/cover_days.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "demo_season/invent.hpp"

namespace beetwright::engine {
namespace {

const ledger::Season& demo() {
    // Without what was read in its piles, which is tests/engine/pile_probes_test.cpp's.
    static const auto season = [] {
        auto made = demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
        made.probes.clear();
        return made;
    }();
    return season;
}

struct Looked {
    std::unique_ptr<PileStudy> study;
    Outcome left_alone;
    BestDays found;
    double done = 0.0;
};

/// Counts how much of the work was said to be done.
class Counts final : public Progress {
 public:
    bool go_on(double share) override {
        share_ = share;
        return true;
    }
    [[nodiscard]] double share() const { return share_; }

 private:
    double share_ = 0.0;
};

Looked looked_for(const char* deed_name, Day until) {
    auto made = PileStudy::make(
        demo(), {.pile = "Windmill pile", .until = until, .members = 2, .cell = Length(1.0)});
    EXPECT_TRUE(made.ok());
    Looked looked{.study = std::move(*made), .left_alone = {}, .found = {}};
    const PileStudy& study = *looked.study;
    WorkerPool pool(1);
    Steps unseen(nullptr, 1.0);
    looked.left_alone = outcome_of(study, *study.run({}, pool, unseen));
    const auto deeds = named_deeds(study.today());
    const auto deed = *std::ranges::find(deeds, deed_name, &NamedDeed::name);
    const auto done = study.run(deed.deed, pool, unseen);
    auto answer = deed_answer(study, deed.deed, looked.left_alone, outcome_of(study, *done));
    answer.name = deed_name;
    Counts counts;
    Steps steps(&counts, kMostCoverDays * study.runs());
    auto found = best_cover_days(study, answer, looked.left_alone, pool, steps);
    EXPECT_TRUE(found.ok());
    looked.found = *std::move(found);
    looked.done = counts.share();
    return looked;
}

TEST(CoverDays, AreLookedThroughByTheDayAboutTheBestWeek) {
    const auto looked = looked_for("frost", *parse_day("2031-12-25"));
    const BestDays& found = looked.found;
    EXPECT_EQ(found.best.name, "frost");
    ASSERT_GE(found.by_day.size(), 4U);
    EXPECT_LE(found.by_day.size(), 12U);
    EXPECT_TRUE(
        std::ranges::is_sorted(found.by_day, {}, [](const auto& one) { return one.first; }));
    // No day is told twice, none is gone or too late, and none that was looked at is better.
    Day before{};
    for (const auto& [day, gain] : found.by_day) {
        EXPECT_GT(day, before);
        EXPECT_GE(day, looked.study->today());
        EXPECT_LT(day, looked.study->until());
        EXPECT_LE(gain.value, found.best.gain.value);
        before = day;
    }
    // The days next to the best were looked at, as far as there are any.
    const Day best = found.best.deed.cover_on;
    const bool has_day_before = std::ranges::any_of(
        found.by_day, [&](const auto& one) { return one.first == best - std::chrono::days(1); });
    EXPECT_TRUE(has_day_before || best == looked.study->today()) << "on " << to_text(best);
    EXPECT_DOUBLE_EQ(looked.done, 1.0) << "what was not needed is counted as done";
}

// What is told for a day is what the pile comes to if the cover goes on then.
TEST(CoverDays, TellWhatADayComesTo) {
    const auto looked = looked_for("fleece", *parse_day("2031-12-18"));
    const PileStudy& study = *looked.study;
    ASSERT_GE(looked.found.by_day.size(), 2U);
    const auto& [day, gain] = looked.found.by_day[1];
    auto deed = looked.found.best.deed;
    deed.cover_on = day;
    deed.cover_off = std::nullopt;
    WorkerPool pool(1);
    Steps steps(nullptr, 1.0);
    const auto courses = study.run(deed, pool, steps);
    ASSERT_TRUE(courses.ok());
    const auto answer = deed_answer(study, deed, looked.left_alone, outcome_of(study, *courses));
    EXPECT_EQ(gain.value, answer.gain.value);
    EXPECT_EQ(gain.low, answer.gain.low);
}

}  // namespace
}  // namespace beetwright::engine
