#include <algorithm>
#include <cmath>

#include "base/contract.hpp"
#include "io/control_cells.hpp"
#include "io/csv.hpp"
#include "io/json.hpp"
#include "io/numbers.hpp"
#include "io/season_folder.hpp"
#include "io/season_tables.hpp"
#include "io/terms_json.hpp"

namespace beetwright::io {
namespace {

template <class Enum>
int code(Enum value) {
    return static_cast<int>(value);
}

/// Writes the rows of one table, cell by cell in the order of its columns.
class TableWriter {
 public:
    TableWriter(const Table& table, UnitSystem system) : table_(table) {
        for (const Column& column : table.columns) {
            csv_.cell(header_text(column, system));
            const auto symbol = system == UnitSystem::us ? column.us_unit : column.metric_unit;
            units_.push_back(find_unit(symbol).value_or(
                Unit{"1", UnitKind::number, 1.0, 0.0, UnitSystem::both}));
        }
        csv_.end_row();
    }

    TableWriter& text(std::string_view value) {
        csv_.cell(value);
        ++column_;
        return *this;
    }
    TableWriter& number(double si) {
        text(std::isnan(si) ? std::string() : number_text(si, unit()));
        return *this;
    }
    /// In a unit that another cell of the row says.
    TableWriter& number_in(const Unit& unit_of_row, double si) {
        return text(std::isnan(si) ? std::string() : number_text(si, unit_of_row));
    }
    /// What a control is set to, or its choice.
    TableWriter& value(const harvester::ControlTraits& control, double si) {
        if (control.is_choice() && !std::isnan(si)) {
            return text(control.choices[static_cast<std::size_t>(si)]);
        }
        return number_in(usual_unit(control), si);
    }
    /// The unit in which we write a control.
    TableWriter& unit_of(const harvester::ControlTraits& control) {
        return text(control.is_choice() ? std::string_view() : control.unit);
    }
    /// Two cells.
    TableWriter& stretch(const check::Stretch& of) {
        return number(of.from.si()).number(of.to.si());
    }
    TableWriter& temperature(const std::optional<Temperature>& value) {
        return value ? number(value->in_kelvin()) : text("");
    }
    TableWriter& yes_or_no(bool is_so) {
        return word(code(is_so ? check::Seen::yes : check::Seen::no));
    }
    TableWriter& numbers(const std::vector<Length>& lengths) {
        std::string list;
        for (const Length length : lengths) {
            list += (list.empty() ? "" : " ") + number_text(length.si(), unit());
        }
        return text(list);
    }
    TableWriter& day(const std::optional<Day>& value) { return text(value ? to_text(*value) : ""); }
    TableWriter& instant(Instant value) { return text(to_text(value)); }
    TableWriter& id(const Uuid& value) { return text(value.is_nil() ? "" : value.text()); }
    TableWriter& word(int code) {
        for (const Word& word : table_.columns[column_].allowed) {
            if (word.code == code) {
                return text(word.text);
            }
        }
        return text("");
    }
    TableWriter& tip(const check::TipBreak& tip) {
        if (!tip.is_judged()) {
            return text("");
        }
        const Unit& unit_now = unit();
        const auto length = [&](Length l) { return number_text(l.si(), unit_now); };
        if (tip.from == tip.to) {
            return text(tip.to.si() == 0.0 ? "whole" : length(tip.to));
        }
        return text(std::isinf(tip.to.si()) ? ">" + length(tip.from)
                                            : length(tip.from) + "-" + length(tip.to));
    }
    /// Calls `write`, which writes the first cells of a row, for the first of many rows that begin
    /// alike, and copies them for the others.
    template <class Write>
    void start_row_alike(bool is_first, Write&& write) {
        if (is_first) {
            alike_begin_ = csv_.length();
            write();
            alike_end_ = csv_.length();
            alike_columns_ = column_;
        } else {
            csv_.start_row_as(alike_begin_, alike_end_);
            column_ = alike_columns_;
        }
    }
    void end_row() {
        csv_.end_row();
        column_ = 0;
        ++rows_;
    }
    [[nodiscard]] bool is_empty() const { return rows_ == 0; }
    [[nodiscard]] std::string take() && { return std::move(csv_).take(); }

