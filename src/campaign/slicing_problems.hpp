// What of a question of the slicing order cannot be, by pile and part.
#pragma once

#include <string>

#include "base/result.hpp"
#include "campaign/slicing_order.hpp"

namespace beetwright::campaign {

/// "the pile, the part"; of a question that has that part.
std::string name_of(const SlicingQuestion& question, PartPlace place);

/// Every number that cannot be; `where.field` is the pile and the part. Nothing where all is
/// in order.
Problems problems_of(const SlicingQuestion& question);

}  // namespace beetwright::campaign
