#include "campaign/slicing_clash.hpp"

#include <algorithm>
#include <limits>
#include <numeric>
#include <utility>

#include "campaign/slicing_beam.hpp"
#include "campaign/slicing_exact.hpp"
#include "campaign/slicing_prices.hpp"
#include "campaign/slicing_problems.hpp"
#include "campaign/slicing_rote.hpp"
#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {
namespace {

using Rules = std::vector<SlicingRule>;

constexpr double kNever = -std::numeric_limits<double>::infinity();
/// Sets of rules looked at by their size, up to so many of a size; for all sets together states
/// gone through, and searches where there are too many states.
constexpr double kMostSets = 5000.0;
constexpr std::size_t kLargestLookedFor = 3;
constexpr double kMostStates = 3e7;
constexpr int kMostSearches = 200;
constexpr std::size_t kNarrow = 200;

Rules rules_of(const SlicingQuestion& question) {
    using Kind = SlicingRule::Kind;
    Rules rules;
    for (std::size_t p = 0; p < question.piles.size(); ++p) {
        const auto& pile = question.piles[p];
        for (std::size_t k = 0; k < pile.parts.size(); ++k) {
            if (pile.parts[k].not_before) {
                rules.push_back({Kind::not_before, {p, k}});
            }
            if (pile.parts[k].by) {
                rules.push_back({Kind::by, {p, k}});
            }
        }
    }
    for (std::size_t p = 0; p < question.piles.size(); ++p) {
        if (question.piles[p].taken_from != TakenFrom::anywhere &&
            question.piles[p].parts.size() > 1) {
            rules.push_back({Kind::taken_from, {p, 0}});
        }
    }
    return rules;
}

/// The same piles with these rules alone, and nothing of any worth.
SlicingQuestion with_rules(const SlicingQuestion& question, const Rules& rules) {
    SlicingQuestion bare;
    bare.first_day = question.first_day;
    bare.slicer_takes = question.slicer_takes;
    const std::vector<std::vector<double>> nothing{
        std::vector<double>(question.slicer_takes.size(), 0.0)};
    for (const PileToSlice& pile : question.piles) {
        auto& copy = bare.piles.emplace_back(PileToSlice{pile.name, TakenFrom::anywhere, {}});
        for (const PilePart& part : pile.parts) {
            copy.parts.push_back({.name = part.name, .mass = part.mass, .worth_money = nothing});
        }
    }
    for (const SlicingRule& rule : rules) {
        const PileToSlice& pile = question.piles[rule.place.pile];
        PilePart& part = bare.piles[rule.place.pile].parts[rule.place.part];
        switch (rule.kind) {
            case SlicingRule::Kind::not_before:
                part.not_before = pile.parts[rule.place.part].not_before;
                break;
            case SlicingRule::Kind::by: part.by = pile.parts[rule.place.part].by; break;
            case SlicingRule::Kind::taken_from:
                bare.piles[rule.place.pile].taken_from = pile.taken_from;
                break;
        }
    }
    return bare;
}

/// Between which positions a part has to be sliced.
struct Window {
    double from_kg = 0.0;
    double to_kg = 0.0;
    double mass_kg = 0.0;
};

/// From the days, and from what has to be taken before a part and after it.
std::vector<Window> windows_of(const SlicingWork& work) {
    std::vector<Window> windows;
    for (const WorkPart& part : work.parts()) {
        windows.push_back(
            {part.not_before_kg, std::min(part.by_kg, work.total_kg()), part.mass_kg});
    }
    for (const WorkPile& pile : work.piles()) {
        std::vector<Window*> row;
        for (PartIndex k = pile.first; k < pile.first + pile.parts; ++k) {
            row.push_back(&windows[k]);
        }
        if (pile.taken_from == TakenFrom::end) {
            std::ranges::reverse(row);
        }
        if (pile.taken_from == TakenFrom::beginning || pile.taken_from == TakenFrom::end) {
            for (std::size_t k = 1; k < row.size(); ++k) {
                row[k]->from_kg =
                    std::max(row[k]->from_kg, row[k - 1]->from_kg + row[k - 1]->mass_kg);
            }
            for (std::size_t k = row.size(); k-- > 1;) {
                row[k - 1]->to_kg = std::min(row[k - 1]->to_kg, row[k]->to_kg - row[k]->mass_kg);
            }
        }
        if (pile.taken_from == TakenFrom::either_end) {
            double pile_kg = 0.0;
            for (const Window* part : row) {
                pile_kg += part->mass_kg;
            }
            double before_kg = 0.0;
            for (Window* part : row) {
                const double behind_kg = pile_kg - before_kg - part->mass_kg;
                part->from_kg = std::max(part->from_kg, std::min(before_kg, behind_kg));
                before_kg += part->mass_kg;
            }
        }
    }
    return windows;
}

/// Whether more would have to be sliced between two positions than fits there: then there is no
/// order, even if parts could be sliced by halves.
bool is_overfull(const SlicingWork& work) {
    auto windows = windows_of(work);
    std::ranges::sort(windows, {}, &Window::to_kg);
    for (const Window& first : windows) {
        double inside_kg = 0.0;
        for (const Window& part : windows) {
            if (part.from_kg >= first.from_kg - work.slack_kg()) {
                inside_kg += part.mass_kg;
                if (inside_kg > part.to_kg - first.from_kg + 3.0 * work.slack_kg()) {
                    return true;
                }
            }
        }
    }
    return false;
}

enum class Verdict : std::uint8_t { clashes, can_be_kept, not_known };

class ClashSearch {
 public:
    explicit ClashSearch(const SlicingQuestion& question)
        : question_(question), all_(rules_of(question)) {}

