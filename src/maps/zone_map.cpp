#include "maps/zone_map.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "base/number_text.hpp"
#include "ground/local_plane.hpp"
#include "ground/plane_area.hpp"
#include "io/falling_band.hpp"
#include "io/filled.hpp"
#include "maps/label_place.hpp"
#include "maps/rings.hpp"
#include "maps/round_length.hpp"
#include "maps/zone_hatches.hpp"
#include "maps/zone_words.hpp"

namespace beetwright::maps {
namespace {

using ground::Point;
using io::escaped;
using io::filled;

// Everything in the drawing's own units; the page scales it.
constexpr double kWidth = 720.0;
constexpr double kLeft = 88.0;  // latitudes stand here
constexpr double kRight = 10.0;
constexpr double kTop = 8.0;
constexpr double kMostHeight = 480.0;  // of the frame: page and table go on one sheet
constexpr double kLeastHeight = 160.0;
constexpr double kAround = 14.0;  // between field and frame
constexpr double kUnder = 78.0;   // longitudes, the bar and the arrow
constexpr double kLabel = 13.0;   // radius of a zone's number
constexpr double kTick = 6.0;

std::string place(double at) {
    return fixed_text(at, 2);
}

/// The ground that is drawn, and where each of its points comes to lie.
class Frame {
 public:
    explicit Frame(const ground::PlaneBox& box) {
        const double east_m = std::max(box.most.east_m - box.least.east_m, 1.0);
        const double north_m = std::max(box.most.north_m - box.least.north_m, 1.0);
        width_ = kWidth - kLeft - kRight;
        scale_ =
            std::min((width_ - 2.0 * kAround) / east_m, (kMostHeight - 2.0 * kAround) / north_m);
        height_ = std::max(scale_ * north_m + 2.0 * kAround, kLeastHeight);
        middle_ = {0.5 * (box.least.east_m + box.most.east_m),
                   0.5 * (box.least.north_m + box.most.north_m)};
    }

    [[nodiscard]] double scale() const { return scale_; }  ///< units a metre
    [[nodiscard]] double width() const { return width_; }
    [[nodiscard]] double bottom() const { return kTop + height_; }
    [[nodiscard]] double x(double east_m) const {
        return kLeft + 0.5 * width_ + scale_ * (east_m - middle_.east_m);
    }
    [[nodiscard]] double y(double north_m) const {
        return kTop + 0.5 * height_ - scale_ * (north_m - middle_.north_m);
    }
    [[nodiscard]] std::string point(const Point& at) const {
        return place(x(at.east_m)) + " " + place(y(at.north_m));
    }

 private:
    double width_ = 0.0;
    double height_ = 0.0;
    double scale_ = 0.0;
    Point middle_;
};

class Drawing {
 public:
    Drawing(const ZonePlan& plan, const ReliefLines& relief, UnitSystem units,
            const ground::LocalPlane& plane, const ground::PlaneArea& all)
        : plan_(plan), relief_(relief), units_(units), plane_(plane), frame_(ground::bounds(all)) {}

    std::string draw() {
        const double height = frame_.bottom() + kUnder;
        svg_ = filled(
            "<svg class=\"zone-map\" viewBox=\"0 0 {0} {1}\" role=\"img\" "
            "aria-label=\"The zones of {2}, drawn to scale, north up\">",
            place(kWidth), place(height), escaped(plan_.field));
        svg_ += hatch_definitions();
        zones();
        relief();
        area("border", "", plan_.boundary);
        numbers();
        ticks();
        svg_ +=
            filled("<rect class=\"frame\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
                   place(kLeft), place(kTop), place(frame_.width()), place(frame_.bottom() - kTop));
        scale_bar();
        north_arrow();
        return svg_ + "</svg>";
    }

 private:
    /// One element, so that a hole is no ground.
    void area(std::string_view css, std::string_view attributes, const ground::Area& area) {
        std::string path;
        const auto append = [&](const ground::PlaneRing& ring) {
            for (std::size_t k = 0; k < ring.size(); ++k) {
                path += (k == 0 ? "M" : "L") + frame_.point(ring[k]);
            }
            path += ring.empty() ? "" : "Z";
        };
        for (const auto& polygon : plane_.to_plane(area)) {
            append(polygon.outer);
            std::ranges::for_each(polygon.holes, append);
        }
        if (!path.empty()) {
            svg_ += filled("<path class=\"{}\" fill-rule=\"evenodd\"{} d=\"{}\"/>", css, attributes,
                           path);
        }
    }

    void zones() {
        for (std::size_t k = 0; k < plan_.zones.size(); ++k) {
            const auto& zone = plan_.zones[k];
            const auto number = std::to_string(zone.number);
            area("ground", "", zone.area);
            area("zone", filled(" data-zone=\"{}\" fill=\"{}\"", number, hatch_fill(k)), zone.area);
        }
    }

