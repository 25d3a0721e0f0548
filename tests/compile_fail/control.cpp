// The right way to write the sums that the other files get wrong.
#include "base/quantity.hpp"
#include "base/result.hpp"
#include "base/uuid.hpp"

using namespace beetwright;

struct Field;

CleanMass sum = tonnes<CleanMass>(1.0) + kilograms<CleanMass>(1.0);
SugarMass sugar = tonnes<CleanMass>(1.0) * SugarContent(0.17);
Temperature warmer = Temperature::celsius(1.0) + 2.0 * unit::K;
double ratio = (1.0 * unit::m) * (1.0 * unit::m) / unit::m2;
bool same = Id<Field>{} == Id<Field>{};

static_assert(sizeof(CleanMass) == sizeof(double));
static_assert((2.0 * unit::m) * (3.0 * unit::m) == 6.0 * unit::m2);

Result<Done> import_all();

bool right() {
    return import_all().ok();
}
