#include "io/question_parameters.hpp"

#include <algorithm>
#include <charconv>
#include <limits>
#include <set>

#include "base/nearest_name.hpp"
#include "base/number_text.hpp"
#include "base/trimmed.hpp"
#include "io/dates.hpp"
#include "io/decimal.hpp"
#include "io/ledger_words.hpp"

namespace beetwright::io {
namespace {

Problem wrong(std::string_view field, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = std::string(field)},
            std::move(what),
            std::move(fix)};
}

}  // namespace

Parameters::Parameters(const QuestionInfo& question, const Values& values) : values_(values) {
    std::set<std::string> known;
    for (const auto& parameter : question.parameters) {
        known.emplace(parameter.name);
    }
    // One that is misspelt must not be passed over: the answer would be to another question.
    for (const auto& [name, value] : values) {
        if (!known.contains(name)) {
            problems_.push_back(wrong(
                name,
                "the question \"" + std::string(question.name) + "\" has no parameter of this name",
                did_you_mean(name, known) + "Leave it out, or mend it"));
        }
    }
}

std::string Parameters::text(const std::string& name) const {
    const auto found = values_.find(name);
    return found == values_.end() ? std::string() : found->second;
}

std::optional<int> Parameters::days(const std::string& name) {
    if (text(name).empty()) {
        return std::nullopt;
    }
    const auto days = read_days(text(name));
    if (!days) {
        const auto& problem = days.problems().front();
        problems_.push_back(wrong(name, problem.what, problem.fix));
        return std::nullopt;
    }
    return *days;
}

std::optional<Instant> Parameters::instant(const std::string& name) {
    if (text(name).empty()) {
        return std::nullopt;
    }
    const auto instant = read_instant(text(name), {});
    if (!instant) {
        const auto& problem = instant.problems().front();
        problems_.push_back(wrong(name, problem.what, problem.fix));
        return std::nullopt;
    }
    return *instant;
}

std::optional<Day> Parameters::day(const std::string& name) {
    if (text(name).empty()) {
        return std::nullopt;
    }
    const auto day = read_day(text(name), {});
    if (!day) {
        const auto& problem = day.problems().front();
        problems_.push_back(wrong(name, problem.what, problem.fix));
        return std::nullopt;
    }
    return *day;
}

std::size_t Parameters::whole(const std::string& name, std::size_t otherwise) {
    const auto word = text(name);
    if (word.empty()) {
        return otherwise;
    }
    std::size_t count = otherwise;
    const auto read = std::from_chars(word.data(), word.data() + word.size(), count);
    if (read.ec != std::errc() || read.ptr != word.data() + word.size()) {
        problems_.push_back(
            wrong(name, "'" + word + "' is not a whole number", "write digits alone, 20"));
        return otherwise;
    }
    return count;
}

std::optional<double> Parameters::positive(const std::string& name) {
    const auto word = text(name);
    if (word.empty()) {
        return std::nullopt;
    }
    const auto number = leading_decimal(word);
    if (!number || number->length != word.size() || !(number->value > 0.0)) {
        problems_.push_back(
            wrong(name, "'" + word + "' is not a number over 0", "write digits, 12.5"));
        return std::nullopt;
    }
    return number->value;
}

std::size_t Parameters::one_of(const std::string& name, std::span<const std::string_view> words,
                               std::size_t otherwise) {
    const auto said = text(name);
    if (said.empty()) {
        return otherwise;
    }
    std::string all;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (said == words[i]) {
            return i;
        }
        all += (all.empty() ? "" : ", ") + std::string(words[i]);
    }
    problems_.push_back(wrong(name, "'" + said + "' is none of its words", "write one of " + all));
    return otherwise;
}

bool Parameters::yes(const std::string& name, bool otherwise) {
    const auto word = text(name);
    if (!word.empty() && word != "yes" && word != "no") {
        problems_.push_back(wrong(name, "'" + word + "' is neither yes nor no", "write yes or no"));
    }
    return word.empty() ? otherwise : word == "yes";
}

std::size_t Parameters::draws(const std::string& name, const Patience& patience) {
    const auto word = text(name);
    std::size_t count = engine::LedgerQuestion().draws;
    if (word.empty()) {
        return count;
    }
    const auto read = std::from_chars(word.data(), word.data() + word.size(), count);
    if (read.ec != std::errc() || read.ptr != word.data() + word.size()) {
        problems_.push_back(
            wrong(name, "'" + word + "' is not a number of draws", "write digits alone, 5000"));
    } else if (count > patience.most_draws) {
        problems_.push_back({ProblemKind::limit,
                             {.file = "", .line = 0, .field = name},
                             word + " draws are more than can be waited for",
                             "ask for at most " + std::to_string(patience.most_draws) +
                                 ", or start a job: docs/formats/api.md"});
    }
    return count;
}

