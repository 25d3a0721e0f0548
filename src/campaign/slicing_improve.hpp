// An order made better step by step: two runs of parts that follow each other change places.
#pragma once

#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {

/// Until no such change helps. An order that keeps all days; so does the answer.
Sequence improved(const SlicingWork& work, Sequence order);

}  // namespace beetwright::campaign