    void relief() {
        constexpr double kLongEnough = 120.0;  // for a number on the line
        for (const auto& line : relief_.lines) {
            std::string path;
            double length = 0.0;
            Point before{};
            std::vector<Point> course;
            for (const auto& at : line.course) {
                const auto here = plane_.to_plane(at);
                path += (path.empty() ? "M" : "L") + frame_.point(here);
                length += course.empty() ? 0.0
                                         : std::hypot(here.east_m - before.east_m,
                                                      here.north_m - before.north_m);
                before = here;
                course.push_back(here);
            }
            svg_ += filled("<path class=\"relief\" d=\"{}\"/>", path);
            if (frame_.scale() * length >= kLongEnough) {
                height_number(line.height_m, course[course.size() / 2]);
            }
        }
    }

    void height_number(double height_m, const Point& at) {
        constexpr double kApart = 44.0;
        const auto is_near = [&](const Point& other) {
            return frame_.scale() *
                       std::hypot(at.east_m - other.east_m, at.north_m - other.north_m) <
                   kApart;
        };
        if (std::ranges::any_of(height_numbers_, is_near)) {
            return;  // one would stand on another
        }
        height_numbers_.push_back(at);
        const bool us = units_ == UnitSystem::us;
        const double unit_m = us ? find_unit("ft")->to_si(1.0) : 1.0;
        const int decimals = relief_.step_m / unit_m < 1.0 ? 1 : 0;
        svg_ +=
            filled("<text class=\"height\" x=\"{}\" y=\"{}\">{}</text>", place(frame_.x(at.east_m)),
                   place(frame_.y(at.north_m) + 3.5), fixed_text(height_m / unit_m, decimals));
    }

    /// On each piece of a zone that has room, and on its roomiest in any case.
    void numbers() {
        for (const auto& zone : plan_.zones) {
            std::vector<LabelPlace> places;
            for (const auto& polygon : plane_.to_plane(zone.area)) {
                places.push_back(label_place(polygon));
            }
            const auto roomiest = std::ranges::max_element(places, {}, &LabelPlace::room_m);
            for (auto it = places.begin(); it != places.end(); ++it) {
                if (it == roomiest || frame_.scale() * it->room_m >= kLabel) {
                    number(zone.number, it->at);
                }
            }
        }
    }

    void number(int number, const Point& at) {
        const auto x = place(frame_.x(at.east_m));
        const double y = frame_.y(at.north_m);
        svg_ += filled(
            "<circle class=\"number\" cx=\"{0}\" cy=\"{1}\" r=\"{2}\"/><text class=\"number\" "
            "x=\"{0}\" y=\"{3}\">{4}</text>",
            x, place(y), place(kLabel), place(y + 5.5), std::to_string(number));
    }

    /// Degrees that fall on round numbers, three to six along a side.
    void ticks() {
        constexpr double kPolar_deg = 85.0;  // where longitudes are no grid
        const auto& middle = plane_.middle();
        if (std::abs(middle.latitude_deg) > kPolar_deg) {
            return;
        }
        constexpr double kSmall_deg = 1e-4;
        const auto from = plane_.to_plane(middle);
        const auto a_north = plane_.to_plane(
            ground::Position{middle.latitude_deg + kSmall_deg, middle.longitude_deg});
        const auto an_east = plane_.to_plane(
            ground::Position{middle.latitude_deg, middle.longitude_deg + kSmall_deg});
        const double north_units = frame_.scale() * (a_north.north_m - from.north_m) / kSmall_deg;
        const double east_units = frame_.scale() * (an_east.east_m - from.east_m) / kSmall_deg;
        degrees(middle.latitude_deg, frame_.y(from.north_m), -north_units, kTop, frame_.bottom(),
                [&](double at, const std::string& words, bool is_below) {
                    tick(kLeft, at, kTick, 0.0);
                    tick(kLeft + frame_.width(), at, -kTick, 0.0);
                    label("latitude", kLeft - 6.0, at + 4.5, words + (is_below ? "° S" : "° N"));
                });
        degrees(middle.longitude_deg, frame_.x(from.east_m), east_units, kLeft,
                kLeft + frame_.width(), [&](double at, const std::string& words, bool is_below) {
                    tick(at, frame_.bottom(), 0.0, -kTick);
                    tick(at, kTop, 0.0, kTick);
                    label("longitude", at, frame_.bottom() + 18.0,
                          words + (is_below ? "° W" : "° E"));
                });
    }

