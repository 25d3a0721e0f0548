#include "app/metrics.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace beetwright::app {

void Metrics::note(const http::Exchange& exchange) {
    const std::lock_guard lock(mutex_);
    auto& sum = exchange.is_stream ? streams_ : answers_;
    sum.bytes += exchange.bytes;
    sum.seconds += std::chrono::duration<double>(exchange.took).count();
    if (exchange.is_stream) {
        ++stream_count_;
    } else {
        ++by_class_[static_cast<std::size_t>(std::clamp(exchange.status / 100, 1, 5) - 1)];
    }
}

std::string Metrics::text(std::size_t connections) const {
    std::string text;
    const auto add = [&](std::string_view name, std::string_view kind, const auto& value) {
        text += fmt::format("# TYPE beetwright_{0} {1}\nbeetwright_{0} {2}\n", name, kind, value);
    };
    const std::lock_guard lock(mutex_);
    text += "# TYPE beetwright_answers_total counter\n";
    for (std::size_t k = 0; k < by_class_.size(); ++k) {
        text +=
            fmt::format("beetwright_answers_total{{status=\"{}xx\"}} {}\n", k + 1, by_class_[k]);
    }
    add("answered_bytes_total", "counter", answers_.bytes);
    add("answering_seconds_total", "counter", fmt::format("{:.6f}", answers_.seconds));
    add("streams_total", "counter", stream_count_);
    add("streamed_bytes_total", "counter", streams_.bytes);
    add("streaming_seconds_total", "counter", fmt::format("{:.6f}", streams_.seconds));
    add("connections", "gauge", connections);
    return text;
}

}  // namespace beetwright::app
