#include "engine/ledger_question.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "engine/field_named.hpp"
#include "engine/out_of_bounds.hpp"
#include "engine/schedule.hpp"
#include "ledger/evidence.hpp"
#include "ledger/model.hpp"
#include "ledger/not_proven.hpp"
#include "ledger/work.hpp"
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
        return out_of_bounds("draws", std::to_string(question.draws) + " draws",
                             "ask for 100 to 1,000,000");
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

bool takes_section(const LedgerQuestion& question, const ledger::Field& field, Day sliced) {
    if (question.histories == nullptr) {
        return false;
    }
    const auto found = question.histories->find(field.name);
    return found != question.histories->end() && found->second.knows(sliced);
}

void tell_sections(const std::vector<FieldQuestion>& questions,
                   std::vector<std::string>& assumptions) {
    std::vector<std::string> names;
    for (const FieldQuestion& one : questions) {
        if (one.takes_section) {
            names.push_back(one.field->name);
        }
    }
    tell(assumptions, names, "their beets keep as the physics of their part of the pile says.");
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

    [[nodiscard]] std::vector<LedgerGroup> accounts(const ledger::Model& model,
                                                    Steps& steps) const {
        std::vector<LedgerGroup> groups;
        for (const GroupBy by : wanted_) {
            groups.push_back({by, {}});
        }
        for (const auto& [key, draws] : sums_) {
            groups[key.first].accounts.push_back(
                ledger::summarise(model, key.second, draws, std::nullopt, detail_, &steps));
        }
        return groups;
    }

 private:
    const std::vector<GroupBy>& wanted_;
    std::size_t draws_;
    ledger::Detail detail_;
    std::map<std::pair<std::size_t, std::string>, LineDraws> sums_;
};

/// What an answer is made of, for what it costs.
struct Parts {
    std::map<std::pair<std::string, Day>, double> liftings;  ///< and the longest stay, in days
    std::set<ledger::Stay> stays;
    std::set<std::pair<GroupBy, std::string>> groups;
};

Parts parts_of(const LedgerQuestion& question, const std::vector<FieldQuestion>& questions) {
    Parts parts;
    for (const auto& one : questions) {
        if (!one.takes_section) {
            auto& longest = parts.liftings[{one.field->destination, one.lifted}];
            longest = std::max(longest, static_cast<double>((one.sliced - one.lifted).count()));
        }
        parts.stays.insert(ledger::stay_of(one));
        for (const GroupBy by : question.groups) {
            parts.groups.emplace(by, group_name(one, by));
        }
    }
    return parts;
}

/// All the steps that answering takes (ledger/work.hpp).
double work_of(const LedgerQuestion& question, const std::vector<FieldQuestion>& questions,
               const Parts& parts) {
    namespace work = ledger::work;
    double for_a_draw = work::kTable * ledger::Draws::kTables + work::kConstants;
    for (const auto& [lifting, longest] : parts.liftings) {
        for_a_draw += work::kStayDay * longest;
    }
    const bool is_full = question.detail == ledger::Detail::full;
    for_a_draw += static_cast<double>(questions.size()) *
                  (work::kField + work::kSummary + (is_full ? work::kContributors : 0.0));
    for_a_draw += static_cast<double>(1 + parts.groups.size()) * work::kSummary;
    return for_a_draw * static_cast<double>(question.draws);
}

/// How many fields are drawn side by side.
std::size_t batch_of(const WorkerPool& pool, std::size_t fields) {
    return std::min(fields, pool.threads() > 1 ? 4 * std::size_t{pool.threads()} : 1);
}

Result<Done> check_memory(const LedgerQuestion& question, std::size_t batch, const Parts& parts) {
    const std::size_t sums = batch + 1 + parts.groups.size();
    const std::size_t for_a_draw = ledger::Draws::kBytesOfADraw + sizeof(ledger::DrawConstants) +
                                   parts.stays.size() * sizeof(pile::Exposure) +
                                   sums * ledger::LineDraws::bytes_of_a_draw(question.detail);
    const std::size_t most = question.most_bytes / for_a_draw;
    if (question.most_bytes == 0 || question.draws <= most) {
        return Done{};
    }
    constexpr std::size_t megabyte = 1'000'000;
    const std::size_t round = most - most % 100;
    return out_of_bounds("draws",
                         std::to_string(question.draws) + " draws of this need " +
                             std::to_string(question.draws * for_a_draw / megabyte) +
                             " MB of memory, and there are " +
                             std::to_string(question.most_bytes / megabyte) + " MB for it",
                         round < kLeastDraws
                             ? "ask for fewer fields, or put them together in fewer ways"
                             : "ask for at most " + std::to_string(round));
}

/// The fields drawn and put together.
class FieldsAndSums {
 public:
    FieldsAndSums(const ledger::Model& model, const LedgerQuestion& question, Steps& steps)
        : model_(model),
          question_(question),
          steps_(steps),
          total_(question.draws, question.detail),
          groups_(question.groups, question.draws, question.detail) {}

