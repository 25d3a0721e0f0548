// The records of a time log, and the header that says what stands in each. Only readers of time
// logs use this.
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "io/problem_list.hpp"
#include "maps/zip.hpp"

namespace beetwright::maps {

/// What a position consists of, in the order in which a record has it.
enum PositionField : std::size_t {
    north,
    east,
    up,
    status,
    position_dilution,
    horizontal_dilution,
    satellites,
    utc_time,
    utc_date,
    position_fields
};

/// What the header says of every record.
struct LogHeader {
    std::array<bool, position_fields> in_record{};
    /// In the header's units: degrees, millimetres. NaN where it is not said.
    std::array<double, position_fields> always{};
    std::vector<std::uint16_t> identifiers;  ///< of the values, by their index

    [[nodiscard]] bool says(PositionField field) const {
        return in_record[field] || !std::isnan(always[field]);
    }
};

/// Nothing where something is wrong, which is then said.
std::optional<LogHeader> read_log_header(const NamedFile& file, io::ProblemList& problems);

struct LoggedValue {
    std::uint32_t index;
    std::int32_t steps;
};

/// A record as it stands there.
struct LogRecord {
    std::uint32_t time_ms = 0;                       ///< since midnight
    std::uint32_t days = 0;                          ///< since 1 January 1980
    std::array<double, position_fields> position{};  ///< in the header's units; NaN: not known
    std::vector<LoggedValue> values;
};

/// Takes the next record off the front of the bytes; false where they end within it.
bool take_record(std::string_view& bytes, const LogHeader& header, LogRecord& record);

}  // namespace beetwright::maps
