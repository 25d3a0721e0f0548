#include "records/edited_rows.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <map>
#include <optional>
#include <set>

#include "records/fingerprint.hpp"

namespace beetwright::records {
namespace {

constexpr int kMadeOfContent = 8;  // the version of ids that Uuid::from_text makes

/// An observation as its columns.
struct Row {
    Uuid id;
    Uuid supersedes;
    std::vector<std::string> values;
};

/// Columns in which two rows agree when one is the other, edited.
struct Likeness {
    std::vector<std::size_t> columns;
    std::optional<std::size_t> needs = {};  ///< a column that must say something
    enum class Folder { any, seen_before } folder = Folder::any;
};

struct Kind {
    const char* what;        ///< "tare sample"
    const char* if_another;  ///< how a row shows that it is another one
    std::vector<const char*> columns;
    std::vector<Likeness> likenesses;
    /// Where several rows are one observation: the column that names it, and the one of `columns`
    /// that stands for all of its rows.
    const char* named_by = "id";
    const char* rows_in = "";
};

std::string number_text(double value) {
    std::array<char, 40> digits{};
    std::snprintf(digits.data(), digits.size(), "%.12g", value);
    return digits.data();
}
template <class Q>
std::string cell(Q quantity) {
    return quantity.is_known() ? number_text(quantity.si()) : std::string();
}
std::string cell(double share) {
    return std::isnan(share) ? std::string() : number_text(share);
}
std::string cell(Instant at) {
    return std::to_string(at.time_since_epoch().count());
}

template <class Enum>
std::string word(Enum value) {
    return std::to_string(static_cast<int>(value));
}

constexpr const char* kTimeOrId = "write its time of day under at, or an id of its own under id";
constexpr auto kSeenBefore = Likeness::Folder::seen_before;

Kind load_kind() {
    enum { field, at, destination, ticket, gross, along_from, along_to };
    return {"load",
            "write its ticket, or an id of its own under id",
            {"field", "at", "destination", "ticket", "gross", "along_from", "along_to"},
            {{{ticket, destination}, ticket},
             {{field, at, ticket}},
             {{field, at, destination, gross}},
             {{at, destination, ticket, gross}}}};
}
Row row_of(const ledger::Load& l) {
    return {l.id,
            l.supersedes,
            {l.field, cell(l.at), l.destination, l.ticket, cell(l.gross), cell(l.stretch.from),
             cell(l.stretch.to)}};
}

Kind strip_kind() {
    enum { field, machine, at, area, whole_roots, pieces, tails };
    return {"dug strip",
            kTimeOrId,
            {"field", "machine", "at", "area", "whole_roots", "pieces", "tails"},
            {{{field, machine, at}},
             {{machine, at, area, whole_roots, pieces, tails}},
             {{field, at, area, whole_roots, pieces, tails}},
             {{field, machine, area, whole_roots, pieces, tails}, {}, kSeenBefore}}};
}
Row row_of(const check::DugStrip& d) {
    return {d.id,
            d.supersedes,
            {d.field, d.machine, cell(d.at), cell(d.area), cell(d.whole_roots), cell(d.pieces),
             cell(d.tails)}};
}

Kind tare_kind() {
    enum { field, at, gross, soil, tops };
    return {
        "tare sample",
        kTimeOrId,
        {"field", "at", "gross", "soil", "tops"},
        {{{field, at}}, {{at, gross, soil, tops}}, {{field, gross, soil, tops}, {}, kSeenBefore}}};
}
Row row_of(const check::TareSample& t) {
    return {t.id, t.supersedes, {t.field, cell(t.at), cell(t.gross), cell(t.soil), cell(t.tops)}};
}

Kind lab_kind() {
    enum { field, at, pol, potassium, sodium, amino_nitrogen };
    return {"laboratory sample",
            kTimeOrId,
            {"field", "at", "pol", "potassium", "sodium", "amino_nitrogen"},
            {{{field, at}},
             {{at, pol, potassium, sodium, amino_nitrogen}},
             {{field, pol, potassium, sodium, amino_nitrogen}, {}, kSeenBefore}}};
}
Row row_of(const check::LabSample& l) {
    return {l.id,
            l.supersedes,
            {l.field, cell(l.at), cell(l.pol), cell(l.potassium), cell(l.sodium),
             cell(l.amino_nitrogen)}};
}

Kind standing_kind() {
    enum {
        field,
        at,
        spots,
        area,
        roots,
        pol,
        potassium,
        sodium,
        amino_nitrogen,
        leaf_sick,
        leaf_frozen,
        soil_in_hand,
        crown_height,
        evenness,
        plants,
        root_mass,
        crowns
    };
    return {"look at a standing crop",
            kTimeOrId,
            {"field", "at", "spots", "area", "roots", "pol", "potassium", "sodium",
             "amino_nitrogen", "leaf_sick", "leaf_frozen", "soil_in_hand", "crown_height",
             "evenness", "plants", "root_mass", "crowns"},
            {{{field, at}},
             {{at, spots, area, roots, pol, potassium, sodium, amino_nitrogen, leaf_sick,
               leaf_frozen, soil_in_hand, crown_height, evenness, plants, root_mass, crowns}},
             {{field, spots, area, roots, pol, potassium, sodium, amino_nitrogen, leaf_sick,
               leaf_frozen, soil_in_hand, crown_height, evenness, plants, root_mass, crowns},
              {},
              kSeenBefore}}};
}
Row row_of(const check::StandingLook& s) {
    std::string crowns;
    for (const Length height : s.crowns) {
        crowns += cell(height) + ' ';
    }
    return {s.id,
            s.supersedes,
            {s.field, cell(s.at), std::to_string(s.spots), cell(s.area), cell(s.roots), cell(s.pol),
             cell(s.potassium), cell(s.sodium), cell(s.amino_nitrogen), cell(s.leaf_sick),
             word(s.leaf_frozen), word(s.soil_in_hand), cell(s.crown_height), word(s.evenness),
             cell(s.plants), cell(s.root_mass), crowns}};
}

Kind sheet_kind() {
    enum { field, machine, operator_name, at, seen_at, beets };
    return {"sheet",
            kTimeOrId,
            {"field", "machine", "operator", "at", "seen_at", "beets"},
            {{{machine, operator_name, at, seen_at, beets}}},
            "sheet",
            "beets"};
}
/// To a millionth of a millionth of a metre or of a square metre: what was read in inches may come
/// back from centimetres one last bit away.
check::CountedBeet rounded(check::CountedBeet beet) {
    const auto round = [](auto quantity) {
        return decltype(quantity)(std::round(quantity.si() * 1e12));
    };
    beet.scar = round(beet.scar);
    beet.tip = {round(beet.tip.from), round(beet.tip.to)};
    beet.skin_damage = round(beet.skin_damage);
    return beet;
}
Row row_of(const check::BeetSheet& s) {
    Fingerprint print;
    for (const auto& beet : s.beets) {
        print.add(rounded(beet));
    }
    return {s.id,
            s.supersedes,
            {s.field, s.machine, s.operator_name, cell(s.at), word(s.seen_at),
             std::to_string(print.value())}};
}

Kind settings_kind() {
    enum { machine, field, at, answer, controls };
    return {"note of settings",
            kTimeOrId,
            {"machine", "field", "at", "answer", "controls"},
            {{{machine, at}},
             {{field, at, answer, controls}},
             {{machine, field, answer, controls}, {}, kSeenBefore}},
            "id",
            "controls"};
}
Row row_of(const check::SettingsNote& note) {
    // To twelve digits, as all else: what a display's points say seldom has a decimal text.
    std::string controls;
    for (const auto& set : note.controls) {
        controls += set.control + ' ' + cell(set.value) + ' ';
    }
    return {note.id,
            note.supersedes,
            {note.machine, note.field, cell(note.at), word(note.answer), controls}};
}

Kind part_kind() {
    enum { machine, at, stage, what };
    return {"new part or repair",
            kTimeOrId,
            {"machine", "at", "stage", "what"},
            {{{machine, at, stage}},
             {{machine, at, what}},
             {{at, stage, what}},
             {{machine, stage, what}, {}, kSeenBefore}}};
}
Row row_of(const check::PartChange& p) {
    return {p.id, p.supersedes, {p.machine, cell(p.at), word(p.stage), p.what}};
}

Kind cover_kind() {
    enum { pile, at, from, to, cover };
    return {"cover",
            kTimeOrId,
            {"pile", "at", "from", "to", "cover"},
            {{{pile, at, from, to}},
             {{pile, at, cover}},
             {{at, from, to, cover}},
             {{pile, from, to, cover}, {}, kSeenBefore}}};
}
Row row_of(const check::CoverChange& c) {
    return {c.id,
            c.supersedes,
            {c.pile, cell(c.at), cell(c.stretch.from), cell(c.stretch.to), word(c.cover)}};
}

Kind probe_kind() {
    enum { pile, at, probe, kind, along, across, height, temperature };
    return {"temperature of a pile",
            kTimeOrId,
            {"pile", "at", "probe", "kind", "along", "across", "height", "temperature"},
            {{{pile, at, probe, along, across, height}},
             {{pile, at, probe, kind, temperature}},
             {{pile, at, along, across, height, temperature}},
             {{at, probe, kind, along, across, height, temperature}},
             {{pile, probe, kind, along, across, height, temperature}, {}, kSeenBefore}}};
}
Row row_of(const check::ProbeReading& p) {
    return {p.id,
            p.supersedes,
            {p.pile, cell(p.at), p.probe, word(p.kind), cell(p.along), cell(p.across),
             cell(p.height), cell(p.temperature.in_kelvin())}};
}

Kind removal_kind() {
    enum { pile, at, from, to, gross };
    return {"removal from a pile",
            kTimeOrId,
            {"pile", "at", "from", "to", "gross"},
            {{{pile, at, from, to}},
             {{pile, at, gross}, gross},
             {{at, from, to, gross}},
             {{pile, from, to, gross}, {}, kSeenBefore}}};
}
Row row_of(const check::PileRemoval& r) {
    return {r.id,
            r.supersedes,
            {r.pile, cell(r.at), cell(r.stretch.from), cell(r.stretch.to), cell(r.gross)}};
}

Kind place_kind() {
    enum { field, at, of, spot, latitude, longitude, accuracy };
    return {"place of something seen",
            kTimeOrId,
            {"field", "at", "of", "spot", "latitude", "longitude", "accuracy"},
            {{{field, at, of, spot}},
             {{of, spot, latitude, longitude}},
             {{field, of, spot, latitude, longitude}, {}, kSeenBefore}}};
}
Row row_of(const check::Place& p) {
    return {p.id,
            p.supersedes,
            {p.field, cell(p.at), p.of.text(), std::to_string(p.spot), cell(p.latitude_rad),
             cell(p.longitude_rad), cell(p.accuracy)}};
}

template <class Observation>
std::vector<Row> rows_of(const std::vector<Observation>& all) {
    std::vector<Row> rows;
    rows.reserve(all.size());
    for (const auto& one : all) {
        rows.push_back(row_of(one));
    }
    return rows;
}

/// Finds the edited rows of one kind.
class Comparison {
 public:
    Comparison(Kind kind, std::vector<Row> stored, std::vector<Row> incoming,
               Likeness::Folder folder, const io::RowPlaces& places)
        : kind_(std::move(kind)),
          stored_(std::move(stored)),
          incoming_(std::move(incoming)),
          folder_(folder),
          places_(places) {}

