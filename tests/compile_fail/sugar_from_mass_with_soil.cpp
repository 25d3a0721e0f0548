// A sugar content is per clean beet: times a mass with soil it is not sugar.
#include "base/quantity.hpp"

using namespace beetwright;

SugarMass wrong = tonnes<MassWithSoil>(1.0) * SugarContent(0.17);
