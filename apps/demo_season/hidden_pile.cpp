#include "demo_season/hidden_pile.hpp"

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"

namespace beetwright::demo {
namespace {

/// Cells as coarse as the physics has them, so that a season is made in no time.
constexpr Length kCell(1.0);

/// A well kept pile: beets that breathe less than most, in large roots that lie loose and clean, so
/// that the wind finds its way.
void keep_well(engine::PileMember& member) {
    const auto score = [&](ConstantId id) -> double& {
        return member.constants[static_cast<std::size_t>(id)];
    };
    using enum ConstantId;
    score(storage_basal_rate) = -1.2;
    score(storage_healing_extra) = -1.0;
    score(pile_root_diameter) = 1.0;
    score(pile_bulk_density) = -1.3;
    score(pile_wind_share) = 1.0;
    score(pile_wind_windward) = 0.7;
    for (engine::PartScores& part : member.parts) {
        part.breathing = -0.3;
        part.resistance = -0.8;
        part.waves = {0.5, -0.4, 0.2, 0.3};
    }
}

std::size_t part_at(const engine::PileStudy& study, Length along) {
    const auto part = std::ranges::find_if(
        study.parts(), [&](const engine::PilePart& one) { return along <= one.to; });
    require(part != study.parts().end(), "probes are read where beets lie");
    return static_cast<std::size_t>(part - study.parts().begin());
}

}  // namespace

HiddenPile::HiddenPile(const ledger::Season& season, const std::string& pile, Instant told) {
    auto made = engine::PileStudy::make(
        season, {.pile = pile,
                 .at = told,
                 .until = std::chrono::floor<std::chrono::days>(told + std::chrono::days(2)),
                 .members = 2,
                 .cell = kCell});
    require(made.ok(), "the demo's piles stand");
    study_ = std::move(*made);
    truth_ = study_->new_members(1).front();
    keep_well(truth_);
}

std::vector<std::optional<Temperature>> HiddenPile::at(std::span<const InPile> where) const {
    std::vector<std::optional<Temperature>> read(where.size());
    for (std::size_t part = 0; part < study_->parts().size(); ++part) {
        std::vector<engine::SampleAt> samples;
        std::vector<std::size_t> of;
        for (std::size_t i = 0; i < where.size(); ++i) {
            if (part_at(*study_, where[i].place.along) == part) {
                samples.push_back({where[i].at, where[i].place.across, where[i].place.height});
                of.push_back(i);
            }
        }
        if (samples.empty()) {
            continue;
        }
        const auto course =
            study_->course(study_->basis(), {.part = part,
                                             .weather = 0,
                                             .member = &truth_,
                                             .beets = {},
                                             .deed = {},
                                             .frames = {},
                                             .samples = samples,
                                             .ends = samples.back().at + std::chrono::hours(1)});
        require(course.ok(), "the demo's piles get through their weather");
        for (std::size_t i = 0; i < of.size(); ++i) {
            if (std::isfinite(course->samples[i].celsius)) {
                read[of[i]] = Temperature::celsius(course->samples[i].celsius);
            }
        }
    }
    return read;
}

}  // namespace beetwright::demo