 private:
    [[nodiscard]] const Unit& unit() const { return units_[column_]; }

    const Table& table_;
    std::vector<Unit> units_;  ///< of the columns
    CsvWriter csv_;
    std::size_t column_ = 0;
    std::size_t rows_ = 0;
    std::size_t alike_begin_ = 0;
    std::size_t alike_end_ = 0;
    std::size_t alike_columns_ = 0;
};

class SeasonWriter {
 public:
    SeasonWriter(const ledger::Season& season, UnitSystem system)
        : season_(season), system_(system) {}

    FileTexts write() {
        write_facts();
        write_fields();
        write_machines();
        write_soils();
        write_places();
        write_piles();
        write_observed();
        write_constants();
        return std::move(files_);
    }
    FileTexts write_observations() {
        write_observed();
        return std::move(files_);
    }

 private:
    /// Keeps a table; an optional one without rows is left out.
    void keep(const Table& table, TableWriter&& writer) {
        if (!writer.is_empty() || table.presence == Presence::required) {
            files_[std::string(table.file)] = std::move(writer).take();
        }
    }

    void write_facts() {
        const Json facts = {{"beetwright_season", kSeasonVersion},
                            {"name", season_.name},
                            {"currency", season_.currency},
                            {"units", season_.units == UnitSystem::us ? "us" : "metric"},
                            {"first_day", to_text(season_.first_day)},
                            {"seed", season_.seed}};
        files_["season.json"] = facts.lines() + "\n";
        if (has_terms(season_)) {
            files_["terms.json"] = write_terms(season_.terms);
        }
    }

    void write_fields() {
        TableWriter out(fields::table, system_);
        for (const auto& f : season_.fields) {
            const auto expected = f.expected_yield.value_or(ledger::ExpectedYield{});
            out.text(f.name).text(f.grower).number(f.area.si()).text(f.soil).text(f.variety);
            out.text(f.machine).text(f.operator_name).text(f.destination).number(f.haul.si());
            out.number(expected.value.si()).number(expected.low.si()).number(expected.high.si());
            out.day(f.lifted).day(f.sliced).end_row();
        }
        keep(fields::table, std::move(out));
    }

    void write_machines() {
        TableWriter out(machines::table, system_);
        TableWriter control(controls::table, system_);
        TableWriter point(dials::table, system_);
        for (const auto& m : season_.machines) {
            const auto& wheel = m.heaviest_wheel;
            out.text(m.name).text(m.kind).number(m.rows).number(m.row_spacing.si());
            out.number(wheel.load.si()).number(wheel.pressure.si());
            out.number(wheel.width.si()).number(wheel.diameter.si());
            out.word(m.build ? code(*m.build) : -1).number(m.hour_cost.si()).end_row();
            for (const auto& own : m.controls) {
                write_control(m.name, own, control, point);
            }
        }
        keep(machines::table, std::move(out));
        keep(controls::table, std::move(control));
        keep(dials::table, std::move(point));
    }

    static void write_control(const std::string& machine, const ledger::OwnControl& own,
                              TableWriter& control, TableWriter& point) {
        const auto& traits = traits_of(own.control);
        const Unit unit = usual_unit(traits);
        control.text(machine).text(own.control).yes_or_no(own.fitted).yes_or_no(own.hands_off);
        control.unit_of(traits).number_in(unit, own.least).number_in(unit, own.most);
        control.number_in(unit, own.step).value(traits, own.usual);
        control.number(own.display_step).end_row();
        for (const auto& at : own.dial) {
            point.text(machine).text(own.control).number(at.shown).number_in(unit, at.actual);
            point.unit_of(traits).day(at.measured).end_row();
        }
    }

    /// Of a control that reading has let through.
    static const harvester::ControlTraits& traits_of(const std::string& control) {
        const auto named = harvester::find_control_kind(control);
        require(named.has_value(), "a season names controls that are known");
        return harvester::traits(named->kind);
    }