    // Fields are drawn side by side in batches; the sums are made in the order of the fields, so
    // that they do not depend on who finished first. One thread alone takes one field at a time and
    // sums its draws while they are near; several take a few each, so that none waits long.
    void draw(const std::vector<FieldQuestion>& questions, WorkerPool& pool, LedgerAnswer& answer) {
        const std::size_t batch = batch_of(pool, questions.size());
        std::vector<LineDraws> drawn(batch, LineDraws(question_.draws, question_.detail));
        answer.fields.resize(questions.size());
        for (std::size_t first = 0; first < questions.size(); first += batch) {
            const std::size_t count = std::min(batch, questions.size() - first);
            pool.for_chunks(count, 1, [&](std::size_t from, std::size_t to) {
                for (std::size_t k = from; k < to && !steps_.are_stopped(); ++k) {
                    answer.fields[first + k] = account_of(questions[first + k], drawn[k]);
                }
            });
            if (steps_.are_stopped()) {
                return;
            }
            for (std::size_t k = 0; k < count; ++k) {
                total_.add(drawn[k]);
                groups_.add(questions[first + k], drawn[k]);
            }
        }
    }

    void put_together(LedgerAnswer& answer) const {
        answer.season = ledger::summarise(model_, model_.season().name, total_, std::nullopt,
                                          question_.detail, &steps_);
        answer.groups = groups_.accounts(model_, steps_);
    }

 private:
    ledger::Account account_of(const FieldQuestion& one, LineDraws& drawn) {
        ledger::draw_field(model_, one, question_.detail, drawn, &steps_);
        if (steps_.are_stopped()) {
            return {};
        }
        auto account =
            ledger::summarise(model_, one.field->name, drawn, one, question_.detail, &steps_);
        if (!steps_.are_stopped()) {
            account.not_proven = ledger::not_proven(account);
        }
        return account;
    }

    const ledger::Model& model_;
    const LedgerQuestion& question_;
    Steps& steps_;
    LineDraws total_;
    Groups groups_;
};

/// The questions' answers, whole unless the steps were stopped.
void draw_and_sum(const LedgerBasis& basis, const LedgerQuestion& question,
                  const std::vector<FieldQuestion>& questions, WorkerPool& pool, Steps& steps,
                  LedgerAnswer& answer) {
    const bool is_drawn = basis.drawn != nullptr && basis.drawn->draws.count() == question.draws;
    ledger::Model model =
        is_drawn ? ledger::Model(basis.standing, basis.catalogue, basis.drawn, &steps)
                 : ledger::Model(basis.standing, basis.catalogue, question.draws, &steps);
    if (question.histories != nullptr) {
        model.take(*question.histories);
    }
    std::vector<ledger::Stay> stays;
    for (const auto& one : questions) {
        stays.push_back(ledger::stay_of(one));
    }
    if (!steps.are_stopped()) {
        model.prepare(stays);
    }
    if (steps.are_stopped() || questions.empty()) {
        return;
    }
    FieldsAndSums sums(model, question, steps);
    sums.draw(questions, pool, answer);
    if (!steps.are_stopped()) {
        sums.put_together(answer);
    }
}

/// A basis whose constants are not drawn yet.
Result<LedgerBasis> undrawn_basis(const ledger::Season& season) {
    auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    LedgerBasis basis{ledger::without_superseded(season), std::move(*catalogue), {}, nullptr};
    basis.amounts = ledger::season_amounts(basis.standing, basis.catalogue);
    return basis;
}

}  // namespace

std::size_t LedgerBasis::place_of(const std::string& field) const {
    return static_cast<std::size_t>(
        std::ranges::find(standing.fields, field, &ledger::Field::name) - standing.fields.begin());
}

Result<LedgerBasis> ledger_basis(const ledger::Season& season, std::size_t draws,
                                 const LedgerBasis* before) {
    auto basis = undrawn_basis(season);
    if (!basis) {
        return basis;
    }
    const bool draws_hold = before != nullptr && before->drawn->draws.count() == draws &&
                            are_drawn_alike(before->standing, season);
    basis->drawn =
        draws_hold ? before->drawn : ledger::draw_constants(season, basis->catalogue, draws);
    return basis;
}

Result<LedgerAnswer> ask(const ledger::Season& season, const LedgerQuestion& question,
                         WorkerPool& pool, Progress* progress) {
    if (auto checked = check_question(season, question); !checked) {
        return checked.problems();
    }
    const auto basis = undrawn_basis(season);
    return basis ? ask(*basis, question, pool, progress) : Result<LedgerAnswer>(basis.problems());
}

Result<LedgerAnswer> ask(const LedgerBasis& basis, const LedgerQuestion& question, WorkerPool& pool,
                         Progress* progress) {
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
    std::vector<FieldQuestion> questions;
    for (std::size_t k = 0; k < fields.size(); ++k) {
        const auto& days = (*scheduled)[k];
        const auto index = static_cast<std::size_t>(fields[k] - season.fields.data());
        questions.push_back({fields[k], &basis.amounts[index], days.lifted, days.sliced,
                             takes_section(question, *fields[k], days.sliced)});
    }
    if (question.histories != nullptr) {
        tell_sections(questions, answer.assumptions);
    }
    const auto parts = parts_of(question, questions);
    if (auto fits = check_memory(question, batch_of(pool, questions.size()), parts); !fits) {
        return fits.problems();
    }
    Steps steps(progress, work_of(question, questions, parts));
    if (steps.done(0.0)) {
        draw_and_sum(basis, question, questions, pool, steps, answer);
    }
    if (steps.are_stopped()) {
        return not_wanted();
    }
    return answer;
}

}  // namespace beetwright::engine
