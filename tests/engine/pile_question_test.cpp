// The piles of the demo season: what lies where, what becomes of it, what may be done.
#include "engine/pile_question.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <cmath>

#include "base/random.hpp"
#include "demo_season/invent.hpp"
#include "engine/ledger_question.hpp"
#include "engine/pile_histories.hpp"
#include "engine/pile_order_question.hpp"
#include "io/pile_json.hpp"

namespace beetwright::engine {
namespace {

constexpr const char* kRow = "Copse Road pile";   // built from one end
constexpr const char* kLayers = "Windmill pile";  // in layers, with fans

const ledger::Season& demo() {
    // Without what was read in its piles, which is tests/engine/pile_probes_test.cpp's.
    static const auto season = [] {
        auto made = demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
        made.probes.clear();
        return made;
    }();
    return season;
}

/// A few members and coarse cells: what is looked at here does not hang on either.
StudyQuestion about(const std::string& pile, std::size_t members = 2) {
    return {.pile = pile, .members = members, .cell = Length(1.0)};
}

std::unique_ptr<PileStudy> study_of(const ledger::Season& season, const StudyQuestion& question) {
    auto study = PileStudy::make(season, question);
    EXPECT_TRUE(study.ok()) << (study.ok() ? "" : study.problems().front().text());
    return study.ok() ? std::move(*study) : nullptr;
}

PileAnswer answer_of(const ledger::Season& season, const PileQuestion& question,
                     unsigned threads = 2) {
    WorkerPool pool(threads);
    auto answer = ask_pile(season, question, pool);
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return answer.ok() ? std::move(*answer) : PileAnswer{};
}

std::string problem_of(const ledger::Season& season, const PileQuestion& question) {
    WorkerPool pool(1);
    const auto answer = ask_pile(season, question, pool);
    EXPECT_FALSE(answer.ok());
    return answer.ok() ? "" : answer.problems().front().text();
}

TEST(PileParts, HoldWhatWasBroughtOnePartBehindTheOther) {
    const auto study = study_of(demo(), about(kRow));
    const auto& contents = study->contents();
    ASSERT_GE(contents.parts.size(), 3U);
    ASSERT_LE(contents.parts.size(), kMostParts);
    CleanMass sum = CleanMass::zero();
    Length end = Length::zero();
    Instant before{};
    for (const PilePart& part : contents.parts) {
        EXPECT_GE(part.from, end - Length(1e-9));
        EXPECT_GT(part.to, part.from);
        EXPECT_GE(part.piled(), before);
        ASSERT_EQ(part.layers.size(), 1U);
        double beets = 0.0;
        for (const BeetInPart& beet : part.beets()) {
            beets += beet.mass.si();
        }
        EXPECT_NEAR(beets, part.mass().si(), 1e-6 * part.mass().si());
        sum += part.mass();
        end = part.to;
        before = part.piled();
    }
    EXPECT_NEAR(sum.si(), contents.mass.si(), 1e-9 * sum.si());
    EXPECT_LE(end, contents.site.length + contents.site.height);
    // The first metres were taken away, and of the first part's middle nothing.
    EXPECT_FALSE(contents.parts.front().removed);
}

TEST(PileParts, LieInLayersAsHighAsTheirMassFills) {
    const auto study = study_of(demo(), about(kLayers));
    const auto& site = study->contents().site;
    for (const PilePart& part : study->parts()) {
        ASSERT_GE(part.layers.size(), 2U);
        ASSERT_LE(part.layers.size(), kMostLayers);
        EXPECT_EQ(part.layers.front().bottom, Length::zero());
        EXPECT_NEAR(part.layers.back().top.si(), site.height.si(), 1e-9);
        for (std::size_t i = 0; i < part.layers.size(); ++i) {
            const PileLayer& layer = part.layers[i];
            // A trapezoid's area between two heights, against the layer's share of the mass.
            const auto width = [&](Length height) { return 2.0 * site.half_width_at(height).si(); };
            const double area =
                0.5 * (width(layer.bottom) + width(layer.top)) * (layer.top - layer.bottom).si();
            EXPECT_NEAR(area / site.section().si(), layer.mass / part.mass(), 1e-9);
            if (i > 0) {
                EXPECT_EQ(layer.bottom, part.layers[i - 1].top);
                EXPECT_GE(layer.piled, part.layers[i - 1].piled);
            }
        }
    }
    // Two fans blow into it, each along its half: parts end where they do.
    ASSERT_EQ(study->parts().size(), 2U);
    EXPECT_EQ(study->parts()[0].to, site.fans[0].stretch.to);
}

TEST(PileParts, AreRefusedWhereTheyCannotBe) {
    EXPECT_NE(problem_of(demo(), {.about = about("Windmil pile")}).find("did you mean"),
              std::string::npos);
    auto empty = demo();
    std::erase_if(empty.loads, [](const auto& load) { return load.destination == kRow; });
    for (auto& field : empty.fields) {
        field.destination = field.destination == kRow ? kLayers : field.destination;
    }
    EXPECT_NE(problem_of(empty, {.about = about(kRow)}).find("nothing has been brought"),
              std::string::npos);
    auto small = demo();
    std::ranges::find(small.piles, kRow, &ledger::PileSite::name)->length = Length(20.0);
    EXPECT_NE(problem_of(small, {.about = about(kRow)}).find("20 m long"), std::string::npos);
    auto blind = demo();
    blind.weather = nullptr;
    EXPECT_NE(problem_of(blind, {.about = about(kRow)}).find("no weather"), std::string::npos);
    auto sooner = about(kRow);
    sooner.until = *parse_day("2031-12-01");
    EXPECT_NE(problem_of(demo(), {.about = sooner}).find("250 days"), std::string::npos);
    EXPECT_NE(problem_of(demo(), {.about = about(kRow, 1)}).find("members"), std::string::npos);
    auto fine = about(kRow);
    fine.cell = Length(0.01);
    EXPECT_NE(problem_of(demo(), {.about = fine}).find("0.2 to 1 m"), std::string::npos);
    EXPECT_NE(problem_of(demo(), {.about = about(kRow), .deeds = {"fleec"}}).find("fleece"),
              std::string::npos);
    EXPECT_NE(problem_of(demo(), {.about = about(kRow), .pictured = 99}).find("no part 100"),
              std::string::npos);
}

TEST(PileQuestion, WeatherThatEndsBeforeTheHorizonIsSaidAndNotMadeUp) {
    auto season = demo();
    auto weather = *season.weather;
    weather.climate.reset();
    season.weather = std::make_shared<const weather::KnownWeather>(std::move(weather));
    auto question = about(kRow);
    question.until = *parse_day("2032-03-01");
    const auto problem = problem_of(season, {.about = question});
    EXPECT_NE(problem.find("known until 2031-12-14 06:00"), std::string::npos) << problem;
    EXPECT_NE(problem.find("2032-03-01"), std::string::npos);
    question.until = *parse_day("2031-12-12");
    EXPECT_EQ(answer_of(season, {.about = question, .pictures = 0}).days.back().day,
              *question.until);
}

TEST(PileMembers, TakeEachSliceOfChanceOnce) {
    const auto members = pile_members(7, 10, 3);
    for (std::size_t id = 0; id < kConstantCount; ++id) {
        std::vector<double> scores;
        for (const PileMember& one : members) {
            scores.push_back(one.constants[id]);
        }
        std::ranges::sort(scores);
        for (std::size_t i = 0; i < scores.size(); ++i) {
            EXPECT_NEAR(scores[i], normal_quantile((static_cast<double>(i) + 0.5) / 10.0), 1e-12);
        }
    }
    // Others by another seed, and the parts' own scores are no copies of each other.
    EXPECT_NE(pile_members(8, 10, 3)[0].constants, members[0].constants);
    EXPECT_NE(members[0].parts[0].breathing, members[0].parts[1].breathing);
}

TEST(PileQuestion, IsTheSameForAnyNumberOfThreads) {
    const PileQuestion question{.about = about(kLayers), .deeds = {"fan"}, .pictures = 3};
    const auto one = io::pile_json(answer_of(demo(), question, 1), "EUR");
    const auto three = io::pile_json(answer_of(demo(), question, 3), "EUR");
    EXPECT_EQ(one, three);
}

TEST(PileQuestion, BandsHoldTheirValuesAndLossOnlyGrows) {
    const auto answer = answer_of(demo(), {.about = about(kRow, 4), .pictures = 5});
    EXPECT_EQ(answer.today, *parse_day("2031-12-04"));
    for (const PartAnswer& part : answer.parts) {
        double lost = 0.0;
        for (const PileBandDay& day : part.days) {
            for (const auto* band : {&day.mean_C, &day.warmest_C, &day.coldest_C, &day.sugar_lost,
                                     &day.killed, &day.rotting}) {
                EXPECT_LE(band->low, band->value);
                EXPECT_LE(band->value, band->high);
                EXPECT_TRUE(std::isfinite(band->value));
            }
            EXPECT_LE(day.coldest_C.value, day.mean_C.value);
            EXPECT_LE(day.mean_C.value, day.warmest_C.value);
            EXPECT_GE(day.sugar_lost.value, lost);
            lost = day.sugar_lost.value;
        }
        EXPECT_EQ(part.days.back().day, answer.until);
        EXPECT_GT(lost, 0.01);
        EXPECT_LT(lost, 1.0);
    }
    ASSERT_TRUE(answer.due_first);
    EXPECT_GT(answer.sugar_lost_kg.value, 0.0);
    EXPECT_GT(answer.money_lost.value, Money::zero());
    EXPECT_FALSE(answer.cautions.empty());
    // Pictures: of the part due first, today among them, each cell within its interval.
    EXPECT_EQ(answer.picture.part, *answer.due_first);
    ASSERT_GE(answer.picture.frames.size(), 3U);
    EXPECT_TRUE(std::ranges::any_of(answer.picture.frames,
                                    [&](const auto& frame) { return frame.day == answer.today; }));
    const auto& grid = answer.picture.grid;
    ASSERT_EQ(grid.has_beet.size(), grid.across * grid.up);
    EXPECT_NEAR(grid.across_at(0).si(), -0.5 * (answer.site.base_width - grid.cell_across).si(),
                0.51 * grid.cell_across.si());
    for (const auto& frame : answer.picture.frames) {
        for (std::size_t c = 0; c < grid.has_beet.size(); ++c) {
            if (grid.has_beet[c]) {
                EXPECT_LE(frame.low_C[c], frame.mean.celsius[c] + 1e-3F);
                EXPECT_GE(frame.high_C[c], frame.mean.celsius[c] - 1e-3F);
                EXPECT_GT(frame.mean.sugar_left[c], 0.0F);
            }
        }
    }
}

// Where the part is named its pictures come from the run that there is anyway, and say the same.
TEST(PileQuestion, ANamedPartIsPicturedAsOneThatIsNot) {
    const auto due = answer_of(demo(), {.about = about(kRow), .pictures = 5});
    const auto named =
        answer_of(demo(), {.about = about(kRow), .pictured = due.due_first, .pictures = 5});
    EXPECT_EQ(io::pile_json(named, "EUR"), io::pile_json(due, "EUR"));
    const std::size_t other = *due.due_first == 0 ? 1 : 0;
    const auto of_other =
        answer_of(demo(), {.about = about(kRow), .pictured = other, .pictures = 5});
    EXPECT_EQ(of_other.picture.part, other);
    EXPECT_GE(of_other.picture.frames.size(), 3U);
    EXPECT_EQ(of_other.next_probes.size(), due.next_probes.size());
    EXPECT_EQ(of_other.sugar_lost_kg.value, due.sugar_lost_kg.value);
}

TEST(PileQuestion, DeedsAreComparedInTheSameWeatherAndBeets) {
    // Nothing lies on this pile now: to take it off changes nothing, in any member.
    const auto answer =
        answer_of(demo(), {.about = about(kRow), .deeds = {"bare", "fan", "straw"}, .pictures = 0});
    ASSERT_EQ(answer.deeds.size(), 3U);
    for (std::size_t i = 1; i < answer.deeds.size(); ++i) {
        EXPECT_GE(answer.deeds[i - 1].gain.value, answer.deeds[i].gain.value);
    }
    const auto deed = [&](const std::string& name) {
        return *std::ranges::find(answer.deeds, name, &DeedAnswer::name);
    };
    EXPECT_EQ(deed("bare").gain.low, Money::zero());
    EXPECT_EQ(deed("bare").gain.high, Money::zero());
    EXPECT_EQ(deed("bare").energy_kWh, 0.0);
    EXPECT_GT(deed("fan").energy_kWh, 0.0);
    EXPECT_GT(deed("fan").sugar_kept_kg.value, 0.0) << "air that is colder cools";
    // Straw on the standing length: 1.8 a square metre of flanks and top, from the shape alone.
    const auto& site = answer.site;
    const double around =
        2.0 * std::hypot(0.5 * (site.base_width - site.top_width).si(), site.height.si()) +
        site.top_width.si();
    double length = 0.0;
    for (const PartAnswer& part : answer.parts) {
        length += (part.part.to - part.part.from).si();
    }
    EXPECT_NEAR(deed("straw").cost.si(), 1.8 * around * length, 1.0);
}

// Fleece for frosts alone costs its work anew each time, and its price once.
TEST(PileQuestion, AFleeceForFrostsAloneIsPutOnForThem) {
    const auto study = study_of(demo(), about(kRow));
    WorkerPool pool(2);
    Steps steps(nullptr, 1.0);
    const auto deeds = named_deeds(study->today());
    const auto deed = [&](std::string_view name) {
        return std::ranges::find(deeds, name, &NamedDeed::name)->deed;
    };
    const auto always = study->run_part(0, deed("fleece"), pool, steps);
    const auto frosts = study->run_part(0, deed("frost"), pool, steps);
    ASSERT_TRUE(always.ok() && frosts.ok());
    for (std::size_t m = 0; m < 2; ++m) {
        EXPECT_EQ(always->of(0, m).covered, 1.0);
        EXPECT_NE(frosts->of(0, m).days.back().mean_C, always->of(0, m).days.back().mean_C);
    }
    EXPECT_GT(frosts->of(0, 0).covered + frosts->of(0, 1).covered, 1.0) << "December has frosts";
}

TEST(PileQuestion, AFanLargerThanThePileCanPassIsSaid) {
    auto season = demo();
    const auto site = std::ranges::find(season.piles, kLayers, &ledger::PileSite::name);
    for (ledger::Fan& fan : site->fans) {
        fan.flow = 40.0 * fan.flow;
        fan.power = Power(std::numeric_limits<double>::quiet_NaN());
    }
    const auto answer = answer_of(season, {.about = about(kLayers), .pictures = 0});
    EXPECT_TRUE(std::ranges::any_of(answer.warnings, [](const PileWarning& one) {
        return one.part == std::size_t{0} && one.words.find("larger than") != std::string::npos;
    }));
    EXPECT_FALSE(std::ranges::any_of(
        answer_of(demo(), {.about = about(kLayers), .pictures = 0}).warnings,
        [](const PileWarning& one) { return one.words.find("larger") != std::string::npos; }));
}

TEST(PileQuestion, CoversGoOnAndOffOnTheirDays) {
    auto question = about(kRow);
    const auto study = study_of(demo(), question);
    WorkerPool pool(2);
    Steps steps(nullptr, 1.0);
    const Day today = study->today();
    const PileDeed late{.cover = check::PileCover::straw,
                        .cover_on = today + std::chrono::days(10)};
    PileDeed brief = late;
    brief.cover_off = today + std::chrono::days(12);
    const auto bare = study->run_part(0, {}, pool, steps);
    const auto on = study->run_part(0, late, pool, steps);
    const auto off = study->run_part(0, brief, pool, steps);
    ASSERT_TRUE(bare.ok() && on.ok() && off.ok());
    const auto at = [&](const Courses& courses, int after) {
        return study->on(0, courses.of(0, 0), today + std::chrono::days(after)).mean_C;
    };
    EXPECT_EQ(at(*bare, 9), at(*on, 9));
    EXPECT_NE(at(*bare, 12), at(*on, 12));
    EXPECT_EQ(at(*on, 11), at(*off, 11));
    EXPECT_NE(at(*on, 14), at(*off, 14));
}

TEST(PileQuestion, LooksForTheDaysToCover) {
    auto question = about(kRow);
    question.until = *parse_day("2031-12-25");
    const auto answer = answer_of(demo(), {.about = question,
                                           .deeds = {"bare", "fleece", "straw"},
                                           .looks_for_days = true,
                                           .pictures = 0});
    ASSERT_TRUE(answer.best_days);
    const auto& best = *answer.best_days;
    EXPECT_TRUE(best.best.name == "fleece" || best.best.name == "straw");
    ASSERT_FALSE(best.by_day.empty());
    for (const auto& [day, gain] : best.by_day) {
        EXPECT_GE(day, answer.today);
        EXPECT_LT(day, answer.until);
        EXPECT_LE(gain.value, best.best.gain.value + Money(1e-6));
    }
    EXPECT_LE(best.earliest, best.best.deed.cover_on);
    EXPECT_GE(best.latest, best.best.deed.cover_on);
}

/// Wants no more after so many calls.
class Impatient final : public Progress {
 public:
    explicit Impatient(int calls) : left_(calls) {}
    bool go_on(double share) override {
        last_ = share;
        return --left_ > 0;
    }
    [[nodiscard]] double last() const { return last_; }

