// What the server says of observations that were sent to it.
#pragma once

#include <cstdint>
#include <map>
#include <span>
#include <string>

#include "base/time.hpp"
#include "base/uuid.hpp"

namespace beetwright::io {

/// From whom an observation came, and when.
struct Received {
    Uuid observation;
    std::string by;
    Instant at{};
};

/// A photograph that was sent, without its bytes.
struct PhotoShown {
    Uuid id;
    Uuid observation;
    std::string field;
    Instant at{};
    std::string by;
    std::string type;
    std::int64_t size = 0;  ///< [bytes]
};

std::string receipt_json(std::int64_t fresh, std::int64_t known);
/// What a file holds, before it is recorded: the tables of what is new, and how much that is.
std::string reading_json(const std::map<std::string, std::string>& fresh_tables, std::int64_t fresh,
                         std::int64_t known);
/// An object by id: by whom and when.
std::string received_json(std::span<const Received> all);
std::string photos_json(std::span<const PhotoShown> all);

}  // namespace beetwright::io
