// A weighbridge reading is not clean beet.
#include "base/quantity.hpp"

using namespace beetwright;

auto wrong = tonnes<CleanMass>(1.0) + tonnes<MassWithSoil>(1.0);
