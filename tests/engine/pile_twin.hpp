// A pile that is known through and through, and a season in which people see little of it: what is
// learned from probes is held against what is true.
//
// The truth is a member of its own, with scores of its own drawn from what is known of piles, other
// draws of beets, other weather ahead, and a station that is off from hour to hour.
#pragma once

#include <memory>
#include <vector>

#include "engine/pile_probes.hpp"

namespace beetwright::engine::twin {

struct ProbeSpot {
    const char* name;
    Length across, height;
};

struct TwinQuestion {
    std::uint64_t seed = 1;
    int days_behind = 10;
    int days_ahead = 20;
    std::size_t members = 16;
    Length cell{0.75};
};

class Twin {
 public:
    explicit Twin(const TwinQuestion& question);

    /// Without readings, and with those of the true pile at these places, twice a day with a
    /// logger's errors.
    [[nodiscard]] ledger::Season season(std::vector<ProbeSpot> spots = four()) const;
    [[nodiscard]] std::unique_ptr<PileStudy> study(const ledger::Season& season) const;
    /// Temperatures by cell of the picture at the end of the last day.
    [[nodiscard]] const std::vector<float>& true_celsius() const {
        return course_.frames[0].celsius;
    }
    [[nodiscard]] const PileMember& truth() const { return truth_; }
    [[nodiscard]] Day last_day() const;

    static std::vector<ProbeSpot> four();
    /// More than one metre of its length.
    static constexpr const char* kPile = "Yard";

    /// The hidden pile with scores moved by hand.
    void set_truth(const PileMember& truth);

 private:
    void run();

    TwinQuestion question_;
    ledger::Season season_;
    weather::Outlook sky_;  ///< the true one
    std::vector<weather::SunPosition> suns_;
    std::unique_ptr<PileStudy> about_;
    PileMember truth_;
    PartCourse course_;
    std::vector<SampleAt> asked_;
};

/// Of the picture's cells, what members have there at the end of the last day.
struct Forecast {
    std::vector<std::vector<float>> members;
    std::vector<bool> has_beet;
};
Forecast forecast(const PileStudy& study, Day day, WorkerPool& pool);

struct Score {
    double squares = 0.0;    ///< mean over cells of (mean of members less truth)^2
    double of_median = 0.0;  ///< the same of the members' median
    double within = 0.0;     ///< share of cells whose 90 % interval holds the truth
    double width = 0.0;      ///< mean of it [K]
};
double median_of(std::vector<double> values);
Score score(const Forecast& forecast, const std::vector<float>& truth);

}  // namespace beetwright::engine::twin
