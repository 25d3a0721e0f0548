#include "maps/nmea.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/counted.hpp"
#include "io/problem_list.hpp"
#include "maps/nmea_sentence.hpp"

namespace beetwright::maps {
namespace {

using std::chrono::milliseconds;

/// Two days of ten fixes a second.
constexpr std::size_t kMostInstants = 2'000'000;

/// What all sentences say of one instant.
struct Epoch {
    milliseconds time_of_day{0};
    std::optional<Day> day;
    bool is_simulated = false;
    std::optional<ground::Position> position;
    ground::Fix fix;  ///< but for where and when

    void add(const Sentence& said) {
        day = said.day ? said.day : day;
        is_simulated = is_simulated || said.is_simulated;
        const bool is_gga = said.kind == Sentence::Kind::gga;
        // GGA knows more of how a position was come by, so it counts before RMC.
        if (said.position && (is_gga || !position)) {
            position = said.position;
            fix.kind = said.fix;
        }
        if (is_gga) {
            fix.satellites = said.satellites;
            fix.horizontal_dilution = said.horizontal_dilution;
            fix.height_m = said.height_m;
        } else {
            fix.speed_m_s = said.speed_m_s;
            fix.course_deg = said.course_deg;
        }
    }
};

class Log {
 public:
    explicit Log(std::string file) : file_(std::move(file)) {}

    void read(std::string_view bytes) {
        int line = 0;
        while (!bytes.empty() && epochs_.size() <= kMostInstants) {
            ++line;
            const auto end = std::min(bytes.find('\n'), bytes.size());
            take_line(bytes.substr(0, end), line);
            bytes.remove_prefix(std::min(end + 1, bytes.size()));
        }
    }

    Result<ground::Track> track(std::optional<Day> first_day) && {
        if (epochs_.size() > kMostInstants) {
            return Problem{ProblemKind::limit,
                           {.file = file_, .line = 0, .field = ""},
                           "the log has more than " + std::to_string(kMostInstants) + " instants",
                           "cut it into days"};
        }
        if (2 * damaged_ > sentences_) {
            return std::move(faults_).take();
        }
        if (epochs_.empty()) {
            return missing("no sentence of GGA or RMC stands in the log",
                           "let the receiver write GGA and RMC");
        }
        if (std::ranges::none_of(epochs_, [](const Epoch& epoch) {
                return epoch.position && !epoch.is_simulated;
            })) {
            return missing("the receiver had no position anywhere in the log",
                           "record with the antenna under open sky");
        }
        if (!date(first_day)) {
            return missing("the log does not say of which day it is: it has no RMC",
                           "let the receiver write RMC too, or say the day");
        }
        return fixes();
    }

 private:
    [[nodiscard]] Problem missing(std::string what, std::string fix) const {
        return {ProblemKind::missing,
                {.file = file_, .line = 0, .field = ""},
                std::move(what),
                std::move(fix)};
    }

    void take_line(std::string_view text, int line) {
        // Loggers put their own time in front; a line that broke off has the next one behind it.
        const auto first = text.find('$');
        if (first == std::string_view::npos) {
            return;
        }
        const auto last = text.rfind('$');
        ++sentences_;
        if (last != first) {
            damage(line, {ProblemKind::input,
                          {},
                          "a sentence broke off in this line",
                          "copy the log again"});
            ++sentences_;
        }
        text = text.substr(last);
        text = text.substr(0, text.find_last_not_of("\r \t") + 1);
        auto said = read_sentence(text);
        if (!said) {
            damage(line, said.problems().front());
        } else if (said->kind != Sentence::Kind::other) {
            take(*said);
        }
    }

    void damage(int line, Problem problem) {
        problem.where.file = file_;
        problem.where.line = line;
        if (damaged_ == 0) {
            first_damaged_ = "line " + std::to_string(line) + ": " + problem.what;
        }
        ++damaged_;
        faults_.add(std::move(problem));
    }

