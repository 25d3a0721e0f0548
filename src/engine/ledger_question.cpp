#include "engine/ledger_question.hpp"

#include <algorithm>
#include <map>

#include "engine/field_named.hpp"
#include "engine/schedule.hpp"
#include "ledger/evidence.hpp"
#include "ledger/model.hpp"
#include "ledger/not_proven.hpp"
#include "worth/settle.hpp"

namespace beetwright::engine {
namespace {

using ledger::FieldQuestion;
using ledger::LineDraws;

constexpr std::size_t kLeastDraws = 100;
constexpr std::size_t kMostDraws = 1'000'000;

std::string group_name(const FieldQuestion& question, GroupBy by) {
    const auto& field = *question.field;
    const auto named = [](const std::string& name) {
        return name.empty() ? std::string("not said") : name;
    };
    switch (by) {
        case GroupBy::field: return field.name;
        case GroupBy::machine: return named(field.machine);
        case GroupBy::operator_name: return named(field.operator_name);
        case GroupBy::day:
            return question.field->lifted ? to_text(question.lifted) : "not lifted yet";
        case GroupBy::destination: return named(field.destination);
        case GroupBy::grower: return named(field.grower);
    }
    return {};
}

Result<Done> check_question(const ledger::Season& season, const LedgerQuestion& question) {
    if (question.draws < kLeastDraws || question.draws > kMostDraws) {
        return Problem{ProblemKind::limit,
                       {.file = "", .line = 0, .field = "draws"},
                       std::to_string(question.draws) + " draws",
                       "ask for 100 to 1,000,000"};
    }
    const bool known = question.field.empty() ||
                       std::ranges::any_of(season.fields, [&](const ledger::Field& field) {
                           return field.name == question.field;
                       });
    if (!known) {
        return no_field_named(season, question.field);
    }
    return Done{};
}

void tell_unknown_hauls(const ledger::Season& season, const LedgerQuestion& question,
                        std::vector<std::string>& assumptions) {
    std::vector<std::string> names;
    for (const auto& field : season.fields) {
        const bool asked = question.field.empty() || field.name == question.field;
        if (asked && !field.haul.is_known()) {
            names.push_back(field.name);
        }
    }
    tell(assumptions, names, "the way to the factory is not known; reckoned as if it were none.");
}

/// Whether two states of a season draw the same constants.
bool are_drawn_alike(const ledger::Season& a, const ledger::Season& b) {
    const auto alike = [](const ledger::Replacement& one, const ledger::Replacement& other) {
        return one.id == other.id && one.value == other.value && one.low == other.low &&
               one.high == other.high;
    };
    return a.seed == b.seed && a.terms.molasses_formula == b.terms.molasses_formula &&
           std::ranges::equal(a.replacements, b.replacements, alike);
}

/// Draws of every group, filled as the fields are drawn one after another.
class Groups {
 public:
    Groups(const std::vector<GroupBy>& wanted, std::size_t draws, ledger::Detail detail)
        : wanted_(wanted), draws_(draws), detail_(detail) {}

    void add(const FieldQuestion& question, const LineDraws& draws) {
        for (std::size_t g = 0; g < wanted_.size(); ++g) {
            auto [found, is_new] =
                sums_.try_emplace({g, group_name(question, wanted_[g])}, draws_, detail_);
            found->second.add(draws);
        }
    }

    [[nodiscard]] std::vector<LedgerGroup> accounts(const ledger::Model& model) const {
        std::vector<LedgerGroup> groups;
        for (const GroupBy by : wanted_) {
            groups.push_back({by, {}});
        }
        for (const auto& [key, draws] : sums_) {
            groups[key.first].accounts.push_back(
                ledger::summarise(model, key.second, draws, std::nullopt, detail_));
        }
        return groups;
    }

