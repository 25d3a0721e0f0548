// The payment terms of the demo season: invented, and not those of any buyer.
#pragma once

#include "worth/terms.hpp"

namespace beetwright::demo {

worth::Terms invented_terms();

}  // namespace beetwright::demo
