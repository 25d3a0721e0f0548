// What may have failed must be looked at.
#include "base/result.hpp"

beetwright::Result<beetwright::Done> import_all();

void wrong() {
    import_all();
}
