// The ids of rows that are an observation each.
#pragma once

#include "io/season_read.hpp"
#include "io/table.hpp"

namespace beetwright::io {

/// Gives each row of a table its id, and notices one that stands twice. Every table of observations
/// but those of which several rows are one begins with `id` and `supersedes`.
class RowIds {
 public:
    RowIds(const FolderReading& reading, const Table& table, Observed kind)
        : reading_(reading), table_(table), kind_(kind) {}

    /// The row's own id, or one made of its content; it will be the `index`th of its kind. Nil
    /// where the row was refused.
    Uuid of(TableReader& reader, const TableRow& row, std::size_t index);

 private:
    const FolderReading& reading_;
    const Table& table_;
    Observed kind_;
};

}  // namespace beetwright::io
