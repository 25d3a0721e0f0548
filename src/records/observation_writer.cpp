#include "records/observation_writer.hpp"

#include <algorithm>

#include "records/fingerprint.hpp"

namespace beetwright::records {
namespace {

std::int64_t milliseconds(Instant at) {
    return at.time_since_epoch().count();
}

template <class Enum>
std::int64_t code(Enum value) {
    return static_cast<std::int64_t>(value);
}

Fingerprint content_of(const check::BeetSheet& sheet) {
    Fingerprint print;
    print.add(sheet.supersedes).add(sheet.field).add(sheet.machine).add(sheet.operator_name);
    print.add(std::uint64_t(milliseconds(sheet.at))).add(std::uint64_t(code(sheet.seen_at)));
    for (const auto& b : sheet.beets) {
        print.add(b);
    }
    return print;
}

Fingerprint content_of(const check::StandingLook& s) {
    Fingerprint print;
    print.add(s.supersedes).add(s.field).add(std::uint64_t(milliseconds(s.at)));
    print.add(std::uint64_t(s.spots)).add(s.area.si()).add(s.roots.si()).add(s.pol.si());
    print.add(s.potassium.si()).add(s.sodium.si()).add(s.amino_nitrogen.si());
    print.add(s.leaf_sick).add(std::uint64_t(code(s.leaf_frozen)));
    for (const Length height : s.crowns) {
        print.add(height.si());
    }
    // Looks of version 8 said nothing of these, and are known by what they said.
    if (s.says_how_it_stands()) {
        print.add(std::uint64_t(code(s.soil_in_hand))).add(s.crown_height.si());
        print.add(std::uint64_t(code(s.evenness))).add(s.plants.si()).add(s.root_mass.si());
    }
    return print;
}

Fingerprint content_of(const check::SettingsNote& note) {
    Fingerprint print;
    print.add(note.supersedes).add(note.machine).add(note.field);
    print.add(std::uint64_t(milliseconds(note.at))).add(std::uint64_t(code(note.answer)));
    for (const auto& set : note.controls) {
        print.add(set);
    }
    return print;
}

}  // namespace

/// Whether an observation is new, known with the same content, or contradicts what is known.
ObservationWriter::Met ObservationWriter::meet(Statement& find, const Uuid& id,
                                               std::int64_t content) {
    find.bind(id);
    auto row = find.step();
    if (!passed(row)) {
        return Met::failed;
    }
    if (!*row) {
        return Met::fresh;
    }
    const std::int64_t known_content = find.integer(0);
    if (!passed(find.step())) {
        return Met::failed;
    }
    if (known_content == content) {
        return Met::known;
    }
    return Met::edited;
}

/// Writes every observation of one kind; a contradiction is noted, and the rest looked at all
/// the same, so that all are told.
template <class Observation, class Content, class Write>
bool ObservationWriter::write_all(const std::vector<Observation>& all, const char* table,
                                  const char* what, Content&& content_of, Write&& write) {
    Statement find;
    if (!prepared(std::string("SELECT content FROM ") + table + " WHERE id = ?", find)) {
        return false;
    }
    ImportReport::Row row{what, 0, 0};
    for (const auto& one : all) {
        const std::int64_t content = content_of(one).value();
        switch (meet(find, one.id, content)) {
            case Met::known: ++row.known; break;
            case Met::edited: edited_.push_back(one.id); break;
            case Met::failed: return false;
            case Met::fresh:
                ++row.new_rows;
                fresh_.push_back(one.id);
                if (!write(one, content)) {
                    return false;
                }
        }
    }
    report_.rows.push_back(row);
    return true;
}

bool ObservationWriter::write_loads(const ledger::Season& s) {
    Statement insert;
    if (!prepared("INSERT INTO loads (id, content, supersedes, field, at, destination, "
                  "ticket, gross, along_from, along_to) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return write_all(
        s.loads, "loads", "weighed loads",
        [](const ledger::Load& l) {
            // Loads of version 1 had no corrections, and are known by what they had.
            Fingerprint print;
            (l.supersedes.is_nil() ? print : print.add(l.supersedes))
                .add(l.field)
                .add(std::uint64_t(milliseconds(l.at)))
                .add(l.destination)
                .add(l.ticket)
                .add(l.gross.si());
            // Those of versions before 10 did not say where they were tipped.
            return l.says_where() ? print.add(l.stretch) : print;
        },
        [&](const ledger::Load& l, std::int64_t content) {
            return run(insert, l.id, content, l.supersedes, std::string_view(l.field),
                       milliseconds(l.at), std::string_view(l.destination),
                       std::string_view(l.ticket), l.gross.si(), l.stretch.from.si(),
                       l.stretch.to.si());
        });
}

bool ObservationWriter::write_sheets(const ledger::Season& s) {
    Statement insert;
    Statement beet;
    if (!prepared("INSERT INTO beet_sheets (id, content, supersedes, field, machine, operator, at, "
                  "seen_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                  insert) ||
        !prepared("INSERT INTO beets VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", beet)) {
        return false;
    }
    return write_all(
        s.beet_sheets, "beet_sheets", "sheets of counted beets",
        [](const check::BeetSheet& sheet) { return content_of(sheet); },
        [&](const check::BeetSheet& sheet, std::int64_t content) {
            if (!run(insert, sheet.id, content, sheet.supersedes, std::string_view(sheet.field),
                     std::string_view(sheet.machine), std::string_view(sheet.operator_name),
                     milliseconds(sheet.at), code(sheet.seen_at))) {
                return false;
            }
            const std::int64_t position = database_.last_row();
            std::int64_t number = 0;
            return std::ranges::all_of(sheet.beets, [&](const check::CountedBeet& b) {
                return run(beet, position, ++number, std::int64_t{b.spot}, code(b.topping),
                           b.scar.si(), b.tip.from.si(), b.tip.to.si(), b.skin_damage.si(),
                           code(b.rot), code(b.frost));
            });
        });
}

bool ObservationWriter::write_strips(const ledger::Season& s) {
    Statement insert;
    if (!prepared("INSERT INTO strips (id, content, supersedes, field, machine, at, area, "
                  "whole_roots, pieces, tails) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return write_all(
        s.strips, "strips", "dug strips",
        [](const check::DugStrip& d) {
            return Fingerprint()
                .add(d.supersedes)
                .add(d.field)
                .add(d.machine)
                .add(std::uint64_t(milliseconds(d.at)))
                .add(d.area.si())
                .add(d.whole_roots.si())
                .add(d.pieces.si())
                .add(d.tails.si());
        },
        [&](const check::DugStrip& d, std::int64_t content) {
            return run(insert, d.id, content, d.supersedes, std::string_view(d.field),
                       std::string_view(d.machine), milliseconds(d.at), d.area.si(),
                       d.whole_roots.si(), d.pieces.si(), d.tails.si());
        });
}

bool ObservationWriter::write_tares(const ledger::Season& s) {
    Statement insert;
    if (!prepared("INSERT INTO tares (id, content, supersedes, field, at, gross, soil, tops) "
                  "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return write_all(
        s.tares, "tares", "tare samples",
        [](const check::TareSample& t) {
            return Fingerprint()
                .add(t.supersedes)
                .add(t.field)
                .add(std::uint64_t(milliseconds(t.at)))
                .add(t.gross.si())
                .add(t.soil.si())
                .add(t.tops.si());
        },
        [&](const check::TareSample& t, std::int64_t content) {
            return run(insert, t.id, content, t.supersedes, std::string_view(t.field),
                       milliseconds(t.at), t.gross.si(), t.soil.si(), t.tops.si());
        });
}

bool ObservationWriter::write_labs(const ledger::Season& s) {
    Statement insert;
    if (!prepared("INSERT INTO labs (id, content, supersedes, field, at, pol, potassium, sodium, "
                  "amino_nitrogen) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return write_all(
        s.labs, "labs", "laboratory samples",
        [](const check::LabSample& l) {
            return Fingerprint()
                .add(l.supersedes)
                .add(l.field)
                .add(std::uint64_t(milliseconds(l.at)))
                .add(l.pol.si())
                .add(l.potassium.si())
                .add(l.sodium.si())
                .add(l.amino_nitrogen.si());
        },
        [&](const check::LabSample& l, std::int64_t content) {
            return run(insert, l.id, content, l.supersedes, std::string_view(l.field),
                       milliseconds(l.at), l.pol.si(), l.potassium.si(), l.sodium.si(),
                       l.amino_nitrogen.si());
        });
}

bool ObservationWriter::write_standing(const ledger::Season& s) {
    Statement insert;
    Statement crown;
    if (!prepared("INSERT INTO standing_looks (id, content, supersedes, field, at, spots, area, "
                  "roots, pol, potassium, sodium, amino_nitrogen, leaf_sick, leaf_frozen, "
                  "soil_in_hand, crown_height, evenness, plants, root_mass) "
                  "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                  insert) ||
        !prepared("INSERT INTO crowns VALUES (?, ?, ?)", crown)) {
        return false;
    }
    return write_all(
        s.standing, "standing_looks", "looks at standing crops",
        [](const check::StandingLook& look) { return content_of(look); },
        [&](const check::StandingLook& look, std::int64_t content) {
            if (!run(insert, look.id, content, look.supersedes, std::string_view(look.field),
                     milliseconds(look.at), std::int64_t{look.spots}, look.area.si(),
                     look.roots.si(), look.pol.si(), look.potassium.si(), look.sodium.si(),
                     look.amino_nitrogen.si(), look.leaf_sick, code(look.leaf_frozen),
                     code(look.soil_in_hand), look.crown_height.si(), code(look.evenness),
                     look.plants.si(), look.root_mass.si())) {
                return false;
            }
            const std::int64_t position = database_.last_row();
            std::int64_t number = 0;
            return std::ranges::all_of(look.crowns, [&](Length height) {
                return run(crown, position, ++number, height.si());
            });
        });
}

bool ObservationWriter::write_settings(const ledger::Season& s) {
    Statement insert;
    Statement control;
    if (!prepared("INSERT INTO settings_notes (id, content, supersedes, machine, field, at, "
                  "answer) VALUES (?, ?, ?, ?, ?, ?, ?)",
                  insert) ||
        !prepared("INSERT INTO set_controls VALUES (?, ?, ?, ?)", control)) {
        return false;
    }
    return write_all(
        s.settings, "settings_notes", "notes of settings",
        [](const check::SettingsNote& note) { return content_of(note); },
        [&](const check::SettingsNote& note, std::int64_t content) {
            if (!run(insert, note.id, content, note.supersedes, std::string_view(note.machine),
                     std::string_view(note.field), milliseconds(note.at), code(note.answer))) {
                return false;
            }
            const std::int64_t position = database_.last_row();
            std::int64_t number = 0;
            return std::ranges::all_of(note.controls, [&](const check::SetControl& set) {
                return run(control, position, ++number, std::string_view(set.control), set.value);
            });
        });
}

bool ObservationWriter::write_parts(const ledger::Season& s) {
    Statement insert;
    if (!prepared("INSERT INTO part_changes (id, content, supersedes, machine, at, stage, what) "
                  "VALUES (?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return write_all(
        s.parts, "part_changes", "new parts and repairs",
        [](const check::PartChange& p) {
            return Fingerprint()
                .add(p.supersedes)
                .add(p.machine)
                .add(std::uint64_t(milliseconds(p.at)))
                .add(std::uint64_t(code(p.stage)))
                .add(p.what);
        },
        [&](const check::PartChange& p, std::int64_t content) {
            return run(insert, p.id, content, p.supersedes, std::string_view(p.machine),
                       milliseconds(p.at), code(p.stage), std::string_view(p.what));
        });
}

bool ObservationWriter::write_covers(const ledger::Season& s) {
    Statement insert;
    if (!prepared("INSERT INTO cover_changes (id, content, supersedes, pile, at, along_from, "
                  "along_to, cover) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return write_all(
        s.covers, "cover_changes", "covers put on and off",
        [](const check::CoverChange& c) {
            return Fingerprint()
                .add(c.supersedes)
                .add(c.pile)
                .add(std::uint64_t(milliseconds(c.at)))
                .add(c.stretch)
                .add(std::uint64_t(code(c.cover)));
        },
        [&](const check::CoverChange& c, std::int64_t content) {
            return run(insert, c.id, content, c.supersedes, std::string_view(c.pile),
                       milliseconds(c.at), c.stretch.from.si(), c.stretch.to.si(), code(c.cover));
        });
}

bool ObservationWriter::write_probes(const ledger::Season& s) {
    Statement insert;
    if (!prepared("INSERT INTO probe_readings (id, content, supersedes, pile, at, probe, kind, "
                  "along, across, height, temperature) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return write_all(
        s.probes, "probe_readings", "temperatures of piles",
        [](const check::ProbeReading& p) {
            return Fingerprint()
                .add(p.supersedes)
                .add(p.pile)
                .add(std::uint64_t(milliseconds(p.at)))
                .add(p.probe)
                .add(std::uint64_t(code(p.kind)))
                .add(p.along.si())
                .add(p.across.si())
                .add(p.height.si())
                .add(p.temperature.in_kelvin());
        },
        [&](const check::ProbeReading& p, std::int64_t content) {
            return run(insert, p.id, content, p.supersedes, std::string_view(p.pile),
                       milliseconds(p.at), std::string_view(p.probe), code(p.kind), p.along.si(),
                       p.across.si(), p.height.si(), p.temperature.in_kelvin());
        });
}

bool ObservationWriter::write_removals(const ledger::Season& s) {
    Statement insert;
    if (!prepared("INSERT INTO pile_removals (id, content, supersedes, pile, at, along_from, "
                  "along_to, gross) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return write_all(
        s.removals, "pile_removals", "removals from piles",
        [](const check::PileRemoval& r) {
            return Fingerprint()
                .add(r.supersedes)
                .add(r.pile)
                .add(std::uint64_t(milliseconds(r.at)))
                .add(r.stretch)
                .add(r.gross.si());
        },
        [&](const check::PileRemoval& r, std::int64_t content) {
            return run(insert, r.id, content, r.supersedes, std::string_view(r.pile),
                       milliseconds(r.at), r.stretch.from.si(), r.stretch.to.si(), r.gross.si());
        });
}

bool ObservationWriter::write_places(const ledger::Season& s) {
    Statement insert;
    if (!prepared("INSERT INTO places (id, content, supersedes, field, at, of, spot, latitude, "
                  "longitude, accuracy) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                  insert)) {
        return false;
    }
    return write_all(
        s.places, "places", "places in fields",
        [](const check::Place& p) {
            return Fingerprint()
                .add(p.supersedes)
                .add(p.field)
                .add(std::uint64_t(milliseconds(p.at)))
                .add(p.of)
                .add(std::uint64_t(p.spot))
                .add(p.latitude_rad)
                .add(p.longitude_rad)
                .add(p.accuracy.si());
        },
        [&](const check::Place& p, std::int64_t content) {
            return run(insert, p.id, content, p.supersedes, std::string_view(p.field),
                       milliseconds(p.at), p.of, std::int64_t{p.spot}, p.latitude_rad,
                       p.longitude_rad, p.accuracy.si());
        });
}

bool ObservationWriter::write(const ledger::Season& season) {
    return write_loads(season) && write_sheets(season) && write_strips(season) &&
           write_tares(season) && write_labs(season) && write_standing(season) &&
           write_settings(season) && write_parts(season) && write_covers(season) &&
           write_probes(season) && write_removals(season) && write_places(season);
}

}  // namespace beetwright::records
