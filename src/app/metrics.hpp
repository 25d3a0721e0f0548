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
    /// Prometheus text format 0.0.4: answers by class of status, their bytes and seconds; the same
    /// of streams that are over, apart, for they last as long as somebody listens.
    [[nodiscard]] std::string text(std::size_t connections) const;

 private:
    struct Sum {
        std::uint64_t bytes = 0;
        double seconds = 0.0;
    };

    mutable std::mutex mutex_;
    std::array<std::uint64_t, 5> by_class_{};  ///< 1xx to 5xx
    Sum answers_;
    std::uint64_t stream_count_ = 0;
    Sum streams_;
};

}  // namespace beetwright::app
