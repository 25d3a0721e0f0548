#include "check/strip.hpp"

#include <algorithm>
#include <vector>

#include "base/contract.hpp"
#include "check/sample_mean.hpp"

namespace beetwright::check {
namespace {

num::Uncertain loss_per_area(std::span<const DugStrip> strips, CleanMass DugStrip::*part,
                             const Catalogue& catalogue) {
    std::vector<double> per_area;
    double mean = 0.0;
    for (const auto& strip : strips) {
        per_area.push_back((strip.*part / strip.area).si());
        mean += per_area.back() / static_cast<double>(strips.size());
    }
    // A strip with nothing on it does not mean that the field has nothing: the usual spread is at
    // least that of one small root on it.
    const double least =
        catalogue.value(ConstantId::check_smallest_find) / strips.front().area.si();
    const double usual_sd = catalogue.value(ConstantId::check_strip_cv) * std::max(mean, least);
    return mean_of_samples(per_area, usual_sd,
                           catalogue.value(ConstantId::check_usual_spread_weight));
}

}  // namespace

StripLosses strip_losses(std::span<const DugStrip> strips, const Catalogue& catalogue) {
    require(!strips.empty(), "a loss needs at least one strip");
    return {loss_per_area(strips, &DugStrip::whole_roots, catalogue),
            loss_per_area(strips, &DugStrip::pieces, catalogue),
            loss_per_area(strips, &DugStrip::tails, catalogue)};
}

Area strip_area(int rows, Length row_spacing, Length length) {
    return static_cast<double>(rows) * (row_spacing * length);
}

CleanMassPerArea bucket_loss(CleanMass gross, CleanMass bucket, Area area) {
    return (gross - bucket) / area;
}

}  // namespace beetwright::check
