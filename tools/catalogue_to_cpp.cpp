// Turns the catalogue of constants (data/catalogue/*.csv) into two files of C++:
//   catalogue_ids.inc   enum class ConstantId, one enumerator a row; which of them each file holds
//   catalogue_rows.inc  the rows, as initialisers of ConstantRow
// Usage: catalogue_to_cpp <output folder> <csv>...
// Stops at the first row it cannot read, naming file and line. A build tool: it may print and exit.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace {

constexpr std::string_view kHeader = "id,value,unit,low,high,spread,how,source,words";
constexpr std::size_t kColumns = 9;

[[noreturn]] void fail(const std::string& file, int line, const std::string& what) {
    std::fprintf(stderr, "%s:%d: %s\n", file.c_str(), line, what.c_str());
    std::exit(1);
}

// One line of RFC 4180 without line breaks inside quotes, which the catalogue does not use.
std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> cells(1);
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
            cells.back() += '"';
            ++i;
        } else if (c == '"') {
            quoted = !quoted;
        } else if (c == ',' && !quoted) {
            cells.emplace_back();
        } else {
            cells.back() += c;
        }
    }
    return cells;
}

std::string identifier(std::string id) {
    std::replace(id.begin(), id.end(), '.', '_');
    return id;
}

bool is_number(const std::string& text) {
    char* end = nullptr;
    std::strtod(text.c_str(), &end);
    return !text.empty() && end == text.c_str() + text.size();
}

std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            out += '\\';
        }
        out += c;
    }
    return out + '"';
}

std::string row_code(const std::string& file, int line, const std::vector<std::string>& cells) {
    for (const std::size_t number : {1U, 3U, 4U}) {
        if (!is_number(cells[number])) {
            fail(file, line, "'" + cells[number] + "' is not a number");
        }
    }
    const std::set<std::string> spreads{"fixed", "normal", "lognormal", "uniform"};
    const std::set<std::string> hows{"measured", "derived", "common practice", "from memory",
                                     "assumed"};
    if (!spreads.contains(cells[5])) {
        fail(file, line, "spread '" + cells[5] + "' is none of fixed, normal, lognormal, uniform");
    }
    if (!hows.contains(cells[6])) {
        fail(file, line,
             "how '" + cells[6] +
                 "' is none of measured, derived, common practice, from memory, assumed");
    }
    if (cells[7].empty() || cells[8].empty()) {
        fail(file, line, "a constant needs its source and its words");
    }
    std::string how = cells[6];
    std::replace(how.begin(), how.end(), ' ', '_');
    return "ConstantRow{" + quoted(cells[0]) + ", " + cells[1] + ", " + quoted(cells[2]) + ", " +
           cells[3] + ", " + cells[4] + ", Spread::" + cells[5] + ", HowKnown::" + how + ",\n    " +
           quoted(cells[7]) + ",\n    " + quoted(cells[8]) + "},\n";
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 3) {
        std::fprintf(stderr, "usage: catalogue_to_cpp <output folder> <csv>...\n");
        return 1;
    }
    std::set<std::string> seen;
    std::string ids;
    std::string rows;
    std::string files;
    for (int i = 2; i < argc; ++i) {
        const std::string file = argv[i];
        std::ifstream in(file);
        std::string text;
        int line = 0;
        const std::size_t first = seen.size();
        while (std::getline(in, text)) {
            ++line;
            if (line == 1) {
                if (text != kHeader) {
                    fail(file, line, "the first line must be: " + std::string(kHeader));
                }
                continue;
            }
            const auto cells = split(text);
            if (cells.size() != kColumns) {
                fail(file, line, std::to_string(cells.size()) + " cells where 9 belong");
            }
            if (!seen.insert(identifier(cells[0])).second) {
                fail(file, line, "the id " + cells[0] + " stands twice");
            }
            ids += "    " + identifier(cells[0]) + ",\n";
            rows += row_code(file, line, cells);
        }
        if (line == 0) {
            fail(file, 0, "empty or not readable");
        }
        files += "inline constexpr ConstantsOfFile " + std::filesystem::path(file).stem().string() +
                 "{" + std::to_string(first) + ", " + std::to_string(seen.size()) + "};\n";
    }
    const std::string folder = argv[1];
    std::ofstream(folder + "/catalogue_ids.inc")
        << "// Generated from data/catalogue by tools/catalogue_to_cpp.cpp.\n#pragma once\n"
        << "namespace beetwright {\nenum class ConstantId : unsigned {\n"
        << ids << "};\ninline constexpr unsigned kConstantCount = " << seen.size()
        << ";\n/// The rows of one file, from the first up to the end.\n"
        << "struct ConstantsOfFile {\n    unsigned first;\n    unsigned end;\n"
        << "    [[nodiscard]] constexpr bool has(unsigned id) const { return id >= first && id < "
           "end; "
           "}\n};\n"
        << "namespace catalogue_files {\n"
        << files << "}  // namespace catalogue_files\n}  // namespace beetwright\n";
    std::ofstream(folder + "/catalogue_rows.inc")
        << "// Generated from data/catalogue by tools/catalogue_to_cpp.cpp.\n"
        << rows;
    return 0;
}
