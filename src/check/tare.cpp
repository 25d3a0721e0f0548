#include "check/tare.hpp"

#include <vector>

#include "check/sample_mean.hpp"

namespace beetwright::check {

CleanMass clean_mass(const TareSample& sample) {
    const double tops = sample.tops.is_known() ? sample.tops.si() : 0.0;
    return CleanMass(sample.gross.si() - sample.soil.si() - tops);
}

Tare tare_of(std::span<const TareSample> samples, const Catalogue& catalogue) {
    std::vector<double> soil;
    std::vector<double> tops;
    for (const auto& sample : samples) {
        const double clean = clean_mass(sample).si();
        if (!(clean > 0.0)) {
            continue;
        }
        soil.push_back(sample.soil.si() / clean);
        if (sample.tops.is_known()) {
            tops.push_back(sample.tops.si() / clean);
        }
    }
    const auto of = [&](const std::vector<double>& values) -> std::optional<num::Uncertain> {
        if (values.empty()) {
            return std::nullopt;
        }
        double mean = 0.0;
        for (const double value : values) {
            mean += value / static_cast<double>(values.size());
        }
        const double usual_sd = catalogue.value(ConstantId::check_tare_cv) * mean;
        return mean_of_samples(values, usual_sd,
                               catalogue.value(ConstantId::check_usual_spread_weight));
    };
    return {of(soil), of(tops)};
}

}  // namespace beetwright::check
