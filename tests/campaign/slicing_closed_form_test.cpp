// Orders that are known without searching, and what must be so of every order.
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <string>

#include "campaign/slicing_fixture.hpp"
#include "campaign/slicing_order.hpp"

namespace beetwright::campaign {
namespace {

constexpr double kClose = 1e-9;

/// A part that takes whole days and loses so much a day, or a share of what it is worth.
struct Job {
    int days = 1;
    double a_day = 0.0;
};

std::vector<Job> drawn_jobs(std::uint64_t seed, std::size_t count) {
    RandomStream random(seed, "jobs");
    std::vector<Job> jobs;
    for (std::size_t k = 0; k < count; ++k) {
        jobs.push_back({static_cast<int>(1 + random.below(5)), 10.0 + 90.0 * random.uniform()});
    }
    return jobs;
}
int days_of(const std::vector<Job>& jobs) {
    return std::accumulate(jobs.begin(), jobs.end(), 0,
                           [](int sum, const Job& job) { return sum + job.days; });
}

/// The jobs in piles of so many parts; worth of a part on a day by `worth(job, day)`.
SlicingQuestion asked(const std::vector<Job>& jobs, std::size_t parts_of_pile, TakenFrom way,
                      const std::function<double(const Job&, int)>& worth) {
    constexpr double kTonnesADay = 1000.0;
    SlicingQuestion question;
    question.first_day = kFirstDay;
    const int days = days_of(jobs);
    question.slicer_takes.assign(static_cast<std::size_t>(days), tonnes<CleanMass>(kTonnesADay));
    for (std::size_t k = 0; k < jobs.size(); ++k) {
        if (k % parts_of_pile == 0) {
            question.piles.push_back({"pile " + std::to_string(k / parts_of_pile + 1), way, {}});
        }
        auto& part = question.piles.back().parts.emplace_back();
        part.name = "part " + std::to_string(k % parts_of_pile + 1);
        part.mass = tonnes<CleanMass>(kTonnesADay * jobs[k].days);
        auto& paid = part.worth_money.emplace_back();
        for (int d = 0; d < days; ++d) {
            paid.push_back(worth(jobs[k], d));
        }
    }
    return question;
}
double falls_steadily(const Job& job, int day) {
    return 50'000.0 - job.a_day * day;
}

SlicingOrder found(const SlicingQuestion& question) {
    auto answer = best_slicing_order(question);
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return *answer;
}
std::vector<std::size_t> parts_in_order(const SlicingOrder& answer, std::size_t parts_of_pile) {
    std::vector<std::size_t> order;
    for (const SlicedPart& part : answer.parts) {
        order.push_back(part.place.pile * parts_of_pile + part.place.part);
    }
    return order;
}
/// By an index, the largest first.
std::vector<std::size_t> by_index(const std::vector<Job>& jobs,
                                  const std::function<double(const Job&)>& index) {
    std::vector<std::size_t> order(jobs.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(
        order, [&](std::size_t a, std::size_t b) { return index(jobs[a]) > index(jobs[b]); });
    return order;
}

/// What jobs in this order come to where worth falls steadily. A part gone by the end of day C (the
/// first is 1) was sliced on days C - p to C - 1, C - (p + 1) / 2 on the mean.
double worth_of(const std::vector<Job>& jobs, const std::vector<std::size_t>& order) {
    double sum = 0.0;
    int gone = 0;
    for (const std::size_t k : order) {
        gone += jobs[k].days;
        sum += 50'000.0 - jobs[k].a_day * (gone - 0.5 * (jobs[k].days + 1));
    }
    return sum;
}

// Smith 1956 (Naval Research Logistics Quarterly 3:59-66): weighted completion times on one machine
// are least if jobs go by weight over time, the largest first. Worth that falls steadily is that.
TEST(KnownOrders, SteadyLossGoesByLossOverTime) {
    for (const std::uint64_t seed : {1U, 2U, 3U}) {
        const auto jobs = drawn_jobs(seed, 14);
        const auto answer = found(asked(jobs, 14, TakenFrom::anywhere, falls_steadily));
        const auto smith = by_index(jobs, [](const Job& job) { return job.a_day / job.days; });
        EXPECT_TRUE(answer.is_exact);
        EXPECT_EQ(parts_in_order(answer, 14), smith) << seed;
        EXPECT_NEAR(answer.worth.value.si(), worth_of(jobs, smith), kClose * 5e5);
    }
}

// 2^60 states: the search must find it, and prove that it is the best.
TEST(KnownOrders, SteadyLossOfManyPartsIsFoundAndProven) {
    const auto jobs = drawn_jobs(4, 60);
    const auto answer = found(asked(jobs, 60, TakenFrom::anywhere, falls_steadily));
    const auto smith = by_index(jobs, [](const Job& job) { return job.a_day / job.days; });
    EXPECT_FALSE(answer.is_exact);
    EXPECT_TRUE(answer.is_best);
    EXPECT_EQ(parts_in_order(answer, 60), smith);
    EXPECT_NEAR(answer.worth.value.si(), worth_of(jobs, smith), kClose * 3e6);
}

// Rothkopf 1966 ("Scheduling independent tasks on parallel processors", Management Science
// 12:437-447): discounted at r, jobs of weight w and time p go by w e^-rp / (1 - e^-rp). Here worth
// is spread over the days of slicing: paid v e^-r(d+1) on day d, a part gone by the end of day C
// comes to v/p (e^-r(C-p+1) + ... + e^-rC) = w e^-rC with w = v/p (e^rp - 1) / (e^r - 1).
TEST(KnownOrders, DiscountedLossGoesByRothkopfsIndex) {
    constexpr double r = 0.03;
    const auto price = [](const Job& job) {  // v, of a job whose w is its a_day
        return job.a_day * job.days * (std::exp(r) - 1.0) / (std::exp(r * job.days) - 1.0);
    };
    const auto index = [](const Job& job) {
        return job.a_day * std::exp(-r * job.days) / (1.0 - std::exp(-r * job.days));
    };
    for (const std::size_t count : {12U, 50U}) {
        const auto jobs = drawn_jobs(5 + count, count);
        const auto answer =
            found(asked(jobs, count, TakenFrom::anywhere, [&](const Job& job, int day) {
                return price(job) * std::exp(-r * (day + 1));
            }));
        const auto rothkopf = by_index(jobs, index);
        double worth = 0.0;
        int gone = 0;
        for (const std::size_t k : rothkopf) {
            gone += jobs[k].days;
            worth += jobs[k].a_day * std::exp(-r * gone);
        }
        EXPECT_EQ(answer.is_exact, count == 12);
        EXPECT_TRUE(answer.is_best);
        EXPECT_EQ(parts_in_order(answer, count), rothkopf) << count;
        EXPECT_NEAR(answer.worth.value.si(), worth, kClose * worth);
    }
}

/// Chains of jobs, each from its first on: always the beginning of a chain with the largest weight
/// over time, as a whole (Sidney 1975, Operations Research 23:283-298).
std::vector<std::size_t> by_beginnings_of_chains(const std::vector<Job>& jobs, std::size_t chain) {
    std::vector<std::size_t> next(jobs.size() / chain, 0);
    std::vector<std::size_t> order;
    while (order.size() < jobs.size()) {
        double best = -1.0;
        std::size_t from = 0;
        std::size_t count = 0;
        for (std::size_t c = 0; c < next.size(); ++c) {
            double weight = 0.0;
            double time = 0.0;
            for (std::size_t k = next[c]; k < chain; ++k) {
                weight += jobs[c * chain + k].a_day;
                time += jobs[c * chain + k].days;
                if (weight / time > best) {
                    best = weight / time;
                    from = c;
                    count = k + 1 - next[c];
                }
            }
        }
        for (; count > 0; --count) {
            order.push_back(from * chain + next[from]++);
        }
    }
    return order;
}

// Four piles of five are gone through, ten of eight (9^10 states) are searched.
TEST(KnownOrders, SteadyLossFromOneEndGoesByBeginningsOfPiles) {
    const auto fours = drawn_jobs(6, 20);
    const auto exact = found(asked(fours, 5, TakenFrom::beginning, falls_steadily));
    EXPECT_TRUE(exact.is_exact);
    EXPECT_EQ(parts_in_order(exact, 5), by_beginnings_of_chains(fours, 5));

    const auto tens = drawn_jobs(7, 80);
    const auto searched = found(asked(tens, 8, TakenFrom::beginning, falls_steadily));
    EXPECT_FALSE(searched.is_exact);
    EXPECT_TRUE(searched.is_best);
    EXPECT_NEAR(searched.worth.value.si(), worth_of(tens, by_beginnings_of_chains(tens, 8)),
                kClose * 4e6);
}

// Smith 1956 again: all losing alike, each to be gone by a day of its own, the last to go is the
// longest of those that may go last, and so on backwards. Days: those of an order drawn blindly,
// with room.
TEST(KnownOrders, DaysByWhichAreKeptBySmithsBackwardRule) {
    for (const std::uint64_t seed : {8U, 9U, 10U, 11U}) {
        auto jobs = drawn_jobs(seed, 16);
        for (Job& job : jobs) {
            job.a_day = 30.0;
        }
        RandomStream random(seed, "days by which");
        std::vector<int> by(jobs.size());
        int gone = 0;
        for (std::size_t k = 0; k < jobs.size(); ++k) {
            gone += jobs[k].days;
            by[k] = gone + static_cast<int>(random.below(14));
        }
        auto question = asked(jobs, 16, TakenFrom::anywhere, falls_steadily);
        for (std::size_t k = 0; k < jobs.size(); ++k) {
            question.piles[0].parts[k].by = kFirstDay + std::chrono::days(by[k] - 1);
        }
        std::vector<std::size_t> order;
        std::vector<bool> is_placed(jobs.size(), false);
        for (int end = gone; order.size() < jobs.size(); end -= jobs[order.back()].days) {
            std::size_t last = jobs.size();
            for (std::size_t k = 0; k < jobs.size(); ++k) {
                const bool longer = last == jobs.size() || jobs[k].days > jobs[last].days;
                if (!is_placed[k] && by[k] >= end && longer) {
                    last = k;
                }
            }
            ASSERT_LT(last, jobs.size()) << "the order drawn keeps all days";
            is_placed[last] = true;
            order.push_back(last);
        }
        std::ranges::reverse(order);
        const auto answer = found(question);
        EXPECT_TRUE(answer.is_exact);
        EXPECT_NEAR(answer.worth.value.si(), worth_of(jobs, order), kClose * 8e5) << seed;
        EXPECT_LT(worth_of(jobs, order),
                  worth_of(jobs, by_index(jobs, [](const Job& job) { return 1.0 / job.days; })))
            << "the days cost something";
    }
}

TEST(EveryOrder, IsWorthNoLessWithoutARule) {
    std::size_t better = 0;
    for (std::uint64_t seed = 60; seed < 72; ++seed) {
        auto question = invented(
            seed, {.parts_of_piles = {4, 4, 3},
                   .taken_from = {TakenFrom::beginning, TakenFrom::either_end, TakenFrom::end},
                   .loader_move_money = 300.0});
        give_days(question, seed, 3);
        const double worth = found(question).worth.value.si();
        const auto expect_no_less = [&](const SlicingQuestion& freed, const std::string& what) {
            const double then = found(freed).worth.value.si();
            EXPECT_GE(then, worth * (1.0 - kClose)) << what << ", seed " << seed;
            better += then > worth * (1.0 + kClose) ? 1U : 0U;
        };
        for (std::size_t p = 0; p < question.piles.size(); ++p) {
            auto freed = question;
            freed.piles[p].taken_from = TakenFrom::anywhere;
            expect_no_less(freed, "way of a pile");
            if (question.piles[p].taken_from != TakenFrom::either_end) {
                freed.piles[p].taken_from = TakenFrom::either_end;
                expect_no_less(freed, "one end of a pile");
            }
            for (std::size_t k = 0; k < question.piles[p].parts.size(); ++k) {
                freed = question;
                freed.piles[p].parts[k].by.reset();
                expect_no_less(freed, "day by which");
                freed = question;
                freed.piles[p].parts[k].not_before.reset();
                expect_no_less(freed, "day before which not");
            }
        }
        auto freed = question;
        freed.loader_move = Money::zero();
        expect_no_less(freed, "cost of a move");
    }
    EXPECT_GT(better, 60U) << "most rules cost something";
}

// Worth that falls: every day is paid no more than the one before it.
TEST(EveryOrder, IsHurtByNoFasterSlicerWhereWorthFalls) {
    for (std::uint64_t seed = 80; seed < 90; ++seed) {
        auto question = invented(seed, {.parts_of_piles = {4, 3, 4},
                                        .taken_from = {TakenFrom::beginning, TakenFrom::anywhere},
                                        .loader_move_money = 300.0});
        for (auto& pile : question.piles) {
            for (auto& part : pile.parts) {
                for (auto& member : part.worth_money) {
                    for (std::size_t d = 1; d < member.size(); ++d) {
                        member[d] = std::min(member[d], member[d - 1]);
                    }
                }
            }
        }
        double worth = found(question).worth.value.si();
        for (int step = 0; step < 4; ++step) {
            for (CleanMass& takes : question.slicer_takes) {
                takes *= 1.15;
            }
            const double faster = found(question).worth.value.si();
            EXPECT_GT(faster, worth) << seed;
            worth = faster;
        }
    }
}

// Nought days put all off alike: the order is worth what it is without them, a day later from
// there on.
TEST(EveryOrder, CountsDaysOnWhichTheSlicerStands) {
    const auto jobs = drawn_jobs(12, 10);
    const auto plain = asked(jobs, 10, TakenFrom::anywhere, falls_steadily);
    auto late = plain;
    late.slicer_takes.insert(late.slicer_takes.begin(), 3, CleanMass::zero());
    double a_day = 0.0;
    for (std::size_t k = 0; k < jobs.size(); ++k) {
        auto& worth = late.piles[0].parts[k].worth_money[0];
        for (int d = 0; d < 3; ++d) {
            worth.push_back(falls_steadily(jobs[k], static_cast<int>(worth.size())));
        }
        a_day += jobs[k].a_day;
    }
    const auto then = found(late);
    EXPECT_NEAR(then.worth.value.si(), found(plain).worth.value.si() - 3.0 * a_day, kClose * 5e5);
    EXPECT_EQ(then.parts.front().first_day, kFirstDay + std::chrono::days(3));
}

}  // namespace
}  // namespace beetwright::campaign
