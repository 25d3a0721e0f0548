#include "maps/validity.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/number_text.hpp"
#include "ground/plane_area.hpp"
#include "io/decimal.hpp"
#include "maps/flat.hpp"
#include "maps/plane_polygons.hpp"
#include "maps/rings.hpp"

namespace beetwright::maps {
namespace {

using ground::Area;
using ground::Point;
using ground::Position;
using ground::Ring;

/// Corners nearer to one line than this enclose nothing that can be worked.
constexpr double kThinnest_m = 1e-3;

class Looking {
 public:
    Looking(const Area& area, const Where& where, NumberOrder order, io::ProblemList& problems,
            double least_m2)
        : area_(area), where_(where), order_(order), problems_(problems), least_m2_(least_m2) {}

    bool is_in_order() {
        const std::size_t before = problems_.count();
        if (area_.empty()) {
            tell("this area has no ring", "give it corners, or leave it out");
            return false;
        }
        each_ring([&](const Ring& ring, const std::string& name) { corners(ring, name); });
        if (problems_.count() > before) {
            return false;
        }
        const Flat flat = Flat::about(area_);
        each_ring([&](const Ring& ring, const std::string& name) {
            if (is_line(flat, ring)) {
                tell(name + " encloses nothing: its corners stand in one line",
                     "give the corners of the ground, or leave this ring out");
            }
        });
        const auto plane = flat.area(area_);
        if (problems_.count() == before) {
            shape(flat, plane);
        }
        if (problems_.count() == before) {
            size(flat, ground::size_m2(plane));
        }
        return problems_.count() == before;
    }

 private:
    void tell(std::string what, std::string fix) {
        problems_.add(where_, std::move(what), std::move(fix));
    }

    [[nodiscard]] std::string polygon_name(std::size_t polygon) const {
        return area_.size() > 1 ? " of polygon " + std::to_string(polygon + 1) : "";
    }

    template <class Look>
    void each_ring(Look&& look) const {
        for (std::size_t p = 0; p < area_.size(); ++p) {
            look(area_[p].outer, "the outer ring" + polygon_name(p));
            for (std::size_t h = 0; h < area_[p].holes.size(); ++h) {
                look(area_[p].holes[h], "hole " + std::to_string(h + 1) + polygon_name(p));
            }
        }
    }

    void corners(const Ring& ring, const std::string& name) {
        if (ring.size() < 3) {
            tell(name + " has " + std::to_string(ring.size()) +
                     (ring.size() == 1 ? " corner" : " corners"),
                 "a ring has three corners or more, each at a place of its own");
            return;
        }
        for (std::size_t k = 0; k < ring.size(); ++k) {
            const auto& at = ring[k];
            const std::string which = "corner " + std::to_string(k + 1) + " of " + name;
            // One is told of a ring: the others are wrong in the same way.
            if (!ground::is_on_earth(at)) {
                tell(which + " is at latitude " + general_text(at.latitude_deg, 9) +
                         " and longitude " + general_text(at.longitude_deg, 9) +
                         ", which is nowhere on earth",
                     hint_for(at));
                return;
            }
            if (at.latitude_deg == 0.0 && at.longitude_deg == 0.0) {
                tell(which +
                         " is at latitude 0, longitude 0: what receivers write that know no "
                         "position",
                     "take this corner out, or measure it again");
                return;
            }
        }
    }

    [[nodiscard]] std::string hint_for(const Position& at) const {
        std::string ranges = "latitudes are from -90 to 90 degrees, longitudes from -180 to 180";
        if (order_ == NumberOrder::projected) {
            return "see whether the coordinate system is the right one: " + ranges;
        }
        if (ground::is_on_earth({at.longitude_deg, at.latitude_deg})) {
            return std::string("latitude and longitude are probably swapped: write ") +
                   (order_ == NumberOrder::longitude_first ? "the longitude" : "the latitude") +
                   " first; " + ranges;
        }
        constexpr double kMostDegrees = 360.0;
        if (std::max(std::abs(at.latitude_deg), std::abs(at.longitude_deg)) > kMostDegrees) {
            return "these look like metres of a map; save it in WGS 84, in degrees";
        }
        return ranges;
    }

