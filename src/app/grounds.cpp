#include "app/grounds.hpp"

#include <algorithm>
#include <optional>
#include <variant>

#include "engine/field_named.hpp"
#include "engine/zones_question.hpp"
#include "io/json.hpp"
#include "io/text_map.hpp"
#include "io/zones_parameters.hpp"
#include "maps/field_ground.hpp"
#include "maps/geojson.hpp"
#include "maps/geometry_json.hpp"
#include "maps/ground_json.hpp"
#include "maps/kept_zones.hpp"
#include "maps/zip.hpp"
#include "maps/zone_outline.hpp"

namespace beetwright::app {

/// What is kept of something that was sent, and what was supposed in reading it.
struct GroundTaken {
    std::string bytes;
    std::vector<std::string> notes;
    std::optional<maps::HeightsReading> heights = {};
    std::optional<ground::Area> border = {};
};

namespace {

using io::Json;
using records::GroundEntry;
using records::GroundPart;

Problem missing(const std::string& field, std::string what, std::string fix) {
    return {ProblemKind::missing,
            {.file = "", .line = 0, .field = field},
            std::move(what),
            std::move(fix)};
}

Problem no_heights_of(const std::string& field) {
    return missing("field", "nothing is known of the heights of \"" + field + "\"",
                   "bring a receiver's log or a grid of heights of it");
}

const ledger::Field* field_named(const ledger::Season& season, const std::string& name) {
    const auto found = std::ranges::find(season.fields, name, &ledger::Field::name);
    return found == season.fields.end() ? nullptr : &*found;
}

const ledger::Machine* machine_named(const ledger::Season& season, const std::string& name) {
    const auto found = std::ranges::find(season.machines, name, &ledger::Machine::name);
    return found == season.machines.end() ? nullptr : &*found;
}

/// The machine whose controls a field's zones set: by its name then, or the field's if that has
/// been changed.
const ledger::Machine* machine_of(const ledger::Season& season, const std::string& field,
                                  const maps::KeptZones& kept) {
    if (const auto* machine = machine_named(season, kept.machine)) {
        return machine;
    }
    const auto* of = field_named(season, field);
    return of == nullptr ? nullptr : machine_named(season, of->machine);
}

Result<maps::MapFacts> facts_of(const std::map<std::string, std::string>& said) {
    maps::MapFacts facts;
    for (const auto& [name, value] : said) {
        if (name == "crs") {
            facts.crs = value;
        } else if (name == "height_unit") {
            facts.height_unit = value;
        } else if (name == "first_day") {
            facts.first_day = parse_day(value);
            if (!facts.first_day) {
                return Problem{ProblemKind::input,
                               {.file = "", .line = 0, .field = name},
                               "'" + value + "' is no day",
                               "write the day on which the log begins: 2031-10-04"};
            }
        }
    }
    return facts;
}

/// The border as it was kept.
Result<ground::Area> border_in(const GroundEntry& entry) {
    auto read = maps::read_geojson(entry.bytes, entry.field + ": border");
    if (!read) {
        return read.problems();
    }
    return std::move(read->areas.front().area);
}

/// What was kept of heights, read anew.
Result<maps::HeightsReading> heights_in(const GroundEntry& entry) {
    const auto said = io::read_text_map(entry.said, entry.field + ": heights");
    if (!said) {
        return said.problems();
    }
    const auto facts = facts_of(*said);
    if (!facts) {
        return facts.problems();
    }
    const maps::MapFile file{"heights of " + entry.field, entry.bytes};
    return maps::read_heights({&file, 1}, entry.field, *facts);
}

Result<ground::Surface> surface_of(const maps::HeightsReading& heights,
                                   const std::optional<ground::Area>& border) {
    ground::SurfaceWish wish;
    wish.boundary = border;
    return std::visit([&](const auto& one) { return ground::surface_of(one, wish); }, heights);
}

/// As it came, packed if it was not: a log is a fifth of its size so.
Result<std::string> packed(const std::string& bytes, const std::string& name) {
    if (maps::is_zip(bytes)) {
        return bytes;
    }
    const maps::NamedFile file{name.substr(name.find_last_of("/\\") + 1), bytes};
    return maps::write_zip({&file, 1});
}

Json came_json(const GroundEntry& entry) {
    return {{"from", entry.from}, {"at", to_text(entry.at)}};
}

Result<Json> border_shown(const GroundEntry& entry) {
    const auto border = border_in(entry);
    if (!border) {
        return border.problems();
    }
    auto json = came_json(entry);
    const auto shown = maps::border_json(*border);
    for (const auto& [name, value] : shown.members()) {
        json[name] = value;
    }
    return json;
}

Result<Json> zones_shown(const GroundEntry& entry, const ledger::Season& season) {
    const auto kept = maps::read_kept_zones(entry.bytes, entry.field + ": zones");
    if (!kept) {
        return kept.problems();
    }
    return maps::zones_kept_json(*kept, machine_of(season, entry.field, *kept));
}

/// One part of a field, as a map needs it.
Result<Json> shown(const GroundEntry& entry, const ledger::Season& season) {
    switch (entry.part) {
        case GroundPart::border: return border_shown(entry);
        case GroundPart::heights: return came_json(entry);
        case GroundPart::zones: return zones_shown(entry, season);
    }
    return Json();
}

/// Of each field of these entries, which stand by field, what is kept.
Result<Json> fields_shown(const std::vector<GroundEntry>& entries, const ledger::Season& season) {
    Json fields = Json::array();
    for (std::size_t i = 0; i < entries.size();) {
        const auto& name = entries[i].field;
        Json field{{"field", name}};
        for (; i < entries.size() && entries[i].field == name; ++i) {
            auto part = shown(entries[i], season);
            if (!part) {
                return part.problems();
            }
            field[words(entries[i].part)] = std::move(*part);
        }
        fields.push_back(std::move(field));
    }
    return fields;
}

Result<GroundTaken> take_border(const GroundSent& sent, const maps::MapFacts& facts) {
    const maps::MapFile file{sent.file, sent.bytes};
    auto read = maps::read_border({&file, 1}, sent.field, facts);
    if (!read) {
        return read.problems();
    }
    return GroundTaken{.bytes = maps::multi_polygon_json(read->area).line(),
                       .notes = std::move(read->notes),
                       .border = std::move(read->area)};
}

Result<GroundTaken> take_heights(const GroundSent& sent, const maps::MapFacts& facts) {
    const maps::MapFile file{sent.file, sent.bytes};
    auto read = maps::read_heights({&file, 1}, sent.field, facts);
    if (!read) {
        return read.problems();
    }
    auto bytes = packed(sent.bytes, sent.file);
    if (!bytes) {
        return bytes.problems();
    }
    return GroundTaken{.bytes = std::move(*bytes), .notes = {}, .heights = std::move(*read)};
}

Result<GroundTaken> take_zones(const GroundSent& sent, const ledger::Season& season,
                               const std::optional<ground::Area>& border) {
    auto kept = maps::read_kept_zones(sent.bytes, sent.file);
    if (!kept) {
        return kept.problems();
    }
    const auto* machine = machine_of(season, sent.field, *kept);
    if (machine == nullptr) {
        return Problem{ProblemKind::missing,
                       {.file = sent.file, .line = 0, .field = "machine"},
                       "no machine of this season is called \"" + kept->machine + "\"",
                       "name the machine that lifts the field"};
    }
    kept->machine = machine->name;
    GroundTaken taken;
    const auto fitted =
        maps::fitted_together(std::move(*kept), border.value_or(ground::Area{}), taken.notes);
    if (fitted.zones.empty()) {
        return Problem{ProblemKind::input,
                       {.file = sent.file, .line = 0, .field = "zones"},
                       "none of these zones lies in the field",
                       "draw them within its border"};
    }
    if (auto plan = maps::plan_of(season.name, sent.field, {}, fitted, *machine); !plan) {
        return plan.problems();
    }
    taken.bytes = maps::kept_zones_text(fitted);
    return taken;
}

}  // namespace

Result<std::unique_ptr<Grounds>> Grounds::open(const std::string& season_file) {
    auto store = records::GroundStore::open(season_file);
    if (!store) {
        return store.problems();
    }
    return std::unique_ptr<Grounds>(new Grounds(std::move(*store)));
}

Result<std::int64_t> Grounds::revision() {
    return with_store([](auto& store) { return store.revision(); });
}

Result<std::string> Grounds::list(const ledger::Season& season) {
    const auto entries = with_store([](auto& store) { return store.list(); });
    if (!entries) {
        return entries.problems();
    }
    auto fields = fields_shown(*entries, season);
    if (!fields) {
        return fields.problems();
    }
    const Json json{{"fields", std::move(*fields)}};
    return json.line() + "\n";
}

Result<std::optional<ground::Area>> Grounds::border_of(const std::string& field) {
    const auto kept =
        with_store([&](auto& store) { return store.find(field, GroundPart::border); });
    if (!kept) {
        return kept.problems();
    }
    if (!*kept) {
        return std::optional<ground::Area>();
    }
    auto border = border_in(**kept);
    return border ? Result<std::optional<ground::Area>>(std::move(*border)) : border.problems();
}

Result<std::optional<maps::HeightsReading>> Grounds::heights_of(const std::string& field) {
    const auto kept =
        with_store([&](auto& store) { return store.find(field, GroundPart::heights); });
    if (!kept) {
        return kept.problems();
    }
    if (!*kept) {
        return std::optional<maps::HeightsReading>();
    }
    auto heights = heights_in(**kept);
    return heights ? Result<std::optional<maps::HeightsReading>>(std::move(*heights))
                   : heights.problems();
}

Result<std::vector<GroundEntry>> Grounds::entries_of(const std::string& field) {
    auto entries = with_store([](auto& store) { return store.list(); });
    if (entries) {
        std::erase_if(*entries, [&](const GroundEntry& one) { return one.field != field; });
    }
    return entries;
}

Result<ReliefStamp> Grounds::relief_stamp(const std::string& field) {
    const auto entries = entries_of(field);
    if (!entries) {
        return entries.problems();
    }
    ReliefStamp stamp;
    for (const auto& entry : *entries) {
        if (entry.part == GroundPart::heights) {
            stamp.heights = entry.stamp;
        } else if (entry.part == GroundPart::border) {
            stamp.border = entry.stamp;
        }
    }
    return stamp;
}

Result<Grounds::SurfaceHeld> Grounds::surface_now(const std::string& field) {
    const auto stamp = relief_stamp(field);
    if (!stamp) {
        return stamp.problems();
    }
    if (const auto held = held_.find(field); held != held_.end() && held->second.stamp == *stamp) {
        return held->second.surface;
    }
    const auto heights = heights_of(field);
    const auto border = border_of(field);
    if (!border || !heights) {
        return border ? heights.problems() : border.problems();
    }
    if (!*heights) {
        return no_heights_of(field);
    }
    auto surface = surface_of(**heights, *border);
    if (!surface) {
        return surface.problems();
    }
    return hold_now(field, *stamp, std::move(*surface));
}

Grounds::SurfaceHeld Grounds::hold_now(const std::string& field, const ReliefStamp& stamp,
                                       ground::Surface surface) {
    // Which goes does not matter: it is worked out again when it is wanted.
    if (held_.size() >= kMostHeld && !held_.contains(field)) {
        held_.erase(held_.begin());
    }
    auto held = std::make_shared<const ground::Surface>(std::move(surface));
    held_[field] = {stamp, held};
    return held;
}

Result<std::string> Grounds::set(const ledger::Season& season, const GroundSent& sent,
                                 const Uuid& person, Instant at) {
    if (field_named(season, sent.field) == nullptr) {
        return engine::no_field_named(season, sent.field);
    }
    const auto facts = facts_of(sent.said);
    if (!facts) {
        return facts.problems();
    }
    // What is read here, made and written back is one change after another's.
    const std::lock_guard lock(making_);
    const auto border = border_of(sent.field);
    if (!border) {
        return border.problems();
    }
    auto taken = sent.part == GroundPart::border    ? take_border(sent, *facts)
                 : sent.part == GroundPart::heights ? take_heights(sent, *facts)
                                                    : take_zones(sent, season, *border);
    if (!taken) {
        return taken.problems();
    }
    auto surface = surface_after(sent, *taken, *border);
    if (!surface) {
        return surface.problems();
    }
    const GroundEntry entry{.field = sent.field,
                            .part = sent.part,
                            .from = sent.file,
                            .at = at,
                            .said = io::text_map_json(sent.said),
                            .bytes = std::move(taken->bytes)};
    if (auto done = with_store([&](auto& store) { return store.set(entry, person); }); !done) {
        return done.problems();
    }
    if (*surface) {
        taken->notes.insert(taken->notes.end(), (*surface)->notes.begin(), (*surface)->notes.end());
        if (const auto stamp = relief_stamp(sent.field)) {
            hold_now(sent.field, *stamp, std::move(**surface));
        }
    }
    const auto entries = entries_of(sent.field);
    if (!entries) {
        return entries.problems();
    }
    const auto fields = fields_shown(*entries, season);
    if (!fields) {
        return fields.problems();
    }
    const Json json{{"field", fields->items().front()}, {"notes", taken->notes}};
    return json.line() + "\n";
}

/// The surface as it will be with what was taken; none where nothing of it changes, or no heights
/// are known. So heights and a border that do not belong together are refused before either is
/// kept.
Result<std::optional<ground::Surface>> Grounds::surface_after(
    const GroundSent& sent, const GroundTaken& taken, const std::optional<ground::Area>& border) {
    if (sent.part == GroundPart::zones) {
        return std::optional<ground::Surface>();
    }
    auto heights = taken.heights;
    if (!heights) {
        auto kept = heights_of(sent.field);
        if (!kept) {
            return kept.problems();
        }
        heights = std::move(*kept);
    }
    if (!heights) {
        return std::optional<ground::Surface>();
    }
    auto surface = surface_of(*heights, taken.border ? taken.border : border);
    if (surface) {
        return std::optional(std::move(*surface));
    }
    auto problems = surface.problems();
    if (taken.border || border) {
        const std::string other = taken.border ? "heights" : "border";
        problems.insert(problems.begin(), {ProblemKind::conflict,
                                           {.file = sent.file, .line = 0, .field = ""},
                                           "this does not go together with the " + other +
                                               " kept of \"" + sent.field + "\"",
                                           "if it is right, take the " + other + " out first"});
    }
    return problems;
}

Result<Done> Grounds::remove(const std::string& field, GroundPart part, const Uuid& person,
                             Instant at) {
    return with_store([&](auto& store) { return store.remove(field, part, person, at); });
}

Result<Grounds::SurfaceHeld> Grounds::surface(const std::string& field) {
    const std::lock_guard lock(making_);
    return surface_now(field);
}

Result<std::string> Grounds::relief(const std::string& field) {
    const auto held = surface(field);
    return held ? Result<std::string>(maps::relief_json(field, **held)) : held.problems();
}

Result<std::string> Grounds::zones(const ledger::Season& season,
                                   const std::map<std::string, std::string>& parameters,
                                   Progress& progress) {
    io::Parameters read(io::kZonesQuestion, parameters);
    const auto question = io::zones_question_in(read);
    if (!read.problems().empty()) {
        return read.problems();
    }
    if (field_named(season, question.field) == nullptr) {
        return engine::no_field_named(season, question.field);
    }
    const auto stamp = relief_stamp(question.field);
    if (!stamp) {
        return stamp.problems();
    }
    if (stamp->heights == 0) {
        return no_heights_of(question.field);
    }
    // Reading a log takes as long as working out what follows from it.
    constexpr double kRead = 0.5;
    if (!progress.go_on(0.0)) {
        return not_wanted();
    }
    const auto held = surface(question.field);
    if (!held) {
        return held.problems();
    }
    if (!progress.go_on(kRead)) {
        return not_wanted();
    }
    const auto answer = engine::ask_zones(season, **held, question);
    if (!answer) {
        return answer.problems();
    }
    return maps::zones_worked_out_json(*answer, maps::plan_of(season.name, **held, *answer),
                                       season.currency);
}

Result<GroundPlan> Grounds::plan(const ledger::Season& season, const std::string& field) {
    const auto entry =
        with_store([&](auto& store) { return store.find(field, GroundPart::zones); });
    if (!entry) {
        return entry.problems();
    }
    if (!*entry) {
        return missing("field", "no zones are kept for \"" + field + "\"",
                       "work them out, or draw them, and keep them");
    }
    const auto kept = maps::read_kept_zones((*entry)->bytes, field + ": zones");
    if (!kept) {
        return kept.problems();
    }
    const auto border = border_of(field);
    if (!border) {
        return border.problems();
    }
    const auto* machine = machine_of(season, field, *kept);
    if (machine == nullptr) {
        return missing("machine", "the machine of these zones is no longer in the season",
                       "give the field a machine, or work its zones out anew");
    }
    auto plan =
        maps::plan_of(season.name, field, border->value_or(ground::Area{}), *kept, *machine);
    if (!plan) {
        return plan.problems();
    }
    return GroundPlan{.zones = std::move(*plan), .machine = machine->name, .at = kept->at};
}

}  // namespace beetwright::app
