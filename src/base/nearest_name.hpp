// The known name that somebody probably meant by one that is not known.
#pragma once

#include <set>
#include <string>
#include <string_view>

namespace beetwright {

/// The known name that takes fewest letters typed, left out, changed or swapped, upper and lower
/// case the same; empty where none is near: more than one slip in three letters.
std::string nearest_name(std::string_view wanted, const std::set<std::string>& known);

/// "did you mean "Long Acre"? " or, where nothing is near, nothing.
std::string did_you_mean(std::string_view wanted, const std::set<std::string>& known);

}  // namespace beetwright
