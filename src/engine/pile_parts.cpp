#include "engine/pile_parts.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/nearest_name.hpp"
#include "base/number_text.hpp"
#include "base/sorted.hpp"

namespace beetwright::engine {
namespace {

using ledger::Amount;
using ledger::Destination;
using ledger::DestinationKind;

/// A heap at a field's edge as such are usually laid: 7.5 m at the foot, 2.5 m high (storage.md 4
/// [V]).
constexpr Length kUsualWidth(7.5);
constexpr Length kUsualTop(2.0);
constexpr Length kUsualHeight(2.5);

struct Brought {
    std::size_t field = 0;
    Instant at{};
    CleanMass mass;
    check::Stretch stretch;
};

Problem missing(std::string what, std::string fix) {
    return {ProblemKind::missing,
            {.file = "", .line = 0, .field = "pile"},
            std::move(what),
            std::move(fix)};
}

Problem no_pile(const ledger::Season& season, const std::string& name) {
    std::set<std::string> known;
    for (const Destination& one : season.destinations) {
        if (one.kind == DestinationKind::pile) {
            known.insert(one.name);
        }
    }
    return missing("the season has no pile called \"" + name + "\"",
                   did_you_mean(name, known) + "destinations.csv lists them");
}

double clean_share(const ledger::FieldAmounts& amounts) {
    return 1.0 /
           (1.0 + amounts.of(Amount::soil).number.mean + amounts.of(Amount::tops).number.mean);
}

/// Whatever was brought to a pile, in the order of time: loads that were weighed, and fields lifted
/// for it of which no load was.
std::vector<Brought> brought_to(const ledger::Season& season, const std::string& pile,
                                std::span<const ledger::FieldAmounts> amounts,
                                std::vector<std::string>& assumptions) {
    std::vector<Brought> all;
    std::set<std::size_t> weighed;
    std::map<std::string, std::size_t, std::less<>> places;
    for (std::size_t f = 0; f < season.fields.size(); ++f) {
        places.emplace(season.fields[f].name, f);
    }
    for (const ledger::Load& load : season.loads) {
        const auto place = places.find(load.field);
        if (load.destination != pile || place == places.end()) {
            continue;
        }
        weighed.insert(place->second);
        all.push_back({place->second, load.at,
                       CleanMass(load.gross.si() * clean_share(amounts[place->second])),
                       load.stretch});
    }
    std::string names;
    for (std::size_t f = 0; f < season.fields.size(); ++f) {
        const ledger::Field& field = season.fields[f];
        if (field.destination != pile || !field.lifted || weighed.contains(f)) {
            continue;
        }
        const double crop = amounts[f].of(Amount::beet_mass).number.mean;
        constexpr std::chrono::hours kNoon{12};
        all.push_back({f, *field.lifted + kNoon, CleanMass(crop * field.area.si()), {}});
        names += (names.empty() ? "" : ", ") + field.name;
    }
    if (!names.empty()) {
        assumptions.push_back(
            names + ": no load was weighed; what was expected counts, piled on the day of lifting");
    }
    sort_list(all, std::less<>(), [](const Brought& one) { return one.at; });
    return all;
}

ledger::PileSite site_of(const ledger::Season& season, const std::string& pile,
                         std::vector<std::string>& assumptions) {
    const auto known = std::ranges::find(season.piles, pile, &ledger::PileSite::name);
    if (known != season.piles.end()) {
        return *known;
    }
    assumptions.emplace_back(
        "nobody has said how the pile is laid: 7.5 m wide at the foot and 2.5 m high is assumed");
    ledger::PileSite usual;
    usual.name = pile;
    usual.base_width = kUsualWidth;
    usual.top_width = kUsualTop;
    usual.height = kUsualHeight;
    return usual;
}

/// Adds a load to a layer; means by mass.
void add(PileLayer& layer, std::size_t field, CleanMass mass, Instant at, Day lifted) {
    const double share = mass.si() / (layer.mass + mass).si();
    const auto towards = [&](auto& mean, auto other) {
        using Ticks = typename std::remove_reference_t<decltype(mean)>::duration;
        mean += std::chrono::round<Ticks>((other - mean) * share);
    };
    if (layer.mass <= CleanMass::zero()) {
        layer.piled = at;
        layer.lifted = lifted;
    } else {
        towards(layer.piled, at);
        towards(layer.lifted, lifted);
    }
    layer.mass += mass;
    const auto same = std::ranges::find(layer.beets, field, &BeetInPart::field);
    if (same != layer.beets.end()) {
        same->mass += mass;
    } else {
        layer.beets.push_back({field, mass});
        sort_list(layer.beets, std::less<>(), [](const BeetInPart& one) { return one.field; });
    }
}

Day lifted_for(const Brought& load, const ledger::Season& season) {
    return season.fields[load.field].lifted.value_or(
        std::chrono::floor<std::chrono::days>(load.at));
}

/// Loads one behind the other, each at full height: a part is as long as the pile is high, or as an
/// even share of its length, and then the next begins.
std::vector<PilePart> in_a_row(const ledger::Season& season, std::span<const Brought> loads,
                               const ledger::PileSite& site, double kg_per_metre, Length whole) {
    std::vector<PilePart> parts;
    const Length least = std::max(site.height, whole / static_cast<double>(kMostParts));
    for (const Brought& load : loads) {
        if (parts.empty() || parts.back().to - parts.back().from >= least) {
            PilePart part;
            const Length end = parts.empty() ? Length::zero() : parts.back().to;
            part.from = load.stretch.from.is_known() ? std::max(end, load.stretch.from) : end;
            part.to = part.from;
            part.layers.emplace_back();
            part.layers.back().top = site.height;
            parts.push_back(std::move(part));
        }
        PilePart& part = parts.back();
        part.to += Length(load.mass.si() / kg_per_metre);
        add(part.layers.front(), load.field, load.mass, load.at, lifted_for(load, season));
    }
    return parts;
}

/// The height up to which a share of a trapezoid lies.
Length height_of_share(const ledger::PileSite& site, double share) {
    // Up to h lies base h - (base - top) h^2 / (2 height).
    const double narrowing = (site.base_width - site.top_width).si() / (2.0 * site.height.si());
    const double area = std::clamp(share, 0.0, 1.0) * site.section().si();
    const double base = site.base_width.si();
    const double root = std::sqrt(std::max(0.0, base * base - 4.0 * narrowing * area));
    return Length(2.0 * area / (base + root));
}

/// Where along a pile something begins or ends that only a part of it has.
std::vector<Length> seams_of(const ledger::Season& season, const ledger::PileSite& site,
                             Length whole) {
    std::vector<Length> seams;
    const auto add_ends = [&](const check::Stretch& stretch) {
        for (const Length end : {stretch.from, stretch.to}) {
            if (end.is_known() && end > site.height && end < whole - site.height) {
                seams.push_back(end);
            }
        }
    };
    for (const check::CoverChange& change : season.covers) {
        if (change.pile == site.name) {
            add_ends(change.stretch);
        }
    }
    for (const check::PileRemoval& removal : season.removals) {
        if (removal.pile == site.name) {
            add_ends(removal.stretch);
        }
    }
    for (const ledger::Fan& fan : site.fans) {
        add_ends(fan.stretch);
    }
    sort_list(seams, std::less<>(), [](Length one) { return one; });
    return seams;
}

/// Loads one above the other along the whole length.
std::vector<PilePart> in_layers(const ledger::Season& season, std::span<const Brought> loads,
                                const ledger::PileSite& site, CleanMass mass, Length whole) {
    PilePart all;
    all.from = Length::zero();
    all.to = whole;
    const CleanMass of_layer = mass / static_cast<double>(kMostLayers);
    for (const Brought& load : loads) {
        if (all.layers.empty() || (all.layers.back().mass >= of_layer)) {
            all.layers.emplace_back();
        }
        add(all.layers.back(), load.field, load.mass, load.at, lifted_for(load, season));
    }
    CleanMass below = CleanMass::zero();
    for (PileLayer& layer : all.layers) {
        layer.bottom = height_of_share(site, below / mass);
        below += layer.mass;
        layer.top = height_of_share(site, below / mass);
    }
    std::vector<PilePart> parts;
    for (const Length seam : seams_of(season, site, whole)) {
        // Pieces shorter than the pile is high are no sections of their own.
        if (seam - all.from < site.height || parts.size() + 1 >= kMostParts) {
            continue;
        }
        PilePart piece = all;
        piece.to = seam;
        all.from = seam;
        parts.push_back(std::move(piece));
    }
    parts.push_back(std::move(all));
    for (PilePart& part : parts) {
        const double share = (part.to - part.from) / whole;
        for (PileLayer& layer : part.layers) {
            layer.mass *= share;
            for (BeetInPart& beet : layer.beets) {
                beet.mass *= share;
            }
        }
    }
    return parts;
}

void take_away(PilePart& part, const ledger::Season& season, const std::string& pile, Instant now) {
    for (const check::PileRemoval& removal : season.removals) {
        if (removal.pile == pile && removal.at <= now && removal.at >= part.piled() &&
            reaches(removal.stretch, part.middle()) &&
            (!part.removed || removal.at < *part.removed)) {
            part.removed = removal.at;
        }
    }
}

}  // namespace

CleanMass PilePart::mass() const {
    CleanMass sum = CleanMass::zero();
    for (const PileLayer& layer : layers) {
        sum += layer.mass;
    }
    return sum;
}

std::vector<BeetInPart> PilePart::beets() const {
    PileLayer all;
    for (const PileLayer& layer : layers) {
        for (const BeetInPart& beet : layer.beets) {
            add(all, beet.field, beet.mass, layer.piled, layer.lifted);
        }
    }
    return all.beets;
}

bool reaches(const check::Stretch& stretch, Length place) {
    return (!stretch.from.is_known() || stretch.from <= place) &&
           (!stretch.to.is_known() || stretch.to >= place);
}

Result<PileContents> pile_contents(const ledger::Season& season, const std::string& pile,
                                   std::span<const ledger::FieldAmounts> amounts,
                                   const Catalogue& catalogue, Instant now) {
    const auto place = std::ranges::find(season.destinations, pile, &Destination::name);
    if (place == season.destinations.end() || place->kind != DestinationKind::pile) {
        return no_pile(season, pile);
    }
    PileContents contents;
    contents.site = site_of(season, pile, contents.assumptions);
    const auto loads = brought_to(season, pile, amounts, contents.assumptions);
    if (loads.empty()) {
        return missing(
            "nothing has been brought to \"" + pile + "\" yet",
            "record its loads, or name it as the destination of fields that were lifted");
    }
    const double usual_kg_per_metre =
        catalogue.value(ConstantId::pile_bulk_density) * contents.site.section().si();
    for (const Brought& load : loads) {
        contents.mass += load.mass;
    }
    Length whole(contents.mass.si() / usual_kg_per_metre);
    if (!contents.site.length.is_known()) {
        contents.site.length = whole;
    }
    constexpr double kMostOver = 1.5;
    if (whole > kMostOver * contents.site.length) {
        return Problem{ProblemKind::conflict,
                       {.file = "", .line = 0, .field = "pile"},
                       "what was brought to \"" + pile + "\" would fill " +
                           general_text(whole.si(), 3) + " m of it, and it is " +
                           general_text(contents.site.length.si(), 3) + " m long",
                       "look at its height and widths in piles.csv, and at the loads' masses"};
    }
    if (whole > contents.site.length) {
        whole = contents.site.length;
        contents.assumptions.emplace_back(
            "the pile holds more than its shape: it is taken to lie closer");
    }
    contents.parts =
        contents.site.built == ledger::PileBuilding::in_layers
            ? in_layers(season, loads, contents.site, contents.mass, whole)
            : in_a_row(season, loads, contents.site, contents.mass.si() / whole.si(), whole);
    for (PilePart& part : contents.parts) {
        take_away(part, season, pile, now);
    }
    return contents;
}

}  // namespace beetwright::engine
