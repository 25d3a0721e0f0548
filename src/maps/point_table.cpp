#include "maps/point_table.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include "base/counted.hpp"
#include "base/trimmed.hpp"
#include "io/decimal.hpp"
#include "io/encoding.hpp"
#include "io/number_column.hpp"
#include "io/table.hpp"
#include "maps/crs.hpp"

namespace beetwright::maps {
namespace {

using ground::FixKind;
using io::Column;
using io::Presence;
using io::Word;

enum Place : std::size_t {
    at,
    latitude,
    longitude,
    east,
    north,
    height,
    quality,
    satellites,
    dilution,
    speed,
    course,
    works,
    yield
};

constexpr int code(FixKind kind) {
    return static_cast<int>(kind);
}

constexpr std::array kQualities{Word{"none", code(FixKind::none)},
                                Word{"unknown", code(FixKind::unknown)},
                                Word{"estimated", code(FixKind::estimated)},
                                Word{"autonomous", code(FixKind::autonomous)},
                                Word{"differential", code(FixKind::differential)},
                                Word{"float", code(FixKind::float_phase)},
                                Word{"fixed", code(FixKind::fixed_phase)}};
constexpr std::array kYesNo{Word{"no", 0}, Word{"yes", 1}};

constexpr Column measured(std::string_view name, UnitKind kind, std::string_view metric,
                          std::string_view us, double least, double most, std::string_view words) {
    return io::number_column(name, Presence::optional, kind, metric, us, least, most, words);
}

constexpr Column word(std::string_view name, std::span<const Word> allowed,
                      std::string_view words) {
    return {.name = name, .kind = io::CellKind::word, .words = words, .allowed = allowed};
}

constexpr double kMostMap = 1e8;  // metres or feet; the earth is 4e7 m around
constexpr double kTurn = 2.0 * std::numbers::pi;

// Bounds in SI.
constexpr std::array kColumns{
    Column{.name = "at",
           .kind = io::CellKind::instant,
           .presence = Presence::required,
           .words = "when the machine was there"},
    measured("latitude", UnitKind::angle, "°", "°", -kTurn / 4.0, kTurn / 4.0,
             "WGS 84, north positive"),
    measured("longitude", UnitKind::angle, "°", "°", -kTurn / 2.0, kTurn / 2.0, "east positive"),
    measured("east", UnitKind::number, "", "", -kMostMap, kMostMap,
             "in the units of the coordinate system that the file names"),
    measured("north", UnitKind::number, "", "", -kMostMap, kMostMap, "likewise"),
    measured("height", UnitKind::length, "m", "ft", -500.0, 9000.0, "of the antenna or the ground"),
    word("quality", kQualities, "how the receiver came to the position"),
    Column{.name = "satellites",
           .kind = io::CellKind::number,
           .words = "how many it heard",
           .unit_kind = UnitKind::number,
           .least = 0.0,
           .most = 500.0,
           .digits = io::Digits::whole},
    measured("dilution", UnitKind::number, "", "", 0.0, 100.0, "of horizontal precision"),
    measured("speed", UnitKind::speed, "km/h", "mph", 0.0, 40.0, "over ground"),
    measured("course", UnitKind::angle, "°", "°", 0.0, kTurn, "clockwise from true north"),
    word("works", kYesNo, "whether the machine was at work"),
    measured("yield", UnitKind::mass_per_area, "t/ha", "short ton/acre", 0.0, 30.0,
             "of beet as harvested")};

/// Degrees as they were written: converting to radians and back would change the last digit.
double degrees(double radians) {
    constexpr int kDigits = 15;
    return io::rounded_to_digits(radians * 360.0 / kTurn, kDigits);
}

/// `# crs: EPSG:25832` at the top of the file; `# heights: sea level`.
struct Remarks {
    std::string crs;
    int crs_line = 0;
    ground::HeightOver heights_over = ground::HeightOver::unknown;

    Remarks(std::string_view bytes, const std::string& file, io::ProblemList& problems) {
        for (int line = 1; bytes.starts_with('#'); ++line) {
            const auto text = bytes.substr(1, bytes.find('\n') - 1);
            bytes.remove_prefix(std::min(text.size() + 2, bytes.size()));
            const auto colon = text.find(':');
            if (colon == std::string_view::npos) {
                continue;
            }
            const auto key = trimmed(text.substr(0, colon));
            const auto value = trimmed(text.substr(colon + 1), " \t\r");
            if (key == "crs") {
                crs = std::string(value);
                crs_line = line;
            } else if (key == "heights" && value == "sea level") {
                heights_over = ground::HeightOver::sea_level;
            } else if (key == "heights" && value == "ellipsoid") {
                heights_over = ground::HeightOver::ellipsoid;
            } else if (key == "heights") {
                problems.add({.file = file, .line = line, .field = "heights"},
                             "'" + std::string(value) + "' is not what heights are counted from",
                             "write sea level or ellipsoid");
            }
        }
    }
};

class Rows {
 public:
    Rows(std::string_view text, const std::string& file, const MapFacts& facts)
        : text_(text), file_(file), remarks_(text, file, problems_) {
        track_.name = file;
        track_.heights_over = facts.heights_over != ground::HeightOver::unknown
                                  ? facts.heights_over
                                  : remarks_.heights_over;
        const std::string& crs = facts.crs.empty() ? remarks_.crs : facts.crs;
        if (!crs.empty()) {
            const int line = facts.crs.empty() ? remarks_.crs_line : 0;
            auto named = Crs::from_text(crs, {.file = file, .line = line, .field = "crs"});
            if (named) {
                crs_.emplace(std::move(named).value());
            } else {
                problems_.add(named.problems());
            }
        }
    }