    static bool is_line(const Flat& flat, const Ring& ring) {
        const Point origin = flat.point(ring.front());
        const auto from_origin = [&](const Position& corner) {
            const Point p = flat.point(corner);
            return Point{p.east_m - origin.east_m, p.north_m - origin.north_m};
        };
        Point far{};
        double length = 0.0;
        for (const auto& corner : ring) {
            const Point p = from_origin(corner);
            if (std::hypot(p.east_m, p.north_m) > length) {
                far = p;
                length = std::hypot(p.east_m, p.north_m);
            }
        }
        return std::ranges::all_of(ring, [&](const Position& corner) {
            const Point p = from_origin(corner);
            return std::abs(p.east_m * far.north_m - p.north_m * far.east_m) <=
                   kThinnest_m * length;
        });
    }

    void shape(const Flat& flat, const ground::PlaneArea& plane) {
        std::size_t polygon = 0;
        const auto flaw = flaw_of(plane, polygon);
        if (!flaw) {
            return;
        }
        const std::string at = " at " + position_text(flat.position(flaw->at));
        const std::string of = polygon < area_.size() ? polygon_name(polygon) : "";
        switch (flaw->kind) {
            case Flaw::crosses_itself:
                tell("the border" + of + " crosses itself or another of its rings" + at,
                     "put its corners in the order in which one walks around it");
                break;
            case Flaw::touches_itself:
                tell("the border" + of + " touches itself" + at,
                     "move that corner, or part the ground there into two polygons");
                break;
            case Flaw::hole_outside:
                tell("a hole" + of + " lies outside the ground that it is cut from" + at,
                     "move it inside, or leave it out");
                break;
            case Flaw::holes_overlap:
                tell("two holes" + of + " overlap" + at, "make one of them");
                break;
            case Flaw::cut_in_two:
                tell("holes" + of + " cut the ground in two" + at,
                     "give each part as a polygon of its own");
                break;
            case Flaw::polygons_overlap:
                tell("two of its polygons overlap" + at, "make one of them");
                break;
            case Flaw::other:
                tell("the border" + of + " is not in order" + at + ": " + flaw->words,
                     "draw it again");
                break;
        }
    }

    void size(const Flat& flat, double m2) {
        constexpr double kHectare_m2 = 1e4;
        constexpr int kShown = 3;
        const std::string hectares =
            shortest_text(io::rounded_to_digits(m2 / kHectare_m2, kShown)) + " ha";
        if (m2 > kMostField_m2) {
            tell("this covers " + hectares + ", more than any field" + stray_corner(flat),
                 "look for a corner that was mistyped, or for latitudes and longitudes swapped");
        } else if (m2 < least_m2_) {
            tell("this covers " + hectares + ", less than a machine can turn on",
                 "look for corners that were mistyped or cut off, or leave it out");
        }
    }

    /// The corner that stands far from all others, if one alone does.
    [[nodiscard]] std::string stray_corner(const Flat& flat) const {
        constexpr double kFar = 10.0;  // times the distance of the others
        const Position* farthest = nullptr;
        double far_m = 0.0;
        double next_m = 0.0;
        const Point middle = middle_of_most(flat);
        each_ring([&](const Ring& ring, const std::string&) {
            for (const auto& corner : ring) {
                const Point p = flat.point(corner);
                const double away =
                    std::hypot(p.east_m - middle.east_m, p.north_m - middle.north_m);
                if (away > far_m) {
                    next_m = far_m;
                    far_m = away;
                    farthest = &corner;
                } else {
                    next_m = std::max(next_m, away);
                }
            }
        });
        return far_m > kFar * next_m && farthest != nullptr
                   ? "; the corner at " + position_text(*farthest) + " is far from all others"
                   : "";
    }

    [[nodiscard]] Point middle_of_most(const Flat& flat) const {
        std::vector<double> east;
        std::vector<double> north;
        each_ring([&](const Ring& ring, const std::string&) {
            for (const auto& corner : ring) {
                const Point p = flat.point(corner);
                east.push_back(p.east_m);
                north.push_back(p.north_m);
            }
        });
        const auto median = [](std::vector<double>& numbers) {
            const auto middle = numbers.begin() + static_cast<std::ptrdiff_t>(numbers.size() / 2);
            std::nth_element(numbers.begin(), middle, numbers.end());
            return *middle;
        };
        return {median(east), median(north)};
    }

    const Area& area_;
    const Where& where_;
    NumberOrder order_;
    io::ProblemList& problems_;
    double least_m2_;
};

}  // namespace

bool look_through(const Area& area, const Where& where, NumberOrder order,
                  io::ProblemList& problems, double least_m2) {
    return Looking(area, where, order, problems, least_m2).is_in_order();
}

}  // namespace beetwright::maps
