#include "ledger/field_evidence.hpp"

#include <cmath>
#include <map>
#include <numbers>
#include <string>

#include "base/counted.hpp"
#include "base/estimate.hpp"
#include "beet/tip.hpp"
#include "beet/topping.hpp"
#include "check/estimate.hpp"
#include "check/lab.hpp"
#include "check/strip.hpp"
#include "check/tally.hpp"
#include "check/tare.hpp"

namespace beetwright::ledger {
namespace {

using check::CountedBeet;

using Sheets = std::vector<const check::BeetSheet*>;

/// All observations of one field.
struct Observations {
    Sheets topped;   ///< sheets that saw crowns as topping left them
    Sheets cleaned;  ///< that saw the beets after all cleaning
    std::vector<check::DugStrip> strips;
    std::vector<check::TareSample> tares;
    std::vector<check::LabSample> labs;
    MassWithSoil weighed = MassWithSoil::zero();
    std::size_t loads = 0;
};

std::map<std::string, Observations> by_field(const Season& season) {
    std::map<std::string, Observations> all;
    for (const auto& sheet : season.beet_sheets) {
        // A beet seen before cleaning has not yet met all that can break it. One that was looked at
        // in the row was looked at for its crown, and most of it was out of sight.
        if (sheet.seen_at == check::SeenAt::before_cleaning) {
            continue;
        }
        all[sheet.field].topped.push_back(&sheet);
        if (sheet.seen_at != check::SeenAt::row) {
            all[sheet.field].cleaned.push_back(&sheet);
        }
    }
    for (const auto& strip : season.strips) {
        all[strip.field].strips.push_back(strip);
    }
    for (const auto& tare : season.tares) {
        all[tare.field].tares.push_back(tare);
    }
    for (const auto& lab : season.labs) {
        all[lab.field].labs.push_back(lab);
    }
    for (const auto& load : season.loads) {
        auto& one = all[load.field];
        one.weighed += load.gross;
        ++one.loads;
    }
    return all;
}

/// The spots of these sheets for one measure of a beet; NaN from `measure` leaves the beet out.
template <class Measure>
std::vector<check::SpotSum> spots_of(const Sheets& sheets, Measure&& measure) {
    std::vector<check::SpotSum> spots;
    for (const auto* sheet : sheets) {
        const auto own = check::spot_sums(sheet->beets, measure);
        spots.insert(spots.end(), own.begin(), own.end());
    }
    std::erase_if(spots, [](const check::SpotSum& spot) { return spot.n <= 0.0; });
    return spots;
}

class FieldMeasurer {
 public:
    FieldMeasurer(const Observations& seen, const Catalogue& catalogue, MeasuredField& out)
        : seen_(seen), catalogue_(catalogue), out_(out) {}

    void measure_all(const Field& field) {
        measure_mass(field);
        measure_topping();
        measure_deep_scars();
        measure_tails();
        measure_share(Amount::rotten, &CountedBeet::rot);
        measure_share(Amount::frosted, &CountedBeet::frost);
        measure_mean(Amount::skin_damage, seen_.cleaned,
                     [](const CountedBeet& beet) { return beet.skin_damage.si(); });
        measure_mean(Amount::scar_area, seen_.topped, [](const CountedBeet& beet) {
            return 0.25 * std::numbers::pi * beet.scar.si() * beet.scar.si();
        });
        measure_strips();
        measure_tares();
        measure_labs();
    }

 private:
    void enter(Amount amount, const num::Uncertain& number, std::string words) {
        out_.measured[static_cast<std::size_t>(amount)] =
            AmountEvidence{number, RestsOn::measured, std::move(words)};
    }

    using Estimator = num::Uncertain (*)(std::span<const check::SpotSum>, const Catalogue&);

    template <class Measure>
    std::optional<num::Uncertain> measure(Amount amount, Estimator estimator, const Sheets& sheets,
                                          Measure&& of_beet) {
        const auto spots = spots_of(sheets, of_beet);
        if (spots.empty()) {
            return std::nullopt;
        }
        const auto number = estimator(spots, catalogue_);
        const auto beets = static_cast<std::size_t>(check::total(spots).n);
        std::string words = counted(beets, "beet", "beets");
        words += " at ";
        words += counted(spots.size(), "spot", "spots");
        enter(amount, number, words);
        return number;
    }
    template <class Measure>
    std::optional<num::Uncertain> measure_mean(Amount amount, const Sheets& sheets,
                                               Measure&& of_beet) {
        return measure(amount, check::mean_of_spots, sheets, of_beet);
    }

    void measure_topping_class(Amount amount, check::Topping topping) {
        measure(amount, check::share_of_spots, seen_.topped, [topping](const CountedBeet& beet) {
            if (beet.topping == check::Topping::not_judged) {
                return std::nan("");
            }
            return beet.topping == topping ? 1.0 : 0.0;
        });
    }

    void measure_topping() {
        measure_topping_class(Amount::deep_share, check::Topping::too_deep);
        measure_topping_class(Amount::slanted_share, check::Topping::slanted);
        measure_topping_class(Amount::long_petioles, check::Topping::petioles_long);
        measure_topping_class(Amount::short_petioles, check::Topping::petioles_short);
        measure_topping_class(Amount::untouched, check::Topping::crown_untouched);
    }

