#include "check/lab.hpp"

#include <vector>

#include "check/sample_mean.hpp"

namespace beetwright::check {
namespace {

enum class UsualSpread { absolute, relative };

template <class Content>
std::optional<num::Uncertain> mean_content(std::span<const LabSample> samples,
                                           Content LabSample::*content, double usual,
                                           UsualSpread spread, double usual_freedom) {
    std::vector<double> values;
    double mean = 0.0;
    for (const auto& sample : samples) {
        if ((sample.*content).is_known()) {
            values.push_back((sample.*content).si());
            mean += values.back();
        }
    }
    if (values.empty()) {
        return std::nullopt;
    }
    mean /= static_cast<double>(values.size());
    const double usual_sd = spread == UsualSpread::relative ? usual * mean : usual;
    return mean_of_samples(values, usual_sd, usual_freedom);
}

}  // namespace

LabMeans lab_of(std::span<const LabSample> samples, const Catalogue& catalogue) {
    const double weight = catalogue.value(ConstantId::check_usual_spread_weight);
    const auto relative = [&](AmountContent LabSample::*content, ConstantId cv) {
        return mean_content(samples, content, catalogue.value(cv), UsualSpread::relative, weight);
    };
    return {.pol = mean_content(samples, &LabSample::pol, catalogue.value(ConstantId::check_pol_sd),
                                UsualSpread::absolute, weight),
            .potassium = relative(&LabSample::potassium, ConstantId::check_potassium_cv),
            .sodium = relative(&LabSample::sodium, ConstantId::check_sodium_cv),
            .amino_nitrogen =
                relative(&LabSample::amino_nitrogen, ConstantId::check_amino_nitrogen_cv)};
}

}  // namespace beetwright::check
