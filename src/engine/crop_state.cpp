#include "engine/crop_state.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <variant>

#include "base/sorted.hpp"
#include "worth/molasses.hpp"

namespace beetwright::engine {
namespace {

using ledger::Amount;

/// More say hardly anything more of the year, and the filter's work grows with the cube of them.
constexpr std::size_t kMostNeighbours = 60;

/// A field of which no load has come for so long has delivered.
constexpr std::chrono::days kNoMoreLoads{2};

Day day_of(Instant at) {
    return std::chrono::floor<std::chrono::days>(at);
}

/// Something that tells of a field's crop, on a day.
struct News {
    int day = 0;
    std::size_t field = 0;
    std::variant<crop::DugSample, crop::FieldDelivery> what;
};

class Gathering {
 public:
    Gathering(const ledger::Season& season, const std::vector<ledger::FieldAmounts>& amounts,
              const Catalogue& catalogue)
        : season_(season), amounts_(amounts), catalogue_(catalogue) {
        for (std::size_t i = 0; i < season.fields.size(); ++i) {
            place_[season.fields[i].name] = i;
        }
    }

    void gather(Day today) {
        for (const auto& look : season_.standing) {
            take(look);
        }
        std::map<std::string, Day> last_load;
        for (const auto& load : season_.loads) {
            auto& last = last_load.try_emplace(load.field).first->second;
            last = std::max(last, day_of(load.at));
        }
        for (std::size_t i = 0; i < season_.fields.size(); ++i) {
            const auto& field = season_.fields[i];
            const auto last = last_load.find(field.name);
            const bool is_done =
                field.lifted && last != last_load.end() && last->second + kNoMoreLoads <= today;
            if (is_done) {
                take_delivery(i, *field.lifted);
            }
        }
        sort_list(news, {}, &News::day);
    }

    std::vector<News> news;  ///< by day
    int before_autumn = 0;   ///< digs before 14 August, of which the curve knows nothing

 private:
    void take(const check::StandingLook& look) {
        const auto found = place_.find(look.field);
        const bool has_roots = look.roots.is_known() && look.area.is_known();
        if (found == place_.end() || (!has_roots && !look.pol.is_known())) {
            return;
        }
        const int day = autumn_day_of(season_, day_of(look.at));
        if (day < 0) {
            ++before_autumn;
            return;
        }
        crop::DugSample sample;
        sample.field = found->second;
        sample.day = day;
        sample.spots = std::max(1, look.spots);
        if (has_roots) {
            sample.root = look.roots / look.area;
        }
        sample.pol = look.pol;
        sample.molasses = molasses(look.potassium, look.sodium, look.amino_nitrogen, look.pol);
        news.push_back({day, sample.field, sample});
    }
    void take_delivery(std::size_t field, Day lifted) {
        const auto& amounts = amounts_[field];
        const auto mean = [&](Amount amount) { return amounts.of(amount).number.mean; };
        const auto measured = [&](Amount amount) {
            return amounts.of(amount).rests_on == RestsOn::measured;
        };
        const int day = autumn_day_of(season_, lifted);
        if (amounts.mass_basis != ledger::MassBasis::weighed || day < 0) {
            return;
        }
        crop::FieldDelivery delivery;
        delivery.field = field;
        delivery.day = day;
        delivery.root = CleanMassPerArea(mean(Amount::beet_mass) /
                                         (1.0 + mean(Amount::soil) + mean(Amount::tops)));
        if (measured(Amount::pol)) {
            delivery.pol = SugarContent(mean(Amount::pol));
        }
        if (measured(Amount::potassium) && measured(Amount::sodium) &&
            measured(Amount::amino_nitrogen)) {
            delivery.molasses = molasses(
                AmountContent(mean(Amount::potassium)), AmountContent(mean(Amount::sodium)),
                AmountContent(mean(Amount::amino_nitrogen)), SugarContent(mean(Amount::pol)));
        }
        news.push_back({day, field, delivery});
    }
    [[nodiscard]] SugarContent molasses(AmountContent potassium, AmountContent sodium,
                                        AmountContent amino_nitrogen, SugarContent pol) const {
        const bool known = potassium.is_known() && sodium.is_known() && amino_nitrogen.is_known() &&
                           pol.is_known();
        return known ? worth::molasses_loss(season_.terms.molasses_formula, catalogue_, potassium,
                                            sodium, amino_nitrogen, pol)
                     : SugarContent();
    }

    const ledger::Season& season_;
    const std::vector<ledger::FieldAmounts>& amounts_;
    const Catalogue& catalogue_;
    std::map<std::string, std::size_t> place_;
};

/// The field itself, and of the others those of which something was heard last.
std::vector<std::size_t> fields_in_filter(const std::vector<News>& news, std::size_t field) {
    std::vector<std::size_t> chosen{field};
    std::set<std::size_t> has{field};
    for (auto one = news.rbegin(); one != news.rend() && chosen.size() <= kMostNeighbours; ++one) {
        if (has.insert(one->field).second) {
            chosen.push_back(one->field);
        }
    }
    return chosen;
}

}  // namespace

int autumn_day_of(const ledger::Season& season, Day day) {
    const std::chrono::year_month_day first(season.first_day);
    return static_cast<int>((day - Day(first.year() / std::chrono::August / 14)).count());
}

CropState crop_state(const ledger::Season& season, const std::vector<ledger::FieldAmounts>& amounts,
                     const Catalogue& catalogue, std::size_t field, Day today, Day later) {
    Gathering gathering(season, amounts, catalogue);
    gathering.gather(today);
    const auto& news = gathering.news;
    const auto chosen = fields_in_filter(news, field);
    std::map<std::size_t, std::size_t> place;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        place[chosen[i]] = i;
    }

    CropState state;
    std::set<std::size_t> dug, delivered, heard;
    crop::GrowthFilter filter(crop::growth_curve(catalogue), chosen.size());
    for (const auto& one : news) {
        heard.insert(one.field);
        if (!place.contains(one.field)) {
            continue;
        }
        if (const auto* sample = std::get_if<crop::DugSample>(&one.what)) {
            auto here = *sample;
            here.field = place.at(one.field);
            filter.observe(here);
            if (one.field == field) {
                ++state.digs_here;
                state.last_dig = today - std::chrono::days(autumn_day_of(season, today) - one.day);
            } else {
                dug.insert(one.field);
            }
        } else {
            auto there = std::get<crop::FieldDelivery>(one.what);
            there.field = place.at(one.field);
            filter.observe(there);
            delivered.insert(one.field);
        }
    }
    const int now = std::max(0, autumn_day_of(season, today));
    filter.go_to(now);
    state.forecast = filter.forecast(0, std::max(now, autumn_day_of(season, later)));
    state.dug_elsewhere = dug.size();
    state.delivered = delivered.size();
    if (gathering.before_autumn > 0) {
        state.assumptions.push_back(std::to_string(gathering.before_autumn) +
                                    " samples were dug before 14 August, where the curve begins; "
                                    "they are not used");
    }
    if (heard.size() > chosen.size()) {
        state.assumptions.push_back("of " + std::to_string(heard.size()) +
                                    " fields that tell of the year, the last " +
                                    std::to_string(chosen.size()) + " are used");
    }
    return state;
}

}  // namespace beetwright::engine
