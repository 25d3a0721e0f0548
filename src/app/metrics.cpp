#include "app/metrics.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace beetwright::app {

void Metrics::note(const http::Exchange& exchange) {
    const std::lock_guard lock(mutex_);
    ++by_class_[static_cast<std::size_t>(std::clamp(exchange.status / 100, 1, 5) - 1)];
    bytes_ += exchange.bytes;
    seconds_ += std::chrono::duration<double>(exchange.took).count();
}

std::string Metrics::text(std::size_t connections) const {
    const std::lock_guard lock(mutex_);
    std::string text = "# TYPE beetwright_answers_total counter\n";
    for (std::size_t k = 0; k < by_class_.size(); ++k) {
        text +=
            fmt::format("beetwright_answers_total{{status=\"{}xx\"}} {}\n", k + 1, by_class_[k]);
    }
    text += fmt::format(
        "# TYPE beetwright_answered_bytes_total counter\nbeetwright_answered_bytes_total {}\n",
        bytes_);
    text += fmt::format(
        "# TYPE beetwright_answering_seconds_total counter\nbeetwright_answering_seconds_total "
        "{:.6f}\n",
        seconds_);
    text += fmt::format("# TYPE beetwright_connections gauge\nbeetwright_connections {}\n",
                        connections);
    return text;
}

}  // namespace beetwright::app
