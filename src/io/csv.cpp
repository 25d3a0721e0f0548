#include "io/csv.hpp"

#include <algorithm>
#include <array>

#include "io/encoding.hpp"

namespace beetwright::io {
namespace {

bool is_line_end(char c) {
    return c == '\n' || c == '\r';
}

bool is_space(char c) {
    return c == ' ' || c == '\t';
}

std::string undoubled(std::string_view quoted) {
    std::string text;
    text.reserve(quoted.size());
    for (std::size_t i = 0; i < quoted.size(); ++i) {
        text += quoted[i];
        if (quoted[i] == '"') {
            ++i;
        }
    }
    return text;
}

}  // namespace

Result<CsvReader> CsvReader::open(std::string_view bytes, std::string file,
                                  const CsvLimits& limits) {
    CsvReader reader(std::move(file), limits);
    if (bytes.size() > limits.file_bytes) {
        reader.refuse(0, "the file is larger than is read", "split it");
        return *reader.problem_;
    }
    reader.decoded_ = std::make_unique<std::string>();
    auto text = as_utf8(bytes, *reader.decoded_, reader.file_);
    if (!text) {
        return text.problems();
    }
    reader.text_ = *text;
    reader.pass_over_lines();
    if (reader.at_ == reader.text_.size()) {
        return Problem{ProblemKind::missing,
                       {.file = reader.file_, .line = 0, .field = ""},
                       "the file is empty",
                       "its first line names the columns"};
    }
    reader.find_separator();
    if (!reader.read_row(reader.header_)) {
        return *reader.problem_;
    }
    return reader;
}

bool CsvReader::refuse(int line, std::string what, std::string fix) {
    problem_ = Problem{ProblemKind::input,
                       {.file = file_, .line = line, .field = ""},
                       std::move(what),
                       std::move(fix)};
    at_ = text_.size();
    return false;
}

void CsvReader::end_line() {
    if (text_[at_] == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n') {
        ++at_;
    }
    ++at_;
    ++line_;
}

void CsvReader::pass_over_lines() {
    while (at_ < text_.size()) {
        if (text_[at_] == '#') {
            while (at_ < text_.size() && !is_line_end(text_[at_])) {
                ++at_;
            }
            if (at_ == text_.size()) {
                return;
            }
        }
        if (!is_line_end(text_[at_])) {
            return;
        }
        end_line();
    }
}

void CsvReader::find_separator() {
    const std::string_view rest = text_.substr(at_);
    const std::size_t end = std::min(rest.find_first_of("\r\n"), rest.size());
    const std::string_view line = rest.substr(0, end);
    if (line.size() == 5 && line.starts_with("sep=") &&
        std::string_view(",;\t|").find(line[4]) != std::string_view::npos) {
        separator_ = line[4];
        at_ += end;
        pass_over_lines();
        return;
    }
    constexpr std::array kSeparators{',', ';', '\t'};
    std::array<int, kSeparators.size()> counts{};
    bool quoted = false;
    bool in_unit = false;
    for (const char c : line) {
        quoted = quoted != (c == '"');
        in_unit = !quoted && (c == '[' || (in_unit && c != ']'));
        const auto found = std::ranges::find(kSeparators, c);
        if (!quoted && !in_unit && found != kSeparators.end()) {
            ++counts[static_cast<std::size_t>(found - kSeparators.begin())];
        }
    }
    const auto most = std::ranges::max_element(counts);
    separator_ = *most == 0 ? ',' : kSeparators[static_cast<std::size_t>(most - counts.begin())];
}

bool CsvReader::next(CsvRow& row) {
    pass_over_lines();
    return at_ < text_.size() && read_row(row);
}

bool CsvReader::read_row(CsvRow& row) {
    row.line = line_;
    row.cells.clear();
    row.ends_file_without_newline = false;
    const std::size_t start = at_;
    while (true) {
        if (row.cells.size() == limits_.cells) {
            return refuse(row.line,
                          "the line has more than " + std::to_string(limits_.cells) + " cells",
                          "see that a separator is not repeated by mistake");
        }
        if (at_ < text_.size() && text_[at_] == '"') {
            if (!read_quoted(row)) {
                return false;
            }
        } else {
            read_plain(row);
        }
        if (at_ - start > limits_.row_bytes) {
            return refuse(row.line,
                          "the line is longer than " + std::to_string(limits_.row_bytes) + " bytes",
                          "see that no quotation mark is left open");
        }
        if (at_ == text_.size()) {
            row.ends_file_without_newline = true;
            return true;
        }
        if (text_[at_] != separator_) {
            end_line();
            return true;
        }
        ++at_;
    }
}

void CsvReader::read_plain(CsvRow& row) {
    const std::size_t start = at_;
    const std::size_t size = text_.size();
    const char* text = text_.data();
    std::size_t i = at_;
    while (i < size && text[i] != separator_ && !is_line_end(text[i])) {
        ++i;
    }
    at_ = i;
    row.cells.push_back(text_.substr(start, i - start));
}

bool CsvReader::read_quoted(CsvRow& row) {
    const int opened_on = line_;
    const std::size_t start = ++at_;
    bool doubled = false;
    while (true) {
        while (at_ < text_.size() && text_[at_] != '"') {
            if (is_line_end(text_[at_])) {
                end_line();
            } else {
                ++at_;
            }
        }
        if (at_ >= text_.size()) {
            return refuse(opened_on,
                          "a quotation mark opened here is never closed; the file may be cut off",
                          "close it, or copy the file again");
        }
        if (at_ + 1 >= text_.size() || text_[at_ + 1] != '"') {
            break;
        }
        doubled = true;
        at_ += 2;
    }
    const std::string_view inside = text_.substr(start, at_ - start);
    ++at_;
    while (at_ < text_.size() && is_space(text_[at_]) && text_[at_] != separator_) {
        ++at_;
    }
    if (at_ < text_.size() && text_[at_] != separator_ && !is_line_end(text_[at_])) {
        return refuse(line_, "there is text after a closing quotation mark",
                      "write quotation marks inside a cell twice: \"\"");
    }
    row.cells.push_back(doubled ? unescaped_.emplace_back(undoubled(inside)) : inside);
    return true;
}

void CsvWriter::cell(std::string_view text) {
    if (row_has_cells_) {
        text_ += ',';
    }
    // An unquoted # at the start of a row would make it a comment, and an empty row is passed over.
    const bool starts_row = !row_has_cells_;
    const bool needs_quotes = text.find_first_of(",;\t\"\r\n") != std::string_view::npos ||
                              (starts_row && (text.empty() || text.front() == '#')) ||
                              (!text.empty() && (text.front() == ' ' || text.back() == ' '));
    row_has_cells_ = true;
    if (!needs_quotes) {
        text_ += text;
        return;
    }
    text_ += '"';
    for (const char c : text) {
        text_ += c;
        if (c == '"') {
            text_ += '"';
        }
    }
    text_ += '"';
}

void CsvWriter::start_row_as(std::size_t begin, std::size_t end) {
    text_.append(text_, begin, end - begin);
    row_has_cells_ = true;
}

void CsvWriter::end_row() {
    text_ += '\n';
    row_has_cells_ = false;
}

}  // namespace beetwright::io
