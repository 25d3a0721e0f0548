#include "engine/pile_study.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/number_text.hpp"
#include "engine/as_of.hpp"
#include "engine/out_of_bounds.hpp"
#include "engine/pile_weather.hpp"
#include "ledger/evidence.hpp"
#include "ledger/flow.hpp"
#include "ledger/standing_draws.hpp"

namespace beetwright::engine {
namespace {

using ledger::Standing;
using std::chrono::days;

constexpr int kMostAhead_d = 250;
/// As few draws of a field's amounts as a model makes; members take them in turn.
constexpr std::size_t kDraws = 100;

Problems problems_of(const StudyQuestion& question) {
    Problems problems;
    if (question.members < 2 || question.members > 200) {
        problems.push_back(out_of_bounds("members", std::to_string(question.members) + " members",
                                         "ask for 2 to 200"));
    }
    if (!(question.cell >= Length(0.2) && question.cell <= Length(1.0))) {
        problems.push_back(out_of_bounds("cell", general_text(question.cell.si(), 4) + " m",
                                         "ask for cells of 0.2 to 1 m"));
    }
    return problems;
}

/// The fields whose beets lie in a pile, in the season's order.
std::vector<std::size_t> fields_in(const PileContents& contents) {
    std::vector<std::size_t> fields;
    for (const PilePart& part : contents.parts) {
        for (const BeetInPart& beet : part.beets()) {
            if (std::ranges::find(fields, beet.field) == fields.end()) {
                fields.push_back(beet.field);
            }
        }
    }
    return fields;
}

/// The mean of these beets in a draw.
LayerBeet mean_of(const PileLayer& layer,
                  const std::map<std::size_t, std::vector<Standing>>& standings, std::size_t draw) {
    LayerBeet mean;
    for (const BeetInPart& one : layer.beets) {
        const double share = one.mass / layer.mass;
        const Standing& s = standings.at(one.field)[draw];
        mean.condition.tail_wound += share * s.condition.tail_wound;
        mean.condition.crown_wound += share * s.condition.crown_wound;
        mean.condition.skin_wound += share * s.condition.skin_wound;
        mean.condition.leaf += share * s.condition.leaf;
        mean.condition.soil += share * s.condition.soil;
        mean.condition.rotten_share += share * s.condition.rotten_share;
        mean.condition.frosted_share += share * s.condition.frosted_share;
        mean.sugar += share * s.pol;
        mean.molasses += share * (s.molasses + s.molasses_of_leaf);
        mean.soil += share * s.soil;
        mean.tops += share * s.tops;
    }
    return mean;
}

}  // namespace

Result<std::unique_ptr<PileStudy>> PileStudy::make(const ledger::Season& season,
                                                   const StudyQuestion& question) {
    if (auto problems = problems_of(question); !problems.empty()) {
        return problems;
    }
    if (!season.weather || season.weather->is_empty()) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = "weather"},
                       "the season has no weather, and a pile lives by it",
                       "read hourly weather: docs/formats/weather.md"};
    }
    const Instant now = question.at.value_or(as_of(season));
    std::unique_ptr<PileStudy> study(new PileStudy(known_season(season, now)));
    auto catalogue = ledger::season_catalogue(study->season_);
    if (!catalogue) {
        return catalogue.problems();
    }
    study->catalogue_ = std::make_unique<Catalogue>(*std::move(catalogue));
    const auto amounts = ledger::season_amounts(study->season_, *study->catalogue_);
    auto contents = pile_contents(study->season_, question.pile, amounts, *study->catalogue_, now);
    if (!contents) {
        return contents.problems();
    }
    study->contents_ = *std::move(contents);
    study->assumptions_ = study->contents_.assumptions;

    std::vector<const ledger::Field*> fields;
    for (const std::size_t field : fields_in(study->contents_)) {
        fields.push_back(&study->season_.fields[field]);
    }
    const auto schedules = schedule(study->season_, fields, {}, study->assumptions_);
    if (!schedules) {
        return schedules.problems();
    }
    Day last{};
    for (const FieldDays& one : *schedules) {
        last = std::max(last, one.sliced);
    }
    const Day today = std::chrono::floor<days>(now + clock_of(study->season_));
    CourseBasis& basis = study->basis_;
    basis.season = &study->season_;
    basis.catalogue = study->catalogue_.get();
    basis.contents = &study->contents_;
    basis.now = now;
    basis.until = question.until.value_or(std::max(last, today + days(1)));
    basis.cell = question.cell;
    if (basis.until <= today || basis.until > today + days(kMostAhead_d)) {
        return out_of_bounds(
            "until", to_text(basis.until) + " is not among the 250 days after " + to_text(today),
            "ask for one of them");
    }
    if (const auto grid = part_grid(basis); !grid) {
        return grid.problems();
    }
    if (const auto looked = study->look_ahead(question); !looked) {
        return looked.problems();
    }
    study->members_ = study->new_members(question.members);
    study->take_beets(amounts, *schedules);
    return study;
}

