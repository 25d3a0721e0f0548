#include "harvester/advice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>

#include "base/sorted.hpp"

namespace beetwright::harvester {
namespace {

/// At once, no more than this share of what the machine can do; and beyond the nearer one only
/// where help is all but sure, since what is known is known best near to where it was seen.
constexpr double kMostOfRange = 0.4;
constexpr double kNearOfRange = 0.2;
constexpr double kSureChance = 0.9;
constexpr std::array kPartsOfRange{0.05, 0.1, 0.2, 0.3, kMostOfRange};
constexpr std::size_t kOthers = 4;

bool is_kept_off(const KeptOff& kept_off, const Control& control, bool upwards) {
    const std::string id = control.id();
    return std::ranges::find(kept_off.pinned, id) != kept_off.pinned.end() ||
           std::ranges::any_of(kept_off.declined, [&](const KeptOff::Declined& one) {
               return one.control == id && one.upwards == upwards;
           });
}

/// Controls that are moved together: each alone, and all that are set alike where there are
/// several.
std::vector<std::vector<const Control*>> groups_of(const Machine& machine) {
    std::vector<std::vector<const Control*>> groups;
    for (const Control& control : machine.controls) {
        groups.push_back({&control});
    }
    for (auto& together : set_together(machine)) {
        if (together.size() > 1) {
            groups.push_back(std::move(together));
        }
    }
    return groups;
}

double moved(const Control& control, double from, double by) {
    const double steps = std::max(std::round(std::abs(by) / control.step), 1.0);
    const double to = from + std::copysign(steps * control.step, by);
    return std::clamp(to, control.least, control.most);
}

/// Every change of one group that the machine, and whoever keeps it off, allows.
std::vector<Change> changes_of(const std::vector<const Control*>& group, const Settings& settings,
                               const KeptOff& kept_off) {
    std::vector<Change> changes;
    const Control& first = *group.front();
    if (!is_reckoned(first.kind)) {
        return changes;
    }
    const double from = *settings.find(first.id());
    const auto add = [&](double to) {
        const bool is_new =
            std::ranges::none_of(changes, [&](const Change& one) { return one.to == to; });
        const bool is_free = std::ranges::none_of(group, [&](const Control* control) {
            return is_kept_off(kept_off, *control, to > from);
        });
        if (to != from && is_new && is_free && !kept_off.is_too_fast(first, to)) {
            Change change{{}, from, to};
            for (const Control* control : group) {
                change.controls.push_back(control->id());
            }
            changes.push_back(std::move(change));
        }
    };
    if (traits(first.kind).is_choice()) {
        for (double choice = first.least; choice <= first.most; choice += 1.0) {
            add(choice);
        }
        return changes;
    }
    for (const double part : kPartsOfRange) {
        const double by = part * (first.most - first.least);
        add(moved(first, from, by));
        add(moved(first, from, -by));
    }
    return changes;
}

Settings with(const Settings& settings, const Change& change, const Machine& machine) {
    Settings changed = settings;
    for (const std::string& id : change.controls) {
        const Control& control = *machine.find(id);
        double& value = changed.values.find(id)->second;
        value = traits(control.kind).is_choice()
                    ? change.to
                    : std::clamp(value + change.to - change.from, control.least, control.most);
    }
    return changed;
}

std::vector<double> gains_over(const Prospect& after, const Prospect& before) {
    std::vector<double> gains(after.earned.size());
    for (std::size_t i = 0; i < gains.size(); ++i) {
        gains[i] = after.earned[i].total() - before.earned[i].total();
    }
    return gains;
}

double chance_of_gain(const std::vector<double>& gains) {
    const auto better = std::ranges::count_if(gains, [](double gain) { return gain > 0.0; });
    return static_cast<double>(better) / static_cast<double>(gains.size());
}

Tried tried(std::vector<Change> changes, Settings settings, const Prospect& after,
            const Prospect& before) {
    Tried one{.changes = std::move(changes),
              .settings = std::move(settings),
              .gain = {},
              .chance_better = 0.0,
              .gains = gains_over(after, before)};
    one.gain = summary(one.gains);
    one.chance_better = chance_of_gain(one.gains);
    return one;
}

/// Every single change that is allowed, tried.
std::vector<Tried> singles_of(const Settings& settings, const Ground& ground,
                              const KeptOff& kept_off, const Prospect& before) {
    std::vector<Tried> singles;
    for (const auto& group : groups_of(ground.machine)) {
        for (const Change& change : changes_of(group, settings, kept_off)) {
            Settings changed = with(settings, change, ground.machine);
            const bool alike = tops_alike(changed, settings, ground.machine);
            if (const auto after = prospect(changed, ground, alike ? &before : nullptr)) {
                singles.push_back(tried({change}, std::move(changed), *after, before));
            }
        }
    }
    return singles;
}

bool is_far(const Change& change, const Machine& machine) {
    const Control& control = *machine.find(change.controls.front());
    return !traits(control.kind).is_choice() &&
           std::abs(change.to - change.from) >
               1.0001 * kNearOfRange * (control.most - control.least);
}

bool touch_same(const Change& one, const Change& other) {
    return std::ranges::any_of(one.controls, [&](const std::string& id) {
        return std::ranges::find(other.controls, id) != other.controls.end();
    });
}

/// Whether gains by this change are likely enough, and enough.
bool is_worth_it(const std::vector<double>& gains, const Change& change, const Machine& machine,
                 double least_gain) {
    const double mean =
        std::accumulate(gains.begin(), gains.end(), 0.0) / static_cast<double>(gains.size());
    return mean >= least_gain &&
           chance_of_gain(gains) >= (is_far(change, machine) ? kSureChance : kLeastChance);
}

/// What a change adds to another with which it makes a pair.
std::vector<double> added(const Tried& pair, const Tried& other) {
    std::vector<double> gains = pair.gains;
    for (std::size_t i = 0; i < gains.size(); ++i) {
        gains[i] -= other.gains[i];
    }
    return gains;
}

/// Pairs that are tried: those which gain most if gains simply add up. What comes back are those of
/// which either change, given the other, is worth it.
constexpr std::size_t kPairs = 24;
std::vector<Tried> pairs_of(const std::vector<Tried>& singles, const Settings& settings,
                            const Ground& ground, const Prospect& before, double least_gain) {
    struct Promise {
        double gain;
        std::size_t first, second;
    };
    std::vector<Promise> promises;
    for (std::size_t a = 0; a < singles.size(); ++a) {
        for (std::size_t b = a + 1; b < singles.size(); ++b) {
            if (touch_same(singles[a].changes[0], singles[b].changes[0])) {
                continue;
            }
            const double gain = singles[a].gain.value + singles[b].gain.value;
            if (gain > 0.0) {
                promises.push_back({gain, a, b});
            }
        }
    }
    const std::size_t some = std::min(kPairs, promises.size());
    std::ranges::partial_sort(promises, promises.begin() + static_cast<std::ptrdiff_t>(some),
                              std::greater<>(), &Promise::gain);
    promises.resize(some);
    std::vector<Tried> pairs;
    for (const Promise& promise : promises) {
        const Tried& larger =
            singles[promise.first].gain.value >= singles[promise.second].gain.value
                ? singles[promise.first]
                : singles[promise.second];
        const Tried& other =
            &larger == &singles[promise.first] ? singles[promise.second] : singles[promise.first];
        Settings changed = with(larger.settings, other.changes[0], ground.machine);
        const bool alike = tops_alike(changed, settings, ground.machine);
        if (const auto after = prospect(changed, ground, alike ? &before : nullptr)) {
            Tried pair =
                tried({larger.changes[0], other.changes[0]}, std::move(changed), *after, before);
            if (is_worth_it(added(pair, other), larger.changes[0], ground.machine, least_gain) &&
                is_worth_it(added(pair, larger), other.changes[0], ground.machine, least_gain)) {
                pairs.push_back(std::move(pair));
            }
        }
    }
    return pairs;
}

}  // namespace

bool is_reckoned(ControlKind kind) {
    switch (kind) {
        case ControlKind::follower_load:
        case ControlKind::follower_lowest:
        case ControlKind::share_gap:
        case ControlKind::transfer_speed:
        case ControlKind::axial_roll_gap: return false;
        default: return true;
    }
}

Result<Advice> advise(const Settings& settings, const Ground& ground, const KeptOff& kept_off,
                      double least_gain) {
    const auto before = prospect(settings, ground);
    if (!before) {
        return before.problems();
    }
    Advice advice;
    advice.now = figures(settings, ground, *before);
    auto singles = singles_of(settings, ground, kept_off, *before);
    const auto by_gain = [](const Tried& one) { return one.gain.value; };
    sort_list(singles, std::greater<>(), by_gain);
    const auto single = std::ranges::find_if(singles, [&](const Tried& one) {
        return is_worth_it(one.gains, one.changes[0], ground.machine, least_gain);
    });
    if (single != singles.end()) {
        advice.change = *single;
    }
    auto pairs = pairs_of(singles, settings, ground, *before, least_gain);
    const auto pair = std::ranges::max_element(pairs, {}, by_gain);
    const double alone = advice.change ? advice.change->gain.value : 0.0;
    if (pair != pairs.end() && pair->gain.value >= alone + least_gain) {
        advice.change = *pair;
    }
    for (Tried& one : singles) {
        if (advice.others.size() < kOthers &&
            std::ranges::none_of(advice.others, [&](const Tried& other) {
                return touch_same(other.changes[0], one.changes[0]);
            })) {
            advice.others.push_back(std::move(one));
        }
    }
    const auto tell = [&](Tried& one) {
        const bool alike = tops_alike(one.settings, settings, ground.machine);
        if (const auto after = prospect(one.settings, ground, alike ? &*before : nullptr)) {
            one.figures = figures(one.settings, ground, *after);
        }
    };
    if (advice.change) {
        tell(*advice.change);
    }
    std::ranges::for_each(advice.others, tell);
    return advice;
}

}  // namespace beetwright::harvester
