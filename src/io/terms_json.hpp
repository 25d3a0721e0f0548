// Payment terms as JSON. Every amount is written with its unit, "26.50 EUR/t";
// docs/formats/terms.md.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "worth/terms.hpp"

namespace beetwright::io {

inline constexpr int kTermsVersion = 1;

/// Reads terms; `file` names the text in problems. Every problem is listed: what is not JSON, keys
/// missing, not known or standing twice, amounts without or with a wrong unit, terms that
/// contradict themselves. A base price of null reads as terms that do not pay() yet.
Result<worth::Terms> read_terms(std::string_view json, const std::string& file);

/// Writes terms so that read_terms gives the same back.
std::string write_terms(const worth::Terms& terms);

}  // namespace beetwright::io