    std::optional<RuleClash> answer() {
        if (all_.empty() || verdict(all_, true) != Verdict::clashes) {
            return std::nullopt;
        }
        bool is_smallest = true;
        for (std::size_t size = 1; size <= kLargestLookedFor && size < all_.size(); ++size) {
            double sets = 1.0;
            for (std::size_t k = 0; k < size; ++k) {
                sets *= static_cast<double>(all_.size() - k) / static_cast<double>(k + 1);
            }
            if (sets > kMostSets) {
                is_smallest = false;
                break;
            }
            if (auto rules = first_clash_of(size, is_smallest)) {
                return RuleClash{std::move(*rules), is_smallest};
            }
        }
        is_smallest = is_smallest && all_.size() <= kLargestLookedFor + 1;
        return RuleClash{without_the_idle(), is_smallest};
    }

 private:
    Verdict verdict(const Rules& rules, bool is_whole = false) {
        const SlicingQuestion bare = with_rules(question_, rules);
        const SlicingWork work(bare);
        if (is_overfull(work)) {
            return Verdict::clashes;
        }
        const auto soonest_due =
            order_by_rote(work, [&](PartIndex part, double) { return work.parts()[part].by_kg; });
        if (work.keeps_all_days(soonest_due)) {
            return Verdict::can_be_kept;
        }
        const double states = exact_states(work);
        const auto most_states = static_cast<double>(question_.effort.most_states);
        if (states <= most_states && (is_whole || states <= states_left_)) {
            states_left_ -= states;
            Steps nobody(nullptr, 1.0);
            return exact_order(work, nobody).order ? Verdict::can_be_kept : Verdict::clashes;
        }
        if (is_whole || searches_left_ > 0) {
            searches_left_ -= is_whole ? 0 : 1;
            return searched(work, is_whole ? question_.effort.beam_width : kNarrow);
        }
        return Verdict::not_known;
    }

    /// By beginnings of orders that are carried on: one may come to an end, or all must break
    /// a day.
    static Verdict searched(const SlicingWork& work, std::size_t width) {
        Steps nobody(nullptr, 1.0);
        SlicingPrices prices(work);
        prices.better(1, kNever, nobody);
        if (prices.bound() == kNever) {
            return Verdict::clashes;
        }
        const auto beam = beam_order(work, prices, width, kNever, nobody);
        if (beam.order) {
            return Verdict::can_be_kept;
        }
        return beam.left_aside_money == kNever ? Verdict::clashes : Verdict::not_known;
    }

    /// The first set of so many rules that clashes. `is_sure` ends where a set could not be judged.
    std::optional<Rules> first_clash_of(std::size_t size, bool& is_sure) {
        std::vector<std::size_t> chosen(size);
        std::iota(chosen.begin(), chosen.end(), std::size_t{0});
        while (true) {
            Rules rules;
            for (const std::size_t k : chosen) {
                rules.push_back(all_[k]);
            }
            const Verdict found = verdict(rules);
            if (found == Verdict::clashes) {
                return rules;
            }
            is_sure = is_sure && found == Verdict::can_be_kept;
            // The next set: the last that can go on does, those behind it follow at once.
            std::size_t k = size;
            while (k > 0 && chosen[k - 1] == all_.size() - size + (k - 1)) {
                --k;
            }
            if (k == 0) {
                return std::nullopt;
            }
            std::iota(chosen.begin() + static_cast<std::ptrdiff_t>(k - 1), chosen.end(),
                      chosen[k - 1] + 1);
        }
    }

    /// All rules, less each without which the others still clash.
    Rules without_the_idle() {
        Rules rules = all_;
        for (std::size_t k = 0; k < rules.size();) {
            Rules fewer = rules;
            fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(k));
            if (verdict(fewer) == Verdict::clashes) {
                rules = std::move(fewer);
            } else {
                ++k;
            }
        }
        return rules;
    }

    const SlicingQuestion& question_;
    Rules all_;
    double states_left_ = kMostStates;
    int searches_left_ = kMostSearches;
};

}  // namespace

std::optional<RuleClash> clash_of(const SlicingQuestion& question) {
    return ClashSearch(question).answer();
}

std::string text_of(const SlicingQuestion& question, const RuleClash& clash) {
    std::string text;
    for (const SlicingRule& rule : clash.rules) {
        const PileToSlice& pile = question.piles[rule.place.pile];
        const PilePart& part = pile.parts[rule.place.part];
        text += text.empty() ? "" : "; ";
        switch (rule.kind) {
            case SlicingRule::Kind::not_before:
                text += name_of(question, rule.place) + " not before " + to_text(*part.not_before);
                break;
            case SlicingRule::Kind::by:
                text += name_of(question, rule.place) + " by " + to_text(*part.by);
                break;
            case SlicingRule::Kind::taken_from:
                text += pile.name + " is taken " + std::string(words(pile.taken_from));
                break;
        }
    }
    return text;
}

}  // namespace beetwright::campaign
