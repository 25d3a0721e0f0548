// The engine as a browser's worker calls it: open a season, add what waits to be sent, ask.
//
// Text goes in and out. A caller makes room for its text, writes it there, calls, reads the reply
// and gives it back. There is one season to an instance; a worker that needs two makes two
// instances.
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <memory>
#include <optional>
#include <string>

#include "io/problems_json.hpp"
#include "io/questions.hpp"
#include "io/season_folder.hpp"
#include "io/sync_json.hpp"
#include "io/text_map.hpp"
#include "io/weather_json.hpp"

namespace {

using namespace beetwright;

#define BEETWRIGHT_EXPORT(name) extern "C" __attribute__((export_name(name), used))

enum class Kind : std::uint32_t { json, page, problems };

/// What a call gives back: a kind, a length in bytes, and the text. To be given to release().
struct Reply {
    Kind kind;
    std::uint32_t length;
};

struct Opened {
    ledger::Season recorded;  ///< as the server has it
    ledger::Season with_waiting;
};
std::optional<Opened> opened;
/// What earlier questions went through; it serves whatever season is open.
engine::HarvesterMemory harvesters;
/// The weather, which comes apart from the season and changes for itself.
std::shared_ptr<const weather::KnownWeather> known_weather;

Reply* reply(Kind kind, const std::string& text) {
    auto* made = static_cast<Reply*>(std::malloc(sizeof(Reply) + text.size()));
    require(made != nullptr, "there is memory for a reply");
    *made = {kind, static_cast<std::uint32_t>(text.size())};
    std::ranges::copy(text, reinterpret_cast<char*>(made + 1));
    return made;
}

Reply* refuse(const Problems& problems) {
    return reply(Kind::problems, io::problems_json(problems));
}

Reply* refuse_unopened() {
    return refuse({{ProblemKind::missing, {}, "no season is open", "open one first"}});
}

}  // namespace

/// Memory for a text of this many bytes.
BEETWRIGHT_EXPORT("room") char* room(std::size_t bytes) {
    return static_cast<char*>(std::malloc(bytes == 0 ? 1 : bytes));
}

BEETWRIGHT_EXPORT("release") void release(void* taken) {
    std::free(taken);
}

/// Opens a season from its files: a JSON object, name to text.
BEETWRIGHT_EXPORT("open_season") Reply* open_season(const char* files, std::size_t length) {
    const auto texts = io::read_text_map({files, length}, "the season");
    if (!texts) {
        return refuse(texts.problems());
    }
    auto season = io::read_season(*texts);
    if (!season) {
        return refuse(season.problems());
    }
    season->weather = known_weather;
    opened = Opened{*season, *season};
    return reply(Kind::json, "{}");
}

/// Puts the season's weather, of the one that is open and of those opened from now on, from its
/// files: a JSON object, name to text.
BEETWRIGHT_EXPORT("put_weather") Reply* put_weather(const char* files, std::size_t length) {
    const auto texts = io::read_text_map({files, length}, "the weather");
    if (!texts) {
        return refuse(texts.problems());
    }
    auto weather = io::read_known_weather(*texts);
    if (!weather) {
        return refuse(weather.problems());
    }
    known_weather = weather->is_empty()
                        ? nullptr
                        : std::make_shared<const weather::KnownWeather>(std::move(*weather));
    if (opened) {
        opened->recorded.weather = known_weather;
        opened->with_waiting.weather = known_weather;
    }
    return reply(Kind::json, "{}");
}

/// Reads a file of weather as somebody has it, and keeps nothing: a JSON object with `part`, `file`
/// (its name), `text`, and what is said beside it. What comes back is what was read.
BEETWRIGHT_EXPORT("read_weather") Reply* read_weather(const char* said, std::size_t length) {
    auto words = io::read_text_map({said, length}, "the weather");
    if (!words) {
        return refuse(words.problems());
    }
    const auto take = [&](const char* name) {
        const auto found = words->extract(name);
        return found.empty() ? std::string() : found.mapped();
    };
    const auto text = take("text");
    const auto file = take("file");
    const auto part = io::weather_part_named(take("part"));
    const auto facts = io::weather_facts(*words);
    if (!facts) {
        return refuse(facts.problems());
    }
    weather::KnownWeather weather;
    const auto which = part.value_or(io::WeatherPart::observed);
    const auto read = io::read_weather_part(which, text, file, *facts, weather);
    return read ? reply(Kind::json, io::weather_part_json(which, weather, *read))
                : refuse(read.problems());
}

/// Adds observations that the server does not have yet, in place of those added before: a JSON
/// object, name to text, as they will be sent.
BEETWRIGHT_EXPORT("add_waiting") Reply* add_waiting(const char* files, std::size_t length) {
    if (!opened) {
        return refuse_unopened();
    }
    const auto texts = io::read_text_map({files, length}, "what waits");
    if (!texts) {
        return refuse(texts.problems());
    }
    const auto reading =
        io::read_observation_rows(*texts, opened->recorded, io::ids_of(opened->recorded));
    if (!reading) {
        return refuse(reading.problems());
    }
    opened->with_waiting = opened->recorded;
    // One that the server took while the answer was lost is in both.
    ledger::add_observations(opened->with_waiting,
                             ledger::only_new(opened->recorded, reading->season));
    return reply(Kind::json, "{}");
}

/// Reads a file of observations as somebody has it, and records nothing: a JSON object, name to
/// text. What comes back is what is new of it, as tables to be sent.
BEETWRIGHT_EXPORT("read_file") Reply* read_file(const char* files, std::size_t length) {
    if (!opened) {
        return refuse_unopened();
    }
    const auto texts = io::read_text_map({files, length}, "the file");
    if (!texts) {
        return refuse(texts.problems());
    }
    auto reading =
        io::read_observation_rows(*texts, opened->with_waiting, io::ids_of(opened->with_waiting));
    if (!reading) {
        return refuse(reading.problems());
    }
    const auto all = ledger::count_observations(reading->season);
    const auto fresh = ledger::only_new(opened->with_waiting, std::move(reading->season));
    const auto fresh_count = ledger::count_observations(fresh);
    return reply(Kind::json, io::reading_json(io::write_observations(fresh, UnitSystem::metric),
                                              static_cast<std::int64_t>(fresh_count),
                                              static_cast<std::int64_t>(all - fresh_count)));
}

/// Puts a question by name, with its parameters as a JSON object, name to text.
BEETWRIGHT_EXPORT("ask")
Reply* ask(const char* name, std::size_t name_length, const char* parameters, std::size_t length) {
    if (!opened) {
        return refuse_unopened();
    }
    const auto values = io::read_text_map({parameters, length}, "the parameters");
    if (!values) {
        return refuse(values.problems());
    }
    const auto answer = io::answer_question(opened->with_waiting, {name, name_length}, *values, {},
                                            nullptr, &harvesters);
    if (!answer) {
        return refuse(answer.problems());
    }
    return reply(answer->form == io::AnswerForm::page ? Kind::page : Kind::json, answer->body);
}
