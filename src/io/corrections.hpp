// Which earlier row each correction means.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "io/problem_list.hpp"
#include "io/season_rows.hpp"
#include "io/table.hpp"
#include "ledger/season.hpp"

namespace beetwright::io {

/// Gathers the cells under `supersedes`, and resolves them once every row has its id: the whole id
/// of an earlier row, its beginning as messages show it (eight hexadecimal digits or more), or the
/// name of a sheet or a note. The earlier row stands in the same folder, or is one of those the
/// season holds.
class Corrections {
 public:
    /// A row of `table` that became the observation of this id, the `index`th of its kind. `text`
    /// is what it has under `supersedes`. Sheets and notes of settings go by a `name`, which is
    /// theirs within a field or a machine.
    struct Row {
        const Table* table = nullptr;
        Observed kind = Observed::load;
        std::size_t index = 0;
        int line = 0;
        Uuid id;
        std::string text;
        std::string name;
        std::string named_within;
    };

    void add(Row row) { rows_.push_back(std::move(row)); }
    /// Writes the ids into the season. Problems: nothing is known by this beginning, or more than
    /// one thing; a row that corrects itself, perhaps by way of others; two corrections of one row.
    void resolve(const KnownIds& known, ledger::Season& season, ProblemList& problems) const;

 private:
    std::vector<Row> rows_;
};

}  // namespace beetwright::io
