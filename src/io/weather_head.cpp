// What plain tables of weather begin with: lines such as `# latitude: 53.1` that say where, and the
// headings.
#include <cmath>

#include "base/lower_case.hpp"
#include "base/trimmed.hpp"
#include "io/decimal.hpp"
#include "io/weather_parts.hpp"

namespace beetwright::io {
namespace {

/// `# latitude: 53.1` at the top of the file.
class Remarks {
 public:
    Remarks(std::string_view bytes, WeatherRows& rows, ProblemList& problems)
        : rows_(rows), problems_(problems) {
        int line = 0;
        while (!bytes.empty()) {
            ++line;
            const auto end = std::min(bytes.find('\n'), bytes.size());
            auto text = bytes.substr(0, end);
            bytes.remove_prefix(std::min(end + 1, bytes.size()));
            if (text.ends_with('\r')) {
                text.remove_suffix(1);
            }
            if (!text.starts_with('#')) {
                break;
            }
            if (const auto colon = text.find(':'); colon != std::string_view::npos) {
                take(line, trimmed(text.substr(1, colon - 1), " "),
                     trimmed(text.substr(colon + 1), " "));
            }
        }
    }
    WeatherFacts said;

 private:
    void take(int line, std::string_view key, std::string_view value) {
        if (key == "station") {
            rows_.facts.name = std::string(value);
        } else if (key == "latitude") {
            number(line, key, value, -90.0, 90.0, said.latitude_deg);
        } else if (key == "longitude") {
            number(line, key, value, -180.0, 180.0, said.longitude_deg);
        } else if (key == "elevation") {
            number(line, key, value, -500.0, 9000.0, said.elevation_m);
        } else if (key == "clock") {
            const auto clock = parse_clock(value);
            if (clock) {
                said.clock = *clock;
            } else {
                auto problem = clock.problems().front();
                problem.where = {.file = rows_.facts.file, .line = line, .field = std::string(key)};
                problems_.add(std::move(problem));
            }
        }
    }
    void number(int line, std::string_view key, std::string_view value, double least, double most,
                std::optional<double>& into) {
        const auto read = leading_decimal(value);
        if (!read || read->length != value.size() || read->value < least || read->value > most) {
            problems_.add({.file = rows_.facts.file, .line = line, .field = std::string(key)},
                          "'" + std::string(value) + "' is no " + std::string(key),
                          "write a number, degrees with decimals and metres");
            return;
        }
        into = read->value;
    }

    WeatherRows& rows_;
    ProblemList& problems_;
};

/// Where the headings begin, after the lines of remarks.
std::size_t begin_of_headings(std::string_view bytes) {
    std::size_t from = 0;
    while (from < bytes.size() && bytes[from] == '#') {
        from = std::min(bytes.find('\n', from), bytes.size() - 1) + 1;
    }
    return from;
}

std::string_view headings_of(std::string_view bytes) {
    const auto rest = bytes.substr(begin_of_headings(bytes));
    return rest.substr(0, rest.find('\n'));
}

/// The file with our headings in place of its own.
std::string with_headings(std::string_view bytes, const std::string& headings) {
    const auto from = begin_of_headings(bytes);
    return std::string(bytes.substr(0, from)) + headings +
           std::string(bytes.substr(from + headings_of(bytes).size()));
}

}  // namespace

bool is_table_of_days(std::string_view bytes, const WeatherFacts& given) {
    std::string_view headings = given.headings.empty() ? headings_of(bytes) : given.headings;
    while (!headings.empty()) {
        const auto end = std::min(headings.find_first_of(",;\t"), headings.size());
        const auto cell = headings.substr(0, end);
        if (lower_case(trimmed(cell.substr(0, cell.find('[')), " \"\r")) == "day") {
            return true;
        }
        headings.remove_prefix(std::min(end + 1, headings.size()));
    }
    return false;
}

std::string_view read_weather_head(std::string_view bytes, const WeatherFacts& given,
                                   std::string& replaced, WeatherRows& rows,
                                   ProblemList& problems) {
    if (!given.headings.empty()) {
        replaced = with_headings(bytes, given.headings);
        bytes = replaced;
    }
    const Remarks remarks(bytes, rows, problems);
    const auto one_of = [](const auto& first, const auto& second) {
        return first ? first : second;
    };
    const auto latitude = one_of(given.latitude_deg, remarks.said.latitude_deg);
    const auto longitude = one_of(given.longitude_deg, remarks.said.longitude_deg);
    const auto elevation = one_of(given.elevation_m, remarks.said.elevation_m);
    if (!latitude || !longitude) {
        problems.add(
            {ProblemKind::missing,
             {.file = rows.facts.file, .line = 0, .field = latitude ? "longitude" : "latitude"},
             "the file does not say where this was measured",
             "begin it with the lines `# latitude: 53.1` and `# longitude: 8.2`, or say so on "
             "the command line"});
    }
    rows.facts.place = weather::Place::degrees(latitude.value_or(0.0), longitude.value_or(0.0),
                                               elevation.value_or(0.0));
    constexpr double kDegreesOfAnHour = 15.0;
    rows.facts.clock =
        one_of(given.clock, remarks.said.clock)
            .value_or(std::chrono::hours(std::lround(longitude.value_or(0.0) / kDegreesOfAnHour)));

    return bytes;
}

}  // namespace beetwright::io
