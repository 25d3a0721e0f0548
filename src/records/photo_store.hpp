// Photographs of a season, each kept with the observation that it belongs to: a picture beside a
// count, never read by the ledger. A database of its own beside the others of the file. One thread
// at a time.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "records/people_store.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

struct Photo {
    Uuid id;           ///< made where it was taken
    Uuid observation;  ///< that may arrive later
    std::string field;
    Instant at{};      ///< when it arrived
    std::string by;    ///< who sent it; empty: not known
    std::string type;  ///< "image/jpeg"
    std::int64_t size = 0;
};

enum class Kept : std::uint8_t { fresh, known };

class PhotoStore {
 public:
    /// Opens a season file that is there; one of an older version is brought up to date.
    static Result<PhotoStore> open(const std::string& path);

    /// On the disk, with a note of it by `person`, when this returns; a known one is not noted
    /// again. Problem: conflict, the id is known with another picture or of another observation.
    Result<Kept> add(const Photo& photo, const std::string& bytes, const Uuid& person);
    /// Of one field, or of all without a name; the oldest first.
    Result<std::vector<Photo>> list(const std::string& field);
    Result<std::optional<Photo>> find(const Uuid& id);
    Result<std::string> bytes_of(const Uuid& id);

 private:
    explicit PhotoStore(Database database) : database_(std::move(database)) {}
    Result<Done> insert(const Photo& photo, const std::string& bytes, const Uuid& person);

    Database database_;
};

}  // namespace beetwright::records