Result<Done> PileStudy::look_ahead(const StudyQuestion& question) {
    Instant first = parts().front().piled();
    for (const PilePart& part : parts()) {
        first = std::min(first, part.piled());
    }
    constexpr days kBefore{2};
    auto outlook = weather::outlook(
        *season_.weather, {.now = basis_.now,
                           .behind = std::chrono::ceil<days>(basis_.now - first) + kBefore,
                           .ahead = basis_.until - today() + days(2),
                           .members = question.members,
                           .seed = season_.seed});
    if (!outlook) {
        return outlook.problems();
    }
    outlook_ = std::make_unique<weather::Outlook>(*std::move(outlook));
    for (const std::string& note : outlook_->notes) {
        assumptions_.push_back(note);
    }
    const auto clock = outlook_->members.front().clock;
    if (outlook_->end() < until() + days(1) - clock) {
        return Problem{
            ProblemKind::missing,
            {.file = "", .line = 0, .field = "weather"},
            "the weather is known until " + weather::local_text(outlook_->end(), clock) +
                ", and the pile is looked at until the end of " + to_text(until()),
            "read the usual weather of a year (docs/formats/weather.md), or ask for a day "
            "before that"};
    }
    suns_ = suns_of(outlook_->members.front());
    const weather::Series* climate =
        season_.weather->climate ? &*season_.weather->climate : nullptr;
    const Day begun = std::chrono::floor<days>(first);
    constexpr Length kBelowItsGround(3.3);
    constexpr Length kSurface(0.2);
    basis_.outlook = outlook_.get();
    basis_.suns = suns_;
    basis_.ground_C = ground_celsius(climate, begun, kSurface);
    basis_.deep_ground_C = ground_celsius(climate, begun, kBelowItsGround);
    return Done{};
}

void PileStudy::take_beets(std::span<const ledger::FieldAmounts> amounts,
                           const std::vector<FieldDays>& schedules) {
    const ledger::Model model(season_, *catalogue_, kDraws);
    const auto fields = fields_in(contents_);
    std::map<std::size_t, std::vector<Standing>> standings;
    for (const std::size_t field : fields) {
        standings.emplace(field,
                          ledger::standing_draws(model, season_.fields[field], amounts[field]));
    }
    for (const PilePart& part : parts()) {
        PartFacts facts;
        const double mass = part.mass().si();
        double sliced_d = 0.0;
        for (const BeetInPart& beet : part.beets()) {
            const ledger::Field& field = season_.fields[beet.field];
            const auto place =
                static_cast<std::size_t>(std::ranges::find(fields, beet.field) - fields.begin());
            const double share = beet.mass.si() / mass;
            facts.fields.push_back(field.name);
            facts.haul_m += field.haul.is_known() ? share * field.haul.si() : 0.0;
            sliced_d +=
                share * static_cast<double>(schedules[place].sliced.time_since_epoch().count());
        }
        const Day sliced{days(static_cast<int>(std::lround(sliced_d)))};
        facts.sliced = std::clamp(sliced, today(), until());
        facts_.push_back(std::move(facts));

        std::vector<std::vector<LayerBeet>> by_draw;
        for (std::size_t draw = 0; draw < kDraws; ++draw) {
            std::vector<LayerBeet> layers;
            for (const PileLayer& layer : part.layers) {
                layers.push_back(mean_of(layer, standings, draw));
            }
            by_draw.push_back(std::move(layers));
        }
        beets_.push_back(std::move(by_draw));
    }
}

std::vector<PileMember> PileStudy::new_members(std::size_t count) const {
    auto made = pile_members(season_.seed, count, parts().size());
    for (std::size_t m = 0; m < count; ++m) {
        // Spread over the draws, which are in no order.
        made[m].beets = m * (kDraws / count + 1) % kDraws;
    }
    return made;
}

