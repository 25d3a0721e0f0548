// What was read in a pile, as text and for programs.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "io/pile_probes_json.hpp"
#include "io/pile_probes_text.hpp"
#include "io/pile_words.hpp"

namespace beetwright::io {
namespace {

engine::PileAnswer read_in_two_places() {
    engine::PileAnswer answer;
    engine::ProbeAnswer low;
    low.probe = "low";
    low.kind = check::ProbeKind::logger;
    low.place = {Length(12.0), Length(-1.5), Length(1.0)};
    low.part = 1;
    low.readings = 18;
    low.celsius = 7.3;
    low.before = {15.0, 4.0, 32.0};
    low.after = {7.6, 6.5, 8.6};
    engine::ProbeAnswer hot = low;
    hot.probe = "hot";
    hot.celsius = 44.0;
    hot.fault = engine::ProbeFault::fahrenheit;
    hot.why = "it would be right in Fahrenheit";
    answer.learned.probes = {low, hot};
    answer.learned.breathing = {{112.0, 86.0, 146.0}, {98.0, 84.0, 113.0}};
    answer.learned.resistance = {{1.2, 0.6, 2.3}, {0.77, 0.6, 0.98}};
    answer.next_probes.push_back({.part = 0,
                                  .place = {Length(28.0), Length(0.0), Length(3.4)},
                                  .celsius_low = 8.0,
                                  .celsius_high = 24.0,
                                  .half_width_before_kg = 52'000.0,
                                  .half_width_after_kg = 38'000.0});
    return answer;
}

bool says(const std::string& text, const char* words) {
    return text.find(words) != std::string::npos;
}

TEST(PileProbesText, NamesWhatIsLeftOutAndWhy) {
    const auto text = probes_text(read_in_two_places(), PileWriter("EUR", UnitSystem::metric));
    EXPECT_TRUE(says(text, "hot (left out)")) << text;
    EXPECT_TRUE(says(text, "! hot: it would be right in Fahrenheit.")) << text;
    EXPECT_FALSE(says(text, "low (left out)")) << text;
    EXPECT_TRUE(says(text, "left, 1")) << "across is told by its side: " << text;
    EXPECT_TRUE(says(text, "to within 38 t instead of 52 t")) << text;
    EXPECT_TRUE(says(text, "breathe 98 (84 to 113) g")) << text;
}

TEST(PileProbesText, IsEmptyWhereNothingWasReadOrWouldTeach) {
    EXPECT_EQ(probes_text(engine::PileAnswer{}, PileWriter("EUR", UnitSystem::us)), "");
    EXPECT_EQ(learned_words(engine::PileLearned{}), "");
}

TEST(PileProbesJson, HoldsTheSame) {
    Json json{{"pile", "Yard"}};
    add_probes_json(read_in_two_places(), json);
    const auto read = nlohmann::json::parse(json.line());
    ASSERT_EQ(read["probes"].size(), 2U);
    EXPECT_EQ(read["probes"][0]["kind"], "logger");
    EXPECT_EQ(read["probes"][0]["across_m"], -1.5);
    EXPECT_EQ(read["probes"][0]["trusted"], true);
    EXPECT_EQ(read["probes"][0]["after_C"]["value"], 7.6);
    EXPECT_EQ(read["probes"][1]["trusted"], false);
    EXPECT_EQ(read["probes"][1]["fault"], "fahrenheit");
    EXPECT_EQ(read["learned"]["resistance"]["after"]["high"], 0.98);
    EXPECT_EQ(read["next_probes"][0]["sugar_after_t"], 38.0);
    Json bare{{"pile", "Yard"}};
    add_probes_json(engine::PileAnswer{}, bare);
    const auto nothing = nlohmann::json::parse(bare.line());
    EXPECT_TRUE(nothing["probes"].empty());
    EXPECT_TRUE(nothing["learned"].is_null());
}

}  // namespace
}  // namespace beetwright::io