    void tell(Problems& problems) const {
        std::map<Uuid, const Row*> by_id;
        for (const auto& row : stored_) {
            by_id[row.id] = &row;
        }
        const auto candidates = left_behind();
        std::vector<std::map<std::string, const Row*>> alike(kind_.likenesses.size());
        for (const Row* row : candidates) {
            for (std::size_t k = 0; k < alike.size(); ++k) {
                if (const auto key = key_of(*row, kind_.likenesses[k])) {
                    alike[k].try_emplace(*key, row);
                }
            }
        }
        for (const auto& row : incoming_) {
            if (const auto found = by_id.find(row.id); found != by_id.end()) {
                if (row.values != found->second->values ||
                    row.supersedes != found->second->supersedes) {
                    problems.push_back(edited(row, *found->second));
                }
            } else if (row.id.version() == kMadeOfContent) {
                if (const Row* old = lookup(row, alike)) {
                    problems.push_back(looks_edited(row, *old));
                }
            }
        }
    }

 private:
    /// Stored rows without an id that this import does not bring and nothing corrects.
    [[nodiscard]] std::vector<const Row*> left_behind() const {
        std::set<Uuid> settled;
        for (const auto& row : incoming_) {
            settled.insert(row.id);
            settled.insert(row.supersedes);
        }
        for (const auto& row : stored_) {
            settled.insert(row.supersedes);
        }
        std::vector<const Row*> rows;
        for (const auto& row : stored_) {
            if (row.id.version() == kMadeOfContent && !settled.contains(row.id)) {
                rows.push_back(&row);
            }
        }
        return rows;
    }

