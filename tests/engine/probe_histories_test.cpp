// What members predict for readings is what their courses have there.
#include "engine/probe_histories.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "engine/pile_twin.hpp"

namespace beetwright::engine {
namespace {

using twin::Twin;

// In the forecast's own cells nothing is corrected: each prediction is that course's own sample.
TEST(ProbeHistories, PredictWhatTheMembersCoursesHave) {
    const Twin hidden({.seed = 1, .members = 5, .cell = Length(1.0)});
    const auto study = hidden.study(hidden.season());
    WorkerPool pool(1);
    Steps steps(nullptr, 1.0);
    ProbeHistories histories(*study, 5, pool, steps);
    ASSERT_TRUE(histories.predict().ok());
    ASSERT_EQ(histories.places().size(), 4U);
    const ProbePlace& place = histories.places()[1];
    std::vector<SampleAt> asked;
    for (const Instant at : place.at) {
        asked.push_back({at, place.place.across, place.place.height});
    }
    const auto course = study->course(study->basis(), {.part = 0,
                                                       .weather = 3,
                                                       .member = &histories.members()[3],
                                                       .beets = {},
                                                       .deed = {},
                                                       .frames = {},
                                                       .samples = asked});
    ASSERT_TRUE(course.ok());
    const PredictedPlace& predicted = histories.predicted()[1];
    ASSERT_EQ(predicted.of(3).size(), place.at.size());
    for (std::size_t i = 0; i < place.at.size(); ++i) {
        EXPECT_EQ(predicted.of(3)[i], course->samples[i].celsius);
    }
    // A window's is the mean of its readings'.
    const ReadingWindow& window = place.windows.back();
    double mean = 0.0;
    for (std::size_t i = window.first; i < window.last; ++i) {
        mean += predicted.of(3)[i] / static_cast<double>(window.last - window.first);
    }
    EXPECT_NEAR(predicted.windows[4 * place.windows.size() - 1], mean, 1e-12);
}

// Of twelve members every other one is run in fine cells as well: all are moved by the median of
// six.
TEST(ProbeHistories, CoarseCellsAreCorrectedByWhatFinerOnesMakeOfIt) {
    const Twin hidden({.seed = 1, .members = 12, .cell = Length(0.75)});
    const auto study = hidden.study(hidden.season());
    WorkerPool pool(2);
    Steps steps(nullptr, 1.0);
    ProbeHistories histories(*study, 12, pool, steps);
    ASSERT_TRUE(histories.predict().ok());
    const ProbePlace& place = histories.places()[0];
    const SampleAt last{place.at.back(), place.place.across, place.place.height};
    const auto celsius = [&](std::size_t member, Length cell) {
        CourseBasis basis = study->basis();
        basis.cell = cell;
        const auto course = study->course(basis, {.part = 0,
                                                  .weather = member,
                                                  .member = &histories.members()[member],
                                                  .beets = {},
                                                  .deed = {},
                                                  .frames = {},
                                                  .samples = {&last, 1}});
        EXPECT_TRUE(course.ok());
        return course->samples[0].celsius;
    };
    constexpr Length kFine(0.75);
    constexpr Length kCoarse(1.0);
    std::vector<double> of_fine;
    for (std::size_t m = 0; m < 12; m += 2) {
        of_fine.push_back(celsius(m, kFine) - celsius(m, kCoarse));
    }
    const double apart = twin::median_of(of_fine);
    EXPECT_GT(std::abs(apart), 0.01);
    EXPECT_NEAR(histories.predicted()[0].of(5).back(), celsius(5, kCoarse) + apart, 1e-9);
}

// A member whose air is beyond what is weather does not stand: it becomes the next one, whole.
TEST(ProbeHistories, AMemberThatDoesNotStandBecomesTheNextThatDoes) {
    const Twin hidden({.seed = 1, .members = 12, .cell = Length(1.0)});
    const auto study = hidden.study(hidden.season());
    WorkerPool pool(1);
    Steps steps(nullptr, 1.0);
    ProbeHistories histories(*study, 12, pool, steps);
    histories.members()[11].air = 1000.0;
    const auto first = histories.members()[0];
    ASSERT_TRUE(histories.predict().ok());
    EXPECT_EQ(histories.members()[11].constants, first.constants);
    EXPECT_EQ(histories.members()[11].air, first.air);
    for (const std::size_t m : {2U, 5U}) {
        histories.members()[m].air = 1000.0;
    }
    const auto done = histories.predict();
    ASSERT_FALSE(done.ok()) << "a sixth of them do not stand";
    EXPECT_NE(done.problems().front().what.find("no weather"), std::string::npos);
}

TEST(ProbeHistories, WorkIsNoughtWhereNothingWasRead) {
    const Twin hidden({.seed = 1, .members = 5, .cell = Length(1.0)});
    EXPECT_EQ(history_runs(*hidden.study(hidden.season({})), 24), 0.0);
    const auto study = hidden.study(hidden.season());
    EXPECT_NEAR(history_runs(*study, 48), 2.0 * history_runs(*study, 24), 1e-9);
    const Twin fine({.seed = 1, .members = 5, .cell = Length(0.75)});
    EXPECT_GT(history_runs(*fine.study(fine.season()), 24), history_runs(*study, 24))
        << "some of them are run in the forecast's own cells as well";
}

}  // namespace
}  // namespace beetwright::engine
