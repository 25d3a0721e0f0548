#include "maps/plane_polygons.hpp"

#include <geos_c.h>

#include <algorithm>
#include <limits>
#include <memory>
#include <string_view>
#include <utility>
#include <vector>

#include "base/contract.hpp"

namespace beetwright::maps {
namespace {

/// The library's handle and what it made with it. Each has its own: nothing is shared by threads.
class Geos {
 public:
    Geos() : handle_(GEOS_init_r()) { require(handle_ != nullptr, "polygons can be looked at"); }
    ~Geos() { GEOS_finish_r(handle_); }
    Geos(const Geos&) = delete;
    Geos& operator=(const Geos&) = delete;
    [[nodiscard]] GEOSContextHandle_t handle() const { return handle_; }

    struct Destroy {
        GEOSContextHandle_t handle;
        void operator()(GEOSGeometry* geometry) const { GEOSGeom_destroy_r(handle, geometry); }
    };
    using Geometry = std::unique_ptr<GEOSGeometry, Destroy>;
    [[nodiscard]] Geometry own(GEOSGeometry* geometry) const {
        return {geometry, Destroy{handle_}};
    }

    [[nodiscard]] Geometry ring(const ground::PlaneRing& corners) const {
        const auto count = static_cast<unsigned>(corners.size());
        GEOSCoordSequence* sequence = GEOSCoordSeq_create_r(handle_, count + 1, 2);
        for (unsigned k = 0; k <= count; ++k) {
            const auto& corner = corners[k % count];
            GEOSCoordSeq_setXY_r(handle_, sequence, k, corner.east_m, corner.north_m);
        }
        auto made = own(GEOSGeom_createLinearRing_r(handle_, sequence));
        require(made != nullptr, "a ring that is looked at has three corners");
        return made;
    }

    [[nodiscard]] Geometry polygon(const ground::PlanePolygon& from) const {
        std::vector<GEOSGeometry*> holes;
        for (const auto& hole : from.holes) {
            holes.push_back(ring(hole).release());
        }
        return own(GEOSGeom_createPolygon_r(handle_, ring(from.outer).release(), holes.data(),
                                            static_cast<unsigned>(holes.size())));
    }

    [[nodiscard]] Geometry area(const ground::PlaneArea& from) const {
        std::vector<GEOSGeometry*> polygons;
        for (const auto& one : from) {
            polygons.push_back(polygon(one).release());
        }
        return own(GEOSGeom_createCollection_r(handle_, GEOS_MULTIPOLYGON, polygons.data(),
                                               static_cast<unsigned>(polygons.size())));
    }

    [[nodiscard]] std::optional<PlaneFlaw> flaw(const GEOSGeometry* geometry) const;
    /// Where polygons that are each in order overlap by more than a sliver.
    [[nodiscard]] std::optional<PlaneFlaw> overlap(const ground::PlaneArea& area) const;
    /// What was made of polygons, which is let go; nothing where that could not be made.
    [[nodiscard]] ground::PlaneArea polygons_of(GEOSGeometry* made) const {
        ground::PlaneArea all;
        if (const auto geometry = own(made)) {
            append_polygons(geometry.get(), all);
        }
        return all;
    }

