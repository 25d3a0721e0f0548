// Where within a polygon a label has most room.
#pragma once

#include "ground/area.hpp"

namespace beetwright::maps {

struct LabelPlace {
    ground::Point at;
    double room_m = 0.0;  ///< to the nearest edge; 0 where no place within was found
};

/// The place among some hundred spread over the polygon that lies farthest from its edges, or a
/// little less far and nearer the middle.
LabelPlace label_place(const ground::PlanePolygon& polygon);

}  // namespace beetwright::maps
