// What the ledger takes from beets by where they were looked at.
#include <gtest/gtest.h>

#include "ledger/evidence.hpp"

namespace beetwright::ledger {
namespace {

using check::SeenAt;

/// Ten spots of ten beets on which everything was judged.
FieldAmounts amounts_seen_at(SeenAt seen_at) {
    Season season;
    season.first_day = Day(std::chrono::days(22000));
    Field field;
    field.name = "Long Acre";
    field.area = 10.0 * unit::ha;
    season.fields = {field};
    check::BeetSheet sheet;
    sheet.id = Uuid::version7(Instant{}, 1, 1);
    sheet.field = field.name;
    sheet.seen_at = seen_at;
    for (int b = 0; b < 100; ++b) {
        check::CountedBeet beet;
        beet.spot = 1 + b / 10;
        beet.topping = b % 10 == 0 ? check::Topping::too_deep : check::Topping::correct;
        beet.scar = (b % 10 == 0 ? 7.0 : 4.0) * unit::cm;
        beet.tip = check::TipBreak::measured(3.0 * unit::cm);
        beet.skin_damage = 4.0 * unit::cm2;
        beet.rot = b == 0 ? check::Seen::yes : check::Seen::no;
        beet.frost = check::Seen::no;
        sheet.beets.push_back(beet);
    }
    season.beet_sheets = {sheet};
    return season_amounts(season, Catalogue{})[0];
}

bool is_measured(const FieldAmounts& amounts, Amount amount) {
    return amounts.of(amount).rests_on == RestsOn::measured;
}

constexpr Amount kOfTopping[] = {Amount::deep_share, Amount::slanted_share, Amount::long_petioles,
                                 Amount::scar_area, Amount::deep_scars};
constexpr Amount kOfTheWholeBeet[] = {Amount::tail_moment, Amount::tail_break_area,
                                      Amount::skin_damage, Amount::rotten, Amount::frosted};

TEST(SeenAt, InTheRowSaysTheToppingAndNothingElse) {
    const auto in_the_row = amounts_seen_at(SeenAt::row);
    const auto from_the_tank = amounts_seen_at(SeenAt::tank);
    for (const Amount amount : kOfTopping) {
        EXPECT_TRUE(is_measured(in_the_row, amount)) << static_cast<int>(amount);
        EXPECT_EQ(in_the_row.of(amount).number.mean, from_the_tank.of(amount).number.mean);
    }
    for (const Amount amount : kOfTheWholeBeet) {
        EXPECT_FALSE(is_measured(in_the_row, amount)) << static_cast<int>(amount);
        EXPECT_TRUE(is_measured(from_the_tank, amount)) << static_cast<int>(amount);
    }
}

TEST(SeenAt, BeforeCleaningSaysNothingOfWhatIsDelivered) {
    const auto before = amounts_seen_at(SeenAt::before_cleaning);
    for (const Amount amount : kOfTheWholeBeet) {
        EXPECT_FALSE(is_measured(before, amount)) << static_cast<int>(amount);
    }
}

}  // namespace
}  // namespace beetwright::ledger
