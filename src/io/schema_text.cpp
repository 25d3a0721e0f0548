#include "io/schema_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "io/job_questions.hpp"
#include "io/json.hpp"
#include "io/numbers.hpp"
#include "io/questions.hpp"
#include "io/season_tables.hpp"
#include "io/zones_parameters.hpp"

namespace beetwright::io {
namespace {

Unit unit_of(const Column& column) {
    return find_unit(column.metric_unit)
        .value_or(Unit{"1", UnitKind::number, 1.0, 0.0, UnitSystem::both});
}

std::string words_of(const Column& column) {
    std::string list;
    for (const Word& word : column.allowed) {
        list += (list.empty() ? "" : ", ") + ("`" + std::string(word.text) + "`");
    }
    return list;
}

std::string kind_words(const Column& column) {
    switch (column.kind) {
        case CellKind::text: return "text";
        case CellKind::number: return "number";
        case CellKind::numbers: return fmt::format("up to {} numbers", column.most_numbers);
        case CellKind::number_or_word: return "number, " + words_of(column);
        case CellKind::day: return "day";
        case CellKind::instant: return "instant";
        case CellKind::id: return "UUID";
        case CellKind::earlier: return "id";
        case CellKind::break_diameter: return "number, class or `whole`";
        case CellKind::word: return words_of(column);
    }
    return {};
}

std::string units_words(const Column& column) {
    if (column.metric_unit.empty()) {
        return {};
    }
    if (column.element) {
        std::string list;
        for (const auto& row : worth::lab_units()) {
            list += (list.empty() ? "" : ", ") + std::string(row.symbol);
        }
        return list;
    }
    std::string text(column.metric_unit);
    if (column.us_unit != column.metric_unit) {
        text += " or " + std::string(column.us_unit);
    }
    return text;
}

std::string bounds_words(const Column& column) {
    if (column.kind != CellKind::number && column.kind != CellKind::numbers &&
        column.kind != CellKind::break_diameter) {
        return {};
    }
    const Unit unit = unit_of(column);
    if (std::isinf(column.most) || column.most >= 1e12) {
        return {};
    }
    return fmt::format("{} to {}", number_text(column.least, unit), number_text(column.most, unit));
}

std::string table_markdown(const Table& table) {
    std::string text = fmt::format(
        "## {}\n\n{} {}\n\n| column | kind | unit | range | |\n|---|---|---|---|---|\n", table.file,
        table.words, table.presence == Presence::required ? "Must be there." : "May be left out.");
    for (const Column& column : table.columns) {
        text += fmt::format("| `{}`{} | {} | {} | {} | {} |\n", column.name,
                            column.presence == Presence::required ? " *" : "", kind_words(column),
                            units_words(column), bounds_words(column), column.words);
    }
    return text + "\n";
}

Json& add_number_schema(Json& schema, const Column& column) {
    schema["type"] = "number";
    if (!std::isinf(column.least)) {
        schema["minimum"] = unit_of(column).from_si(column.least);
    }
    if (!std::isinf(column.most)) {
        schema["maximum"] = unit_of(column).from_si(column.most);
    }
    if (!column.metric_unit.empty()) {
        schema["unit"] = column.metric_unit;
    }
    return schema;
}

Json column_schema(const Column& column) {
    Json schema = {{"description", column.words}};
    switch (column.kind) {
        case CellKind::number: return add_number_schema(schema, column);
        case CellKind::numbers:
            schema["type"] = "array";
            schema["maxItems"] = column.most_numbers;
            add_number_schema(schema["items"], column);
            return schema;
        case CellKind::number_or_word: {
            Json words = {{"enum", Json::array()}};
            for (const Word& word : column.allowed) {
                words["enum"].push_back(word.text);
            }
            schema["anyOf"] = Json::array({{{"type", "number"}}, words});
            return schema;
        }
        case CellKind::day:
            schema["type"] = "string";
            schema["format"] = "date";
            return schema;
        case CellKind::instant:
            schema["type"] = "string";
            schema["format"] = "date-time";
            return schema;
        case CellKind::id:
            schema["type"] = "string";
            schema["format"] = "uuid";
            return schema;
        case CellKind::word:
            schema["enum"] = Json::array();
            for (const Word& word : column.allowed) {
                schema["enum"].push_back(word.text);
            }
            return schema;
        default: schema["type"] = "string"; return schema;
    }
}

std::string_view kind_key(CellKind kind) {
    switch (kind) {
        case CellKind::text: return "text";
        case CellKind::number: return "number";
        case CellKind::numbers: return "numbers";
        case CellKind::number_or_word: return "number or word";
        case CellKind::day: return "day";
        case CellKind::instant: return "instant";
        case CellKind::id: return "id";
        case CellKind::earlier: return "earlier";
        case CellKind::word: return "word";
        case CellKind::break_diameter: return "break";
    }
    return "";
}

/// One column as the app reads it; what does not apply is left out.
Json column_facts(const Column& column) {
    Json facts = {{"name", column.name},
                  {"header", header_text(column, UnitSystem::metric)},
                  {"kind", kind_key(column.kind)},
                  {"required", column.presence == Presence::required}};
    if (!column.metric_unit.empty()) {
        facts["metric"] = column.metric_unit;
        facts["us"] = column.us_unit;
        facts["units"] = units_of(column);
    }
    const bool is_number = column.kind == CellKind::number || column.kind == CellKind::numbers;
    if (is_number && std::abs(column.least) < 1e12) {
        facts["least"] = unit_of(column).from_si(column.least);
        facts["most"] = unit_of(column).from_si(column.most);
    }
    if (column.digits == Digits::whole) {
        facts["whole"] = true;
    }
    if (column.kind == CellKind::numbers) {
        facts["mostNumbers"] = column.most_numbers;
    }
    for (const Word& word : column.allowed) {
        facts["allowed"].push_back(word.text);
    }
    for (const Table* table : season_tables()) {
        if (column.refers_to != Master::none && table->introduces == column.refers_to) {
            facts["refers"] = table->file;
        }
        if (column.explained_in != Master::none && table->introduces == column.explained_in) {
            facts["explained"] = table->file;
        }
    }
    return facts;
}

template <class Visit>
bool for_each_table(std::string_view file, Visit&& visit) {
    bool found = false;
    for (const Table* table : season_tables()) {
        if (file.empty() || table->file == file) {
            visit(*table);
            found = true;
        }
    }
    return found;
}

}  // namespace

std::string schema_markdown(std::string_view file) {
    std::string text;
    for_each_table(file, [&](const Table& table) { text += table_markdown(table); });
    return text.empty() ? text : text + "Columns marked * must be filled.\n";
}

std::string schema_json(std::string_view file) {
    Json tables = Json::object();
    const bool found = for_each_table(file, [&](const Table& table) {
        Json schema = {{"$schema", "https://json-schema.org/draft/2020-12/schema"},
                       {"title", table.file},
                       {"description", table.words},
                       {"type", "object"},
                       {"additionalProperties", false},
                       {"required", Json::array()},
                       {"properties", Json::object()}};
        for (const Column& column : table.columns) {
            schema["properties"][std::string(column.name)] = column_schema(column);
            if (column.presence == Presence::required) {
                schema["required"].push_back(column.name);
            }
        }
        tables[std::string(table.file)] = schema;
    });
    return found ? tables.lines() + "\n" : std::string();
}

std::string schema_typescript() {
    std::string text =
        "// Written by `beetwright schema --typescript`; not to be edited.\n\nexport const tables "
        "= {\n";
    for_each_table("", [&](const Table& table) {
        text += fmt::format("  {}: {{\n    columns: [\n", Json(table.file).line());
        for (const Column& column : table.columns) {
            text += "      " + column_facts(column).line() + ",\n";
        }
        text += "    ],\n  },\n";
    });
    text += "} as const;\n\nexport const questions = {\n";
    const auto add = [&](std::span<const QuestionInfo> all) {
        for (const auto& question : all) {
            Json parameters = Json::array();
            for (const auto& parameter : question.parameters) {
                parameters.push_back(parameter.name);
            }
            text += fmt::format("  {}: {},\n", question.name, parameters.line());
        }
    };
    add(questions());
    text += "} as const;\n\nexport const jobQuestions = {\n";
    add(job_questions());
    add({&kZonesQuestion, 1});
    return text + "} as const;\n";
}

}  // namespace beetwright::io
