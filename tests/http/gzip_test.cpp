#include "http/gzip.hpp"

#include <gtest/gtest.h>

#include <string>

#include "base/random.hpp"
#include "http/gunzip.hpp"

namespace beetwright::http {
namespace {

void expect_round_trip(const std::string& text) {
    const auto compressed = gzipped(text);
    ASSERT_TRUE(compressed.has_value());
    EXPECT_EQ(compressed, gzipped(text)) << "the same for the same text";
    EXPECT_EQ(gunzipped(*compressed, text.size()), text);
}

TEST(Gzip, ComesBackAsItWas) {
    expect_round_trip("");
    expect_round_trip("beet");
    std::string table;
    for (int row = 0; row < 20'000; ++row) {
        table += std::to_string(row) + ",Upper Sallow,correct,,2-4\n";
    }
    expect_round_trip(table);
    EXPECT_LT(gzipped(table)->size(), table.size() / 4);
}

// What cannot be made shorter becomes a little longer, which must fit as well.
TEST(Gzip, NoiseComesBackAsItWas) {
    RandomStream random(1, "gzip");
    std::string noise;
    for (int i = 0; i < 300'000; ++i) {
        noise += static_cast<char>(random.below(256));
    }
    expect_round_trip(noise);
}

}  // namespace
}  // namespace beetwright::http