 private:
    const std::vector<GroupBy>& wanted_;
    std::size_t draws_;
    ledger::Detail detail_;
    std::map<std::pair<std::size_t, std::string>, LineDraws> sums_;
};

}  // namespace

std::size_t LedgerBasis::place_of(const std::string& field) const {
    return static_cast<std::size_t>(
        std::ranges::find(standing.fields, field, &ledger::Field::name) - standing.fields.begin());
}

Result<LedgerBasis> ledger_basis(const ledger::Season& season, std::size_t draws,
                                 const LedgerBasis* before) {
    auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    LedgerBasis basis{ledger::without_superseded(season), std::move(*catalogue), {}, nullptr};
    basis.amounts = ledger::season_amounts(basis.standing, basis.catalogue);
    const bool draws_hold = before != nullptr && before->drawn->draws.count() == draws &&
                            are_drawn_alike(before->standing, season);
    basis.drawn =
        draws_hold ? before->drawn : ledger::draw_constants(season, basis.catalogue, draws);
    return basis;
}

Result<LedgerAnswer> ask(const ledger::Season& season, const LedgerQuestion& question,
                         WorkerPool& pool) {
    if (auto checked = check_question(season, question); !checked) {
        return checked.problems();
    }
    const auto basis = ledger_basis(season, question.draws);
    return basis ? ask(*basis, question, pool) : Result<LedgerAnswer>(basis.problems());
}

Result<LedgerAnswer> ask(const LedgerBasis& basis, const LedgerQuestion& question,
                         WorkerPool& pool) {
    const auto& season = basis.standing;
    if (auto checked = check_question(season, question); !checked) {
        return checked.problems();
    }
    LedgerAnswer answer;
    std::vector<const ledger::Field*> fields;
    for (const auto& field : season.fields) {
        if (question.field.empty() || field.name == question.field) {
            fields.push_back(&field);
        }
    }
    auto scheduled = schedule(season, fields, question.slice_after_days, answer.assumptions);
    if (!scheduled) {
        return scheduled.problems();
    }
    if (worth::look_at_haul(season.terms)) {
        tell_unknown_hauls(season, question, answer.assumptions);
    }
    ledger::Model model = basis.drawn->draws.count() == question.draws
                              ? ledger::Model(season, basis.catalogue, basis.drawn)
                              : ledger::Model(season, basis.catalogue, question.draws);

    std::vector<FieldQuestion> questions;
    std::vector<ledger::Stay> stays;
    for (std::size_t k = 0; k < fields.size(); ++k) {
        const auto& days = (*scheduled)[k];
        const auto index = static_cast<std::size_t>(fields[k] - season.fields.data());
        questions.push_back({fields[k], &basis.amounts[index], days.lifted, days.sliced});
        stays.push_back(ledger::stay_of(questions.back()));
    }
    model.prepare(stays);

    // Fields are drawn side by side in batches; the sums are made in the order of the fields, so
    // that they do not depend on who finished first. One thread alone takes one field at a time and
    // sums its draws while they are near; several take a few each, so that none waits long.
    const std::size_t batch = pool.threads() > 1 ? 4 * std::size_t{pool.threads()} : 1;
    std::vector<LineDraws> drawn(std::min(batch, questions.size()),
                                 LineDraws(question.draws, question.detail));
    answer.fields.resize(questions.size());
    LineDraws total(question.draws, question.detail);
    Groups groups(question.groups, question.draws, question.detail);
    for (std::size_t first = 0; first < questions.size(); first += batch) {
        const std::size_t count = std::min(batch, questions.size() - first);
        pool.for_chunks(count, 1, [&](std::size_t from, std::size_t to) {
            for (std::size_t k = from; k < to; ++k) {
                const auto& one = questions[first + k];
                ledger::draw_field(model, one, question.detail, drawn[k]);
                auto& account = answer.fields[first + k];
                account = ledger::summarise(model, one.field->name, drawn[k], one, question.detail);
                account.not_proven = ledger::not_proven(account);
            }
        });
        for (std::size_t k = 0; k < count; ++k) {
            total.add(drawn[k]);
            groups.add(questions[first + k], drawn[k]);
        }
    }
    if (!questions.empty()) {
        answer.season = ledger::summarise(model, season.name, total, std::nullopt, question.detail);
        answer.groups = groups.accounts(model);
    }
    return answer;
}

}  // namespace beetwright::engine
