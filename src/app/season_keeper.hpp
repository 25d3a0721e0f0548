// One season file kept open: read anew only when somebody has changed it, written by one thread.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>

#include "app/season_snapshot.hpp"
#include "base/result.hpp"
#include "io/season_rows.hpp"
#include "ledger/season.hpp"
#include "records/season_file.hpp"

namespace beetwright::app {

/// All members may be called from several threads at once.
class SeasonKeeper {
 public:
    static Result<std::unique_ptr<SeasonKeeper>> open(const std::string& path);
    ~SeasonKeeper();
    SeasonKeeper(const SeasonKeeper&) = delete;
    SeasonKeeper& operator=(const SeasonKeeper&) = delete;

    /// As the file holds it now; the same object as long as the file is unchanged.
    Result<std::shared_ptr<const Snapshot>> season();

    /// Adds what somebody sent and returns once it is safe on the disk. Submissions that arrive
    /// while another is being written share the next write.
    Result<records::Receipt> append(records::Submission submission);

    Result<std::vector<io::Received>> received();

    /// Another word each time a file is opened: revisions of a file that was put back from a backup
    /// are not those that somebody has heard of.
    [[nodiscard]] const std::string& opening() const { return opening_; }

    /// Sets one of the season's own files (season_setting.hpp). Problems: a file of observations,
    /// or none that we know; all that reading it finds. What was set is noted, in the same
    /// transaction, as done by this person (nil: nobody who was signed in) at this time.
    Result<Done> set_file(const std::string& name, const std::string& text, const Uuid& person,
                          Instant at);
    /// Takes a row out of fields.csv, machines.csv, soils.csv or destinations.csv, or calls it
    /// otherwise, and notes who did. Problems: records/season_file.hpp.
    Result<Done> remove(const std::string& file, const std::string& name, const Uuid& person,
                        Instant at);
    Result<Done> rename(const std::string& file, const std::string& name, const std::string& to,
                        const Uuid& person, Instant at);

    /// What somebody brings, made from the season as it is, while nobody else sets anything.
    using MakeWeather = std::function<Result<weather::KnownWeather>(const ledger::Season&)>;
    /// Puts the parts of the weather that `make` gives in the place of those that are there, and
    /// notes who did, and what: `about`. Gives the parts.
    Result<weather::KnownWeather> set_weather(const MakeWeather& make, const std::string& about,
                                              const Uuid& person, Instant at);
    Result<Done> remove_weather(io::WeatherPart part, const Uuid& person, Instant at);

 private:
    class Parts;
    explicit SeasonKeeper(std::unique_ptr<Parts> parts);
    std::unique_ptr<Parts> parts_;
    std::string opening_;
};

}  // namespace beetwright::app
