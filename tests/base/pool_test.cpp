#include "base/pool.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <cmath>
#include <vector>

#include "base/random.hpp"

namespace beetwright {
namespace {

TEST(WorkerPool, SumsToTheSameBitsForAnyNumberOfThreads) {
    RandomStream random(1, "pool");
    std::vector<double> values(100'000);
    for (auto& value : values) {
        value = std::ldexp(random.normal(), static_cast<int>(random.below(40)) - 20);
    }
    WorkerPool one(1);
    const double expected = ordered_sum(one, values);
    for (const unsigned threads : {2U, 3U, 4U, 8U}) {
        WorkerPool pool(threads);
        for (int repeat = 0; repeat < 5; ++repeat) {
            EXPECT_EQ(ordered_sum(pool, values), expected) << threads;
        }
    }
}

TEST(WorkerPool, DoesEveryItemOnce) {
    WorkerPool pool(4);
    for (const std::size_t count : {0U, 1U, 2U, 7U, 64U, 1000U}) {
        for (const std::size_t chunk : {1U, 3U, 64U, 5000U}) {
            std::vector<std::atomic<int>> done(count);
            pool.for_chunks(count, chunk, [&](std::size_t first, std::size_t last) {
                EXPECT_LT(first, last);
                EXPECT_LE(last - first, chunk);
                EXPECT_EQ(first % chunk, 0U);
                for (std::size_t i = first; i < last; ++i) {
                    ++done[i];
                }
            });
            for (const auto& times : done) {
                EXPECT_EQ(times, 1);
            }
        }
    }
}

TEST(WorkerPool, StartsAndStopsWithoutWork) {
    for (int repeat = 0; repeat < 50; ++repeat) {
        const WorkerPool pool(1U + static_cast<unsigned>(repeat) % 5U);
        EXPECT_EQ(pool.threads(), 1U + static_cast<unsigned>(repeat) % 5U);
    }
}

TEST(WorkerPool, TakesManySmallJobs) {
    WorkerPool pool(3);
    std::atomic<std::size_t> sum = 0;
    for (int job = 0; job < 2000; ++job) {
        pool.for_chunks(5, 1, [&](std::size_t first, std::size_t) { sum += first; });
    }
    EXPECT_EQ(sum, 2000U * (0 + 1 + 2 + 3 + 4));
}

}  // namespace
}  // namespace beetwright
