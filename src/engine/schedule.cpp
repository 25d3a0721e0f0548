#include "engine/schedule.hpp"

#include <algorithm>

namespace beetwright::engine {
namespace {

constexpr int kLongestStorageDays = 366;

bool goes_to_pile(const ledger::Season& season, const ledger::Field& field) {
    return std::ranges::any_of(season.destinations, [&](const ledger::Destination& place) {
        return place.name == field.destination && place.kind == ledger::DestinationKind::pile;
    });
}

/// The last day on which a field of the season was lifted, or the campaign's first day.
Day last_lifting(const ledger::Season& season) {
    Day last = season.first_day;
    for (const auto& field : season.fields) {
        if (field.lifted) {
            last = std::max(last, *field.lifted);
        }
    }
    return last;
}

}  // namespace

void tell(std::vector<std::string>& sentences, const std::vector<std::string>& names,
          const std::string& what) {
    if (names.empty()) {
        return;
    }
    std::string sentence = names.front();
    for (std::size_t i = 1; i < names.size(); ++i) {
        sentence += (i + 1 == names.size() ? " and " : ", ") + names[i];
    }
    sentences.push_back(sentence + ": " + what);
}

Result<std::vector<FieldDays>> schedule(const ledger::Season& season,
                                        std::span<const ledger::Field* const> fields,
                                        std::optional<int> slice_after_days,
                                        std::vector<std::string>& assumptions) {
    const Day not_lifted_day = last_lifting(season);
    std::vector<FieldDays> all;
    std::vector<std::string> not_lifted;
    std::vector<std::string> factory_assumed;
    std::vector<std::string> pile_assumed;
    Problems problems;
    for (const ledger::Field* asked : fields) {
        const auto& field = *asked;
        FieldDays days;
        days.lifted = field.lifted.value_or(not_lifted_day);
        if (!field.lifted) {
            not_lifted.push_back(field.name);
        }
        const bool piled = goes_to_pile(season, field);
        if (slice_after_days) {
            days.sliced = days.lifted + std::chrono::days(*slice_after_days);
        } else if (field.sliced) {
            days.sliced = *field.sliced;
        } else {
            days.sliced =
                days.lifted + std::chrono::days(piled ? kDaysInPile : kDaysToFactorySlicing);
            (piled ? pile_assumed : factory_assumed).push_back(field.name);
        }
        const auto stored = (days.sliced - days.lifted).count();
        if (stored < 0 || stored > kLongestStorageDays) {
            problems.push_back(
                {ProblemKind::input,
                 {.file = "", .line = 0, .field = field.name},
                 "lifted on " + to_text(days.lifted) + " and sliced on " + to_text(days.sliced),
                 "slicing comes 0 to 366 days after lifting"});
        }
        all.push_back(days);
    }
    if (!problems.empty()) {
        return problems;
    }
    tell(assumptions, not_lifted,
         "not lifted yet; reckoned as if lifted on " + to_text(not_lifted_day) + ".");
    tell(assumptions, factory_assumed,
         "no slicing day given; reckoned as sliced " + std::to_string(kDaysToFactorySlicing) +
             " days after lifting.");
    tell(assumptions, pile_assumed,
         "no slicing day given; reckoned as sliced " + std::to_string(kDaysInPile) +
             " days after lifting.");
    return all;
}

}  // namespace beetwright::engine
