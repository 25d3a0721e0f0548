// What a dug and gleaned strip says of the whole field. docs/methods/strip.md.
#pragma once

#include <span>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"
#include "check/sheet.hpp"
#include "num/uncertain.hpp"

namespace beetwright::check {

/// [kg clean beet / m2], over the strips of one field; at least one strip.
struct StripLosses {
    num::Uncertain whole_roots;
    num::Uncertain pieces;
    num::Uncertain tails_found;
};
StripLosses strip_losses(std::span<const DugStrip> strips, const Catalogue& catalogue);

/// The area of a strip of this many rows.
Area strip_area(int rows, Length row_spacing, Length length);

/// What a bucket weighed on a strip means: (gross - bucket) / area.
CleanMassPerArea bucket_loss(CleanMass gross, CleanMass bucket, Area area);

}  // namespace beetwright::check
