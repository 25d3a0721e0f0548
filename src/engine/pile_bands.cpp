#include "engine/pile_bands.hpp"

#include <algorithm>
#include <cmath>

#include "harvester/prospect.hpp"

namespace beetwright::engine {
namespace {

using std::chrono::days;

Day later(Day day, std::size_t by) {
    return day + days(static_cast<int>(by));
}

PileBandDay band(Day day, std::span<const PartDay> members) {
    const auto over = [&](auto&& get) {
        std::vector<double> values;
        values.reserve(members.size());
        for (const PartDay& one : members) {
            values.push_back(get(one));
        }
        return summary_of(std::move(values));
    };
    return {.day = day,
            .mean_C = over([](const PartDay& one) { return one.mean_C; }),
            .warmest_C = over([](const PartDay& one) { return one.warmest_C; }),
            .coldest_C = over([](const PartDay& one) { return one.coldest_C; }),
            .sugar_lost = over([](const PartDay& one) { return 1.0 - one.sugar_left; }),
            .killed = over([](const PartDay& one) { return one.killed; }),
            .rotting = over([](const PartDay& one) { return one.rotting; })};
}

/// When a part becomes due in one member, in days from now, and for what.
struct Due {
    double days = 0.0;
    DueFor why = DueFor::nothing;
};

Due due_in(const PileStudy& study, const PartCourse& course, std::size_t part) {
    const double rotting = study.catalogue().value(ConstantId::pile_due_rotting);
    const double killed = study.catalogue().value(ConstantId::pile_due_killed);
    const Day first = study.first_day(part);
    for (std::size_t d = 0; d < course.days.size(); ++d) {
        const PartDay& day = course.days[d];
        const bool rots = day.rotting >= rotting;
        if (rots || day.thawed >= killed) {
            const auto from_now = (later(first, d) - study.today()).count();
            return {std::max(0.0, static_cast<double>(from_now)),
                    rots ? DueFor::rot : DueFor::thaw};
        }
    }
    return {static_cast<double>((study.until() - study.today()).count() + 1), DueFor::nothing};
}

/// From today on.
std::size_t first_ahead(const PileStudy& study, std::size_t part) {
    const auto from = (study.today() - study.first_day(part)).count();
    return static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, from));
}

PlaceInPile place_of(const PileStudy& study, const PartGrid& grid, std::size_t part,
                     std::size_t cell) {
    return {study.parts()[part].middle(), grid.across_at(cell), grid.height_at(cell)};
}

HotSpot hot_spot(const PileStudy& study, const Courses& courses, const PartGrid& grid,
                 std::size_t part) {
    const double limit = study.catalogue().value(ConstantId::pile_hot_spot) - 273.15;
    const std::size_t members = study.member_count();
    const std::size_t length = courses.of(part, 0).days.size();
    const std::size_t from = std::min(first_ahead(study, part), length - 1);
    // The day on which its warmest cell is warmest on the mean of the members.
    std::size_t warmest_day = from;
    double warmest = -1e9;
    for (std::size_t d = from; d < length; ++d) {
        double sum = 0.0;
        for (std::size_t m = 0; m < members; ++m) {
            sum += courses.of(part, m).days[d].warmest_C;
        }
        if (sum > warmest) {
            warmest = sum;
            warmest_day = d;
        }
    }
    HotSpot spot;
    spot.day = later(study.first_day(part), warmest_day);
    std::vector<double> celsius;
    std::vector<double> until;
    std::vector<std::uint32_t> cells;
    for (std::size_t m = 0; m < members; ++m) {
        const auto& of = courses.of(part, m).days;
        celsius.push_back(of[warmest_day].warmest_C);
        cells.push_back(of[warmest_day].warmest);
        for (std::size_t d = from; d < length; ++d) {
            if (of[d].warmest_C > limit) {
                until.push_back(static_cast<double>(d - from));
                break;
            }
        }
    }
    std::ranges::sort(cells);
    spot.place = place_of(study, grid, part, cells[cells.size() / 2]);
    spot.celsius = summary_of(celsius);
    spot.chance = static_cast<double>(until.size()) / static_cast<double>(members);
    if (2 * until.size() >= members) {
        spot.days_until = summary_of(std::move(until));
    }
    return spot;
}

}  // namespace

Estimate<double> summary_of(std::vector<double> values) {
    return harvester::summary(std::move(values));
}

Estimate<Money> money_of(std::vector<double> values) {
    const auto plain = summary_of(std::move(values));
    return {Money(plain.value), Money(plain.low), Money(plain.high)};
}