    Result<ground::Track> read() && {
        const io::Table table{.file = file_,
                              .presence = Presence::required,
                              .words = "Where a machine drove.",
                              .columns = kColumns};
        io::TableReader reader(table, text_, "", problems_);
        if (problems_.empty() && reader.open()) {
            reader.read([&](const io::TableRow& row) { take(row, reader); },
                        [](const io::TableRow&) {});
        }
        if (problems_.empty() && track_.fixes.empty()) {
            problems_.add({ProblemKind::missing,
                           {.file = file_, .line = 0, .field = ""},
                           "no row has a position",
                           "give each instant a row below the headings"});
        }
        if (!problems_.empty()) {
            return std::move(problems_).take();
        }
        if (without_ > 0) {
            track_.notes.push_back(counted(without_, "row", "rows") +
                                   " without a position passed over");
        }
        if (is_projected_ && !crs_->note().empty()) {
            track_.notes.push_back(crs_->note());
        }
        return std::move(track_);
    }

 private:
    void take(const io::TableRow& row, io::TableReader& reader) {
        constexpr std::size_t kMostRows = 2'000'000;  // two days of ten a second
        if (track_.fixes.size() == kMostRows) {
            if (!is_too_long_) {
                problems_.add({ProblemKind::limit,
                               {.file = file_, .line = row.line(), .field = ""},
                               "the table has more than " + std::to_string(kMostRows) + " rows",
                               "cut it into days"});
            }
            is_too_long_ = true;
            return;
        }
        const int kind = row.word(quality, code(FixKind::unknown));
        const bool has_degrees = row.has(latitude) || row.has(longitude);
        const bool has_map = row.has(east) || row.has(north);
        if (kind == code(FixKind::none) || (!has_degrees && !has_map)) {
            ++without_;
            return;
        }
        ground::Fix fix;
        fix.kind = static_cast<FixKind>(kind);
        if (!(has_degrees ? in_degrees(row, reader, has_map, fix) : on_map(row, reader, fix))) {
            return;
        }
        fix.at = row.instant(at);
        fix.height_m = row.number(height);
        fix.satellites = row.has(satellites) ? static_cast<int>(row.number(satellites)) : -1;
        fix.horizontal_dilution = row.number(dilution);
        fix.speed_m_s = row.number(speed);
        fix.course_deg = row.has(course) ? degrees(row.number(course)) : ground::kNotSaid;
        fix.works = row.word(works, 1) != 0;
        fix.yield_kg_m2 = row.number(yield);
        track_.fixes.push_back(fix);
    }

    bool in_degrees(const io::TableRow& row, io::TableReader& reader, bool has_map,
                    ground::Fix& fix) {
        if (has_map || !row.has(latitude) || !row.has(longitude)) {
            reader.fail(
                row.has(latitude) ? longitude : latitude,
                has_map ? "the row says where it is twice" : "half of the position is missing",
                "give latitude and longitude, or east and north");
            return false;
        }
        fix.position = {degrees(row.number(latitude)), degrees(row.number(longitude))};
        if (fix.position == ground::Position{}) {
            ++without_;  // what receivers write that know no position
            return false;
        }
        return true;
    }

    bool on_map(const io::TableRow& row, io::TableReader& reader, ground::Fix& fix) {
        if (!row.has(east) || !row.has(north)) {
            reader.fail(row.has(east) ? north : east, "half of the position is missing",
                        "give east and north");
            return false;
        }
        if (!crs_) {
            if (!is_crs_told_) {
                reader.fail(east, "nothing says of which coordinate system this is",
                            "begin the file with a line such as `# crs: EPSG:25832`");
            }
            is_crs_told_ = true;
            return false;
        }
        const auto position = crs_->position(row.number(east), row.number(north));
        if (!position) {
            reader.fail(east, "this is nowhere in " + crs_->name(),
                        "see whether east and north are swapped, and the coordinate system right");
            return false;
        }
        is_projected_ = true;
        fix.position = *position;
        return true;
    }

    std::string_view text_;
    const std::string& file_;
    io::ProblemList problems_;
    Remarks remarks_;
    std::optional<Crs> crs_;
    ground::Track track_;
    std::size_t without_ = 0;
    bool is_projected_ = false;
    bool is_crs_told_ = false;
    bool is_too_long_ = false;
};

}  // namespace

Result<ground::Track> read_point_table(std::string_view bytes, const std::string& file,
                                       const MapFacts& facts) {
    std::string decoded;
    const auto text = io::as_utf8(bytes, decoded, file);
    if (!text) {
        return text.problems();
    }
    return Rows(*text, file, facts).read();
}

}  // namespace beetwright::maps
