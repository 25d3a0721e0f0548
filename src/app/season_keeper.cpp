#include "app/season_keeper.hpp"

#include <condition_variable>
#include <deque>
#include <future>
#include <mutex>
#include <set>
#include <thread>

#include "app/credentials.hpp"
#include "app/season_setting.hpp"
#include "app/secrets.hpp"
#include "base/nearest_name.hpp"
#include "ledger/observation_kinds.hpp"

namespace beetwright::app {
namespace {

/// Of a submission, what the season did not have.
Addition fresh_part(const records::Submission& sent, const std::vector<Uuid>& fresh_ids,
                    std::int64_t revision) {
    const std::set<Uuid> fresh(fresh_ids.begin(), fresh_ids.end());
    Addition part{revision, sent.observations, {}};
    ledger::leave_out(part.observations, [&](const Uuid& id) { return !fresh.contains(id); });
    for (const auto& id : fresh_ids) {
        part.received.push_back({.observation = id, .by = sent.by, .at = sent.at});
    }
    return part;
}

}  // namespace

class SeasonKeeper::Parts {
 public:
    Parts(std::string path, records::SeasonFile reading, records::SeasonFile writing)
        : path_(std::move(path)), reading_(std::move(reading)), writing_(std::move(writing)) {
        writer_ = std::jthread([this](const std::stop_token& stop) { write_until(stop); });
    }
    Parts(const Parts&) = delete;
    Parts& operator=(const Parts&) = delete;
    ~Parts() {
        writer_.request_stop();
        work_waits_.notify_all();
    }

    Result<std::shared_ptr<const Snapshot>> season() {
        const std::lock_guard lock(reading_mutex_);
        const auto revision = reading_.revision();
        if (!revision) {
            return revision.problems();
        }
        if (snapshot_ && snapshot_->revision == *revision) {
            return snapshot_;
        }
        if (snapshot_ && bring_up_to(*revision)) {
            return snapshot_;
        }
        auto loaded = reading_.load_with_revision();
        if (!loaded) {
            return loaded.problems();
        }
        snapshot_ =
            std::make_shared<const Snapshot>(snapshot_of(std::move(*loaded), snapshot_.get()));
        return snapshot_;
    }

    Result<records::Receipt> append(records::Submission submission) {
        std::future<Result<records::Receipt>> answer;
        {
            const std::lock_guard lock(queue_mutex_);
            queue_.push_back({std::move(submission), {}});
            answer = queue_.back().answer.get_future();
        }
        work_waits_.notify_one();
        return answer.get();
    }

    Result<std::vector<io::Received>> received() {
        const std::lock_guard lock(reading_mutex_);
        return reading_.received();
    }

    Result<Done> set_file(const std::string& name, const std::string& text, const Uuid& person,
                          Instant at) {
        if (!settable_files().contains(name)) {
            return Problem{
                ProblemKind::missing,
                {.file = name, .line = 0, .field = ""},
                "this is not a file that sets anything",
                did_you_mean(name, settable_files()) + "Observations go to /api/v1/observations"};
        }
        const std::lock_guard lock(setting_mutex_);
        const auto snapshot = season();
        if (!snapshot) {
            return snapshot.problems();
        }
        const auto changed = with_file((*snapshot)->season, name, text);
        if (!changed) {
            return changed.problems();
        }
        auto file = records::SeasonFile::open(path_, records::OpenMode::existing);
        if (!file) {
            return file.problems();
        }
        const auto set =
            file->set(*changed, {.at = at, .person = person, .what = "set", .about = name});
        if (!set) {
            return set.problems();
        }
        return Done{};
    }

    Result<Done> remove(const std::string& file, const std::string& name, const Uuid& person,
                        Instant at) {
        return change_name(file, [&](auto& season, auto master) {
            return season.remove(
                master, name,
                {.at = at, .person = person, .what = "removed", .about = file + ": " + name});
        });
    }

    Result<Done> rename(const std::string& file, const std::string& name, const std::string& to,
                        const Uuid& person, Instant at) {
        if (auto wrong = wrong_name("name", to)) {
            return *wrong;
        }
        return change_name(file, [&](auto& season, auto master) {
            return season.rename(master, name, to,
                                 {.at = at,
                                  .person = person,
                                  .what = "renamed",
                                  .about = file + ": " + name + " to " + to});
        });
    }

    Result<weather::KnownWeather> set_weather(const MakeWeather& make, const std::string& about,
                                              const Uuid& person, Instant at) {
        auto made = Result<weather::KnownWeather>(weather::KnownWeather{});
        const auto done = change([&](records::SeasonFile& file) -> Result<Done> {
            const auto snapshot = season();
            if (!snapshot) {
                return snapshot.problems();
            }
            made = make((*snapshot)->season);
            return made ? file.set_weather(
                              *made, {.at = at, .person = person, .what = "set", .about = about})
                        : Result<Done>(made.problems());
        });
        return done ? made : done.problems();
    }

    Result<Done> remove_weather(io::WeatherPart part, const Uuid& person, Instant at) {
        return change([&](auto& season) {
            return season.remove_weather(
                part, {.at = at, .person = person, .what = "removed", .about = io::file_of(part)});
        });
    }

 private:
    struct Waiting {
        records::Submission submission;
        std::promise<Result<records::Receipt>> answer;
    };
    /// What our own writer added to make a revision: cheaper than reading the file anew.
    struct Added {
        std::int64_t revision;
        std::vector<Addition> parts;
    };

