#include "engine/check_question.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "base/sorted.hpp"
#include "engine/field_named.hpp"
#include "ledger/evidence.hpp"
#include "ledger/model.hpp"

namespace beetwright::engine {
namespace {

using check::BeetSheet;
using check::CountedBeet;
using check::Topping;

constexpr Length kFinger{0.02};  ///< the breaks that targets speak of are wider than this

double yes_or_not_judged(check::Seen seen) {
    return seen == check::Seen::not_judged ? std::nan("") : (seen == check::Seen::yes ? 1.0 : 0.0);
}

double topped(const CountedBeet& beet, Topping topping) {
    if (beet.topping == Topping::not_judged) {
        return std::nan("");
    }
    return beet.topping == topping ? 1.0 : 0.0;
}

double broken_wide(const CountedBeet& beet) {
    if (!beet.tip.is_judged()) {
        return std::nan("");
    }
    return beet.tip.from >= kFinger && beet.tip.to > kFinger ? 1.0 : 0.0;
}

/// What an inspector would reject a beet for: any of these, where any of them was judged.
double any_fault(const CountedBeet& beet) {
    double worst = std::nan("");
    for (const double fault :
         {topped(beet, Topping::petioles_long), topped(beet, Topping::too_deep), broken_wide(beet),
          yes_or_not_judged(beet.rot), yes_or_not_judged(beet.frost)}) {
        worst = std::fmax(worst, fault);  // a fault that was not judged does not count
    }
    return worst;
}

struct Question {
    const char* words;
    double (*of_beet)(const CountedBeet&);
};

constexpr std::array kQuestions{
    Question{"leaf stalks over 2 cm",
             [](const CountedBeet& b) { return topped(b, Topping::petioles_long); }},
    Question{"leaf stalks up to 2 cm",
             [](const CountedBeet& b) { return topped(b, Topping::petioles_short); }},
    Question{"topped correctly", [](const CountedBeet& b) { return topped(b, Topping::correct); }},
    Question{"topped too deep", [](const CountedBeet& b) { return topped(b, Topping::too_deep); }},
    Question{"cut at a slant", [](const CountedBeet& b) { return topped(b, Topping::slanted); }},
    Question{"crown untouched",
             [](const CountedBeet& b) { return topped(b, Topping::crown_untouched); }},
    Question{"tail broken wider than 2 cm", broken_wide},
    Question{"rot", [](const CountedBeet& b) { return yes_or_not_judged(b.rot); }},
    Question{"frost", [](const CountedBeet& b) { return yes_or_not_judged(b.frost); }},
};

using Measure = double (*)(const CountedBeet&);

std::vector<check::SpotSum> spots_of(const std::vector<const BeetSheet*>& sheets, Measure measure) {
    std::vector<check::SpotSum> spots;
    for (const BeetSheet* sheet : sheets) {
        const auto own = check::spot_sums(sheet->beets, measure);
        spots.insert(spots.end(), own.begin(), own.end());
    }
    return spots;
}

check::ShareCount count_of(std::span<const check::SpotSum> spots, const Catalogue& catalogue) {
    const auto all = check::total(spots);
    return {static_cast<int>(all.sum), static_cast<int>(all.n),
            check::design_effect(spots, catalogue).effect};
}

Measure measure_of(check::Judged judged) {
    switch (judged) {
        case check::Judged::long_petioles: return kQuestions[0].of_beet;
        case check::Judged::too_deep: return kQuestions[3].of_beet;
        case check::Judged::broken_over_2cm: return broken_wide;
        case check::Judged::any_fault: return any_fault;
    }
    return any_fault;
}

JudgedShare judged_share(const Question& question, const std::vector<const BeetSheet*>& sheets,
                         std::span<const check::SpotSum> spots, const Catalogue& catalogue) {
    JudgedShare share;
    share.words = question.words;
    share.estimate = check::share_estimate(spots, catalogue);
    share.towards_five_per_cent = check::where_it_stands(count_of(spots, catalogue), {});
    if (sheets.size() >= 2) {
        const auto last = spots_of({sheets.back()}, question.of_beet);
        const auto before = spots_of({sheets[sheets.size() - 2]}, question.of_beet);
        if (!last.empty() && !before.empty()) {
            const auto earlier = count_of(before, catalogue);
            const auto later = count_of(last, catalogue);
            share.change.push_back(check::words(check::compare(earlier, later), earlier, later));
        }
    }
    return share;
}

}  // namespace

Result<CheckAnswer> ask_check(const ledger::Season& recorded, const std::string& field) {
    const bool known = std::ranges::any_of(
        recorded.fields, [&](const ledger::Field& one) { return one.name == field; });
    if (!known) {
        return no_field_named(recorded, field);
    }
    const ledger::Season season = ledger::without_superseded(recorded);
    auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    std::vector<const BeetSheet*> sheets;
    for (const auto& sheet : season.beet_sheets) {
        if (sheet.field == field) {
            sheets.push_back(&sheet);
        }
    }
    if (sheets.empty()) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = field},
                       "nobody has counted beets in this field",
                       "count ten beets at each of ten spots and import the sheet"};
    }
    sort_list(sheets, {}, &BeetSheet::at);

    CheckAnswer answer;
    answer.field = field;
    answer.sheets = sheets.size();
    for (const BeetSheet* sheet : sheets) {
        answer.beets += static_cast<double>(sheet->beets.size());
    }
    answer.spots =
        static_cast<double>(spots_of(sheets, [](const CountedBeet&) { return 1.0; }).size());
    for (const Question& question : kQuestions) {
        const auto spots = spots_of(sheets, question.of_beet);
        if (!spots.empty()) {
            answer.shares.push_back(judged_share(question, sheets, spots, *catalogue));
        }
    }
    for (const auto& scheme : check::schemes()) {
        const auto spots = spots_of(sheets, measure_of(scheme.judged));
        if (!spots.empty()) {
            answer.targets.push_back({std::string(scheme.words), scheme.most_share,
                                      check::judge(spots, scheme.most_share, *catalogue),
                                      std::string(scheme.source)});
        }
    }
    return answer;
}

}  // namespace beetwright::engine