 private:
    void append_polygons(const GEOSGeometry* geometry, ground::PlaneArea& to) const;
    [[nodiscard]] double m2(const GEOSGeometry* geometry) const {
        double area = 0.0;
        GEOSArea_r(handle_, geometry, &area);
        return area;
    }
    /// Of the first so many polygons: all ground that one of them covers.
    [[nodiscard]] Geometry together(const ground::PlaneArea& from, std::size_t count) const {
        const ground::PlaneArea first(from.begin(),
                                      from.begin() + static_cast<std::ptrdiff_t>(count));
        return own(GEOSUnaryUnion_r(handle_, area(first).get()));
    }
    [[nodiscard]] ground::PlaneRing corners(const GEOSGeometry* ring) const;
    GEOSContextHandle_t handle_;
};

Flaw kind_of(std::string_view words) {
    constexpr std::pair<std::string_view, Flaw> kKinds[] = {
        {"Self-intersection", Flaw::crosses_itself},
        {"Ring Self-intersection", Flaw::touches_itself},
        {"Hole lies outside shell", Flaw::hole_outside},
        {"Holes are nested", Flaw::holes_overlap},
        {"Interior is disconnected", Flaw::cut_in_two},
        {"Duplicate Rings", Flaw::holes_overlap},
    };
    for (const auto& [start, kind] : kKinds) {
        if (words.starts_with(start)) {
            return kind;
        }
    }
    return Flaw::other;
}

std::optional<PlaneFlaw> Geos::flaw(const GEOSGeometry* geometry) const {
    char* reason = nullptr;
    GEOSGeometry* place = nullptr;
    const char valid = GEOSisValidDetail_r(handle_, geometry, 0, &reason, &place);
    const auto at = own(place);
    std::optional<PlaneFlaw> found;
    if (valid != 1) {
        found.emplace();
        found->words = reason != nullptr ? reason : "it cannot be looked at";
        found->kind = kind_of(found->words);
        if (at) {
            GEOSGeomGetX_r(handle_, at.get(), &found->at.east_m);
            GEOSGeomGetY_r(handle_, at.get(), &found->at.north_m);
        }
    }
    GEOSFree_r(handle_, reason);
    return found;
}

// Neighbours may share a border, as where an area was cut at the antimeridian, which the library's
// own check of many polygons refuses. So what they cover together is held against the sum of each.
std::optional<PlaneFlaw> Geos::overlap(const ground::PlaneArea& area) const {
    constexpr double kSliver_m2 = 1.0;
    std::vector<double> sums{0.0};
    for (const auto& one : area) {
        sums.push_back(sums.back() + m2(polygon(one).get()));
    }
    const auto do_overlap = [&](std::size_t count) {
        const auto covered = together(area, count);
        return covered && m2(covered.get()) < sums[count] - kSliver_m2;
    };
    if (!do_overlap(area.size())) {
        return std::nullopt;
    }
    // The fewest of the first polygons of which two overlap: the last of these is one of the two.
    std::size_t apart = 1;
    std::size_t overlapping = area.size();
    while (overlapping - apart > 1) {
        const std::size_t middle = (apart + overlapping) / 2;
        (do_overlap(middle) ? overlapping : apart) = middle;
    }
    PlaneFlaw flaw{.kind = Flaw::polygons_overlap, .at = area[apart].outer.front(), .words = ""};
    const auto others = together(area, apart);
    const auto shared =
        others ? own(GEOSIntersection_r(handle_, others.get(), polygon(area[apart]).get()))
               : nullptr;
    const auto inside = shared ? own(GEOSPointOnSurface_r(handle_, shared.get())) : nullptr;
    if (inside && GEOSisEmpty_r(handle_, inside.get()) == 0) {
        GEOSGeomGetX_r(handle_, inside.get(), &flaw.at.east_m);
        GEOSGeomGetY_r(handle_, inside.get(), &flaw.at.north_m);
    }
    return flaw;
}

ground::PlaneRing Geos::corners(const GEOSGeometry* ring) const {
    const GEOSCoordSequence* sequence = GEOSGeom_getCoordSeq_r(handle_, ring);
    unsigned count = 0;
    GEOSCoordSeq_getSize_r(handle_, sequence, &count);
    ground::PlaneRing points;
    for (unsigned k = 0; k + 1 < count; ++k) {
        auto& point = points.emplace_back();
        GEOSCoordSeq_getXY_r(handle_, sequence, k, &point.east_m, &point.north_m);
    }
    return points;
}

void Geos::append_polygons(const GEOSGeometry* geometry, ground::PlaneArea& to) const {
    const int kind = GEOSGeomTypeId_r(handle_, geometry);
    if (kind == GEOS_POLYGON) {
        if (GEOSisEmpty_r(handle_, geometry) == 1) {
            return;
        }
        auto& polygon = to.emplace_back();
        polygon.outer = corners(GEOSGetExteriorRing_r(handle_, geometry));
        for (int k = 0; k < GEOSGetNumInteriorRings_r(handle_, geometry); ++k) {
            polygon.holes.push_back(corners(GEOSGetInteriorRingN_r(handle_, geometry, k)));
        }
    } else if (kind == GEOS_MULTIPOLYGON || kind == GEOS_GEOMETRYCOLLECTION) {
        for (int k = 0; k < GEOSGetNumGeometries_r(handle_, geometry); ++k) {
            append_polygons(GEOSGetGeometryN_r(handle_, geometry, k), to);
        }
    }  // points and lines are where the area only touches the cut
}

}  // namespace

std::optional<PlaneFlaw> flaw_of(const ground::PlaneArea& area, std::size_t& polygon) {
    const Geos geos;
    for (polygon = 0; polygon < area.size(); ++polygon) {
        if (auto flaw = geos.flaw(geos.polygon(area[polygon]).get())) {
            return flaw;
        }
    }
    return area.size() > 1 ? geos.overlap(area) : std::nullopt;
}

ground::PlaneArea between(const ground::PlaneArea& area, double west_m, double east_m) {
    const Geos geos;
    double south = std::numeric_limits<double>::infinity();
    double north = -south;
    for (const auto& polygon : area) {
        for (const auto& corner : polygon.outer) {
            south = std::min(south, corner.north_m);
            north = std::max(north, corner.north_m);
        }
    }
    const ground::PlanePolygon band{
        .outer = {{west_m, south}, {east_m, south}, {east_m, north}, {west_m, north}}};
    return geos.polygons_of(
        GEOSIntersection_r(geos.handle(), geos.area(area).get(), geos.polygon(band).get()));
}

ground::PlaneArea united(const ground::PlaneArea& polygons) {
    const Geos geos;
    return geos.polygons_of(GEOSUnaryUnion_r(geos.handle(), geos.area(polygons).get()));
}

ground::PlaneArea in_common(const ground::PlaneArea& one, const ground::PlaneArea& other) {
    const Geos geos;
    return geos.polygons_of(
        GEOSIntersection_r(geos.handle(), geos.area(one).get(), geos.area(other).get()));
}

ground::PlaneArea without(const ground::PlaneArea& one, const ground::PlaneArea& other) {
    const Geos geos;
    return geos.polygons_of(
        GEOSDifference_r(geos.handle(), geos.area(one).get(), geos.area(other).get()));
}

}  // namespace beetwright::maps