PartAnswer part_answer(const PileStudy& study, const Courses& courses, std::size_t part) {
    PartAnswer answer{.part = study.parts()[part],
                      .facts = study.facts(part),
                      .days = {},
                      .warmest = {},
                      .days_left = {}};
    const std::size_t members = study.member_count();
    const std::size_t length = courses.of(part, 0).days.size();
    std::vector<PartDay> of_day(members);
    for (std::size_t d = 0; d < length; ++d) {
        for (std::size_t m = 0; m < members; ++m) {
            of_day[m] = courses.of(part, m).days[d];
        }
        answer.days.push_back(band(later(study.first_day(part), d), of_day));
    }
    const auto grid = part_grid(study.basis());
    answer.warmest = hot_spot(study, courses, *grid, part);
    std::vector<double> left;
    std::array<std::size_t, 3> why{};
    for (std::size_t m = 0; m < members; ++m) {
        const Due due = due_in(study, courses.of(part, m), part);
        left.push_back(due.days);
        ++why[static_cast<std::size_t>(due.why)];
        double most = 0.0;
        for (std::size_t d = first_ahead(study, part); d < length; ++d) {
            most = std::max(most, courses.of(part, m).days[d].carbon_dioxide);
        }
        answer.carbon_dioxide += most / static_cast<double>(members);
    }
    answer.chance_due = 1.0 - static_cast<double>(why[0]) / static_cast<double>(members);
    if (answer.chance_due > 0.0) {
        answer.due_for = why[static_cast<std::size_t>(DueFor::rot)] >=
                                 why[static_cast<std::size_t>(DueFor::thaw)]
                             ? DueFor::rot
                             : DueFor::thaw;
    }
    if (!answer.part.removed) {
        answer.days_left = summary_of(std::move(left));
    }
    return answer;
}

std::vector<PileBandDay> whole_bands(const PileStudy& study, const Courses& courses) {
    std::vector<PileBandDay> bands;
    const std::size_t members = study.member_count();
    Day begin = study.first_day(0);
    for (std::size_t p = 0; p < study.parts().size(); ++p) {
        begin = std::min(begin, study.first_day(p));
    }
    for (Day day = begin; day <= study.until(); day += days(1)) {
        std::vector<PartDay> sums(
            members, PartDay{.warmest_C = -99.0, .coldest_C = 99.0, .sugar_left = 0.0});
        double mass = 0.0;
        for (std::size_t p = 0; p < study.parts().size(); ++p) {
            const auto d = (day - study.first_day(p)).count();
            if (d < 0 || static_cast<std::size_t>(d) >= courses.of(p, 0).days.size()) {
                continue;
            }
            const double of_part = study.parts()[p].mass().si();
            mass += of_part;
            for (std::size_t m = 0; m < members; ++m) {
                const PartDay& one = courses.of(p, m).days[static_cast<std::size_t>(d)];
                PartDay& sum = sums[m];
                sum.mean_C += of_part * one.mean_C;
                sum.sugar_left += of_part * one.sugar_left;
                sum.killed += of_part * one.killed;
                sum.rotting += of_part * one.rotting;
                sum.warmest_C = std::max(sum.warmest_C, one.warmest_C);
                sum.coldest_C = std::min(sum.coldest_C, one.coldest_C);
            }
        }
        if (mass <= 0.0) {
            continue;
        }
        for (PartDay& sum : sums) {
            for (double* const total : {&sum.mean_C, &sum.sugar_left, &sum.killed, &sum.rotting}) {
                *total /= mass;
            }
        }
        bands.push_back(band(day, sums));
    }
    return bands;
}

PilePicture picture_of(const PileStudy& study, const Courses& courses, std::size_t part,
                       std::span<const Day> shown) {
    PilePicture picture{.part = part, .grid = *part_grid(study.basis()), .frames = {}};
    const std::size_t members = study.member_count();
    const std::size_t cells = picture.grid.across * picture.grid.up;
    for (const Day day : shown) {
        if (courses.of(part, 0).frame_on(day) == nullptr) {
            continue;
        }
        std::vector<const PartFrame*> of(members);
        for (std::size_t m = 0; m < members; ++m) {
            of[m] = courses.of(part, m).frame_on(day);
        }
        PilePicture::Frame frame{.day = day, .mean = {}, .low_C = {}, .high_C = {}};
        for (const auto field : {&PartFrame::celsius, &PartFrame::sugar_left, &PartFrame::killed,
                                 &PartFrame::air_across, &PartFrame::air_up}) {
            auto& mean = frame.mean.*field;
            mean.assign(cells, 0.0F);
            for (std::size_t m = 0; m < members; ++m) {
                const auto& one = of[m]->*field;
                for (std::size_t c = 0; c < cells; ++c) {
                    mean[c] += one[c] / static_cast<float>(members);
                }
            }
        }
        std::vector<double> values(members);
        for (std::size_t c = 0; c < cells; ++c) {
            for (std::size_t m = 0; m < members; ++m) {
                values[m] = static_cast<double>(of[m]->celsius[c]);
            }
            const auto band = summary_of(values);
            frame.low_C.push_back(static_cast<float>(band.low));
            frame.high_C.push_back(static_cast<float>(band.high));
        }
        picture.frames.push_back(std::move(frame));
    }
    return picture;
}

}  // namespace beetwright::engine
