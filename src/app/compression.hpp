// Which answers go over the network compressed, and to whom.
//
// How long a compressed answer is says something of what stands in it. Whoever can have text of
// their own put beside a secret, and sees the lengths on the network, can so guess the secret piece
// by piece. So nothing is compressed but what a route passes through here, and none does whose
// answers hold a token, a password's trace or who is signed in (people_routes.cpp):
// docs/decisions/0012_compressed_answers.md.
#pragma once

#include <string>

#include "http/message.hpp"

namespace beetwright::app {

/// The answer as it goes to whoever asks: compressed if they take it so and it is long enough to
/// gain by it. Left as they are: refusals, which repeat what was asked, and what has a coding
/// already. Caches on the way are told that it depends.
http::Response compressed(http::Response answer, const http::Request& request);

/// The key of a kept answer in the form that whoever asks takes, so that it is compressed once.
std::string key_of_form(std::string key, const http::Request& request);

}  // namespace beetwright::app
