#include "io/row_ids.hpp"

#include "io/season_tables.hpp"

namespace beetwright::io {

Uuid RowIds::of(TableReader& reader, const TableRow& row, std::size_t index) {
    constexpr std::size_t id_column = loads::id;
    constexpr std::size_t supersedes_column = loads::supersedes;
    Uuid id = row.id(id_column);
    if (id.is_nil()) {
        id = Uuid::from_text(row.content(table_));
    }
    const Where here{.file = std::string(table_.file), .line = row.line(), .field = ""};
    const auto [found, is_new] = reading_.places.try_emplace(id, here);
    if (!is_new) {
        const Where& first = found->second;
        const std::string there = (first.file == here.file ? "" : first.file + ", ") + "line " +
                                  std::to_string(first.line);
        reader.fail(id_column,
                    row.has(id_column) ? "the id of " + there + " stands here again"
                                       : "this row says the same as " + there,
                    row.has(id_column) ? "give each its own"
                                       : "leave one out, or give each an id of its own");
        return {};
    }
    reading_.corrections.add({.table = &table_,
                              .kind = kind_,
                              .index = index,
                              .line = row.line(),
                              .id = id,
                              .text = row.text(supersedes_column),
                              .name = {},
                              .named_within = {}});
    return id;
}

}  // namespace beetwright::io
