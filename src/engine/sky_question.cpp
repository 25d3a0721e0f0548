#include "engine/sky_question.hpp"

#include <algorithm>

#include "engine/as_of.hpp"
#include "engine/field_named.hpp"
#include "engine/lifting_rules.hpp"
#include "engine/out_of_bounds.hpp"
#include "ledger/model.hpp"

namespace beetwright::engine {
namespace {

Problems problems_of(const SkyQuestion& question) {
    Problems problems;
    if (question.days < 1 || question.days > 60) {
        problems.push_back(
            out_of_bounds("days", std::to_string(question.days) + " days", "ask for 1 to 60 days"));
    }
    if (question.members < 1 || question.members > 500) {
        problems.push_back(out_of_bounds("members", std::to_string(question.members) + " members",
                                         "ask for 1 to 500 members"));
    }
    return problems;
}

}  // namespace

Result<SkyAnswer> ask_sky(const ledger::Season& season, const SkyQuestion& question,
                          WorkerPool& pool, Progress* progress) {
    auto problems = problems_of(question);
    const auto field = std::ranges::find(season.fields, question.field, &ledger::Field::name);
    if (!question.field.empty() && field == season.fields.end()) {
        problems.push_back(no_field_named(season, question.field));
    }
    if (season.weather == nullptr) {
        problems.push_back({ProblemKind::missing,
                            {.file = "", .line = 0, .field = "weather"},
                            "this season knows no weather yet",
                            "bring a forecast, or a usual year, under Weather"});
    }
    if (!problems.empty()) {
        return problems;
    }
    const auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    const Instant now = question.at.value_or(as_of(season));
    const auto ahead = weather::outlook(weather::known_at(*season.weather, now),
                                        {.now = now,
                                         .ahead = std::chrono::days(question.days),
                                         .members = question.members,
                                         .seed = season.seed});
    if (!ahead) {
        return ahead.problems();
    }
    const weather::WeatherAhead shared(*ahead, *catalogue, {.seed = season.seed}, pool);
    const weather::RulesOf of_field =
        question.field.empty() ? weather::RulesOf(weather::usual_rules) : rules_of(season, *field);
    const weather::RulesOf rules = [&](const weather::LiftingConstants& constants) {
        auto of_day = of_field(constants);
        of_day.works_at_night = question.works_at_night;
        return of_day;
    };
    auto open = weather::open_chances(shared, {&rules, 1}, pool, progress);
    if (!open) {
        return not_wanted();
    }
    SkyAnswer answer;
    answer.field = question.field;
    answer.at = ahead->now;
    answer.clock = ahead->members.front().clock;
    answer.known_until = ahead->known_until;
    answer.forecast_until = ahead->forecast_until;
    answer.useful_day_h = shared.useful_day_h();
    answer.days.assign(shared.days().begin(), shared.days().end());
    answer.open = std::move(open->front().days);
    // The rest of today is the first of the days asked for; what is left of one more is cut off.
    const auto wanted = static_cast<std::size_t>(question.days);
    answer.days.resize(std::min(answer.days.size(), wanted));
    answer.open.resize(answer.days.size());
    if (!question.field.empty()) {
        answer.ground = ground_ahead(season, *field, *ahead, *catalogue);
        answer.ground.resize(std::min(answer.ground.size(), answer.days.size()));
    }
    answer.assumptions = ahead->notes;
    return answer;
}

}  // namespace beetwright::engine
