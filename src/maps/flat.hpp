// A piece of ground laid flat, for looking at its shape: metres east and north of its middle, by
// scales that hold there. What is straight in degrees stays straight, as map files mean it.
//
// Not ground/'s plane of a field, in which distances are right to millimetres but a parallel is
// bent: fields that share a side in a file would overlap there. Here distances are off by some 1e-4
// over a few kilometres, which is enough to tell a field from a county. Only validity.hpp uses
// this.
#pragma once

#include "ground/area.hpp"

namespace beetwright::maps {

class Flat {
 public:
    explicit Flat(const ground::Position& middle);
    /// About the middle of what the area spans. The area has a corner.
    static Flat about(const ground::Area& area);

    [[nodiscard]] ground::Point point(const ground::Position& position) const;
    [[nodiscard]] ground::Position position(const ground::Point& point) const;
    [[nodiscard]] ground::PlaneArea area(const ground::Area& area) const;

 private:
    ground::Position middle_;
    double m_per_deg_east_ = 0.0;
    double m_per_deg_north_ = 0.0;
};

}  // namespace beetwright::maps
