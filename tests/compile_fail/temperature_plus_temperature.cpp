// Two points on the scale do not add.
#include "base/quantity.hpp"

using namespace beetwright;

auto wrong = Temperature::celsius(1.0) + Temperature::celsius(2.0);
