// How the air went through days of which the least, the most and perhaps the mean are known.
// docs/methods/series.md.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "weather/daily.hpp"

namespace beetwright::weather {

/// Between least and most the air follows half a wave, from 0 to 1, raised to a power that keeps
/// each day's mean and changes evenly from one day's to the next.
class DailyCourse {
 public:
    /// The days follow each other, and their least and most are known.
    DailyCourse(std::span<const DailyRecord> records, const SourceFacts& facts);

    /// Days whose mean lies so near their least or most that it could not be kept.
    [[nodiscard]] std::size_t not_kept() const { return not_kept_; }
    /// [K]
    [[nodiscard]] double mean_of_hour(std::size_t day, std::size_t hour) const;

 private:
    /// When the air turns, in hours from the first midnight on, and how warm it is then.
    struct Turn {
        double at_h = 0.0;
        double air_K = 0.0;
    };
    struct Point {
        double least_K;
        double span_K;
        double log_wave;    ///< whose power is taken
        std::uint32_t day;  ///< whose bend counts, with the next one's
        double share_of_next;
    };

    static void add_turns(const DailyRecord& record, double midnight_h, const SourceFacts& facts,
                          std::vector<Turn>& turns);
    void lay_out(const SourceFacts& facts);
    [[nodiscard]] Point point(double at_h, const Turn& from, const Turn& to) const;
    [[nodiscard]] double air(std::size_t place) const;
    [[nodiscard]] double mean_of_day(std::size_t day) const;
    void keep_means();
    double bend_day(std::size_t day);

    std::span<const DailyRecord> records_;
    std::vector<Point> points_;
    std::vector<double> bend_;  ///< logarithm of the power
    std::size_t not_kept_ = 0;
};

}  // namespace beetwright::weather
