#include <fmt/format.h>

#include <memory>

#include "io/schema_text.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct SchemaOptions {
    std::string table;
    bool json = false;
    bool typescript = false;
};

int show_schema(const SchemaOptions& options) {
    const auto text = options.typescript ? io::schema_typescript()
                      : options.json     ? io::schema_json(options.table)
                                         : io::schema_markdown(options.table);
    if (text.empty()) {
        fmt::print(stderr, "there is no table called {}; `beetwright schema` shows them all\n",
                   options.table);
        return 1;
    }
    fmt::print("{}", text);
    return 0;
}

}  // namespace

void add_schema(CommandLine& program) {
    auto options = std::make_shared<SchemaOptions>();
    auto verb = program.verb("schema", "Describe the tables of a season folder");
    verb.option("table", options->table, "only this file, such as fields.csv");
    verb.flag("--json", options->json, "as JSON Schema, for programs");
    verb.flag("--typescript", options->typescript, "as the app's module of types");
    verb.does([options] { return show_schema(*options); });
}

}  // namespace beetwright::cli
