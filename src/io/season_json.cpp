#include "io/season_json.hpp"

#include <cctype>
#include <nlohmann/json.hpp>

#include "io/problem_list.hpp"

namespace beetwright::io {
namespace {

using Json = nlohmann::ordered_json;

class HeadReader {
 public:
    HeadReader(const Json& json, const std::string& file) : json_(json), file_(file) {}

    Result<SeasonHead> read() {
        check_format();
        check_names();
        SeasonHead head;
        head.name = text("name", "a name, such as \"Ottermarsh 2031\"");
        head.currency = text("currency", "a code, such as \"EUR\" or \"USD\"");
        read_units(head);
        const std::string day = text("first_day", "the campaign's first day, as \"2031-09-15\"");
        if (const auto parsed = parse_day(day)) {
            head.first_day = *parsed;
        } else if (!day.empty()) {
            report("first_day", "'" + day + "' is not a day", "write it as \"2031-09-15\"");
        }
        read_seed(head);
        read_files(head);
        if (!problems_.empty()) {
            return std::move(problems_).take();
        }
        return head;
    }

 private:
    void report(const char* field, std::string what, std::string fix) {
        problems_.add({.file = file_, .line = 0, .field = field}, std::move(what), std::move(fix));
    }

    void check_format() {
        const auto found = json_.find("beetwright_season");
        if (found == json_.end() || !found->is_number_unsigned()) {
            report("beetwright_season", "the format's number is missing",
                   "write \"beetwright_season\": 1");
            return;
        }
        const auto format = found->get<std::uint64_t>();
        if (format != kSeasonFormat) {
            report("beetwright_season",
                   "format " + std::to_string(format) +
                       " is not known; this program reads format " + std::to_string(kSeasonFormat),
                   format > kSeasonFormat ? "use a newer beetwright" : "write 1");
        }
    }

    void check_names() {
        constexpr std::array kNames{"beetwright_season", "name", "currency", "units",
                                    "first_day",         "seed", "files",    "notes"};
        for (const auto& item : json_.items()) {
            if (std::ranges::find(kNames, item.key()) == kNames.end()) {
                problems_.add({.file = file_, .line = 0, .field = item.key()},
                              "this name is not known",
                              "known are beetwright_season, name, currency, units, first_day, "
                              "seed, files and notes");
            }
        }
    }

    std::string text(const char* field, const char* wanted) {
        constexpr std::size_t kLongest = 200;
        const auto found = json_.find(field);
        if (found == json_.end() || !found->is_string() ||
            found->get_ref<const std::string&>().empty()) {
            report(field, found == json_.end() ? "this is missing" : "this is not a text",
                   std::string("write ") + wanted);
            return {};
        }
        const auto& value = found->get_ref<const std::string&>();
        const bool has_control = std::ranges::any_of(
            value, [](char c) { return static_cast<unsigned char>(c) < 0x20U || c == 0x7f; });
        if (value.size() > kLongest || has_control) {
            report(field, "the text is longer than 200 bytes or holds control characters",
                   std::string("write ") + wanted);
            return {};
        }
        return value;
    }

    void read_units(SeasonHead& head) {
        const std::string words = text("units", "\"metric\" or \"us\"");
        if (words == "us") {
            head.units = UnitSystem::us;
        } else if (words != "metric" && !words.empty()) {
            report("units", "'" + words + "' is not a system of units",
                   "write \"metric\" or \"us\"");
        }
    }

    void read_seed(SeasonHead& head) {
        const auto found = json_.find("seed");
        if (found == json_.end()) {
            return;
        }
        if (!found->is_number_unsigned()) {
            report("seed", "this is not a whole number from 0", "leave it out, or write 1");
            return;
        }
        head.seed = found->get<std::uint64_t>();
    }

    void read_files(SeasonHead& head) {
        const auto found = json_.find("files");
        if (found == json_.end()) {
            return;
        }
        const bool is_list = found->is_array() && std::ranges::all_of(*found, [](const Json& one) {
                                 return one.is_string();
                             });
        if (!is_list) {
            report("files", "this is not a list of file names",
                   "leave it out, or write [\"fields.csv\", ...]");
            return;
        }
        for (const auto& one : *found) {
            head.files.push_back(one.get<std::string>());
        }
    }

    const Json& json_;
    const std::string& file_;
    ProblemList problems_;
};

int line_of(std::string_view text, std::size_t byte) {
    const auto before = text.substr(0, byte);
    return 1 + static_cast<int>(std::ranges::count(before, '\n'));
}

}  // namespace

Result<SeasonHead> read_season_json(std::string_view json, const std::string& file) {
    try {
        const Json parsed = Json::parse(json);
        if (parsed.is_object()) {
            return HeadReader(parsed, file).read();
        }
    } catch (const Json::parse_error& error) {
        return Problem{ProblemKind::input,
                       {.file = file, .line = line_of(json, error.byte), .field = ""},
                       "this is not JSON from here on",
                       "see that quotation marks, commas and braces are paired, and that the file "
                       "was copied whole"};
    } catch (const std::exception& error) {
        return Problem{ProblemKind::input,
                       {.file = file, .line = 0, .field = ""},
                       std::string("the file cannot be read: ") + error.what(),
                       "compare it with docs/formats/season_json.md"};
    }
    return Problem{ProblemKind::input,
                   {.file = file, .line = 1, .field = ""},
                   "the file does not hold an object",
                   "write { \"beetwright_season\": 1, ... }"};
}

std::string write_season_json(const SeasonHead& head) {
    Json json = {{"beetwright_season", kSeasonFormat},
                 {"name", head.name},
                 {"currency", head.currency},
                 {"units", head.units == UnitSystem::us ? "us" : "metric"},
                 {"first_day", to_text(head.first_day)},
                 {"seed", head.seed}};
    if (!head.files.empty()) {
        json["files"] = head.files;
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace beetwright::io
