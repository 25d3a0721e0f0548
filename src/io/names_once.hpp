// Names that may stand once in their table.
#pragma once

#include <map>
#include <string>

#include "io/table.hpp"

namespace beetwright::io {

/// Notices a name that stands twice in a table.
class NamesOnce {
 public:
    bool add(TableReader& reader, const TableRow& row, std::size_t column) {
        const auto [found, is_new] = lines_.try_emplace(row.text(column), row.line());
        if (!is_new) {
            reader.fail(column,
                        "\"" + row.text(column) + "\" stands on line " +
                            std::to_string(found->second) + " already",
                        "give each a name of its own");
        }
        return is_new;
    }
    /// 0: it does not stand there.
    [[nodiscard]] int line_of(const std::string& name) const {
        const auto found = lines_.find(name);
        return found == lines_.end() ? 0 : found->second;
    }

 private:
    std::map<std::string, int> lines_;
};

}  // namespace beetwright::io
