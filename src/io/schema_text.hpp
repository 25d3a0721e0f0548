// The tables of a season folder described: for people as a page, for programs as JSON Schema.
#pragma once

#include <string>
#include <string_view>

namespace beetwright::io {

/// Markdown: a section a table. Only the table of this file, if one is named; empty if there is
/// none such.
std::string schema_markdown(std::string_view file);
/// JSON Schema (draft 2020-12) of a row of each table, as an object by file name.
std::string schema_json(std::string_view file);

/// The tables and the questions as a TypeScript module, from which the app has its types, its
/// column orders and its bounds. Numbers are in the metric unit.
std::string schema_typescript();

}  // namespace beetwright::io
