#include "app/secrets.hpp"

#include <sodium.h>

#include <cerrno>

#include "base/contract.hpp"

namespace beetwright::app {
namespace {

void make_ready() {
    static const int started = sodium_init();
    require(started >= 0, "the library of secrets starts");
}

Problem no_memory() {
    return {ProblemKind::outside,
            {},
            "this machine has no memory left to check a password",
            "try again in a moment, or close other programs on it"};
}

}  // namespace

Result<std::string> hash_password(const std::string& password) {
    make_ready();
    std::array<char, crypto_pwhash_STRBYTES> hash{};
    if (crypto_pwhash_str_alg(
            hash.data(), password.data(), password.size(), crypto_pwhash_OPSLIMIT_INTERACTIVE,
            crypto_pwhash_MEMLIMIT_INTERACTIVE, crypto_pwhash_ALG_ARGON2ID13) != 0) {
        return no_memory();
    }
    return std::string(hash.data());
}

Result<bool> verify_password(const std::string& hash, const std::string& password) {
    make_ready();
    // It wants the whole of its buffer, not only what is written.
    std::array<char, crypto_pwhash_STRBYTES> whole{};
    hash.copy(whole.data(), whole.size() - 1);
    errno = 0;
    if (crypto_pwhash_str_verify(whole.data(), password.data(), password.size()) == 0) {
        return true;
    }
    if (errno == ENOMEM) {
        return no_memory();
    }
    return false;
}

std::string random_token() {
    make_ready();
    std::array<unsigned char, 32> bytes{};
    randombytes_buf(bytes.data(), bytes.size());
    constexpr int form = sodium_base64_VARIANT_URLSAFE_NO_PADDING;
    std::array<char, sodium_base64_ENCODED_LEN(32, form)> text{};
    sodium_bin2base64(text.data(), text.size(), bytes.data(), bytes.size(), form);
    return text.data();
}

std::array<std::uint8_t, 32> hash_token(std::string_view token) {
    make_ready();
    std::array<std::uint8_t, 32> hash{};
    crypto_generichash(hash.data(), hash.size(),
                       reinterpret_cast<const unsigned char*>(token.data()), token.size(), nullptr,
                       0);
    return hash;
}

Uuid random_id(Instant made_at) {
    make_ready();
    std::array<std::uint64_t, 2> words{};
    randombytes_buf(words.data(), sizeof words);
    return Uuid::version7(made_at, words[0], words[1]);
}

}  // namespace beetwright::app
