// Money does not weigh.
#include "base/quantity.hpp"

using namespace beetwright;

auto wrong = Money(1.0) + kilograms<CleanMass>(1.0);