    /// Changes a name of one of the tables that have names.
    template <class Change>
    Result<Done> change_name(const std::string& table, Change&& change) {
        const auto master = master_of(table);
        if (master == io::Master::none) {
            return Problem{ProblemKind::missing,
                           {.file = table, .line = 0, .field = ""},
                           "the rows of this file have no names",
                           "write fields.csv, machines.csv, soils.csv or destinations.csv"};
        }
        return this->change([&](auto& season) { return change(season, master); });
    }

    template <class Change>
    Result<Done> change(Change&& change) {
        const std::lock_guard lock(setting_mutex_);
        auto file = records::SeasonFile::open(path_, records::OpenMode::existing);
        return file ? change(*file) : file.problems();
    }

    static constexpr std::size_t kMostAdded = 1000;

    /// Adds to the snapshot what our writer wrote since. False where somebody else wrote as well.
    bool bring_up_to(std::int64_t revision) {
        std::deque<Added> added;
        {
            const std::lock_guard lock(added_mutex_);
            while (!added_.empty() && added_.front().revision <= revision) {
                added.push_back(std::move(added_.front()));
                added_.pop_front();
            }
        }
        std::int64_t reached = snapshot_->revision;
        for (const auto& one : added) {
            reached += one.revision == reached + 1 ? 1 : 0;
        }
        if (reached != revision) {
            return false;
        }
        auto next = successor_of(*snapshot_);
        for (auto& one : added) {
            if (one.revision <= snapshot_->revision) {
                continue;
            }
            for (auto& part : one.parts) {
                add_to(next, std::move(part));
            }
        }
        next.revision = revision;
        snapshot_ = std::make_shared<const Snapshot>(std::move(next));
        return true;
    }

    void write_until(const std::stop_token& stop) {
        for (;;) {
            std::vector<Waiting> batch;
            {
                std::unique_lock lock(queue_mutex_);
                work_waits_.wait(lock, stop, [this] { return !queue_.empty(); });
                if (queue_.empty()) {
                    return;  // told to stop, and nothing is left to write
                }
                batch.swap(queue_);
            }
            write(batch);
        }
    }

    void write(std::vector<Waiting>& batch) {
        std::vector<records::Submission> submissions;
        submissions.reserve(batch.size());
        for (auto& waiting : batch) {
            submissions.push_back(std::move(waiting.submission));
        }
        auto [receipts, revision] = writing_.append(submissions);
        Added added{revision, {}};
        for (std::size_t i = 0; i < receipts.size(); ++i) {
            if (receipts[i].ok() && !receipts[i]->fresh.empty()) {
                added.parts.push_back(fresh_part(submissions[i], receipts[i]->fresh, revision));
            }
        }
        // Kept before anybody is answered, so that whoever was answered sees what he sent.
        if (!added.parts.empty()) {
            const std::lock_guard lock(added_mutex_);
            added_.push_back(std::move(added));
            if (added_.size() > kMostAdded) {
                added_.pop_front();  // nobody asks: whoever does next reads the file
            }
        }
        for (std::size_t i = 0; i < batch.size(); ++i) {
            batch[i].answer.set_value(std::move(receipts[i]));
        }
    }

    std::string path_;
    std::mutex reading_mutex_;
    records::SeasonFile reading_;
    std::shared_ptr<const Snapshot> snapshot_;

    std::mutex setting_mutex_;  ///< of what is read, changed and written back

    std::mutex added_mutex_;
    std::deque<Added> added_;

    std::mutex queue_mutex_;
    std::condition_variable_any work_waits_;
    std::vector<Waiting> queue_;
    records::SeasonFile writing_;  // the writer's alone
    std::jthread writer_;
};

SeasonKeeper::SeasonKeeper(std::unique_ptr<Parts> parts)
    : parts_(std::move(parts)), opening_(random_token().substr(0, 12)) {}
SeasonKeeper::~SeasonKeeper() = default;

Result<std::unique_ptr<SeasonKeeper>> SeasonKeeper::open(const std::string& path) {
    auto writing = records::SeasonFile::open(path, records::OpenMode::existing);
    if (!writing) {
        return writing.problems();
    }
    auto reading = records::SeasonFile::open(path, records::OpenMode::read_only);
    if (!reading) {
        return reading.problems();
    }
    std::unique_ptr<SeasonKeeper> keeper(
        new SeasonKeeper(std::make_unique<Parts>(path, std::move(*reading), std::move(*writing))));
    if (auto first = keeper->season(); !first) {
        return first.problems();
    }
    return keeper;
}

Result<std::shared_ptr<const Snapshot>> SeasonKeeper::season() {
    return parts_->season();
}

Result<records::Receipt> SeasonKeeper::append(records::Submission submission) {
    return parts_->append(std::move(submission));
}

Result<Done> SeasonKeeper::set_file(const std::string& name, const std::string& text,
                                    const Uuid& person, Instant at) {
    return parts_->set_file(name, text, person, at);
}

Result<Done> SeasonKeeper::remove(const std::string& file, const std::string& name,
                                  const Uuid& person, Instant at) {
    return parts_->remove(file, name, person, at);
}

Result<Done> SeasonKeeper::rename(const std::string& file, const std::string& name,
                                  const std::string& to, const Uuid& person, Instant at) {
    return parts_->rename(file, name, to, person, at);
}

Result<weather::KnownWeather> SeasonKeeper::set_weather(const MakeWeather& make,
                                                        const std::string& about,
                                                        const Uuid& person, Instant at) {
    return parts_->set_weather(make, about, person, at);
}

Result<Done> SeasonKeeper::remove_weather(io::WeatherPart part, const Uuid& person, Instant at) {
    return parts_->remove_weather(part, person, at);
}

Result<std::vector<io::Received>> SeasonKeeper::received() {
    return parts_->received();
}

}  // namespace beetwright::app
