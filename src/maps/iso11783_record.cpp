#include "maps/iso11783_record.hpp"

#include <limits>

#include "maps/iso11783_element.hpp"

namespace beetwright::maps {
namespace {

constexpr double kNotSaid = std::numeric_limits<double>::quiet_NaN();

struct FieldTraits {
    std::string_view letter;  ///< of PTN's attribute
    std::size_t bytes;
    bool is_signed;
    double per_unit;  ///< a record's number is this times what the attribute says
    double least;     ///< of what the attribute says
    double most;
};

constexpr double kPerDegree = 1e7;
constexpr double kTenths = 10.0;
constexpr double kMost31 = 2147483647.0;
constexpr double kMost32 = 4294967295.0;

constexpr std::array<FieldTraits, position_fields> kFields{{
    {"A", 4, true, kPerDegree, -90.0, 90.0},
    {"B", 4, true, kPerDegree, -180.0, 180.0},
    {"C", 4, true, 1.0, -kMost31, kMost31},
    {"D", 1, false, 1.0, 0.0, 15.0},
    {"E", 2, false, kTenths, 0.0, 99.9},
    {"F", 2, false, kTenths, 0.0, 99.9},
    {"G", 1, false, 1.0, 0.0, 254.0},
    {"H", 4, false, 1.0, 0.0, kMost32},
    {"I", 2, false, 1.0, 0.0, 65535.0},
}};

void read_position(ElementReader& reader, const XmlElement& element, LogHeader& header) {
    for (std::size_t k = 0; k < position_fields; ++k) {
        const auto& field = kFields[k];
        const auto said = element.attribute(field.letter);
        header.in_record[k] = said == "";
        if (said && !said->empty()) {
            header.always[k] =
                reader.decimal(element, field.letter, field.least, field.most).value_or(kNotSaid);
        }
    }
}

/// Takes a little-endian number off the front of bytes; false, and nothing taken, where they end.
bool take_number(std::string_view& bytes, std::size_t count, std::uint32_t& number) {
    if (bytes.size() < count) {
        return false;
    }
    number = 0;
    for (std::size_t k = 0; k < count; ++k) {
        number |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[k])) << (8 * k);
    }
    bytes.remove_prefix(count);
    return true;
}

/// A field's number in the header's unit; NaN where its bits say that it is not known: all of them
/// set, or of a signed one all but the sign's.
double number_of(const FieldTraits& field, std::uint32_t bits) {
    if (field.is_signed) {
        const auto number = static_cast<std::int32_t>(bits);
        return number == std::numeric_limits<std::int32_t>::max() ? kNotSaid
                                                                  : number / field.per_unit;
    }
    const auto all = 0xffffffffU >> (8U * (4U - static_cast<unsigned>(field.bytes)));
    return bits == all ? kNotSaid : bits / field.per_unit;
}

}  // namespace

std::optional<LogHeader> read_log_header(const NamedFile& file, io::ProblemList& problems) {
    XmlRoom room;
    const auto tree = read_xml(file.bytes, file.name, room);
    if (!tree) {
        problems.add(tree.problems());
        return std::nullopt;
    }
    const auto before = problems.count();
    ElementReader reader(file.name, problems);
    const auto& time = tree->root();
    if (time.name != "TIM") {
        reader.wrong(time, "", "the header of a log does not begin so", "it begins with TIM");
        return std::nullopt;
    }
    if (time.attribute("A") != "") {
        reader.wrong(time, "A", "it must be there and be empty",
                     "write A=\"\": the time stands in each record");
    }
    LogHeader header;
    header.always.fill(kNotSaid);
    bool has_position = false;
    for (const auto& child : time.children) {
        if (child.name == "DLV") {
            header.identifiers.push_back(reader.identifier(child, "A").value_or(0));
        } else if (child.name == "PTN") {
            if (has_position) {
                reader.wrong(child, "", "there are two positions in a record",
                             "log with one receiver, or make a log of each");
            }
            has_position = true;
            read_position(reader, child, header);
        }
    }
    return problems.count() == before ? std::optional(header) : std::nullopt;
}

bool take_record(std::string_view& bytes, const LogHeader& header, LogRecord& record) {
    if (!take_number(bytes, 4, record.time_ms) || !take_number(bytes, 2, record.days)) {
        return false;
    }
    record.position = header.always;
    std::uint32_t bits = 0;
    for (std::size_t k = 0; k < position_fields; ++k) {
        if (header.in_record[k]) {
            if (!take_number(bytes, kFields[k].bytes, bits)) {
                return false;
            }
            record.position[k] = number_of(kFields[k], bits);
        }
    }
    std::uint32_t count = 0;
    if (!take_number(bytes, 1, count)) {
        return false;
    }
    record.values.clear();
    for (std::uint32_t k = 0; k < count; ++k) {
        LoggedValue value{};
        if (!take_number(bytes, 1, value.index) || !take_number(bytes, 4, bits)) {
            return false;
        }
        value.steps = static_cast<std::int32_t>(bits);
        record.values.push_back(value);
    }
    return true;
}

}  // namespace beetwright::maps
