// Fields whose truth is known, and what a person would count in them.
//
// The truth is drawn from wide distributions of field conditions; the published constants are drawn
// from the catalogue's own spreads, because that is what the catalogue claims about them. Counts
// are taken with clusters: beets of one spot are alike. Nothing of the estimators is used here.
#pragma once

#include <cstdint>
#include <vector>

#include "base/random.hpp"
#include "ledger/season.hpp"

namespace beetwright::ledger::simulated {

/// What is true of one field, SI.
struct FieldTruth {
    double deep_share = 0.0;
    double slanted_share = 0.0;
    double long_petioles = 0.0;
    double break_shape = 0.0;  ///< gamma distribution of break diameters
    double break_scale_m = 0.0;
    double whole_tail_share = 0.0;  ///< beets with the tail on
    double skin_damage_m2 = 0.0;
    double rotten = 0.0;
    double frosted = 0.0;
    double scar_m = 0.0;          ///< mean diameter of the cut; gamma of shape kScarShape
    double deep_scar_m = 0.0;     ///< the same of beets topped too deep
    double standing_kg_m2 = 0.0;  ///< roots that go into the machine, topped correctly
    double whole_roots_kg_m2 = 0.0;
    double pieces_kg_m2 = 0.0;
    double soil = 0.0;
    double tops = 0.0;
    double pol = 0.0;
    double potassium = 0.0;
    double sodium = 0.0;
    double amino_nitrogen = 0.0;
    /// Intra-spot correlation of shares, and squared CV of what varies by spot; each field has its
    /// own, as fields are sown and lifted more or less evenly.
    double alikeness = 0.0;

    /// The mean of (break diameter / 5 cm)^exponent over all beets.
    [[nodiscard]] double tail_moment(double exponent) const;
    [[nodiscard]] double tail_break_area_m2() const;
    [[nodiscard]] double scar_area_m2() const;
    /// The mean of crown_above_scar() over beets topped too deep, for roots this wide.
    [[nodiscard]] double deep_scars(double widest_m) const;
};

inline constexpr double kScarShape = 12.0;
inline constexpr double kSkinShape = 1.5;

/// `usual_alikeness` is the catalogue's.
FieldTruth draw_truth(RandomStream& random, double usual_alikeness);

/// How the field is looked at.
struct Looking {
    int spots = 10;
    int beets_per_spot = 10;
    int strips = 4;
    int tares = 4;
    int labs = 4;
};

/// Fills the season with this field (named `name`) and what is counted in it. `delivered_kg_m2` is
/// the clean beet that truly crossed the weighbridge.
void observe(Season& season, const std::string& name, const FieldTruth& truth,
             double delivered_kg_m2, const Looking& looking, RandomStream& random,
             const Catalogue& catalogue);

}  // namespace beetwright::ledger::simulated