    void take(const Sentence& said) {
        if (!said.time_of_day) {
            ++without_fix_;  // nor a time: a receiver that has just begun
            return;
        }
        // The sentences of one instant come together, but those of two may interlock.
        constexpr std::size_t kLookBack = 4;
        for (std::size_t back = 1; back <= std::min(kLookBack, epochs_.size()); ++back) {
            auto& earlier = epochs_[epochs_.size() - back];
            if (earlier.time_of_day == *said.time_of_day) {
                earlier.add(said);
                return;
            }
        }
        epochs_.emplace_back().time_of_day = *said.time_of_day;
        epochs_.back().add(said);
    }

    /// Days from the one instant to the next: 1 where midnight lies between.
    static std::chrono::days midnights(const Epoch& from, const Epoch& to) {
        constexpr std::chrono::hours kHalfADay(12);
        const auto ahead = to.time_of_day - from.time_of_day;
        return std::chrono::days(ahead < -kHalfADay ? 1 : (ahead > kHalfADay ? -1 : 0));
    }

    /// Gives every instant its day, from those that RMC gave; whether there is any.
    bool date(std::optional<Day> first_day) {
        const auto known =
            std::ranges::find_if(epochs_, [](const Epoch& epoch) { return epoch.day.has_value(); });
        auto begin = static_cast<std::size_t>(known - epochs_.begin());
        if (known == epochs_.end()) {
            if (!first_day) {
                return false;
            }
            begin = 0;
            epochs_.front().day = first_day;
        }
        for (std::size_t k = begin; k > 0; --k) {
            epochs_[k - 1].day = *epochs_[k].day - midnights(epochs_[k - 1], epochs_[k]);
        }
        for (std::size_t k = begin + 1; k < epochs_.size(); ++k) {
            if (!epochs_[k].day) {
                epochs_[k].day = *epochs_[k - 1].day + midnights(epochs_[k - 1], epochs_[k]);
            }
        }
        return true;
    }

    ground::Track fixes() {
        ground::Track track;
        track.name = file_;
        std::size_t simulated = 0;
        for (const auto& epoch : epochs_) {
            if (epoch.is_simulated) {
                ++simulated;
            } else if (!epoch.position) {
                ++without_fix_;
            } else {
                auto& fix = track.fixes.emplace_back(epoch.fix);
                fix.at = Instant(*epoch.day) + epoch.time_of_day;
                fix.position = *epoch.position;
                if (!std::isnan(fix.height_m)) {
                    track.heights_over = ground::HeightOver::sea_level;
                }
            }
        }
        if (damaged_ > 0) {
            track.notes.push_back(std::to_string(damaged_) + " of " +
                                  counted(sentences_, "sentence", "sentences") +
                                  " damaged and passed over, the first in " + first_damaged_);
        }
        const auto note = [&](std::size_t count, const std::string& words) {
            if (count > 0) {
                track.notes.push_back(counted(count, "instant", "instants") +
                                      " passed over: " + words);
            }
        };
        note(without_fix_, "the receiver had no position");
        note(simulated, "positions that were typed in or simulated");
        return track;
    }

    std::string file_;
    std::vector<Epoch> epochs_;
    std::size_t sentences_ = 0;
    std::size_t damaged_ = 0;
    std::size_t without_fix_ = 0;
    std::string first_damaged_;
    io::ProblemList faults_;
};

}  // namespace

Result<ground::Track> read_nmea(std::string_view bytes, const std::string& file,
                                std::optional<Day> first_day) {
    Log log(file);
    log.read(bytes);
    return std::move(log).track(first_day);
}

bool looks_like_nmea(std::string_view bytes) {
    constexpr int kLines = 50;
    for (int line = 0; line < kLines && !bytes.empty(); ++line) {
        const auto text = bytes.substr(0, bytes.find('\n'));
        const auto dollar = text.rfind('$');
        constexpr std::size_t kAddress = 6;  // "$GPGGA", of which two letters are the talker's
        if (dollar != std::string_view::npos && text.size() > dollar + kAddress &&
            text[dollar + kAddress] == ',' && text.substr(dollar).find('*') != text.npos) {
            return true;
        }
        bytes.remove_prefix(std::min(text.size() + 1, bytes.size()));
    }
    return false;
}

}  // namespace beetwright::maps
