#include "app/attempts.hpp"

#include <arpa/inet.h>

#include <algorithm>
#include <array>

namespace beetwright::app {
namespace {

using Failures = std::map<std::string, std::vector<Instant>>;

/// More names or peers than this are not remembered: whoever has been quiet longest is forgotten.
constexpr std::size_t kMostRemembered = 10'000;

/// "Anna" and "anna" are one name, as in the season file.
std::string small(std::string name) {
    std::ranges::for_each(name, [](char& letter) {
        letter = letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
    });
    return name;
}

/// One household's or one server's addresses are one peer: of IPv6 whoever has one has all that
/// begin with the same 64 bits.
std::string network_of(const std::string& peer) {
    constexpr std::size_t half = 8;
    std::array<char, 2 * half> bytes{};
    const bool is_long = inet_pton(AF_INET6, peer.c_str(), bytes.data()) == 1;
    if (!is_long || peer.starts_with("::ffff:")) {
        return peer;
    }
    return {bytes.data(), half};
}

void forget_old(std::vector<Instant>& times, Instant now) {
    std::erase_if(times, [&](Instant at) { return at + Attempts::kWithin <= now; });
}

void make_room(Failures& failures, Instant now) {
    if (failures.size() < kMostRemembered) {
        return;
    }
    std::erase_if(failures, [&](const auto& one) {
        return one.second.empty() || one.second.back() + Attempts::kWithin <= now;
    });
    if (failures.size() >= kMostRemembered) {
        failures.erase(std::ranges::min_element(failures, {},
                                                [](const auto& one) { return one.second.back(); }));
    }
}

std::chrono::milliseconds wait_of(Failures& failures, const std::string& who, std::size_t most,
                                  Instant now) {
    const auto found = failures.find(who);
    if (found == failures.end()) {
        return {};
    }
    auto& times = found->second;
    forget_old(times, now);
    if (times.size() < most) {
        return {};
    }
    return times[times.size() - most] + Attempts::kWithin - now;
}

void erase_one(Failures& failures, const std::string& who, Instant at) {
    const auto found = failures.find(who);
    if (found == failures.end()) {
        return;
    }
    const auto one = std::ranges::find(found->second, at);
    if (one != found->second.end()) {
        found->second.erase(one);
    }
    if (found->second.empty()) {
        failures.erase(found);
    }
}

}  // namespace

bool Attempts::begin(const std::string& name, const std::string& peer, Instant now) {
    const std::lock_guard lock(mutex_);
    const auto key = small(name);
    const auto network = network_of(peer);
    if (wait_of(by_name_, key, kMostOfAName, now).count() > 0 ||
        wait_of(by_peer_, network, kMostFromAPeer, now).count() > 0) {
        return false;
    }
    make_room(by_name_, now);
    make_room(by_peer_, now);
    by_name_[key].push_back(now);
    by_peer_[network].push_back(now);
    return true;
}

void Attempts::take_back(const std::string& name, const std::string& peer, Instant began) {
    const std::lock_guard lock(mutex_);
    erase_one(by_name_, small(name), began);
    erase_one(by_peer_, network_of(peer), began);
}

std::chrono::seconds Attempts::wait(const std::string& name, const std::string& peer, Instant now) {
    const std::lock_guard lock(mutex_);
    return std::chrono::ceil<std::chrono::seconds>(
        std::max(wait_of(by_name_, small(name), kMostOfAName, now),
                 wait_of(by_peer_, network_of(peer), kMostFromAPeer, now)));
}

}  // namespace beetwright::app
