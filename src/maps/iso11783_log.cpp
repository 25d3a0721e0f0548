#include "maps/iso11783_log.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "base/counted.hpp"
#include "maps/ddi.hpp"
#include "maps/iso11783_record.hpp"

namespace beetwright::maps {
namespace {

constexpr auto kFirstDay = std::chrono::sys_days(std::chrono::year(1980) / 1 / 1);
constexpr std::chrono::milliseconds kDay = std::chrono::days(1);

/// Positions that somebody typed in or a simulator made up are nowhere that a receiver was.
ground::FixKind kind_of(double status) {
    using enum ground::FixKind;
    constexpr std::array kKinds{none,        autonomous, differential, differential, fixed_phase,
                                float_phase, estimated,  none,         none};
    constexpr double kError = 14.0;
    if (status < kKinds.size()) {
        return kKinds[static_cast<std::size_t>(status)];
    }
    return status == kError ? none : unknown;
}

class LogReader {
 public:
    LogReader(const NamedFile& file, const LogHeader& header, const TaskDataFacts& facts,
              io::ProblemList& problems)
        : file_(file), header_(header), facts_(facts), problems_(problems) {
        works_.resize(header.identifiers.size());
    }

    ground::Track read(std::size_t& room) {
        ground::Track track;
        const bool has_positions = header_.says(north) && header_.says(east);
        std::string_view bytes(file_.bytes);
        LogRecord record;
        while (!bytes.empty()) {
            const auto before = bytes.size();
            if (!take_record(bytes, header_, record)) {
                cut_off(before);
                return {};
            }
            ++records_;
            if (!is_sound(record)) {
                return {};  // what follows would be as wrong
            }
            follow_work(record);
            if (!has_positions || !has_fix(record)) {
                ++without_fix_;
                continue;
            }
            if (room == 0) {
                problems_.add({ProblemKind::limit, where(), "the logs have too many records",
                               "send the logs of fewer days"});
                return {};
            }
            --room;
            track.fixes.push_back(fix_of(record));
        }
        say_notes(track, has_positions);
        return track;
    }

 private:
    [[nodiscard]] Where where() const { return {.file = file_.name, .line = 0, .field = ""}; }
    void wrong(std::string what, std::string fix) {
        auto at = where();
        at.field = "record " + std::to_string(records_);
        problems_.add(std::move(at), std::move(what), std::move(fix));
    }

    void cut_off(std::size_t left) {
        ++records_;
        wrong("the file ends within this record, of which it has " + counted(left, "byte", "bytes"),
              "copy the file from the terminal again; it was cut off, or belongs to another "
              "header");
    }

    bool is_sound(const LogRecord& record) {
        const auto* agree = "the header and the records do not agree; take both from one folder";
        if (record.time_ms >= kDay.count()) {
            wrong(
                "its time, " + std::to_string(record.time_ms) + " ms after midnight, is on no day",
                agree);
            return false;
        }
        const ground::Position position{record.position[north], record.position[east]};
        if (has_fix(record) && !ground::is_on_earth(position)) {
            wrong("its position is not on earth", agree);
            return false;
        }
        for (const auto& value : record.values) {
            if (value.index >= header_.identifiers.size()) {
                wrong("it has value " + std::to_string(value.index) + ", counted from 0, of " +
                          std::to_string(header_.identifiers.size()) + " in the header",
                      agree);
                return false;
            }
            ++values_[header_.identifiers[value.index]];
        }
        return true;
    }

    static bool has_fix(const LogRecord& record) {
        const double latitude = record.position[north];
        const double longitude = record.position[east];
        return !std::isnan(latitude) && !std::isnan(longitude) &&
               (latitude != 0.0 || longitude != 0.0);
    }

    /// Whether each part works is said when it changes, and holds until it is said again.
    void follow_work(const LogRecord& record) {
        for (const auto& value : record.values) {
            if (header_.identifiers[value.index] == ddi::kWorkState) {
                constexpr std::int32_t kOn = 1;
                works_[value.index] = value.steps == 0 || value.steps == kOn
                                          ? std::optional(value.steps == kOn)
                                          : std::nullopt;  // an error, or not known
            }
        }
    }
    [[nodiscard]] bool works() const {
        const auto is_on = [](const auto& part) { return part == true; };
        const auto is_said = [](const auto& part) { return part.has_value(); };
        return std::ranges::any_of(works_, is_on) || std::ranges::none_of(works_, is_said);
    }