    void write_soils() {
        TableWriter soil(soils::table, system_);
        for (const auto& s : season_.soils) {
            soil.text(s.name).word(s.soil_class ? code(*s.soil_class) : -1).number(s.holds.si());
            soil.number(s.stop_filling).number(s.drains_to).number(s.drain_lag.si());
            soil.number(s.rain_stop.si()).end_row();
        }
        keep(soils::table, std::move(soil));
    }

    void write_places() {
        TableWriter place(destinations::table, system_);
        TableWriter warmth(temperatures::table, system_);
        for (const auto& d : season_.destinations) {
            place.text(d.name).word(code(d.kind)).end_row();
            for (const auto& t : d.temperatures) {
                warmth.text(d.name).day(t.day).number(t.mean.in_kelvin()).end_row();
            }
        }
        keep(destinations::table, std::move(place));
        keep(temperatures::table, std::move(warmth));
    }

    void write_piles() {
        TableWriter out(piles::table, system_);
        TableWriter fan(fans::table, system_);
        for (const auto& p : season_.piles) {
            out.text(p.name).number(p.base_width.si()).number(p.top_width.si());
            out.number(p.height.si()).number(p.length.si()).number(p.orientation_rad);
            out.word(p.ground ? code(*p.ground) : -1).word(p.built ? code(*p.built) : -1);
            out.end_row();
            for (const auto& f : p.fans) {
                fan.text(p.name).stretch(f.stretch).number(f.flow.si()).number(f.pressure.si());
                fan.number(f.power.si()).word(code(f.rule)).number(f.difference.si());
                fan.temperature(f.not_below).temperature(f.only_below).end_row();
            }
        }
        keep(piles::table, std::move(out));
        keep(fans::table, std::move(fan));
    }

    void write_observed() {
        write_loads();
        write_beets();
        write_strips();
        write_tares_and_labs();
        write_standing();
        write_settings();
        write_parts();
        write_pile_log();
        write_where_seen();
    }

    void write_loads() {
        TableWriter out(loads::table, system_);
        for (const auto& l : season_.loads) {
            out.id(l.id)
                .id(l.supersedes)
                .text(l.field)
                .instant(l.at)
                .text(l.destination)
                .text(l.ticket);
            out.number(l.gross.si()).stretch(l.stretch).end_row();
        }
        keep(loads::table, std::move(out));
    }

    void write_beets() {
        TableWriter out(beets::table, system_);
        for (const auto& sheet : season_.beet_sheets) {
            for (const auto& b : sheet.beets) {
                out.start_row_alike(&b == sheet.beets.data(), [&] {
                    out.id(sheet.id).id(sheet.supersedes).text(sheet.field).text(sheet.machine);
                    out.text(sheet.operator_name).instant(sheet.at).word(code(sheet.seen_at));
                });
                out.number(b.spot).word(code(b.topping)).number(b.scar.si()).tip(b.tip);
                out.number(b.skin_damage.si()).word(code(b.rot)).word(code(b.frost)).end_row();
            }
        }
        keep(beets::table, std::move(out));
    }

    void write_strips() {
        TableWriter out(strips::table, system_);
        for (const auto& d : season_.strips) {
            out.id(d.id).id(d.supersedes).text(d.field).text(d.machine).instant(d.at);
            out.number(d.area.si()).number(d.whole_roots.si()).number(d.pieces.si());
            out.number(d.tails.si()).end_row();
        }
        keep(strips::table, std::move(out));
    }

    void write_tares_and_labs() {
        TableWriter tare(tares::table, system_);
        for (const auto& t : season_.tares) {
            tare.id(t.id).id(t.supersedes).text(t.field).instant(t.at);
            tare.number(t.gross.si()).number(t.soil.si()).number(t.tops.si()).end_row();
        }
        keep(tares::table, std::move(tare));
        TableWriter lab(labs::table, system_);
        for (const auto& l : season_.labs) {
            lab.id(l.id).id(l.supersedes).text(l.field).instant(l.at).number(l.pol.si());
            lab.number(l.potassium.si()).number(l.sodium.si()).number(l.amino_nitrogen.si());
            lab.end_row();
        }
        keep(labs::table, std::move(lab));
    }

