// Passwords, tokens and their hashes. The library that makes them is seen in secrets.cpp alone.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "base/time.hpp"
#include "base/uuid.hpp"

namespace beetwright::app {

/// An argon2id string with its salt and cost. Takes 64 MB and a noticeable time on purpose.
/// Problem: there is no memory for it.
Result<std::string> hash_password(const std::string& password);
/// Whether the password is the one that was hashed. Takes what hash_password takes.
Result<bool> verify_password(const std::string& hash, const std::string& password);

/// 32 random bytes in base64url: 43 letters that may stand in a link and in a cookie.
std::string random_token();
/// BLAKE2b of a token. A token is too random to be guessed, so this may be fast.
std::array<std::uint8_t, 32> hash_token(std::string_view token);

Uuid random_id(Instant made_at);

}  // namespace beetwright::app
