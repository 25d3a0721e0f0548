#include "maps/dbase.hpp"

#include <algorithm>

#include "base/lower_case.hpp"
#include "base/trimmed.hpp"
#include "io/encoding.hpp"
#include "io/problem_list.hpp"
#include "maps/binary.hpp"

namespace beetwright::maps {
namespace {

constexpr std::size_t kHead = 32;
constexpr std::size_t kFieldEntry = 32;
constexpr char kEndOfFields = '\r';

struct Field {
    std::string name;
    std::size_t at = 0;
    std::size_t length = 0;
};

/// Whether letters beyond ASCII can be read: the two encodings that are, by the names that
/// programs give them.
bool is_known_code_page(std::string_view code_page) {
    const auto name = lower_case(trimmed(code_page, " \t\r\n"));
    for (const std::string_view known :
         {"", "utf-8", "utf8", "65001", "1252", "cp1252", "ansi 1252", "windows-1252", "iso-8859-1",
          "iso 8859-1", "88591", "iso-88591", "latin1"}) {
        if (name == known) {
            return true;
        }
    }
    return false;
}

bool is_ascii(std::string_view text) {
    return std::ranges::all_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x80U; });
}

class Reader {
 public:
    Reader(std::string_view bytes, std::string_view code_page, const std::string& file)
        : bytes_(bytes), code_page_(code_page), file_(file) {}

    Result<DbaseTable> read() {
        if (bytes_.size() < kHead) {
            return fault("", "the table is cut off", "copy it again");
        }
        const auto count = little_endian<std::uint32_t>(bytes_, 4);
        const std::size_t head = little_endian<std::uint16_t>(bytes_, 8);
        const std::size_t record = little_endian<std::uint16_t>(bytes_, 10);
        if (head > bytes_.size() || head < kHead || record == 0) {
            return fault("", "this is no table of a shapefile", "copy its .dbf file again");
        }
        if ((bytes_.size() - head) / record < count) {
            return fault("",
                         "the table holds " + std::to_string((bytes_.size() - head) / record) +
                             " of " + std::to_string(count) + " records",
                         "was it cut off in copying? Copy it again");
        }
        if (!fields(head, record)) {
            return std::move(problems_).take();
        }
        DbaseTable table;
        for (std::size_t k = 0; k < count; ++k) {
            auto& said = table.records.emplace_back();
            for (const auto& field : fields_) {
                cell(field, bytes_.substr(head + k * record + field.at, field.length), k, said);
            }
        }
        return problems_.empty() ? Result<DbaseTable>(std::move(table))
                                 : std::move(problems_).take();
    }

 private:
    [[nodiscard]] Problem fault(std::string field, std::string what, std::string fix) const {
        return {ProblemKind::input,
                {.file = file_, .line = 0, .field = std::move(field)},
                std::move(what),
                std::move(fix)};
    }

    bool fields(std::size_t head, std::size_t record) {
        std::size_t at = 1;  // behind the mark of deleted records
        for (std::size_t entry = kHead; entry < head && bytes_[entry] != kEndOfFields;
             entry += kFieldEntry) {
            if (entry + kFieldEntry > head) {
                problems_.add(fault("", "the table's head is cut off", "copy it again"));
                return false;
            }
            constexpr std::size_t kName = 11;
            const auto name = bytes_.substr(entry, kName);
            Field field{.name = text_of(name.substr(0, name.find('\0'))),
                        .at = at,
                        .length = static_cast<unsigned char>(bytes_[entry + 16])};
            at += field.length;
            if (at > record) {
                problems_.add(fault(field.name, "this column ends beyond the table's records",
                                    "save the shapefile again"));
                return false;
            }
            if (field.length > 0) {
                fields_.push_back(std::move(field));
            }
        }
        return true;
    }

    void cell(const Field& field, std::string_view bytes, std::size_t record,
              std::map<std::string, std::string, std::less<>>& said) {
        constexpr std::string_view kBlanks(" \0", 2);
        bytes = trimmed(bytes, kBlanks);
        if (bytes.empty()) {
            return;
        }
        if (!is_known_code_page(code_page_) && !is_ascii(bytes)) {
            problems_.add(fault("record " + std::to_string(record + 1) + ", " + field.name,
                                "its letters are in '" +
                                    std::string(trimmed(code_page_, " \t\r\n")) +
                                    "', which is not read",
                                "save the shapefile in UTF-8"));
            return;
        }
        said[field.name] = text_of(bytes);
    }

    static std::string text_of(std::string_view bytes) {
        std::string decoded;
        const auto text = io::as_utf8(bytes, decoded, "");
        if (text) {
            return std::string(*text);
        }
        // Cells are cut at their width, within a letter too.
        return std::string(bytes.substr(0, io::utf8_prefix(bytes)));
    }

    std::string_view bytes_;
    std::string_view code_page_;
    const std::string& file_;
    std::vector<Field> fields_;
    io::ProblemList problems_;
};

}  // namespace

Result<DbaseTable> read_dbase(std::string_view bytes, std::string_view code_page,
                              const std::string& file) {
    return Reader(bytes, code_page, file).read();
}

}  // namespace beetwright::maps
