// A bare number has no unit.
#include "base/quantity.hpp"

using namespace beetwright;

Length wrong = 5.0;
