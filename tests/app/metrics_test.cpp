#include "app/metrics.hpp"

#include <gtest/gtest.h>

#include <chrono>
#include <string>

namespace beetwright::app {
namespace {

using std::chrono::milliseconds;

http::Exchange exchange(int status, std::size_t bytes, milliseconds took) {
    http::Exchange one;
    one.status = status;
    one.bytes = bytes;
    one.took = took;
    return one;
}

// Somebody who follows a job for an hour must not make the answers look slow.
TEST(Metrics, CountStreamsApartFromAnswers) {
    Metrics metrics;
    metrics.note(exchange(200, 1000, milliseconds(10)));
    metrics.note(exchange(304, 0, milliseconds(5)));
    metrics.note(exchange(404, 30, milliseconds(5)));
    auto stream = exchange(200, 400, milliseconds(3'600'000));
    stream.is_stream = true;
    metrics.note(stream);
    EXPECT_EQ(metrics.text(7),
              "# TYPE beetwright_answers_total counter\n"
              "beetwright_answers_total{status=\"1xx\"} 0\n"
              "beetwright_answers_total{status=\"2xx\"} 1\n"
              "beetwright_answers_total{status=\"3xx\"} 1\n"
              "beetwright_answers_total{status=\"4xx\"} 1\n"
              "beetwright_answers_total{status=\"5xx\"} 0\n"
              "# TYPE beetwright_answered_bytes_total counter\n"
              "beetwright_answered_bytes_total 1030\n"
              "# TYPE beetwright_answering_seconds_total counter\n"
              "beetwright_answering_seconds_total 0.020000\n"
              "# TYPE beetwright_streams_total counter\n"
              "beetwright_streams_total 1\n"
              "# TYPE beetwright_streamed_bytes_total counter\n"
              "beetwright_streamed_bytes_total 400\n"
              "# TYPE beetwright_streaming_seconds_total counter\n"
              "beetwright_streaming_seconds_total 3600.000000\n"
              "# TYPE beetwright_connections gauge\n"
              "beetwright_connections 7\n");
}

}  // namespace
}  // namespace beetwright::app
