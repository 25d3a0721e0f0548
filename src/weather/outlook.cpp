#include "weather/outlook.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/number_text.hpp"
#include "base/random.hpp"
#include "base/sorted.hpp"
#include "weather/climate.hpp"
#include "weather/outlook_stand_ins.hpp"

namespace beetwright::weather {
namespace {

using std::chrono::days;
using std::chrono::hours;

Instant end_of(const Series& series) {
    return series.begin_of(series.hours.size());
}

/// Hours of all members that come from one kind of part.
struct Piece {
    enum class From { measured, line, forecast, climate } from;
    Instant begin;
    Instant end;
    std::string_view name = {};           ///< of a piece of the climate
    std::vector<Stretch> stretches = {};  ///< of the climate, of which each member takes one
};

class Joining {
 public:
    Joining(const KnownWeather& known, const OutlookQuestion& question)
        : known_(known), question_(question) {}

    Result<Outlook> run() {
        if (question_.members == 0 || question_.behind < days(0) || question_.ahead <= days(0)) {
            fail("", "an outlook of no members, or of no time",
                 "ask for one member at least, and for one day ahead");
        }
        if (known_.is_empty() || !find_parts()) {
            fail("", "nothing is known of the weather",
                 "give hours that were measured, a forecast or a climate");
        }
        if (!problems_.empty()) {
            return problems_;
        }
        check_places();
        if (problems_.empty()) {
            choose_hours();
        }
        if (!problems_.empty()) {
            return problems_;
        }
        for (std::size_t m = 0; m < question_.members; ++m) {
            outlook_.members.push_back(member(m));
        }
        note_forecast();
        stand_in();
        return std::move(outlook_);
    }

 private:
    void fail(std::string field, std::string what, std::string fix) {
        problems_.push_back({ProblemKind::input,
                             {.file = "", .line = 0, .field = std::move(field)},
                             std::move(what),
                             std::move(fix)});
    }
    void note(std::string text) { outlook_.notes.push_back(std::move(text)); }
    [[nodiscard]] std::string at(Instant instant) const {
        return local_text(instant, first_->clock);
    }

    /// False where none has an hour.
    bool find_parts() {
        const auto take = [&](const Series& series) {
            if (first_ == nullptr && !series.hours.empty()) {
                first_ = &series;
            }
            return series.hours.empty() ? nullptr : &series;
        };
        measured_ = known_.observed ? take(*known_.observed) : nullptr;
        for (const Series& run : known_.forecast) {
            if (const auto* taken = take(run)) {
                forecast_.push_back(taken);
            }
        }
        climate_ = known_.climate ? take(*known_.climate) : nullptr;
        return first_ != nullptr;
    }

    void check_places() {
        check_place(measured_, "the measured hours");
        for (const Series* run : forecast_) {
            check_place(run, "the forecast");
            if ((run->begin - first_->begin) % hours(1) != hours(0)) {
                fail("forecast",
                     "its hours begin at other minutes than the measured ones: " + at(run->begin) +
                         " and " + at(first_->begin),
                     "give both for the same hours");
                return;
            }
        }
        check_place(climate_, "the climate");
        sort_list(outlook_.notes);
        const auto twice = std::ranges::unique(outlook_.notes);
        outlook_.notes.erase(twice.begin(), twice.end());
    }

    void check_place(const Series* part, const std::string& name) {
        if (part == nullptr || part == first_) {
            return;
        }
        const double away_km = distance_km(part->place, first_->place);
        const auto far = [](double number, const char* unit) {
            return fixed_text(number, 0) + " " + unit;
        };
        if (away_km > kTooFar_km) {
            fail(name.substr(4), name + " is of a place " + far(away_km, "km") + " away",
                 "take the weather of one place, " + far(kTooFar_km, "km") +
                     " apart at most; was the sign of a longitude lost?");
        } else if (away_km > kNear_km) {
            note(name + " is of a place " + far(away_km, "km") + " away");
        }
        constexpr double kHigher_m = 200.0;
        const double higher_m = part->place.elevation_m - first_->place.elevation_m;
        if (std::abs(higher_m) > kHigher_m) {
            note(name + " is of a place " + far(std::abs(higher_m), "m") +
                 (higher_m > 0.0 ? " higher, where it is colder" : " lower, where it is warmer"));
        }
    }

    /// False where the climate holds nothing of this time of year, or there is none.
    bool add_climate(std::string_view name, Instant begin, Instant end) {
        if (climate_ == nullptr) {
            return false;
        }
        auto stretches = Climate(*climate_).stretches(begin, end, kMostMoved);
        if (stretches.empty()) {
            return false;
        }
        pieces_.push_back({Piece::From::climate, begin, end, name, std::move(stretches)});
        return true;
    }

    void add(Piece::From from, Instant begin, Instant end) {
        if (begin < end) {
            pieces_.push_back({.from = from, .begin = begin, .end = end});
        }
    }

