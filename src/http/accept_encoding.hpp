// In which codings somebody takes an answer.
#pragma once

#include <string_view>

namespace beetwright::http {

/// Whether an Accept-Encoding header (RFC 9110 section 12.5.3) asks for this coding rather than for
/// none: it names it, or `*` and not it, with a weight that is neither zero nor below that of
/// `identity`. A weight that cannot be read counts as zero, for an answer as it is can be read by
/// everybody. `coding` in small letters.
bool takes_coding(std::string_view accept_encoding, std::string_view coding);

}  // namespace beetwright::http
