// What the topsoil of a season's fields was like on the days behind us, for whoever asks of many
// fields at once: what is the same for all of them is worked out once.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <vector>

#include "base/catalogue.hpp"
#include "ledger/season.hpp"
#include "weather/ground.hpp"
#include "weather/lifting_hours.hpp"
#include "weather/topsoil.hpp"

namespace beetwright::engine {

struct GroundDay {
    Day day{};
    weather::Consistency consistency{};
};

class GroundDays {
 public:
    /// `suns`: one of each hour of the season's observed weather. The season must outlive it.
    GroundDays(const ledger::Season& season, const Catalogue& catalogue,
               std::span<const weather::SunPosition> suns);

    /// At the end of a day, or of the last that was measured where that is earlier; nothing where
    /// no weather was.
    std::optional<GroundDay> by(const ledger::Field& field, std::optional<Day> day);

 private:
    const ledger::Season* season_;
    weather::SoilConstants soil_;
    std::vector<weather::SkyHour> sky_;
    std::map<weather::SoilClass, std::vector<weather::TopsoilDay>> days_;
};

}  // namespace beetwright::engine