    /// What the members are made of, piece by piece.
    void choose_hours() {
        const Instant now =
            first_->begin + std::chrono::floor<hours>(question_.now - first_->begin);
        const Instant first = now - question_.behind;
        const Instant last = now + question_.ahead;
        outlook_.now = now;
        look_at_measured(first, now);
        look_at_forecast(now, last);

        Instant so_far = first;
        if (measured_ != nullptr) {
            so_far = begin_with(std::max(first, measured_->begin), first);
            outlook_.known_until = std::min(end_of(*measured_), now);
            add(Piece::From::measured, so_far, outlook_.known_until);
            so_far = outlook_.known_until;
            if (so_far < now) {
                note("the measured hours end at " + at(so_far) + ", before now");
            }
        } else if (!forecast_.empty()) {
            so_far = begin_with(std::max(first, forecast_begin_), first);
        }
        if (!forecast_.empty() && !reach_forecast(so_far)) {
            return;
        }
        if (!forecast_.empty()) {
            const Instant end = std::min(forecast_end_, last);
            add(Piece::From::forecast, std::max(so_far, forecast_begin_), end);
            so_far = outlook_.forecast_until = end;
        }
        follow_with_climate(so_far, last);
        if (pieces_.empty() || pieces_.back().end <= now) {
            fail("", "nothing is known of the weather after " + at(now),
                 "give a forecast that goes further, or a climate that holds this time of year");
            return;
        }
        if (measured_ == nullptr) {
            outlook_.known_until = pieces_.front().begin;
        }
        outlook_.forecast_until = std::max(outlook_.forecast_until, outlook_.known_until);
    }

    /// Fills what is missing behind from the climate. Where the members then begin.
    Instant begin_with(Instant known, Instant first) {
        if (known <= first) {
            return first;
        }
        if (add_climate("climate behind", first, known)) {
            note("before " + at(known) +
                 " nobody measured: each member's past is a stretch of the climate");
        } else {
            note("nothing is known of the weather before " + at(known));
        }
        return known;
    }

    void look_at_measured(Instant first, Instant now) {
        if (measured_ == nullptr) {
            return;
        }
        if (measured_->begin >= now) {
            note("the measured hours begin at " + at(measured_->begin) +
                 ", after now, and are left out");
            measured_ = nullptr;
        } else if (end_of(*measured_) <= first) {
            note("the measured hours end at " + at(end_of(*measured_)) +
                 ", before the days that are looked at, and are left out");
            measured_ = nullptr;
        } else if (end_of(*measured_) > now) {
            note("measured hours after " + at(now) + ", which is now, are left out");
        }
    }

    void look_at_forecast(Instant now, Instant last) {
        if (forecast_.empty()) {
            return;
        }
        bool are_as_long = true;
        forecast_begin_ = forecast_.front()->begin;
        forecast_end_ = end_of(*forecast_.front());
        for (const Series* run : forecast_) {
            are_as_long =
                are_as_long && run->begin == forecast_begin_ && end_of(*run) == forecast_end_;
            forecast_begin_ = std::max(forecast_begin_, run->begin);
            forecast_end_ = std::min(forecast_end_, end_of(*run));
        }
        if (forecast_end_ <= now) {
            note("the forecast ended at " + at(forecast_end_) +
                 ", before now, and is left out: fetch a newer one");
            forecast_.clear();
        } else if (forecast_begin_ >= last) {
            note("the forecast begins at " + at(forecast_begin_) +
                 ", after the days that are looked at, and is left out");
            forecast_.clear();
        } else if (!are_as_long) {
            note(
                "the runs of the forecast are not of the same hours: those that all have are "
                "taken, " +
                at(forecast_begin_) + " to " + at(forecast_end_));
        }
    }

    /// From what is known to where the forecast begins. False: there is a gap.
    bool reach_forecast(Instant so_far) {
        if (forecast_begin_ <= so_far) {
            return true;
        }
        const auto gap = forecast_begin_ - so_far;
        if (measured_ != nullptr && gap <= hours(kLongestFilled_h)) {
            add(Piece::From::line, so_far, forecast_begin_);
            return true;
        }
        if (!add_climate("climate between", so_far, forecast_begin_)) {
            fail("forecast",
                 "the measured hours end at " + at(so_far) + ", and the forecast begins at " +
                     at(forecast_begin_),
                 "fetch the hours between them, or give a climate, which then bridges the gap");
            return false;
        }
        note("from " + at(so_far) + " to " + at(forecast_begin_) +
             " nothing was measured or forecast: a stretch of the climate bridges it");
        return true;
    }

    void follow_with_climate(Instant so_far, Instant last) {
        if (so_far >= last) {
            return;
        }
        // A climate without rain would say that the ground dries.
        if (climate_ != nullptr && !climate_->has(Element::rain) && !forecast_.empty() &&
            forecast_.front()->has(Element::rain)) {
            note("the climate has no rain and is left out: the outlook ends at " + at(so_far));
            return;
        }
        if (!add_climate("climate ahead", so_far, last)) {
            note(std::string(climate_ == nullptr
                                 ? "there is no climate"
                                 : "the climate holds nothing of this time of year") +
                 ": the outlook ends at " + at(so_far));
        }
    }