    void measure_deep_scars() {
        const double usual_m =
            beet::scar_constants([&](ConstantId id) { return catalogue_.value(id); }).widest_m;
        const auto above_scar = [](double widest_m) {
            return [widest_m](const CountedBeet& beet) {
                const bool counts =
                    beet.topping == check::Topping::too_deep && beet.scar.is_known();
                return counts ? beet::crown_above_scar(beet.scar.si() / widest_m) : std::nan("");
            };
        };
        if (!measure_mean(Amount::deep_scars, seen_.topped, above_scar(usual_m))) {
            return;
        }
        auto& evidence = *out_.measured[static_cast<std::size_t>(Amount::deep_scars)];
        evidence.words = "scars of " + evidence.words;
        const auto total = [&](double widest_m) {
            return check::total(spots_of(seen_.topped, above_scar(widest_m))).sum;
        };
        if (const double usual = total(usual_m); usual > 0.0) {
            out_.scar_shape.narrower_ratio = total(usual_m / kWidestStep) / usual;
            out_.scar_shape.wider_ratio = total(usual_m * kWidestStep) / usual;
        }
    }

    void measure_share(Amount amount, check::Seen CountedBeet::*seen) {
        measure(amount, check::share_of_spots, seen_.cleaned, [seen](const CountedBeet& beet) {
            if (beet.*seen == check::Seen::not_judged) {
                return std::nan("");
            }
            return beet.*seen == check::Seen::yes ? 1.0 : 0.0;
        });
    }

    void measure_tails() {
        const double central = catalogue_.value(ConstantId::tip_exponent);
        const auto moment = [&](double exponent) {
            return [exponent](const CountedBeet& beet) {
                if (!beet.tip.is_judged()) {
                    return std::nan("");
                }
                const double diameter =
                    beet::representative_diameter(beet.tip.from, beet.tip.to).si();
                return std::pow(diameter / beet::kReferenceBreak_m, exponent);
            };
        };
        const auto number = measure_mean(Amount::tail_moment, seen_.cleaned, moment(central));
        if (!number) {
            return;
        }
        measure_mean(Amount::tail_break_area, seen_.cleaned, [](const CountedBeet& beet) {
            const double diameter = beet::representative_diameter(beet.tip.from, beet.tip.to).si();
            return 0.25 * std::numbers::pi * diameter * diameter;
        });
        const auto total = [&](double exponent) {
            return check::total(spots_of(seen_.cleaned, moment(exponent))).sum;
        };
        const double middle = total(central);
        if (middle > 0.0) {
            out_.tail_shape.below_ratio = total(central - kExponentStep) / middle;
            out_.tail_shape.above_ratio = total(central + kExponentStep) / middle;
        }
    }

    void measure_mass(const Field& field) {
        if (seen_.loads > 0) {
            const double mass = seen_.weighed.si() / field.area.si();
            const double relative = catalogue_.value(ConstantId::weighing_error);
            enter(Amount::beet_mass, {mass, relative * mass},
                  counted(seen_.loads, "weighed load", "weighed loads"));
            out_.mass_basis = MassBasis::weighed;
        } else if (field.expected_yield) {
            const auto& expected = *field.expected_yield;
            const double sd = (expected.high - expected.low).si() / (2.0 * kIntervalZ);
            enter(Amount::beet_mass, {expected.value.si(), sd}, "the yield expected");
            out_.measured[static_cast<std::size_t>(Amount::beet_mass)]->rests_on = RestsOn::learned;
        }
    }

    void measure_strips() {
        if (seen_.strips.empty()) {
            return;
        }
        const auto words = counted(seen_.strips.size(), "dug strip", "dug strips");
        const auto found = check::strip_losses(seen_.strips, catalogue_);
        enter(Amount::whole_roots, found.whole_roots, words);
        enter(Amount::pieces, found.pieces, words);
    }

    void measure_tares() {
        const auto tare = check::tare_of(seen_.tares, catalogue_);
        const auto words = counted(seen_.tares.size(), "tare sample", "tare samples");
        if (tare.soil) {
            enter(Amount::soil, *tare.soil, words);
        }
        if (tare.tops) {
            enter(Amount::tops, *tare.tops, words);
        }
    }

    void measure_labs() {
        const auto lab = check::lab_of(seen_.labs, catalogue_);
        const auto words = counted(seen_.labs.size(), "laboratory sample", "laboratory samples");
        const auto enter_if = [&](Amount amount, const std::optional<num::Uncertain>& number) {
            if (number) {
                enter(amount, *number, words);
            }
        };
        enter_if(Amount::pol, lab.pol);
        enter_if(Amount::potassium, lab.potassium);
        enter_if(Amount::sodium, lab.sodium);
        enter_if(Amount::amino_nitrogen, lab.amino_nitrogen);
    }

    const Observations& seen_;
    const Catalogue& catalogue_;
    MeasuredField& out_;
};

}  // namespace

std::vector<MeasuredField> measure_fields(const Season& season, const Catalogue& catalogue) {
    const auto observations = by_field(season);
    const Observations nothing;
    std::vector<MeasuredField> fields(season.fields.size());
    for (std::size_t f = 0; f < fields.size(); ++f) {
        const auto found = observations.find(season.fields[f].name);
        const auto& seen = found == observations.end() ? nothing : found->second;
        FieldMeasurer(seen, catalogue, fields[f]).measure_all(season.fields[f]);
    }
    return fields;
}

}  // namespace beetwright::ledger
