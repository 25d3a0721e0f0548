#include "campaign/slicing_problems.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/counted.hpp"
#include "base/number_text.hpp"

namespace beetwright::campaign {
namespace {

/// More are days of reckoning; and nobody loads a thousand parts by a list.
constexpr std::size_t kMostParts = 1000;
constexpr std::size_t kMostDays = 1000;

Problem wrong(std::string field, std::string what, std::string fix,
              ProblemKind kind = ProblemKind::input) {
    return {
        kind, {.file = "", .line = 0, .field = std::move(field)}, std::move(what), std::move(fix)};
}

void look_at_slicer(const SlicingQuestion& question, Problems& problems) {
    const auto& takes = question.slicer_takes;
    if (takes.empty()) {
        problems.push_back(wrong("slicer", "it is not known what it takes on any day",
                                 "give what it takes on each day of the horizon",
                                 ProblemKind::missing));
    }
    if (takes.size() > kMostDays) {
        problems.push_back(wrong("slicer", counted(takes.size(), "day", "days") + " of horizon",
                                 "give at most " + std::to_string(kMostDays), ProblemKind::limit));
    }
    for (std::size_t d = 0; d < takes.size(); ++d) {
        if (!(takes[d].si() >= 0.0 && std::isfinite(takes[d].si()))) {
            problems.push_back(wrong("slicer",
                                     "what it takes on " +
                                         to_text(question.first_day + std::chrono::days(d)) +
                                         " is no mass",
                                     "give what it takes a day, nought where it stands"));
            break;
        }
    }
}

void look_at_part(const SlicingQuestion& question, PartPlace place, std::size_t members,
                  Problems& problems) {
    const PilePart& part = question.piles[place.pile].parts[place.part];
    const auto say = [&](std::string what, std::string fix) {
        problems.push_back(wrong(name_of(question, place), std::move(what), std::move(fix)));
    };
    if (!(part.mass.si() > 0.0 && std::isfinite(part.mass.si()))) {
        say("its mass is not over nought", "give its clean mass, or leave the part out");
    }
    if (part.worth_money.size() != members || members == 0) {
        say("its worth is known for " +
                counted(part.worth_money.size(), "weather member", "weather members") +
                ", that of the first part for " + std::to_string(members),
            "give its worth for the same members as of all parts, at least one");
    }
    for (const auto& member : part.worth_money) {
        const bool is_finite =
            std::ranges::all_of(member, [](double worth) { return std::isfinite(worth); });
        if (member.size() != question.slicer_takes.size() || !is_finite) {
            say("its worth is not known on every day of the horizon",
                "give what is paid for it on each of " +
                    counted(question.slicer_takes.size(), "day", "days"));
            break;
        }
    }
    if (part.not_before && part.by && *part.by < *part.not_before) {
        say("it is to be gone by " + to_text(*part.by) + " and not sliced before " +
                to_text(*part.not_before),
            "give a later day by which, or an earlier one before which not");
    }
}

/// Whether all of it can be sliced within the horizon.
void look_at_sum(const SlicingQuestion& question, Problems& problems) {
    CleanMass lies = CleanMass::zero();
    for (const auto& pile : question.piles) {
        for (const auto& part : pile.parts) {
            lies += part.mass;
        }
    }
    CleanMass sliced = CleanMass::zero();
    for (const CleanMass takes : question.slicer_takes) {
        sliced += takes;
    }
    constexpr double kRounding = 1e-9;
    if (lies.si() > sliced.si() * (1.0 + kRounding)) {
        problems.push_back(wrong(
            "slicer",
            "the parts come to " + fixed_text(in_tonnes(lies), 0) + " t, and it takes " +
                fixed_text(in_tonnes(sliced), 0) + " t up to " +
                to_text(question.first_day + std::chrono::days(question.slicer_takes.size() - 1)),
            "look further ahead, or leave parts out", ProblemKind::limit));
    }
}

}  // namespace

std::string name_of(const SlicingQuestion& question, PartPlace place) {
    const PileToSlice& pile = question.piles[place.pile];
    return pile.name + ", " + pile.parts[place.part].name;
}

Problems problems_of(const SlicingQuestion& question) {
    Problems problems;
    look_at_slicer(question, problems);
    std::size_t parts = 0;
    std::optional<std::size_t> members;
    for (std::size_t p = 0; p < question.piles.size(); ++p) {
        for (std::size_t k = 0; k < question.piles[p].parts.size(); ++k) {
            members = members.value_or(question.piles[p].parts[k].worth_money.size());
            look_at_part(question, {p, k}, *members, problems);
            ++parts;
        }
    }
    if (parts == 0) {
        problems.push_back(wrong("piles", "none of them holds a part", "give a part at least",
                                 ProblemKind::missing));
    }
    if (parts > kMostParts) {
        problems.push_back(wrong("piles", counted(parts, "part", "parts"),
                                 "put parts together, to at most " + std::to_string(kMostParts),
                                 ProblemKind::limit));
    }
    if (!(question.loader_move.si() >= 0.0 && std::isfinite(question.loader_move.si()))) {
        problems.push_back(wrong("loader", "what a move costs is less than nought or no number",
                                 "give the cost of a move, nought where it costs nothing"));
    }
    if (question.loader_at && *question.loader_at >= question.piles.size()) {
        problems.push_back(wrong("loader", "it stands at a pile that there is not",
                                 "name one of the piles, or none"));
    }
    if (problems.empty()) {
        look_at_sum(question, problems);
    }
    return problems;
}

}  // namespace beetwright::campaign