    /// Goes through the round degrees between two places in the drawing.
    template <class Mark>
    static void degrees(double middle_deg, double middle_at, double units_a_degree, double begin,
                        double end, const Mark& mark) {
        constexpr double kApart = 130.0;  // units, at least
        constexpr double kFromCorner = 24.0;
        constexpr int kMostDecimals = 6;
        const double length_deg = (end - begin) / std::abs(units_a_degree);
        const double apart_deg = std::min(kApart / std::abs(units_a_degree), 0.4 * length_deg);
        double step = round_number(apart_deg);
        step *= step < 0.999 * apart_deg ? 2.0 : 1.0;
        step = std::max(step, 1e-6);
        const int decimals =
            std::clamp(static_cast<int>(std::ceil(-std::log10(step) - 1e-9)), 0, kMostDecimals);
        const double first_deg = middle_deg + std::min((begin - middle_at) / units_a_degree,
                                                       (end - middle_at) / units_a_degree);
        const auto last = static_cast<std::int64_t>(std::floor((first_deg + length_deg) / step));
        for (auto k = static_cast<std::int64_t>(std::ceil(first_deg / step)); k <= last; ++k) {
            const double degrees = static_cast<double>(k) * step;
            const double at = middle_at + (degrees - middle_deg) * units_a_degree;
            if (at > begin + kFromCorner && at < end - kFromCorner) {
                const double shown = longitude_step_deg(0.0, degrees);
                mark(at, fixed_text(std::abs(shown), decimals), shown < 0.0);
            }
        }
    }

    void tick(double x, double y, double along, double up) {
        svg_ += filled("<path class=\"tick\" d=\"M{} {}l{} {}\"/>", place(x), place(y),
                       place(along), place(up));
    }
    void label(std::string_view css, double x, double y, const std::string& words) {
        svg_ += filled("<text class=\"{}\" x=\"{}\" y=\"{}\">{}</text>", css, place(x), place(y),
                       words);
    }

    /// A bar of a round length in people's units, in two halves.
    void scale_bar() {
        constexpr double kMost = 240.0;
        const auto length = round_length(kMost / frame_.scale(), units_);
        const double half = 0.5 * frame_.scale() * length.metres;
        const double y = frame_.bottom() + 48.0;
        svg_ += filled(
            "<g class=\"scale\" data-metres=\"{0}\"><rect class=\"bar\" x=\"{1}\" y=\"{2}\" "
            "width=\"{3}\" height=\"8\"/><rect class=\"half\" x=\"{1}\" y=\"{2}\" width=\"{4}\" "
            "height=\"8\"/></g>",
            shortest_text(length.metres), place(kLeft), place(y), place(2.0 * half), place(half));
        label("bar-end", kLeft, y + 24.0, "0");
        label("bar-end", kLeft + 2.0 * half, y + 24.0, length.words);
    }

    void north_arrow() {
        const double x = kWidth - kRight - 22.0;
        const double y = frame_.bottom() + 32.0;
        svg_ += filled(
            "<path class=\"north\" d=\"M{0} {1}l9 36l-9 -8l-9 8Z\"/><text class=\"north\" "
            "x=\"{2}\" y=\"{3}\">N</text>",
            place(x), place(y), place(x - 26.0), place(y + 24.0));
    }

    const ZonePlan& plan_;
    const ReliefLines& relief_;
    UnitSystem units_;
    const ground::LocalPlane& plane_;
    Frame frame_;
    std::vector<Point> height_numbers_;  ///< where they stand
    std::string svg_;
};

/// Everything that has a place in the drawing.
ground::Area drawn(const ZonePlan& plan) {
    ground::Area all = plan.boundary;
    for (const auto& zone : plan.zones) {
        all.insert(all.end(), zone.area.begin(), zone.area.end());
    }
    std::erase_if(all, [](const ground::Polygon& polygon) { return polygon.outer.empty(); });
    return all;
}

}  // namespace

std::optional<ground::Position> middle_of_plan(const ZonePlan& plan) {
    const auto all = drawn(plan);
    if (all.empty()) {
        return std::nullopt;
    }
    // Of what they span: corners may stand close together on one side.
    const ground::LocalPlane plane(ground::middle_of(all));
    const auto box = ground::bounds(plane.to_plane(all));
    return plane.to_earth(Point{0.5 * (box.least.east_m + box.most.east_m),
                                0.5 * (box.least.north_m + box.most.north_m)});
}

std::string zone_map_svg(const ZonePlan& plan, const ReliefLines& relief, UnitSystem units) {
    const auto all = drawn(plan);
    if (all.empty()) {
        return {};
    }
    const ground::LocalPlane plane(*middle_of_plan(plan));
    return Drawing(plan, relief, units, plane, plane.to_plane(all)).draw();
}

}  // namespace beetwright::maps
