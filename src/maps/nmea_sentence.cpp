#include "maps/nmea_sentence.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <vector>

#include "base/unit.hpp"
#include "io/decimal.hpp"

namespace beetwright::maps {
namespace {

using ground::FixKind;

Problem fault(std::string field, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = std::move(field)},
            std::move(what),
            std::move(fix)};
}

std::string hex(unsigned byte) {
    constexpr std::string_view kDigits = "0123456789ABCDEF";
    return {kDigits[byte / 16], kDigits[byte % 16]};
}

/// Digits and perhaps a point or a minus; receivers write nothing else.
std::optional<double> number_in(std::string_view text) {
    if (text.find_first_not_of("0123456789.-") != std::string_view::npos) {
        return std::nullopt;
    }
    const auto number = io::leading_decimal(text);
    return number && number->length == text.size() ? std::optional(number->value) : std::nullopt;
}

std::optional<int> whole_in(std::string_view text) {
    int number = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
    return !text.empty() && read.ec == std::errc{} && read.ptr == text.data() + text.size() &&
                   number >= 0
               ? std::optional(number)
               : std::nullopt;
}

/// The fields of one sentence; asks for one that is no good are remembered as what is wrong.
class Fields {
 public:
    explicit Fields(std::string_view body) {
        while (true) {
            const auto end = std::min(body.find(','), body.size());
            fields_.push_back(body.substr(0, end));
            if (end == body.size()) {
                break;
            }
            body.remove_prefix(end + 1);
        }
    }

    [[nodiscard]] std::string_view operator[](std::size_t k) const {
        return k < fields_.size() ? fields_[k] : std::string_view();
    }
    [[nodiscard]] std::size_t size() const { return fields_.size(); }
    [[nodiscard]] const std::optional<Problem>& problem() const { return problem_; }

    double number(std::size_t k, const char* name) {
        if ((*this)[k].empty()) {
            return ground::kNotSaid;
        }
        const auto number = number_in((*this)[k]);
        if (!number) {
            wrong(k, name, "digits and a point");
        }
        return number.value_or(ground::kNotSaid);
    }

    std::optional<std::chrono::milliseconds> time_of_day(std::size_t k) {
        const auto text = (*this)[k];
        if (text.empty()) {
            return std::nullopt;
        }
        const auto hours = whole_in(text.substr(0, 2));
        const auto minutes = whole_in(text.size() > 2 ? text.substr(2, 2) : "");
        const auto seconds = number_in(text.size() > 4 ? text.substr(4) : "");
        constexpr double kMostSeconds = 61.0;  // one may be put in at the end of a year
        if (!hours || !minutes || !seconds || *hours > 23 || *minutes > 59 || *seconds < 0.0 ||
            *seconds >= kMostSeconds) {
            wrong(k, "time", "hhmmss.ss");
            return std::nullopt;
        }
        return std::chrono::hours(*hours) + std::chrono::minutes(*minutes) +
               std::chrono::round<std::chrono::milliseconds>(
                   std::chrono::duration<double>(*seconds));
    }

    std::optional<Day> date(std::size_t k) {
        const auto text = (*this)[k];
        if (text.empty()) {
            return std::nullopt;
        }
        const auto day = text.size() == 6 ? whole_in(text.substr(0, 2)) : std::nullopt;
        const auto month = text.size() == 6 ? whole_in(text.substr(2, 2)) : std::nullopt;
        const auto year = text.size() == 6 ? whole_in(text.substr(4, 2)) : std::nullopt;
        // Satellites have told positions since 1980.
        constexpr int kFirstYear = 80;
        const auto found = day && month && year
                               ? day_of(*year + (*year >= kFirstYear ? 1900 : 2000), *month, *day)
                               : std::nullopt;
        if (!found) {
            wrong(k, "date", "ddmmyy");
        }
        return found;
    }

    /// Four fields: ddmm.mmmm, N or S, dddmm.mmmm, E or W. Nothing where they are empty.
    std::optional<ground::Position> position(std::size_t k) {
        if ((*this)[k].empty() && (*this)[k + 2].empty()) {
            return std::nullopt;
        }
        const auto north = degrees(k, "latitude", "NS", 90.0);
        const auto east = degrees(k + 2, "longitude", "EW", 180.0);
        return north && east ? std::optional(ground::Position{*north, *east}) : std::nullopt;
    }

    void wrong(std::size_t k, const char* name, const char* right) {
        if (!problem_) {
            problem_ = fault(name, "'" + std::string((*this)[k]) + "' is no " + name,
                             std::string("it is written as ") + right);
        }
    }

