// Soil is not sugar.
#include "base/quantity.hpp"

using namespace beetwright;

auto wrong = kilograms<Mass>(1.0) + kilograms<SugarMass>(1.0);
