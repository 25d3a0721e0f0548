// What is kept of fields' ground in a season file: borders, heights, and zones with their settings.
// Each is kept as text or as the file that somebody sent; what stands in them, src/maps knows. A
// database of its own beside the others of the file. One thread at a time.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/time.hpp"
#include "records/audit.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

enum class GroundPart : std::uint8_t { border, heights, zones };
std::string_view words(GroundPart part);
/// Nothing where it is none of them.
std::optional<GroundPart> ground_part_named(std::string_view word);

struct GroundEntry {
    std::string field;
    GroundPart part{};
    std::string from;        ///< the file that it came in; empty: drawn, or worked out here
    Instant at{};            ///< when it came
    std::string said;        ///< what the sender said beside the file
    std::string bytes;       ///< of the file, or text
    std::int64_t stamp = 0;  ///< the ground's revision that brought it
};

class GroundStore {
 public:
    /// Opens a season file that is there; one of an older version is brought up to date.
    static Result<GroundStore> open(const std::string& path);

    /// Rises with every change of a border, heights or zones, and of a field's name.
    [[nodiscard]] Result<std::int64_t> revision() const;
    /// By the fields' names. Of heights, which are long, without the bytes.
    [[nodiscard]] Result<std::vector<GroundEntry>> list() const;
    [[nodiscard]] Result<std::optional<GroundEntry>> find(const std::string& field,
                                                          GroundPart part) const;
    /// In the place of what was there; on the disk, with a note of it by `person`, when this
    /// returns. Problem: missing, the season has no such field.
    Result<Done> set(const GroundEntry& entry, const Uuid& person);
    /// Problem: missing, there is none.
    Result<Done> remove(const std::string& field, GroundPart part, const Uuid& person, Instant at);

 private:
    explicit GroundStore(Database database) : database_(std::move(database)) {}

    Database database_;
};

}  // namespace beetwright::records
