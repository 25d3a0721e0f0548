#include "ledger/model.hpp"

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"
#include "base/sorted.hpp"
#include "ledger/amounts.hpp"
#include "ledger/work.hpp"

namespace beetwright::ledger {
namespace {

constexpr std::size_t kDrawsBetweenLooks = 1000;

const Destination* find_destination(const Season& season, const std::string& name) {
    const auto found = std::ranges::find(season.destinations, name, &Destination::name);
    return found == season.destinations.end() ? nullptr : &*found;
}

}  // namespace

Result<Catalogue> season_catalogue(const Season& season) {
    Catalogue catalogue;
    Problems problems;
    for (const auto& own : season.replacements) {
        if (auto done = catalogue.replace(own.id, own.value, own.low, own.high); !done) {
            problems.insert(problems.end(), done.problems().begin(), done.problems().end());
        }
    }
    if (!problems.empty()) {
        return problems;
    }
    return catalogue;
}

std::shared_ptr<const DrawnConstants> draw_constants(const Season& season,
                                                     const Catalogue& catalogue, std::size_t draws,
                                                     Steps* steps) {
    auto drawn = std::make_shared<DrawnConstants>(
        DrawnConstants{Draws(catalogue, season.seed, draws, steps), {}});
    drawn->constants.reserve(draws);
    const double usual_widest_m =
        beet::scar_constants([&](ConstantId id) { return catalogue.value(id); }).widest_m;
    for (std::size_t i = 0; i < draws; ++i) {
        if (i % kDrawsBetweenLooks == 0 && steps != nullptr &&
            !steps->done(kDrawsBetweenLooks * work::kConstants)) {
            return drawn;
        }
        const auto get = [&](ConstantId id) { return drawn->draws.at(id, i); };
        drawn->constants.push_back({
            .tip = beet::tip_constants(get),
            .profile = beet::profile_constants(get),
            .lump = pile::lump_constants(get),
            .molasses = worth::molasses_coefficients(season.terms.molasses_formula, get),
            .scars = beet::scar_constants(get),
        });
        auto& one = drawn->constants.back();
        one.loss_of_deep_cut = beet::loss_of_deep_cut(get);
        one.loss_of_slanted_cut = beet::loss_of_slanted_cut(get);
        one.narrower_steps = std::log(usual_widest_m / one.scars.widest_m) / std::log(kWidestStep);
        one.root_surface_m2 = get(ConstantId::root_surface);
        one.factory_loss = get(ConstantId::molasses_factory_loss);
        one.storage_offset_K = get(ConstantId::storage_temperature_error);
    }
    return drawn;
}

bool Model::goes_on(double done) const {
    return steps_ == nullptr || steps_->done(done);
}

void Model::prepare(std::span<const Stay> stays) {
    std::vector<Stay> all(stays.begin(), stays.end());
    std::erase_if(all, [&](const Stay& stay) { return exposures_.contains(stay); });
    sort_list(all);
    all.erase(std::unique(all.begin(), all.end()), all.end());
    const auto together = [](const Stay& a, const Stay& b) {
        return a.section_of.empty() && b.section_of.empty() && a.destination == b.destination &&
               a.lifted == b.lifted;
    };
    for (auto first = all.begin(); first != all.end();) {
        const auto last = std::find_if_not(
            std::next(first), all.end(), [&](const Stay& stay) { return together(*first, stay); });
        if (first->section_of.empty()) {
            prepare_lifting({first, last});
        } else {
            prepare_section(*first);
        }
        first = last;
    }
}

/// Stays of one destination and lifting day, the shortest first: each is a part of the next.
void Model::prepare_lifting(std::span<const Stay> stays) {
    const Stay& longest = stays.back();
    const auto given =
        storage_days_celsius(*season_, longest.destination, longest.lifted, longest.sliced);
    std::vector<std::size_t> days;
    std::vector<std::vector<pile::Exposure>*> all;
    for (const Stay& stay : stays) {
        days.push_back(static_cast<std::size_t>((stay.sliced - stay.lifted).count()));
        all.push_back(&exposures_[stay]);
        all.back()->resize(draws().count());
    }
    std::vector<double> celsius(days.back());
    std::vector<pile::Exposure> after(days.size());
    const double work_for_a_draw = work::kStayDay * static_cast<double>(days.back());
    for (std::size_t i = 0; i < draws().count(); ++i) {
        if (i % kDrawsBetweenLooks == 0 && !goes_on(kDrawsBetweenLooks * work_for_a_draw)) {
            return;
        }
        if (given.empty()) {
            const double assumed =
                Temperature::kelvin(draws().at(ConstantId::prior_storage_temperature, i))
                    .in_celsius();
            std::ranges::fill(celsius, assumed);
        } else {
            const double offset = constants()[i].storage_offset_K;
            std::ranges::transform(given, celsius.begin(),
                                   [offset](double t) { return t + offset; });
        }
        pile::exposures(celsius, constants()[i].lump, days, after);
        for (std::size_t k = 0; k < all.size(); ++k) {
            (*all[k])[i] = after[k];
        }
    }
}

void Model::prepare_section(const Stay& stay) {
    const auto found = histories_->find(stay.section_of);
    require(found != histories_->end() && found->second.knows(stay.sliced),
            "a stay takes a history that is known");
    auto& exposures = exposures_[stay];
    exposures.reserve(draws().count());
    for (std::size_t i = 0; i < draws().count(); ++i) {
        exposures.push_back(found->second.at(stay.sliced, i, constants()[i].lump.basal_at_5C));
    }
}

const std::vector<pile::Exposure>& Model::exposures(const Stay& stay) const {
    const auto found = exposures_.find(stay);
    require(found != exposures_.end(), "a stay is prepared before it is drawn");
    return found->second;
}

std::vector<double> storage_days_celsius(const Season& season, const std::string& destination,
                                         Day lifted, Day sliced) {
    const Destination* place = find_destination(season, destination);
    if (place == nullptr || place->temperatures.empty()) {
        return {};
    }
    const auto& series = place->temperatures;
    std::vector<double> days;
    for (Day day = lifted; day < sliced; day += std::chrono::days(1)) {
        const auto offset = (day - series.front().day).count();
        const auto last = static_cast<std::int64_t>(series.size()) - 1;
        const auto index = static_cast<std::size_t>(std::clamp<std::int64_t>(offset, 0, last));
        days.push_back(series[index].mean.in_celsius());
    }
    return days;
}

}  // namespace beetwright::ledger