Result<PartCourse> PileStudy::course(const CourseBasis& basis, CourseQuestion question) const {
    question.weather %= outlook_->members.size();
    const auto beets_of_part = beets(question.part, *question.member);
    question.beets = beets_of_part;
    return part_course(basis, question);
}

std::vector<LayerBeet> PileStudy::beets(std::size_t part, const PileMember& member) const {
    std::vector<LayerBeet> layers = beets_[part][member.beets];
    const auto& moved = member.parts[part].moved;
    for (LayerBeet& layer : layers) {
        const auto traits = traits_of(layer.condition);
        for (std::size_t t = 0; t < traits.size(); ++t) {
            *traits[t] = std::min(1.0, *traits[t] * std::exp(moved[t]));
        }
    }
    return layers;
}

Day PileStudy::today() const {
    return std::chrono::floor<days>(basis_.now + clock_of(season_));
}

Day PileStudy::first_day(std::size_t part) const {
    const weather::Series& series = outlook_->members.front();
    return std::chrono::floor<days>(parts()[part].piled() + series.clock);
}

Result<Courses> PileStudy::run(const PileDeed& deed, WorkerPool& pool, Steps& steps,
                               std::span<const Day> frames,
                               const std::optional<PicturedPart>& pictured) const {
    return run_from(0, parts().size(), deed, pool, steps, frames, pictured);
}

Result<Courses> PileStudy::run_part(std::size_t part, const PileDeed& deed, WorkerPool& pool,
                                    Steps& steps, std::span<const Day> frames) const {
    return run_from(part, part + 1, deed, pool, steps, frames, std::nullopt);
}

Result<Courses> PileStudy::run_from(std::size_t first, std::size_t last, const PileDeed& deed,
                                    WorkerPool& pool, Steps& steps, std::span<const Day> frames,
                                    const std::optional<PicturedPart>& pictured) const {
    const std::size_t members = members_.size();
    Courses courses(parts().size(), members);
    std::vector<Problems> wrong((last - first) * members);
    pool.for_chunks(wrong.size(), 1, [&](std::size_t from, std::size_t to) {
        for (std::size_t run = from; run < to && !steps.are_stopped(); ++run) {
            const std::size_t part = first + run / members;
            const std::size_t m = run % members;
            const bool has_own = pictured && pictured->part == part;
            auto course = this->course(basis_, {.part = part,
                                                .weather = m,
                                                .member = &members_[m],
                                                .beets = {},
                                                .deed = deed,
                                                .frames = has_own ? pictured->days : frames});
            if (course) {
                courses.of(part, m) = *std::move(course);
            } else {
                wrong[run] = course.problems();
            }
            steps.done(1.0);
        }
    });
    if (steps.are_stopped()) {
        return not_wanted();
    }
    for (const Problems& one : wrong) {
        if (!one.empty()) {
            return one;
        }
    }
    return courses;
}

double PileStudy::sugar_kg(std::size_t part, std::size_t member) const {
    double sugar = 0.0;
    for (std::size_t i = 0; i < parts()[part].layers.size(); ++i) {
        sugar += parts()[part].layers[i].mass.si() * beets_[part][members_[member].beets][i].sugar;
    }
    return sugar;
}

double PileStudy::paid(std::size_t part, std::size_t member, Day sliced, double left) const {
    if (!season_.terms.pay()) {
        return 0.0;
    }
    const double mass = parts()[part].mass().si();
    const double sugar = sugar_kg(part, member);
    const double lost = sugar * (1.0 - left);
    ledger::Delivered delivered;
    delivered.mass = mass - ledger::kMassLostPerSugar * lost;
    delivered.sugar = sugar - lost;
    delivered.lifted = mass;
    for (std::size_t i = 0; i < parts()[part].layers.size(); ++i) {
        const double layer = parts()[part].layers[i].mass.si();
        const LayerBeet& beet = beets_[part][members_[member].beets][i];
        delivered.molasses += layer * beet.molasses;
        delivered.soil += layer * beet.soil;
        delivered.tops += layer * beet.tops;
    }
    return ledger::pay(delivered, worth::price_on(season_.terms, sliced, facts_[part].haul_m))
        .total();
}

const PartDay& PileStudy::on(std::size_t part, const PartCourse& course, Day day) const {
    const auto d = (day - first_day(part)).count();
    const auto last = static_cast<std::ptrdiff_t>(course.days.size()) - 1;
    return course.days[static_cast<std::size_t>(
        std::clamp(static_cast<std::ptrdiff_t>(d), std::ptrdiff_t{0}, last))];
}

}  // namespace beetwright::engine