 private:
    std::atomic<int> left_;
    std::atomic<double> last_ = 0.0;
};

TEST(PileQuestion, StopsWhenItIsToldTo) {
    for (const int calls : {1, 5}) {
        Impatient impatient(calls);
        WorkerPool pool(2);
        const auto answer = ask_pile(demo(), {.about = about(kRow)}, pool, &impatient);
        ASSERT_FALSE(answer.ok());
        EXPECT_NE(answer.problems().front().text().find("stopped"), std::string::npos);
        EXPECT_LT(impatient.last(), 0.5);
    }
    Impatient patient(1'000'000);
    WorkerPool pool(2);
    ASSERT_TRUE(ask_pile(demo(), {.about = about(kRow), .pictures = 2}, pool, &patient).ok());
    EXPECT_DOUBLE_EQ(patient.last(), 1.0);
}

TEST(PileQuestion, AllPilesAreALineEach) {
    WorkerPool pool(2);
    auto season = demo();
    std::erase_if(season.loads, [](const auto& load) { return load.destination == kRow; });
    for (auto& field : season.fields) {
        field.destination = field.destination == kRow ? kLayers : field.destination;
    }
    const auto lines = ask_piles(season, about(""), pool);
    ASSERT_TRUE(lines.ok());
    ASSERT_EQ(lines->size(), 2U);
    for (const PileLine& line : *lines) {
        EXPECT_EQ(line.answer.has_value(), line.pile == kLayers);
        EXPECT_EQ(line.problems.empty(), line.pile == kLayers);
    }
}

TEST(PileHistories, TheLedgerTakesThemWhereItIsGivenThem) {
    WorkerPool pool(2);
    const auto histories = pile_histories(demo(), about(""), pool);
    ASSERT_TRUE(histories.ok());
    EXPECT_TRUE(histories->left_out.empty());
    const auto& season = demo();
    const auto field = std::ranges::find_if(season.fields, [&](const ledger::Field& one) {
        return one.destination == kRow && histories->by_field.contains(one.name);
    });
    ASSERT_NE(field, season.fields.end());
    LedgerQuestion question;
    question.field = field->name;
    question.draws = 200;
    const auto quick = ask(season, question, pool);
    question.histories = &histories->by_field;
    const auto with = ask(season, question, pool);
    ASSERT_TRUE(quick.ok() && with.ok());
    const auto breathing = [](const LedgerAnswer& answer) {
        return answer.fields.front().entry(ledger::Line::storage_breathing).sugar.value.si();
    };
    EXPECT_NE(breathing(*quick), breathing(*with));
    EXPECT_TRUE(std::ranges::any_of(with->assumptions, [](const std::string& one) {
        return one.find("physics of their part") != std::string::npos;
    }));
    // The draw's own level of breathing: twice as much is twice the loss.
    const auto& history = histories->by_field.at(field->name);
    const double level = history.members.front().basal_at_5C;
    const Day day = history.first + std::chrono::days(20);
    ASSERT_TRUE(history.knows(day));
    EXPECT_NEAR(history.at(day, 0, 2.0 * level).breathing,
                2.0 * history.at(day, 0, level).breathing, 1e-15);
    EXPECT_FALSE(history.knows(history.first - std::chrono::days(1)));
}

TEST(PileOrder, SlicesEveryPartOnceAndNoOrderIsWorthMore) {
    WorkerPool pool(2);
    const auto answer = ask_pile_order(demo(), {.about = about("")}, pool);
    ASSERT_TRUE(answer.ok()) << answer.problems().front().text();
    std::size_t parts = 0;
    for (const auto& of_pile : answer->parts) {
        parts += of_pile.size();
    }
    ASSERT_EQ(answer->order.parts.size(), parts);
    EXPECT_TRUE(answer->order.is_best);
    EXPECT_LE(answer->order.worth.value, answer->order.bound + Money(0.01));
    ASSERT_TRUE(answer->order.warmest_first && answer->order.first_piled_first);
    EXPECT_GE(answer->order.warmest_first->less_than_found.value, Money(-0.01));
    EXPECT_GE(answer->order.first_piled_first->less_than_found.value, Money(-0.01));
    Day before = answer->today;
    for (const auto& part : answer->order.parts) {
        EXPECT_GE(part.first_day, before);
        before = part.first_day;
    }
    const auto slow =
        ask_pile_order(demo(), {.about = about(""), .a_day = CleanMass(1000.0)}, pool);
    ASSERT_FALSE(slow.ok());
    EXPECT_NE(slow.problems().front().text().find("1 to 250 days"), std::string::npos);
}

}  // namespace
}  // namespace beetwright::engine