    /// The receiver's own time where it is there and not far from the terminal's: receivers have
    /// been wrong by 1024 weeks.
    Instant time_of(const LogRecord& record) {
        const auto clock = kFirstDay + std::chrono::days(record.days) +
                           std::chrono::milliseconds(record.time_ms) - facts_.clock;
        const double time = record.position[utc_time];
        const double date = record.position[utc_date];
        if (time < static_cast<double>(kDay.count()) && date > 0.0) {
            const auto received = kFirstDay + std::chrono::days(std::llround(date)) +
                                  std::chrono::milliseconds(std::llround(time));
            constexpr auto kFarthest = std::chrono::hours(36);
            if (std::chrono::abs(received - clock) <= kFarthest) {
                return received;
            }
        }
        ++by_clock_;
        return clock;
    }

    /// The first value of an identifier in the record, in SI; NaN where there is none, or one that
    /// cannot be.
    [[nodiscard]] double value_of(const LogRecord& record, std::uint16_t identifier) const {
        for (const auto& value : record.values) {
            if (header_.identifiers[value.index] == identifier) {
                return value.steps < 0 ? ground::kNotSaid
                                       : si_of(*find_data_identifier(identifier), value.steps);
            }
        }
        return ground::kNotSaid;
    }

    ground::Fix fix_of(const LogRecord& record) {
        constexpr double kMillimetre_m = 1e-3;
        ground::Fix fix;
        fix.at = time_of(record);
        fix.position = {record.position[north], record.position[east]};
        fix.height_m = kMillimetre_m * record.position[up];
        fix.kind = kind_of(record.position[status]);
        fix.satellites = std::isnan(record.position[satellites])
                             ? -1
                             : static_cast<int>(record.position[satellites]);
        fix.horizontal_dilution = record.position[horizontal_dilution];
        fix.speed_m_s = value_of(record, ddi::kActualSpeed);
        fix.yield_kg_m2 = value_of(record, ddi::kYieldPerArea);
        fix.works = works();
        made_up_ += record.position[status] == 7.0 || record.position[status] == 8.0 ? 1U : 0U;
        return fix;
    }

    void say_notes(ground::Track& track, bool has_positions) const {
        const auto of_all = [&](std::size_t count) {
            return ": " + std::to_string(count) + " of " + counted(records_, "record", "records");
        };
        if (!has_positions && records_ > 0) {
            track.notes.push_back("its records have no positions, and are left out");
        } else if (without_fix_ > 0) {
            track.notes.push_back("left out for want of a position" + of_all(without_fix_));
        }
        if (made_up_ > 0) {
            track.notes.push_back("positions typed in or simulated" + of_all(made_up_));
        }
        if (by_clock_ > 0) {
            const auto minutes = facts_.clock.count();
            track.notes.push_back("dated by the terminal's clock, taken to be " +
                                  (minutes == 0
                                       ? "UTC"
                                       : std::to_string(std::abs(minutes)) + " minutes " +
                                             (minutes > 0 ? "ahead of" : "behind") + " UTC") +
                                  of_all(by_clock_));
        }
        if (!track.fixes.empty() && header_.says(up)) {
            track.notes.emplace_back("what heights are counted from is not said");
        }
        std::string unused;
        for (const auto& [identifier, count] : values_) {
            if (identifier == ddi::kWorkState || identifier == ddi::kActualSpeed ||
                identifier == ddi::kYieldPerArea) {
                continue;
            }
            const auto* of = find_data_identifier(identifier);
            unused += (unused.empty() ? "" : ", ") + std::string("DDI ") +
                      std::to_string(identifier) +
                      (of == nullptr ? "" : " (" + std::string(of->words) + ")") + " " +
                      counted(count, "time", "times");
        }
        if (!unused.empty()) {
            track.notes.push_back("values that are not used here: " + unused);
        }
    }

    const NamedFile& file_;
    const LogHeader& header_;
    const TaskDataFacts& facts_;
    io::ProblemList& problems_;
    std::vector<std::optional<bool>> works_;       ///< by the values' index
    std::map<std::uint16_t, std::size_t> values_;  ///< how many of each identifier
    std::size_t records_ = 0;
    std::size_t without_fix_ = 0;
    std::size_t made_up_ = 0;
    std::size_t by_clock_ = 0;
};

}  // namespace

ground::Track read_time_log(const LogFiles& files, const TaskDataFacts& facts, std::size_t& room,
                            io::ProblemList& problems) {
    const auto header = read_log_header(*files.header, problems);
    if (!header) {
        return {};
    }
    return LogReader(*files.records, *header, facts, problems).read(room);
}

}  // namespace beetwright::maps
