// The id of a field is not that of a machine.
#include "base/uuid.hpp"

struct Field;
struct Machine;

bool wrong = beetwright::Id<Field>{} == beetwright::Id<Machine>{};