std::optional<engine::GroupBy> Parameters::group(const std::string& name) {
    const auto word = text(name);
    const auto group = group_of(word);
    if (!word.empty() && !group) {
        std::string words;
        for (const auto& known : group_words()) {
            words += (words.empty() ? "" : ", ") + std::string(known.word);
        }
        problems_.push_back(
            wrong(name, "'" + word + "' is not a way to group fields", "write one of " + words));
    }
    return group;
}

UnitSystem Parameters::units(const std::string& name, UnitSystem otherwise) {
    const auto word = text(name);
    if (!word.empty() && word != "metric" && word != "us") {
        problems_.push_back(
            wrong(name, "'" + word + "' is not a system of units", "write metric or us"));
    }
    return word == "us" ? UnitSystem::us : word == "metric" ? UnitSystem::metric : otherwise;
}

std::vector<engine::SpotCount> Parameters::spots(const std::string& name) {
    std::vector<engine::SpotCount> spots;
    const std::string all = text(name);
    const char* at = all.data();
    const char* const end = at + all.size();
    while (at < end) {
        engine::SpotCount spot;
        const auto hits = std::from_chars(at, end, spot.hits);
        if (hits.ec != std::errc() || hits.ptr == end || *hits.ptr != '/') {
            return {};
        }
        const auto beets = std::from_chars(hits.ptr + 1, end, spot.beets);
        if (beets.ec != std::errc() || (beets.ptr != end && *beets.ptr != ',')) {
            return {};
        }
        spots.push_back(spot);
        at = beets.ptr == end ? end : beets.ptr + 1;
    }
    return spots;
}

int Parameters::word(const Column& column) {
    const auto said = text(std::string(column.name));
    if (said.empty()) {
        return 0;
    }
    const auto found = std::ranges::find(column.allowed, said, &Word::text);
    if (found != column.allowed.end()) {
        return found->code;
    }
    std::string words;
    for (const Word& allowed : column.allowed) {
        words += (words.empty() ? "" : ", ") + std::string(allowed.text);
    }
    problems_.push_back(
        wrong(column.name, "'" + said + "' is none of its words", "write one of " + words));
    return 0;
}

double Parameters::amount(const Column& column) {
    constexpr double kNotSaid = std::numeric_limits<double>::quiet_NaN();
    const auto said = text(std::string(column.name));
    if (said.empty()) {
        return kNotSaid;
    }
    const auto number = leading_decimal(said);
    const auto symbol = number ? trimmed(std::string_view(said).substr(number->length)) : "";
    const auto unit = find_unit(symbol.empty() ? column.metric_unit : symbol);
    if (!number || !unit || unit->kind != column.unit_kind) {
        problems_.push_back(wrong(column.name,
                                  "'" + said + "' is not a number with a unit that fits",
                                  "write a number in " + std::string(column.metric_unit) +
                                      ", or with " + std::string(column.us_unit) + " behind it"));
        return kNotSaid;
    }
    const double amount = unit->to_si(number->value);
    if (amount < column.least || amount > column.most) {
        const auto bound = [&](double si) { return general_text(unit->from_si(si), 6); };
        problems_.push_back(wrong(column.name, "'" + said + "' is out of bounds",
                                  "it goes from " + bound(column.least) + " to " +
                                      bound(column.most) + " " + std::string(unit->symbol)));
        return kNotSaid;
    }
    return amount;
}

std::vector<Length> Parameters::heights(const std::string& name) {
    std::vector<Length> heights;
    const std::string all = text(name);
    std::string_view left = all;
    while (!left.empty()) {
        const auto one = left.substr(0, left.find(','));
        const auto cm = leading_decimal(one);
        if (!cm || cm->length != one.size()) {
            problems_.push_back(wrong(name, "'" + std::string(one) + "' is not a height",
                                      "write centimetres parted by commas, such as "
                                      "4,5.5,6,-1,3"));
            return {};
        }
        heights.push_back(cm->value * unit::cm);
        left.remove_prefix(std::min(one.size() + 1, left.size()));
    }
    return heights;
}

}  // namespace beetwright::io
