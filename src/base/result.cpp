#include "base/result.hpp"

namespace beetwright {

std::string Problem::text() const {
    std::string line;
    if (!where.file.empty()) {
        line += where.file;
        if (where.line > 0) {
            line += ':' + std::to_string(where.line);
        }
    }
    if (!where.field.empty()) {
        line += line.empty() ? "" : ", ";
        line += where.field;
    }
    line += line.empty() ? "" : ": ";
    line += what;
    if (!fix.empty()) {
        line += ". " + fix;
    }
    return line;
}

}  // namespace beetwright
