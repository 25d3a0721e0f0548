#include "campaign/slicing_check.hpp"

#include <algorithm>
#include <string>
#include <utility>

namespace beetwright::campaign {
namespace {

/// A day has room, or a part is left, only by more than this share of the part: rounding
/// slices nothing.
constexpr double kRounding = 1e-7;

class Book {
 public:
    explicit Book(const SlicingQuestion& question) : question_(question) {
        for (const PileToSlice& pile : question.piles) {
            is_gone_.emplace_back(pile.parts.size(), false);
        }
        const auto members = members_of(question);
        checked_.worth_money.assign(members, 0.0);
        if (!question.slicer_takes.empty()) {
            room_kg_ = question.slicer_takes.front().si();
        }
    }

    Result<CheckedOrder> follow(std::span<const PartPlace> order) {
        for (const PartPlace place : order) {
            if (place.pile >= is_gone_.size() || place.part >= is_gone_[place.pile].size()) {
                problems_.push_back({ProblemKind::input,
                                     {},
                                     "a part that there is not is sliced",
                                     "name parts of the piles by their places"});
                continue;
            }
            if (is_gone_[place.pile][place.part]) {
                say(place, "it is sliced twice");
                continue;
            }
            if (!is_open(place)) {
                say(place, "the loader cannot get at it yet");
            }
            is_gone_[place.pile][place.part] = true;
            move_to(place.pile);
            slice(place);
        }
        for (std::size_t p = 0; p < is_gone_.size(); ++p) {
            for (std::size_t k = 0; k < is_gone_[p].size(); ++k) {
                if (!is_gone_[p][k]) {
                    say({p, k}, "it is never sliced");
                }
            }
        }
        if (!problems_.empty()) {
            return problems_;
        }
        const double moves =
            question_.loader_move.si() * static_cast<double>(checked_.loader_moves);
        for (double& worth : checked_.worth_money) {
            worth -= moves;
            checked_.mean_money += worth;
        }
        checked_.mean_money /= static_cast<double>(checked_.worth_money.size());
        return checked_;
    }

 private:
    static std::size_t members_of(const SlicingQuestion& question) {
        for (const PileToSlice& pile : question.piles) {
            if (!pile.parts.empty()) {
                return pile.parts.front().worth_money.size();
            }
        }
        return 0;
    }

    void say(PartPlace place, std::string what) {
        const PileToSlice& pile = question_.piles[place.pile];
        problems_.push_back(
            {ProblemKind::conflict,
             {.file = "", .line = 0, .field = pile.name + ", " + pile.parts[place.part].name},
             std::move(what),
             "put the order right"});
    }

    /// Whether nothing that still lies there is in the way.
    bool is_open(PartPlace place) const {
        const auto& gone = is_gone_[place.pile];
        const auto here = gone.begin() + static_cast<std::ptrdiff_t>(place.part);
        const bool from_beginning = std::find(gone.begin(), here, false) == here;
        const bool from_end = std::find(here + 1, gone.end(), false) == gone.end();
        switch (question_.piles[place.pile].taken_from) {
            case TakenFrom::beginning: return from_beginning;
            case TakenFrom::end: return from_end;
            case TakenFrom::either_end: return from_beginning || from_end;
            case TakenFrom::anywhere: return true;
        }
        return false;
    }

    void move_to(std::size_t pile) {
        const bool stands_elsewhere =
            loader_at_ ? *loader_at_ != pile : question_.loader_at.value_or(pile) != pile;
        checked_.loader_moves += stands_elsewhere ? 1U : 0U;
        loader_at_ = pile;
    }

    void slice(PartPlace place) {
        const PilePart& part = question_.piles[place.pile].parts[place.part];
        CheckedPart entry;
        entry.worth_money.assign(checked_.worth_money.size(), 0.0);
        const double rounding_kg = kRounding * part.mass.si();
        double left_kg = part.mass.si();
        bool is_begun = false;
        while (left_kg > rounding_kg) {
            while (day_ < question_.slicer_takes.size() && room_kg_ <= rounding_kg) {
                ++day_;
                // What rounding left of a day is taken on the next.
                room_kg_ +=
                    day_ < question_.slicer_takes.size() ? question_.slicer_takes[day_].si() : 0.0;
            }
            if (day_ == question_.slicer_takes.size()) {
                say(place, "the slicer does not get to it within the horizon");
                return;
            }
            const double now_kg = room_kg_ - left_kg > -rounding_kg ? left_kg : room_kg_;
            const Day today = question_.first_day + std::chrono::days(day_);
            entry.first_day = is_begun ? entry.first_day : today;
            entry.last_day = today;
            is_begun = true;
            for (std::size_t m = 0; m < entry.worth_money.size(); ++m) {
                entry.worth_money[m] += part.worth_money[m][day_] * (now_kg / part.mass.si());
            }
            left_kg -= now_kg;
            room_kg_ -= now_kg;
        }
        if (part.not_before && entry.first_day < *part.not_before) {
            say(place, "it is sliced before " + to_text(*part.not_before));
        }
        if (part.by && entry.last_day > *part.by) {
            say(place, "it is not gone by " + to_text(*part.by));
        }
        for (std::size_t m = 0; m < entry.worth_money.size(); ++m) {
            checked_.worth_money[m] += entry.worth_money[m];
        }
        checked_.parts.push_back(std::move(entry));
    }

    const SlicingQuestion& question_;
    std::vector<std::vector<bool>> is_gone_;
    std::optional<std::size_t> loader_at_;
    std::size_t day_ = 0;
    double room_kg_ = 0.0;  ///< of that day
    Problems problems_;
    CheckedOrder checked_;
};

}  // namespace

Result<CheckedOrder> check_slicing_order(const SlicingQuestion& question,
                                         std::span<const PartPlace> order) {
    return Book(question).follow(order);
}

}  // namespace beetwright::campaign
