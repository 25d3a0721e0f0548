#include "http/accept_encoding.hpp"

#include <algorithm>
#include <optional>

#include "base/trimmed.hpp"

namespace beetwright::http {
namespace {

constexpr int kThousandths = 1000;  ///< of the greatest weight

char small(char letter) {
    return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
}
bool is_word(std::string_view text, std::string_view small_word) {
    return std::ranges::equal(text, small_word, {}, small);
}

/// Cuts the text off up to the mark, which goes too.
std::string_view cut(std::string_view& text, char mark) {
    const auto end = std::min(text.find(mark), text.size());
    const auto part = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    return trimmed(part);
}

/// A weight in thousandths: 0 or 1 and at most three digits behind a point, none of them above 1.
std::optional<int> thousandths(std::string_view text) {
    if (text.empty() || text.size() > 5 || (text[0] != '0' && text[0] != '1') ||
        (text.size() > 1 && text[1] != '.')) {
        return std::nullopt;
    }
    int weight = (text[0] - '0') * kThousandths;
    int worth = kThousandths / 10;
    for (const char digit : text.substr(std::min<std::size_t>(2, text.size()))) {
        if (digit < '0' || digit > '9') {
            return std::nullopt;
        }
        weight += (digit - '0') * worth;
        worth /= 10;
    }
    return weight <= kThousandths ? std::optional(weight) : std::nullopt;
}

/// What follows a coding: nothing, or `q=` and its weight.
int weight_in(std::string_view parameters) {
    if (parameters.empty()) {
        return kThousandths;
    }
    const auto name = cut(parameters, '=');
    return is_word(name, "q") ? thousandths(trimmed(parameters)).value_or(0) : 0;
}

}  // namespace

bool takes_coding(std::string_view accept_encoding, std::string_view coding) {
    std::optional<int> named;
    std::optional<int> any;
    int identity = 0;
    while (!accept_encoding.empty()) {
        auto part = cut(accept_encoding, ',');
        const auto name = cut(part, ';');
        const int weight = weight_in(part);
        if (is_word(name, coding)) {
            named = weight;
        } else if (name == "*") {
            any = weight;
        } else if (is_word(name, "identity")) {
            identity = weight;
        }
    }
    const int weight = named.value_or(any.value_or(0));
    return weight > 0 && weight >= identity;
}

}  // namespace beetwright::http
