// What stands in a season's fields on a day, from all that had been dug and delivered by then.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "crop/growth.hpp"
#include "ledger/amounts.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// The crop as the filter knows it, of a field and those that say something of its year.
struct CropState {
    crop::FieldForecast forecast;
    int digs_here = 0;              ///< looks at this field in which beets were dug
    std::optional<Day> last_dig;    ///< of these
    std::size_t dug_elsewhere = 0;  ///< other fields where somebody dug
    std::size_t delivered = 0;      ///< other fields that delivered
    std::vector<std::string> assumptions;
};

/// Days after 14 August of the autumn in which the season began; a campaign goes on into the next
/// year.
int autumn_day_of(const ledger::Season& season, Day day);

/// `season` without what was superseded, as it was known today, with the amounts of its fields;
/// `field` is one of them. `later` is none before `today`. A field has delivered when it is lifted
/// and no load of it has come for two days.
CropState crop_state(const ledger::Season& season, const std::vector<ledger::FieldAmounts>& amounts,
                     const Catalogue& catalogue, std::size_t field, Day today, Day later);

}  // namespace beetwright::engine
