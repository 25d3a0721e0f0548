#include "maps/area_intake.hpp"

#include <array>
#include <string_view>

#include "base/counted.hpp"
#include "base/lower_case.hpp"
#include "maps/rings.hpp"

namespace beetwright::maps {
namespace {

/// The borders of a large farm, walked with a receiver, have a tenth of this. Looking for crossings
/// takes time by the square of an area's corners, if they are put as badly as can be.
constexpr std::size_t kMostCorners = 250'000;
constexpr std::size_t kMostOfArea = 50'000;

std::size_t corners_of(const ground::Area& area) {
    std::size_t count = 0;
    for (const auto& polygon : area) {
        count += polygon.outer.size();
        for (const auto& hole : polygon.holes) {
            count += hole.size();
        }
    }
    return count;
}

}  // namespace

bool AreaOrder::put(ground::Area& area, const Where& where, io::ProblemList& problems,
                    double least_m2) {
    const std::size_t corners = corners_of(area);
    const bool was_too_many = corners_ > kMostCorners;
    corners_ += corners;
    if (was_too_many) {
        return false;  // which was told
    }
    if (corners > kMostOfArea || corners_ > kMostCorners) {
        const bool is_one = corners > kMostOfArea;
        problems.add({ProblemKind::limit, where,
                      std::string(is_one ? "this area" : "the file") + " has more than " +
                          std::to_string(is_one ? kMostOfArea : kMostCorners) + " corners",
                      is_one ? "simplify its border" : "save fewer areas at once"});
        return false;
    }
    for (auto& polygon : area) {
        leave_out_repeated(polygon.outer);
        for (auto& hole : polygon.holes) {
            leave_out_repeated(hole);
        }
    }
    if (!look_through(area, where, order_, problems, least_m2)) {
        return false;
    }
    turned_ += turn_rings(area);
    return true;
}

void AreaIntake::take(NamedArea area, Where where) {
    where.file = file_;
    if (order_.put(area.area, where, problems_)) {
        areas_.push_back(std::move(area));
    }
}

Result<AreasReading> AreaIntake::finish() && {
    if (areas_.empty() && problems_.empty()) {
        std::string others;
        for (const auto& [kind, count] : passed_over_) {
            others += (others.empty() ? ", only " : ", ") + std::to_string(count) + " " + kind;
        }
        problems_.add({ProblemKind::missing,
                       {.file = file_, .line = 0, .field = ""},
                       "no area stands in this file" + others,
                       "save the borders of fields as polygons"});
    }
    if (!problems_.empty()) {
        return std::move(problems_).take();
    }
    if (order_.turned() > 0) {
        notes_.push_back(counted(order_.turned(), "ring", "rings") +
                         " turned round: outer rings run counter-clockwise, holes clockwise");
    }
    for (const auto& [kind, count] : passed_over_) {
        notes_.push_back(std::to_string(count) + " " + kind + " passed over: no area");
    }
    return AreasReading{.areas = std::move(areas_), .notes = std::move(notes_)};
}

std::string name_among(const std::map<std::string, std::string, std::less<>>& said) {
    constexpr std::array<std::string_view, 5> kNames{"name", "field", "field_name", "title",
                                                     "label"};
    for (const auto name : kNames) {
        for (const auto& [key, value] : said) {
            if (lower_case(key) == name && !value.empty()) {
                return value;
            }
        }
    }
    return {};
}

}  // namespace beetwright::maps