    void write_standing() {
        TableWriter out(standing::table, system_);
        for (const auto& s : season_.standing) {
            out.id(s.id).id(s.supersedes).text(s.field).instant(s.at);
            out.text(s.spots > 0 ? std::to_string(s.spots) : "").number(s.area.si());
            out.number(s.roots.si()).number(s.pol.si()).number(s.potassium.si());
            out.number(s.sodium.si()).number(s.amino_nitrogen.si()).number(s.leaf_sick);
            out.word(code(s.leaf_frozen)).word(code(s.soil_in_hand)).number(s.crown_height.si());
            out.word(code(s.evenness)).number(s.plants.si()).number(s.root_mass.si());
            out.numbers(s.crowns).end_row();
        }
        keep(standing::table, std::move(out));
    }

    void write_settings() {
        TableWriter out(settings::table, system_);
        for (const auto& note : season_.settings) {
            const auto start = [&] {
                out.id(note.id).id(note.supersedes).instant(note.at).text(note.machine);
                out.text(note.field).word(code(note.answer));
            };
            if (note.controls.empty()) {
                start();
                out.text("").text("").text("").end_row();
            }
            for (const auto& set : note.controls) {
                out.start_row_alike(&set == note.controls.data(), start);
                const auto& traits = traits_of(set.control);
                out.text(set.control).value(traits, set.value).unit_of(traits).end_row();
            }
        }
        keep(settings::table, std::move(out));
    }

    void write_parts() {
        TableWriter out(parts::table, system_);
        for (const auto& p : season_.parts) {
            out.id(p.id).id(p.supersedes).text(p.machine).instant(p.at).word(code(p.stage));
            out.text(p.what).end_row();
        }
        keep(parts::table, std::move(out));
    }

    void write_pile_log() {
        TableWriter cover(covers::table, system_);
        for (const auto& c : season_.covers) {
            cover.id(c.id).id(c.supersedes).text(c.pile).instant(c.at).stretch(c.stretch);
            cover.word(code(c.cover)).end_row();
        }
        keep(covers::table, std::move(cover));
        TableWriter probe(probes::table, system_);
        for (const auto& p : season_.probes) {
            probe.id(p.id).id(p.supersedes).text(p.pile).instant(p.at).text(p.probe);
            probe.word(code(p.kind)).number(p.along.si()).number(p.across.si());
            probe.number(p.height.si()).temperature(p.temperature).end_row();
        }
        keep(probes::table, std::move(probe));
        TableWriter removal(removals::table, system_);
        for (const auto& r : season_.removals) {
            removal.id(r.id).id(r.supersedes).text(r.pile).instant(r.at).stretch(r.stretch);
            removal.number(r.gross.si()).end_row();
        }
        keep(removals::table, std::move(removal));
    }

    void write_where_seen() {
        TableWriter out(places::table, system_);
        for (const auto& p : season_.places) {
            out.id(p.id).id(p.supersedes).text(p.field).instant(p.at).id(p.of);
            out.number(p.spot > 0 ? p.spot : std::nan("")).number(p.latitude_rad);
            out.number(p.longitude_rad).number(p.accuracy.si()).end_row();
        }
        keep(places::table, std::move(out));
    }

    void write_constants() {
        TableWriter out(constants::table, system_);
        for (const auto& r : season_.replacements) {
            out.text(r.id).number(r.value).number(r.low).number(r.high).text(r.why).end_row();
        }
        keep(constants::table, std::move(out));
    }

    const ledger::Season& season_;
    UnitSystem system_;
    FileTexts files_;
};

}  // namespace

bool has_terms(const ledger::Season& season) {
    worth::Terms none;
    none.currency = season.terms.currency;
    return write_terms(season.terms) != write_terms(none);
}

FileTexts write_season(const ledger::Season& season, UnitSystem system) {
    return SeasonWriter(season, system).write();
}

FileTexts write_observations(const ledger::Season& observations, UnitSystem system) {
    return SeasonWriter(observations, system).write_observations();
}

}  // namespace beetwright::io