    [[nodiscard]] std::optional<std::string> key_of(const Row& row,
                                                    const Likeness& likeness) const {
        if ((likeness.needs && row.values[*likeness.needs].empty()) ||
            (likeness.folder == Likeness::Folder::seen_before &&
             folder_ != Likeness::Folder::seen_before)) {
            return std::nullopt;
        }
        std::string key;
        for (const std::size_t column : likeness.columns) {
            key += row.values[column] + '\x1f';
        }
        return key;
    }

    [[nodiscard]] const Row* lookup(
        const Row& row, const std::vector<std::map<std::string, const Row*>>& alike) const {
        for (std::size_t k = 0; k < alike.size(); ++k) {
            const auto key = key_of(row, kind_.likenesses[k]);
            const auto found = key ? alike[k].find(*key) : alike[k].end();
            if (found != alike[k].end()) {
                return found->second;
            }
        }
        return nullptr;
    }

    struct Differences {
        std::string first = "supersedes";
        std::string words = "supersedes";
    };
    [[nodiscard]] Differences differences(const Row& row, const Row& old) const {
        std::vector<std::string> names;
        for (std::size_t c = 0; c < row.values.size(); ++c) {
            if (row.values[c] != old.values[c]) {
                names.emplace_back(kind_.columns[c]);
            }
        }
        Differences all;
        for (std::size_t i = 0; i < names.size(); ++i) {
            // Its rows are no column: they are what the name stands for.
            all.first = names.front() == kind_.rows_in ? kind_.named_by : names.front();
            all.words =
                i == 0 ? names[0] : all.words + (i + 1 == names.size() ? " and " : ", ") + names[i];
        }
        return all;
    }

