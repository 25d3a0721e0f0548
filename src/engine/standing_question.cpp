#include "engine/standing_question.hpp"

#include <algorithm>
#include <cmath>

#include "crop/recoverable.hpp"
#include "engine/as_of.hpp"
#include "engine/crop_state.hpp"
#include "engine/field_named.hpp"
#include "engine/lifting_rules.hpp"
#include "engine/out_of_bounds.hpp"
#include "ledger/evidence.hpp"
#include "ledger/model.hpp"
#include "weather/open_chance.hpp"
#include "worth/price.hpp"

namespace beetwright::engine {
namespace {

using ledger::Amount;

/// The days after a wait within which a field has to be lifted as planned.
constexpr std::chrono::days kThenLifted{7};

Day local_day(Instant at, std::chrono::minutes clock) {
    return std::chrono::floor<std::chrono::days>(at + clock);
}

/// What is paid for a field's beet that is delivered on a day, all terms of that day with it.
crop::Payment payment_on(const ledger::Season& season, const ledger::Field& field,
                         const ledger::FieldAmounts& amounts, Day day) {
    if (!season.terms.pay()) {
        return {};
    }
    const double haul_m = field.haul.is_known() ? field.haul.si() : 0.0;
    const auto price = worth::price_on(season.terms, day, haul_m);
    const double soil = amounts.of(Amount::soil).number.mean;
    const double tops = amounts.of(Amount::tops).number.mean;
    return [price, soil, tops](double clean, double pol, double molasses) {
        const double beet = price.paid_share * price.base_of(clean, clean * pol, clean * molasses);
        return beet * (1.0 + price.date_share) + price.date_amount * price.paid_share * clean +
               clean * (soil * price.per_kg_soil + tops * price.per_kg_tops) +
               clean * price.haul_per_kg_clean +
               clean * (1.0 + soil + tops) * price.haul_per_kg_with_soil;
    };
}

template <class Q>
Estimate<Q> as(const Estimate<double>& estimate) {
    return {Q(estimate.value), Q(estimate.low), Q(estimate.high)};
}

CropOnDay crop_on(const crop::FieldForecast& forecast, crop::When when, Day day) {
    const auto of = [&](crop::Trait trait) { return crop::trait_estimate(forecast, trait, when); };
    return {.day = day,
            .root = as<CleanMassPerArea>(of(crop::Trait::root)),
            .pol = as<SugarContent>(of(crop::Trait::pol)),
            .molasses = as<SugarContent>(of(crop::Trait::molasses))};
}

/// The last look at leaf, and the last crowns measured.
void look_at(const ledger::Season& season, const std::string& field, std::chrono::minutes clock,
             const Catalogue& catalogue, StandingAnswer& answer) {
    for (const auto& look : season.standing) {
        const Day day = local_day(look.at, clock);
        if (look.field != field) {
            continue;
        }
        const bool saw_leaf =
            !std::isnan(look.leaf_sick) || look.leaf_frozen != check::Seen::not_judged;
        if (saw_leaf && (!answer.leaf || answer.leaf->day <= day)) {
            answer.leaf = LeafSeen{.day = day,
                                   .sick = look.leaf_sick,
                                   .is_frozen = look.leaf_frozen == check::Seen::yes};
        }
        if (!look.crowns.empty() && (!answer.crowns || answer.crowns->day <= day)) {
            if (const auto heights = crop::crown_heights(look.crowns, catalogue)) {
                answer.crowns = CrownsSeen{.day = day, .heights = *heights};
            }
        }
    }
}

/// Disease goes on spreading as an epidemic does, by what is still healthy.
crop::LeafDisease leaf_until(const std::optional<LeafSeen>& seen, Day today, Day later,
                             const Catalogue& catalogue) {
    if (!seen || !(seen->sick > 0.0)) {
        return {};
    }
    constexpr double kDay_s = 86'400.0;
    const double doubling_d = catalogue.value(ConstantId::crop_leaf_doubling) / kDay_s;
    const auto spread = [&](Day day) {
        const auto days = static_cast<double>((day - seen->day).count());
        const double grown = seen->sick * std::exp2(days / doubling_d);
        return grown / (1.0 - seen->sick + grown);
    };
    return {.now = spread(today), .later = spread(later)};
}

/// What may go wrong until the later day, and in the week in which the field is then to be lifted.
Result<crop::Mishaps> mishaps_of(const ledger::Season& season, const ledger::Field& field,
                                 Instant now, int wait_days, const Catalogue& catalogue,
                                 WorkerPool& pool, std::vector<std::string>& notes) {
    const auto ahead_from = [&](Instant from, std::chrono::days days) {
        return weather::outlook(*season.weather, {.now = from, .ahead = days, .seed = season.seed});
    };
    const auto while_waiting = ahead_from(now, std::chrono::days(wait_days));
    if (!while_waiting) {
        return while_waiting.problems();
    }
    const auto afterwards = ahead_from(now + std::chrono::days(wait_days), kThenLifted);
    if (!afterwards) {
        return afterwards.problems();
    }
    const weather::WeatherAhead waiting(
        *while_waiting, catalogue, {.span = std::chrono::days(wait_days + 1), .seed = season.seed},
        pool);
    const weather::WeatherAhead then(
        *afterwards, catalogue, {.span = kThenLifted + std::chrono::days(1), .seed = season.seed},
        pool);
    const auto rules = rules_of(season, field);
    const auto open = weather::open_chances(then, {&rules, 1}, pool);
    notes.insert(notes.end(), while_waiting->notes.begin(), while_waiting->notes.end());
    const auto& frost = waiting.spans().front();
    return crop::Mishaps{
        .too_wet = open->front().spans.front().too_wet_chance,
        .leaf_frost = frost.crown_frost_chance,
        .frozen_roots = std::min(frost.root_frost_chance, frost.crown_frost_chance)};
}

std::string evidence_of(const CropState& state) {
    const auto count = [](std::size_t n, const char* one, const char* many) {
        return std::to_string(n) + " " + (n == 1 ? one : many);
    };
    std::string words;
    const auto add = [&](const std::string& more) { words += (words.empty() ? "" : "; ") + more; };
    if (state.digs_here > 0) {
        add(count(static_cast<std::size_t>(state.digs_here), "dig here", "digs here") +
            ", the last on " + to_text(*state.last_dig));
    }
    if (state.dug_elsewhere > 0) {
        add(count(state.dug_elsewhere, "other field dug", "other fields dug"));
    }
    if (state.delivered > 0) {
        add(count(state.delivered, "field delivered", "fields delivered"));
    }
    return words.empty() ? "autumns elsewhere; nobody has dug or delivered here yet" : words;
}

Problems problems_of(const ledger::Season& season, const StandingQuestion& question, Day today) {
    Problems problems;
    const auto field = std::ranges::find(season.fields, question.field, &ledger::Field::name);
    if (field == season.fields.end()) {
        problems.push_back(no_field_named(season, question.field));
    } else if (field->lifted && *field->lifted <= today) {
        problems.push_back({ProblemKind::conflict,
                            {.file = "", .line = 0, .field = "field"},
                            "\"" + field->name + "\" was lifted on " + to_text(*field->lifted) +
                                "; nothing stands there",
                            "ask for a field that still stands, or for an earlier day"});
    }
    if (question.wait_days < 1 || question.wait_days > 60) {
        problems.push_back(
            out_of_bounds("wait", "a wait of " + std::to_string(question.wait_days) + " days",
                          "ask for 1 to 60 days: 7d, 2w"));
    }
    return problems;
}

}  // namespace

Result<StandingAnswer> ask_standing(const ledger::Season& all, const StandingQuestion& question,
                                    WorkerPool& pool) {
    const Instant now = question.at.value_or(as_of(all));
    const auto season = ledger::without_superseded(known_season(all, now));
    const auto clock = clock_of(season);
    const Day today = local_day(now, clock);
    const Day later = today + std::chrono::days(question.wait_days);
    if (auto problems = problems_of(season, question, today); !problems.empty()) {
        return problems;
    }
    const auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    const auto place = static_cast<std::size_t>(
        std::ranges::find(season.fields, question.field, &ledger::Field::name) -
        season.fields.begin());
    const auto& field = season.fields[place];
    const auto amounts = ledger::season_amounts(season, *catalogue);
    auto state = crop_state(season, amounts, *catalogue, place, today, later);

    StandingAnswer answer;
    answer.field = field.name;
    answer.soil = field.soil;
    answer.at = now;
    answer.now = crop_on(state.forecast, crop::When::now, today);
    answer.later = crop_on(state.forecast, crop::When::later, later);
    answer.rests_on = state.digs_here > 0                         ? RestsOn::measured
                      : state.dug_elsewhere + state.delivered > 0 ? RestsOn::learned
                                                                  : RestsOn::published;
    answer.evidence = evidence_of(state);
    answer.assumptions = std::move(state.assumptions);
    look_at(season, field.name, clock, *catalogue, answer);
    answer.ground = ground_state(season, field, *catalogue);
    if (season.weather != nullptr) {
        auto mishaps = mishaps_of(season, field, now, question.wait_days, *catalogue, pool,
                                  answer.assumptions);
        if (mishaps) {
            answer.mishaps = *mishaps;
            answer.mishaps_known = true;
        } else {
            for (const auto& problem : mishaps.problems()) {
                answer.assumptions.push_back(problem.what +
                                             ": frost and wet are not set against the wait");
            }
        }
    } else {
        answer.assumptions.emplace_back(
            "no weather is known: frost and wet are not set against the wait");
    }
    auto may_go_wrong = answer.mishaps;
    if (answer.leaf && answer.leaf->is_frozen) {
        // Frost has already done to the leaf what it may do: the crop grows as one whose leaf will
        // freeze for sure.
        may_go_wrong.leaf_frost = 1.0;
    }
    crop::WaitQuestion asked{.leaf = leaf_until(answer.leaf, today, later, *catalogue),
                             .mishaps = may_go_wrong};
    asked.paid_now = payment_on(season, field, amounts[place], today);
    asked.paid_later = payment_on(season, field, amounts[place], later);
    const auto wait = crop::worth_of_waiting(state.forecast, asked, *catalogue,
                                             RandomStream(season.seed, "a wait", field.name));
    if (!wait) {
        return wait.problems();
    }
    answer.wait = *wait;
    return answer;
}

}  // namespace beetwright::engine