    /// The one that a member takes.
    [[nodiscard]] Stretch one_of(const std::vector<Stretch>& stretches, std::string_view name,
                                 std::size_t member) const {
        RandomStream random(question_.seed, name, member);
        return stretches[random.below(static_cast<std::uint32_t>(stretches.size()))];
    }

    Series member(std::size_t number) {
        Series series;
        series.name = first_->name;
        series.place = first_->place;
        series.clock = first_->clock;
        series.begin = pieces_.front().begin;
        series.hours.reserve(
            static_cast<std::size_t>((pieces_.back().end - series.begin) / hours(1)));
        for (const Piece& piece : pieces_) {
            switch (piece.from) {
                case Piece::From::measured: copy(*measured_, piece, series); break;
                case Piece::From::forecast: copy(run_of(number), piece, series); break;
                case Piece::From::line: draw_line(run_of(number), piece, series); break;
                case Piece::From::climate: {
                    const Climate climate(*climate_);
                    const auto which = one_of(piece.stretches, piece.name, number);
                    for (Instant k = piece.begin; k < piece.end; k += hours(1)) {
                        series.hours.push_back(climate.hour(which, k));
                    }
                    break;
                }
            }
        }
        return series;
    }

    [[nodiscard]] const Series& run_of(std::size_t member) const {
        return *forecast_[member % forecast_.size()];
    }

    static void copy(const Series& from, const Piece& piece, Series& into) {
        const auto first = static_cast<std::size_t>((piece.begin - from.begin) / hours(1));
        const auto count = static_cast<std::size_t>((piece.end - piece.begin) / hours(1));
        for (const auto k : from.filled) {
            if (k >= first && k < first + count) {
                into.filled.push_back(static_cast<std::uint32_t>(k - first + into.hours.size()));
            }
        }
        const auto begin = from.hours.begin() + static_cast<std::ptrdiff_t>(first);
        into.hours.insert(into.hours.end(), begin, begin + static_cast<std::ptrdiff_t>(count));
    }

    /// A gap of few hours, filled as such gaps are in a series.
    static void draw_line(const Series& run, const Piece& piece, Series& into) {
        const Hour before = into.hours.back();
        const Hour& after = run.hours[static_cast<std::size_t>((piece.end - run.begin) / hours(1))];
        const auto count = static_cast<std::size_t>((piece.end - piece.begin) / hours(1));
        for (std::size_t k = 0; k < count; ++k) {
            const double share = static_cast<double>(k + 1) / static_cast<double>(count + 1);
            Hour hour = unknown_hour();
            for (std::size_t e = 0; e < kElements; ++e) {
                const bool is_dry_rain = static_cast<Element>(e) == Element::rain &&
                                         (before[e] == 0.0 || after[e] == 0.0);
                hour[e] = is_dry_rain ? 0.0 : std::lerp(before[e], after[e], share);
            }
            into.filled.push_back(static_cast<std::uint32_t>(into.hours.size()));
            into.hours.push_back(hour);
        }
    }

    void note_forecast() {
        if (forecast_.size() == 1 && outlook_.forecast_until > outlook_.now &&
            question_.members > 1) {
            note("the forecast is one run: until " + at(outlook_.forecast_until) +
                 " the members do not differ");
        }
    }

    /// Elements that some hours lack are stood in for, or left out.
    void stand_in() {
        if (climate_ != nullptr && climate_->has(Element::rain)) {
            const Climate climate(*climate_);
            const auto stretches = climate.stretches(outlook_.begin(), outlook_.end(), kMostMoved);
            bool has_lent = false;
            for (std::size_t m = 0; m < outlook_.members.size() && !stretches.empty(); ++m) {
                has_lent |=
                    lend_rain(climate, one_of(stretches, "climate's rain", m), outlook_.members[m]);
            }
            if (has_lent) {
                note("hours that come without rain take it from a stretch of the climate");
            }
        }
        stand_in_for_what_lacks(outlook_.members, outlook_.notes);
    }

    const KnownWeather& known_;
    const OutlookQuestion& question_;
    const Series* first_ = nullptr;
    const Series* measured_ = nullptr;
    std::vector<const Series*> forecast_;
    const Series* climate_ = nullptr;
    Instant forecast_begin_{};
    Instant forecast_end_{};
    std::vector<Piece> pieces_;
    Outlook outlook_;
    Problems problems_;
};

}  // namespace

double distance_km(const Place& one, const Place& other) {
    constexpr double kEarthRadius_km = 6371.0;
    const auto half_sine = [](double angle) { return std::pow(std::sin(0.5 * angle), 2.0); };
    const double a = half_sine(other.latitude_rad - one.latitude_rad) +
                     std::cos(one.latitude_rad) * std::cos(other.latitude_rad) *
                         half_sine(other.longitude_rad - one.longitude_rad);
    return 2.0 * kEarthRadius_km * std::asin(std::min(1.0, std::sqrt(a)));
}

Result<Outlook> outlook(const KnownWeather& known, const OutlookQuestion& question) {
    return Joining(known, question).run();
}

}  // namespace beetwright::weather