 private:
    std::optional<double> degrees(std::size_t k, const char* name, std::string_view sides,
                                  double most) {
        const auto text = (*this)[k];
        const auto side = (*this)[k + 1];
        const auto point = std::min(text.find('.'), text.size());
        // The minutes have two digits before the point.
        const auto whole = point >= 3 ? whole_in(text.substr(0, point - 2)) : std::nullopt;
        const auto minutes = point >= 3 ? number_in(text.substr(point - 2)) : std::nullopt;
        constexpr double kMinutes = 60.0;
        const bool has_side = side.size() == 1 && sides.find(side[0]) != std::string_view::npos;
        if (!whole || !minutes || *minutes < 0.0 || *minutes >= kMinutes || !has_side ||
            *whole + *minutes / kMinutes > most) {
            wrong(k, name, sides == "NS" ? "ddmm.mmmm with N or S" : "dddmm.mmmm with E or W");
            return std::nullopt;
        }
        const double size = *whole + *minutes / kMinutes;
        return side[0] == sides[1] ? -size : size;
    }

    std::vector<std::string_view> fields_;
    std::optional<Problem> problem_;
};

Sentence gga(Fields& fields) {
    Sentence said{.kind = Sentence::Kind::gga};
    said.time_of_day = fields.time_of_day(1);
    // By the quality's number: none, satellites alone, corrected, precise service, whole cycles,
    // cycles not whole, dead reckoning, by hand, simulated.
    constexpr std::array kQualities{
        FixKind::none,       FixKind::autonomous,  FixKind::differential,
        FixKind::autonomous, FixKind::fixed_phase, FixKind::float_phase,
        FixKind::estimated,  FixKind::none,        FixKind::none};
    const auto quality = whole_in(fields[6]);
    if (!quality) {
        fields.wrong(6, "quality", "a number, 0 to 8");
        return said;
    }
    const auto which = static_cast<std::size_t>(*quality);
    said.fix = which < kQualities.size() ? kQualities[which] : FixKind::unknown;
    constexpr int kByHand = 7;
    constexpr int kSimulated = 8;
    said.is_simulated = *quality == kByHand || *quality == kSimulated;
    if (said.fix != FixKind::none) {
        said.position = fields.position(2);
    }
    said.satellites = whole_in(fields[7]).value_or(-1);
    said.horizontal_dilution = fields.number(8, "dilution");
    said.height_m = fields.number(9, "height");
    if (!fields[9].empty() && fields[10] != "M") {
        fields.wrong(10, "unit of the height", "M, metres");
    }
    return said;
}

Sentence rmc(Fields& fields) {
    Sentence said{.kind = Sentence::Kind::rmc};
    said.time_of_day = fields.time_of_day(1);
    const auto mode = fields[12];  // since version 2.3
    said.is_simulated = mode == "M" || mode == "S";
    if (fields[2] != "A" || mode == "N" || said.is_simulated) {
        said.fix = FixKind::none;
        return said;
    }
    constexpr std::array<std::pair<std::string_view, FixKind>, 6> kModes{
        {{"A", FixKind::autonomous},
         {"D", FixKind::differential},
         {"P", FixKind::autonomous},
         {"R", FixKind::fixed_phase},
         {"F", FixKind::float_phase},
         {"E", FixKind::estimated}}};
    for (const auto& [letter, kind] : kModes) {
        said.fix = mode == letter ? kind : said.fix;
    }
    // Without a position a receiver may tell the day on which its clock begins.
    said.day = fields.date(9);
    said.position = fields.position(3);
    const double knots = fields.number(7, "speed");
    said.speed_m_s = find_unit("kn")->to_si(knots);
    said.course_deg = fields.number(8, "course");
    return said;
}

}  // namespace

Result<Sentence> read_sentence(std::string_view text) {
    if (text.starts_with("$P")) {
        return Sentence{};
    }
    const auto star = text.rfind('*');
    const auto written = star == std::string_view::npos ? "" : text.substr(star + 1);
    unsigned checksum = 0;
    const auto read =
        std::from_chars(written.data(), written.data() + written.size(), checksum, 16);
    if (written.size() != 2 || read.ptr != written.data() + written.size()) {
        return fault("checksum", "the sentence has no checksum",
                     "it ends with a star and two digits; was it cut off?");
    }
    const auto body = text.substr(1, star - 1);
    unsigned sum = 0;
    for (const char c : body) {
        sum ^= static_cast<unsigned char>(c);
    }
    if (sum != checksum) {
        return fault(
            "checksum",
            "the checksum of what stands here is " + hex(sum) + ", not " + std::string(written),
            "something changed on the way; copy the log again");
    }
    Fields fields(body);
    constexpr std::size_t kTalkerAndKind = 5;
    Sentence said;
    if (fields[0].size() == kTalkerAndKind && fields[0].ends_with("GGA")) {
        said = gga(fields);
    } else if (fields[0].size() == kTalkerAndKind && fields[0].ends_with("RMC")) {
        said = rmc(fields);
    }
    return fields.problem() ? Result<Sentence>(*fields.problem()) : said;
}

}  // namespace beetwright::maps
