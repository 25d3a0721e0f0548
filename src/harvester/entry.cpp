#include "harvester/entry.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "base/sorted.hpp"

namespace beetwright::harvester {
namespace {

constexpr int kValues = 12;  ///< of a control, over its range
constexpr int kSweeps = 3;
constexpr int kMostSteps = 12;

double mean_total(const Prospect& prospect) {
    double sum = 0.0;
    for (const Earned& earned : prospect.earned) {
        sum += earned.total();
    }
    return sum / static_cast<double>(prospect.earned.size());
}

/// Values over a control's range, on its steps, with the usual one.
std::vector<double> values_of(const Control& control) {
    std::set<double> values{control.usual};
    if (traits(control.kind).is_choice()) {
        for (double choice = control.least; choice <= control.most; choice += 1.0) {
            values.insert(choice);
        }
    } else {
        for (int i = 0; i <= kValues; ++i) {
            const double at = (control.most - control.least) * i / kValues;
            values.insert(std::min(control.least + std::round(at / control.step) * control.step,
                                   control.most));
        }
    }
    return {values.begin(), values.end()};
}

Settings with(const Settings& settings, const std::vector<const Control*>& group, double value) {
    Settings changed = settings;
    for (const Control* control : group) {
        changed.values.find(control->id())->second = value;
    }
    return changed;
}

}  // namespace

Result<Entry> entry_settings(const Ground& ground, const KeptOff& pinned) {
    // A field is begun slowly, and faster only when beets were seen.
    KeptOff kept_off = pinned;
    kept_off.is_begun = false;
    Settings best = usual_settings(ground.machine);
    auto here = prospect(best, ground);
    if (!here) {
        return here.problems();
    }
    const Prospect usual = *here;
    const auto groups = set_together(ground.machine);
    double earned = mean_total(usual);
    for (int sweep = 0; sweep < kSweeps; ++sweep) {
        const double before = earned;
        for (const auto& group : groups) {
            const Control& control = *group.front();
            const bool is_pinned = std::ranges::any_of(group, [&](const Control* one) {
                return std::ranges::find(kept_off.pinned, one->id()) != kept_off.pinned.end();
            });
            if (is_pinned || !is_reckoned(control.kind)) {
                continue;
            }
            struct Option {
                double value, earned;
                Prospect prospect;
            };
            std::vector<Option> options;
            for (const double value : values_of(control)) {
                if (kept_off.is_too_fast(control, value)) {
                    continue;
                }
                const Settings changed = with(best, group, value);
                const bool alike = tops_alike(changed, best, ground.machine);
                auto after = prospect(changed, ground, alike ? &*here : nullptr);
                if (after) {
                    const double total = mean_total(*after);
                    options.push_back({value, total, std::move(*after)});
                }
            }
            if (options.empty()) {
                continue;
            }
            const double most = std::ranges::max(options, {}, &Option::earned).earned;
            const auto from_usual = [&](const Option& option) {
                return option.earned >= most - kAsGood ? std::abs(option.value - control.usual)
                                                       : HUGE_VAL;
            };
            Option& chosen = *std::ranges::min_element(options, {}, from_usual);
            best = with(best, group, chosen.value);
            earned = chosen.earned;
            here = std::move(chosen.prospect);
        }
        if (earned - before < kAsGood) {
            break;
        }
    }

    // What advice would change at once is set so to begin with: the two say the same.
    for (int step = 0; step < kMostSteps; ++step) {
        auto more = advise(best, ground, kept_off, kAsGood);
        if (!more || !more->change) {
            break;
        }
        best = std::move(more->change->settings);
    }
    here = prospect(best, ground);

    Entry entry{.settings = best,
                .figures = harvester::figures(best, ground, *here),
                .reasons = {},
                .gain = {}};
    const auto over = [&](const Prospect& one, const Prospect& other) {
        std::vector<double> gains;
        for (std::size_t i = 0; i < one.earned.size(); ++i) {
            gains.push_back(one.earned[i].total() - other.earned[i].total());
        }
        return summary(std::move(gains));
    };
    entry.gain = over(*here, usual);
    for (const auto& group : groups) {
        const Control& control = *group.front();
        const double value = *best.find(control.id());
        if (value == control.usual) {
            continue;
        }
        const Settings as_usual = with(best, group, control.usual);
        const auto without = prospect(as_usual, ground);
        if (!without) {
            continue;
        }
        const Figures before = harvester::figures(as_usual, ground, *without);
        Reason reason{.control = control.id(),
                      .usual = control.usual,
                      .value = value,
                      .cost_of_usual = over(*here, *without),
                      .for_the_sake_of = {}};
        std::vector<std::pair<double, Figure>> moved;
        for (std::size_t f = 0; f < kFigures; ++f) {
            const double change = std::abs(entry.figures[f].value - before[f].value) /
                                  std::max(std::abs(before[f].value), 1e-12);
            moved.emplace_back(change, static_cast<Figure>(f));
        }
        sort_list(moved, std::greater<>());
        for (const auto& [change, figure] : moved) {
            constexpr double kWorthTelling = 0.03;
            if (change > kWorthTelling && reason.for_the_sake_of.size() < 3) {
                reason.for_the_sake_of.push_back(figure);
            }
        }
        entry.reasons.push_back(std::move(reason));
    }
    sort_list(entry.reasons, std::greater<>(),
              [](const Reason& reason) { return reason.cost_of_usual.value; });
    return entry;
}

}  // namespace beetwright::harvester
