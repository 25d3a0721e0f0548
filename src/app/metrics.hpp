// What the server has done since it started, as monitoring programs read it.
#pragma once

#include <array>
#include <cstdint>
#include <mutex>
#include <string>

#include "http/server.hpp"

namespace beetwright::app {

class Metrics {
 public:
    void note(const http::Exchange& exchange);
    /// Prometheus text format 0.0.4: answers by class of status, bytes, seconds.
    [[nodiscard]] std::string text(std::size_t connections) const;

 private:
    mutable std::mutex mutex_;
    std::array<std::uint64_t, 5> by_class_{};  ///< 1xx to 5xx
    std::uint64_t bytes_ = 0;
    double seconds_ = 0.0;
};

}  // namespace beetwright::app