    [[nodiscard]] Problem edited(const Row& row, const Row& old) const {
        const auto differs = differences(row, old);
        return {ProblemKind::conflict, place_of(row.id, places_, differs.first),
                std::string("this ") + kind_.what + " was imported before as " +
                    row.id.short_text() + " with other content: " + differs.words,
                "put it back as it was, and enter the right figures as a new one with an id of "
                "its own, or none, and " +
                    row.id.short_text() + " under supersedes"};
    }

    [[nodiscard]] Problem looks_edited(const Row& row, const Row& old) const {
        const auto differs = differences(row, old);
        const bool renamed = row.values == old.values;
        return {ProblemKind::conflict,
                place_of(row.id, places_, renamed ? kind_.named_by : differs.first),
                std::string("this ") + kind_.what + " looks like " + old.id.short_text() +
                    ", imported before and not in this folder any more, edited in " +
                    (renamed ? "its name" : differs.words),
                "if it corrects that one, write " + old.id.short_text() +
                    " under supersedes; if it is another, put the old one back, or " +
                    kind_.if_another};
    }

    Kind kind_;
    std::vector<Row> stored_;
    std::vector<Row> incoming_;
    Likeness::Folder folder_;
    const io::RowPlaces& places_;
};

template <class Observation>
bool any_known(const std::vector<Observation>& stored, const std::vector<Observation>& incoming) {
    std::set<Uuid> ids;
    for (const auto& one : stored) {
        ids.insert(one.id);
    }
    return std::ranges::any_of(incoming, [&](const auto& one) { return ids.contains(one.id); });
}

Likeness::Folder folder_of(const ledger::Season& stored, const ledger::Season& incoming) {
    const bool seen =
        any_known(stored.loads, incoming.loads) ||
        any_known(stored.beet_sheets, incoming.beet_sheets) ||
        any_known(stored.strips, incoming.strips) || any_known(stored.tares, incoming.tares) ||
        any_known(stored.labs, incoming.labs) || any_known(stored.standing, incoming.standing) ||
        any_known(stored.settings, incoming.settings) || any_known(stored.parts, incoming.parts) ||
        any_known(stored.covers, incoming.covers) || any_known(stored.probes, incoming.probes) ||
        any_known(stored.removals, incoming.removals) || any_known(stored.places, incoming.places);
    return seen ? Likeness::Folder::seen_before : Likeness::Folder::any;
}

}  // namespace

Where place_of(const Uuid& id, const io::RowPlaces& places, const std::string& column) {
    const auto found = places.find(id);
    Where where = found == places.end() ? Where{} : found->second;
    where.field = column;
    return where;
}

bool looks_at_beets(const ledger::Season& stored, const ledger::Season& incoming) {
    return !stored.beet_sheets.empty() && !incoming.beet_sheets.empty();
}

Problems edited_rows(const ledger::Season& stored, const ledger::Season& incoming,
                     const io::RowPlaces& places) {
    Problems problems;
    const auto folder = folder_of(stored, incoming);
    const auto compare = [&](Kind kind, const auto& old, const auto& now) {
        Comparison(std::move(kind), rows_of(old), rows_of(now), folder, places).tell(problems);
    };
    compare(load_kind(), stored.loads, incoming.loads);
    compare(sheet_kind(), stored.beet_sheets, incoming.beet_sheets);
    compare(strip_kind(), stored.strips, incoming.strips);
    compare(tare_kind(), stored.tares, incoming.tares);
    compare(lab_kind(), stored.labs, incoming.labs);
    compare(standing_kind(), stored.standing, incoming.standing);
    compare(settings_kind(), stored.settings, incoming.settings);
    compare(part_kind(), stored.parts, incoming.parts);
    compare(cover_kind(), stored.covers, incoming.covers);
    compare(probe_kind(), stored.probes, incoming.probes);
    compare(removal_kind(), stored.removals, incoming.removals);
    compare(place_kind(), stored.places, incoming.places);
    return problems;
}

}  // namespace beetwright::records
