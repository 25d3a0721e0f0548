#include "base/nearest_name.hpp"

#include <algorithm>
#include <cstdlib>
#include <vector>

#include "base/lower_case.hpp"

namespace beetwright {
namespace {

constexpr std::size_t kLettersForASlip = 3;
/// Names longer than this are not compared: it would take their lengths multiplied.
constexpr std::size_t kLongest = 100;

/// Letters typed, left out, changed or swapped with the next, each letter touched once
/// (Damerau 1964; optimal string alignment).
std::size_t slips(const std::string& a, const std::string& b) {
    std::vector<std::size_t> before_last(b.size() + 1);
    std::vector<std::size_t> last(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) {
        row[j] = j;
    }
    for (std::size_t i = 1; i <= a.size(); ++i) {
        before_last.swap(last);
        last.swap(row);
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t changed = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, changed});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                row[j] = std::min(row[j], before_last[j - 2] + 1);
            }
        }
    }
    return row[b.size()];
}

}  // namespace

std::string nearest_name(std::string_view wanted, const std::set<std::string>& known) {
    if (wanted.size() > kLongest) {
        return {};
    }
    const std::string meant = lower_case(wanted);
    std::string nearest;
    std::size_t fewest = std::max<std::size_t>(1, meant.size() / kLettersForASlip) + 1;
    for (const auto& name : known) {
        const std::size_t longer = std::max(name.size(), meant.size());
        const std::size_t shorter = std::min(name.size(), meant.size());
        if (longer > kLongest || longer - shorter >= fewest) {
            continue;
        }
        const std::size_t distance = slips(meant, lower_case(name));
        if (distance < fewest) {
            fewest = distance;
            nearest = name;
        }
    }
    return nearest;
}

std::string did_you_mean(std::string_view wanted, const std::set<std::string>& known) {
    const std::string near = nearest_name(wanted, known);
    return near.empty() ? near : "did you mean \"" + near + "\"? ";
}

}  // namespace beetwright
