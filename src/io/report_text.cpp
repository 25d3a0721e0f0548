#include "io/report_text.hpp"

#include <algorithm>
#include <cmath>

#include "base/counted.hpp"
#include "base/number_text.hpp"

namespace beetwright::io {
namespace {

using ledger::Account;
using ledger::Entry;
using ledger::Line;

constexpr std::size_t kWordsWidth = 33;
constexpr std::size_t kBeetWidth = 8;
constexpr std::size_t kSugarWidth = 8;
constexpr std::size_t kIntervalWidth = 18;
constexpr std::size_t kMoneyWidth = 8;
constexpr double kTinyShare = 0.05;  ///< contributors below this share are not worth a line

std::string left(std::string_view text, std::size_t width) {
    std::string out(text);
    const std::size_t shown = width_of(text);
    return out + std::string(width > shown ? width - shown : 0, ' ');
}

std::string right(std::string_view text, std::size_t width) {
    const std::size_t shown = width_of(text);
    return std::string(width > shown ? width - shown : 0, ' ') + std::string(text);
}

bool moves(const Reading& reading) {
    return reading.value != 0.0 || reading.low != 0.0 || reading.high != 0.0;
}

std::string cell(const Reading& reading, std::size_t width) {
    return right(moves(reading) ? value_text(reading) : "", width);
}

std::string interval_cell(const Reading& reading) {
    return right(moves(reading) ? interval_text(reading) : "", kIntervalWidth);
}

std::string heading(const PeopleUnits& units) {
    std::string text = left("", kWordsWidth) + right("beet", kBeetWidth) +
                       right("sugar", kSugarWidth) + right("90 %", kIntervalWidth) +
                       right("money", kMoneyWidth) + right("90 %", kIntervalWidth) +
                       right("cost*", kMoneyWidth) + "  rests on\n";
    const std::string beet = units.system() == UnitSystem::us ? "ton/ac" : "t/ha";
    text += left("", kWordsWidth) + right(beet, kBeetWidth) +
            right(units.sugar_unit(), kSugarWidth) + right("", kIntervalWidth) +
            right(units.money_unit(), kMoneyWidth) + "\n";
    return text;
}

std::string row(const Entry& entry, const Account& account, const PeopleUnits& units) {
    const auto sugar = units.read(entry.sugar);
    const auto money = units.read(entry.money);
    const auto cost = units.read(entry.cost_at_slicing);
    std::string text = left(ledger::words(entry.line), kWordsWidth);
    text += cell(units.read(entry.mass), kBeetWidth);
    text += cell(sugar, kSugarWidth) + interval_cell(sugar);
    text += cell(money, kMoneyWidth) + interval_cell(money);
    const bool is_cost = can_be_helped(entry.line) && entry.cost_at_slicing.value.is_known();
    text += is_cost ? cell(cost, kMoneyWidth) : right("", kMoneyWidth);
    if (account.fields == 1 && (moves(sugar) || moves(money))) {
        text += "  " + std::string(words(entry.rests_on));
    }
    while (!text.empty() && text.back() == ' ') {
        text.pop_back();
    }
    return text + "\n";
}

std::string rule() {
    constexpr std::size_t kWidth =
        kWordsWidth + kBeetWidth + kSugarWidth + 2 * kIntervalWidth + 2 * kMoneyWidth;
    return std::string(kWidth, '-') + "\n";
}

std::string title(const Account& account, const PeopleUnits& units) {
    std::string text = account.name + ", " + units.area(account.area);
    if (account.lifting == ledger::Lifting::of_many) {
        return text + ", " + counted(account.fields, "field", "fields") + ", " +
               fixed_text(account.days_stored, 0) + " days stored on average\n";
    }
    return text + ", " + days_words(account) + "\n";
}

std::string left_over(const Account& account, const PeopleUnits& units) {
    const LeftOver left_over = left_over_of(account, units);
    return left("left over", kWordsWidth) + right(left_over.beet, kBeetWidth) +
           right(left_over.sugar, kSugarWidth) + right("", kIntervalWidth) +
           right(left_over.money, kMoneyWidth) + "\n";
}

std::string uncertainty(const Account& account) {
    std::string text;
    for (const Line line : {Line::paid, Line::recovered, Line::tails, Line::over_topping}) {
        const auto& from = account.entry(line).contributor;
        if (from.share < kTinyShare) {
            continue;
        }
        text += "  " + std::string(ledger::words(line)) + ": " + fixed_text(100.0 * from.share, 0) +
                " % of it from " + from.what + "\n";
    }
    return text.empty() ? text : "What makes it unsure\n" + text;
}

}  // namespace

bool can_be_helped(Line line) {
    switch (line) {
        case Line::over_topping:
        case Line::tails:
        case Line::whole_roots:
        case Line::pieces:
        case Line::storage_tail_wounds:
        case Line::storage_crown_wounds:
        case Line::storage_skin_wounds:
        case Line::storage_leaf_and_soil:
        case Line::storage_rot_and_frost:
        case Line::crown_and_leaf:
        case Line::soil_and_tops: return true;
        default: return false;
    }
}

const Entry& dearest_loss(const Account& account) {
    const Entry* dearest = &account.entry(Line::tails);
    for (const Entry& entry : account.entries) {
        if (can_be_helped(entry.line) &&
            entry.cost_at_slicing.value > dearest->cost_at_slicing.value) {
            dearest = &entry;
        }
    }
    return *dearest;
}

LeftOver left_over_of(const Account& account, const PeopleUnits& units) {
    constexpr double kRounding = 1e-9;
    const Entry& standing = account.entry(Line::standing_crop);
    const auto shown = [&](auto left, auto whole) -> std::string {
        if (std::abs(left.si()) < kRounding * std::abs(whole.si())) {
            return "0";
        }
        return general_text(units.read(Estimate<decltype(left)>{left, left, left}).value, 2);
    };
    return {.beet = shown(account.mass_left_over, standing.mass.value),
            .sugar = shown(account.sugar_left_over, standing.sugar.value),
            .money = shown(account.money_left_over, standing.money.value)};
}

std::string days_words(const Account& account) {
    const auto sliced = "sliced " + to_text(account.sliced) + " (" +
                        fixed_text(account.days_stored, 0) + " days later)";
    if (account.lifting == ledger::Lifting::not_yet) {
        return "not lifted yet; reckoned as lifted " + to_text(account.lifted) + ", " + sliced;
    }
    return "lifted " + to_text(account.lifted) + ", " + sliced;
}

std::string ledger_text(const Account& account, const PeopleUnits& units) {
    std::string text = title(account, units) + heading(units) + rule();
    for (const Entry& entry : account.entries) {
        if (ledger::is_balance(entry.line) && entry.line != Line::standing_crop) {
            text += rule();
        }
        text += row(entry, account, units);
    }
    text += left_over(account, units);
    text +=
        "* what the last line would gain without this loss and all that follows from it; these "
        "overlap\n";
    text += uncertainty(account);
    if (!account.not_proven.empty()) {
        text += "Not proven yet\n";
        for (const auto& sentence : account.not_proven) {
            text += "  " + sentence + "\n";
        }
    }
    return text;
}

std::string fields_text(std::span<const Account> fields, const PeopleUnits& units) {
    std::string text = left("field", 20) + right("area", 11) +
                       right("standing " + std::string(units.beet_unit()), 23) +
                       right("paid " + units.currency(), 12) + right("90 %", kIntervalWidth) +
                       "  dearest loss that can be helped\n";
    for (const Account& field : fields) {
        const auto standing = units.read(field.entry(Line::standing_crop).mass);
        const auto paid = units.read(field.entry(Line::paid).money);
        const Entry& loss = dearest_loss(field);
        text += left(field.name, 20) + right(units.area(field.area), 11) +
                right(value_text(standing), 23) + right(value_text(paid), 12) +
                right(interval_text(paid), kIntervalWidth) + "  " +
                std::string(ledger::words(loss.line)) + " " +
                value_text(units.read(loss.cost_at_slicing)) + "\n";
    }
    return text;
}

}  // namespace beetwright::io
