// How often somebody has failed of late, so that passwords cannot be guessed by trying.
#pragma once

#include <chrono>
#include <cstddef>
#include <map>
#include <mutex>
#include <string>
#include <vector>

#include "base/time.hpp"

namespace beetwright::app {

class Attempts {
 public:
    static constexpr std::size_t kMostOfAName = 5;
    static constexpr std::size_t kMostFromAPeer = 20;
    static constexpr std::chrono::minutes kWithin{15};

    /// Whether another attempt may be made. It counts as failed from now on, so that many at once
    /// cannot slip past, until it is taken back.
    bool begin(const std::string& name, const std::string& peer, Instant now);
    void take_back(const std::string& name, const std::string& peer, Instant began);
    /// Until another attempt may be made; zero where one may be made now.
    std::chrono::seconds wait(const std::string& name, const std::string& peer, Instant now);

 private:
    using Failures = std::map<std::string, std::vector<Instant>>;
    std::mutex mutex_;
    Failures by_name_;
    Failures by_peer_;
};

}  // namespace beetwright::app
