// Everything a season's ledgers share: the draws, and each model's constants for every draw.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "base/progress.hpp"
#include "beet/sugar_profile.hpp"
#include "beet/tip.hpp"
#include "beet/topping.hpp"
#include "ledger/draws.hpp"
#include "ledger/season.hpp"
#include "ledger/section_history.hpp"
#include "pile/lump.hpp"
#include "worth/molasses.hpp"

namespace beetwright::ledger {

/// The constants of one draw, as the kernel reads them.
struct DrawConstants {
    beet::TipConstants tip;
    beet::ProfileConstants profile;
    pile::LumpConstants lump;
    worth::MolassesCoefficients molasses;
    beet::ScarConstants scars;
    double loss_of_deep_cut = 0.0;  ///< share of a root's mass lost by one topped too deep
    double loss_of_slanted_cut = 0.0;
    double narrower_steps = 0.0;  ///< how many kWidestStep narrower than usual the roots are
    double root_surface_m2 = 0.0;
    double factory_loss = 0.0;
    double storage_offset_K = 0.0;  ///< error of the beet temperatures given
};

/// Beets that lie at a destination from one day to another.
struct Stay {
    std::string destination;
    Day lifted{};
    Day sliced{};  ///< not before `lifted`
    /// The field whose section of the pile it takes the history of; empty: the destination's
    /// temperatures.
    std::string section_of = {};

    auto operator<=>(const Stay&) const = default;
};

/// The draws of a season's constants. They depend on the catalogue, the seed and the formula for
/// molasses alone, so they serve as well when observations have been added.
struct DrawnConstants {
    Draws draws;
    std::vector<DrawConstants> constants;
};
/// `steps`, where given, are counted; once they are stopped what comes back is of no use.
std::shared_ptr<const DrawnConstants> draw_constants(const Season& season,
                                                     const Catalogue& catalogue, std::size_t draws,
                                                     Steps* steps = nullptr);

class Model {
 public:
    /// The catalogue must already hold the season's own numbers (season_catalogue).
    /// `steps`, where given, are counted here and by prepare(); once they are stopped the model is
    /// of no use.
    Model(const Season& season, const Catalogue& catalogue, std::size_t draws,
          Steps* steps = nullptr)
        : Model(season, catalogue, draw_constants(season, catalogue, draws, steps), steps) {}
    /// `drawn`: of this season and catalogue.
    Model(const Season& season, const Catalogue& catalogue,
          std::shared_ptr<const DrawnConstants> drawn, Steps* steps = nullptr)
        : season_(&season), catalogue_(&catalogue), steps_(steps), drawn_(std::move(drawn)) {}

    [[nodiscard]] const Season& season() const { return *season_; }
    [[nodiscard]] const Catalogue& catalogue() const { return *catalogue_; }
    [[nodiscard]] const Draws& draws() const { return drawn_->draws; }
    [[nodiscard]] const std::vector<DrawConstants>& constants() const { return drawn_->constants; }

    /// Histories for the stays that take one; they outlive the model.
    void take(const SectionHistories& histories) { histories_ = &histories; }

    /// Works out what these stays do to beet, once for beets lifted together. Must be called before
    /// draw_field asks for them; not thread-safe.
    void prepare(std::span<const Stay> stays);
    /// A stay that was prepared, per draw.
    [[nodiscard]] const std::vector<pile::Exposure>& exposures(const Stay& stay) const;

 private:
    [[nodiscard]] bool goes_on(double done) const;
    void prepare_lifting(std::span<const Stay> stays);
    void prepare_section(const Stay& stay);

    const Season* season_;
    const Catalogue* catalogue_;
    Steps* steps_;
    const SectionHistories* histories_ = nullptr;
    std::shared_ptr<const DrawnConstants> drawn_;
    std::map<Stay, std::vector<pile::Exposure>> exposures_;
};

/// The catalogue with the season's own numbers in place; each bad one is a problem.
Result<Catalogue> season_catalogue(const Season& season);

/// The daily mean beet temperatures [°C] at a destination from lifting to slicing: the given
/// series, its last value held on past its end and its first before its start; empty when the
/// destination has no temperatures.
std::vector<double> storage_days_celsius(const Season& season, const std::string& destination,
                                         Day lifted, Day sliced);

}  // namespace beetwright::ledger
