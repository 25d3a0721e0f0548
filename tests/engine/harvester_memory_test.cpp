// What was gone through before makes questions quicker, and changes no answer.
#include "engine/harvester_memory.hpp"

#include <gtest/gtest.h>

#include <string>

#include "demo_season/invent.hpp"
#include "engine/as_of.hpp"
#include "engine/harvester_question.hpp"
#include "io/harvester_text.hpp"

namespace beetwright::engine {
namespace {

constexpr const char* kThin = "Warren Top";

const ledger::Season& demo() {
    static const auto season =
        demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    return season;
}
std::string asked(const ledger::Season& season, const HarvesterQuestion& question,
                  HarvesterMemory* memory) {
    const auto answer = ask_advice(season, question, memory);
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    // Numbers are written so that they are read back to the bit.
    return answer.ok() ? io::advice_json(*answer, season.currency) : "";
}
/// The demo with as many of a field's sheets left out as there are after the first.
ledger::Season with_one_sheet_of(const char* field) {
    auto season = demo();
    bool is_first = true;
    std::erase_if(season.beet_sheets, [&](const auto& sheet) {
        return sheet.field == field && !std::exchange(is_first, false);
    });
    return season;
}

TEST(HarvesterMemory, ChangesNoAnswerHoweverQuestionsCome) {
    const Instant earlier = Day(std::chrono::year(2031) / 10 / 26);
    const auto grown = demo();
    const auto young = with_one_sheet_of(kThin);
    auto weighed = demo();  // by other constants
    weighed.replacements.push_back({"harvester.spread_of_fields", 0.4, 0.2, 0.6, ""});
    HarvesterMemory memory;
    const auto both_agree = [&](const ledger::Season& season, const HarvesterQuestion& question) {
        EXPECT_EQ(asked(season, question, &memory), asked(season, question, nullptr))
            << question.field;
    };
    both_agree(young, {.field = kThin});
    both_agree(grown, {.field = kThin});  // it grew
    both_agree(grown, {.field = "Mill Dam"});
    both_agree(grown, {.field = "Upper Sallow", .at = earlier});
    both_agree(grown, {.field = kThin});
    both_agree(weighed, {.field = kThin});
    both_agree(young, {.field = kThin});  // and shrank: a sheet was taken back
}

TEST(HarvesterMemory, GoesOnFromWhereItWas) {
    HarvesterMemory memory;
    const auto taken = [&](const ledger::Season& season, const HarvesterQuestion& question) {
        const std::size_t before = memory.steps_taken();
        asked(season, question, &memory);
        return memory.steps_taken() - before;
    };
    const auto young = with_one_sheet_of(kThin);
    const std::size_t all = taken(young, {.field = kThin});
    EXPECT_GT(all, 50U);
    EXPECT_EQ(taken(young, {.field = kThin}), 0U);
    // Another field of the same machine: the same season.
    const auto& fields = young.fields;
    const auto here = std::ranges::find(fields, kThin, &ledger::Field::name);
    const auto other = std::ranges::find_if(fields, [&](const ledger::Field& field) {
        return field.machine == here->machine && field.name != kThin;
    });
    ASSERT_NE(other, fields.end());
    EXPECT_EQ(taken(young, {.field = other->name}), 0U);
    // As of an earlier time it goes a shorter way; and now again no step.
    const Instant earlier = Day(std::chrono::year(2031) / 10 / 26);
    EXPECT_LT(taken(young, {.field = other->name, .at = earlier}), all);
    EXPECT_EQ(taken(young, {.field = kThin}), 0U);

    // A check more in a field that was lifted on the last days: the steps since then alone.
    auto grown = young;
    auto sheet = young.beet_sheets.front();
    for (const auto& one : young.beet_sheets) {
        sheet = one.machine.empty() && one.field == kThin && one.at > sheet.at ? one : sheet;
    }
    sheet.at = as_of(young);
    sheet.id = Uuid::version7(sheet.at, 1, 7);
    sheet.field = kThin;
    sheet.machine = here->machine;
    grown.beet_sheets.push_back(sheet);
    const std::size_t more = taken(grown, {.field = kThin});
    EXPECT_GE(more, 1U);
    EXPECT_LE(more, 3U);
}

}  // namespace
}  // namespace beetwright::engine
