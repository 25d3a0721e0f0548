#include "maps/field_ground.hpp"

#include <algorithm>

#include "maps/iso11783_read.hpp"
#include "maps/zip.hpp"

namespace beetwright::maps {
namespace {

constexpr std::size_t kMostNames = 12;  // that a problem lists

/// What a file says of fields and their ground, of whatever kind it is.
using GroundReading = std::variant<AreasReading, ground::Track, ground::Heights, TaskDataReading>;

template <class Reading>
Result<GroundReading> as_ground(Result<Reading> reading) {
    if (!reading) {
        return reading.problems();
    }
    return GroundReading(std::move(reading).value());
}

Result<GroundReading> as_ground(Result<MapReading> reading) {
    if (!reading) {
        return reading.problems();
    }
    return std::visit([](auto&& one) { return GroundReading(std::forward<decltype(one)>(one)); },
                      std::move(reading).value());
}

/// Names as a list in a sentence, as many as one reads.
std::string listed(const std::vector<std::string>& names) {
    std::string text;
    for (std::size_t i = 0; i < std::min(names.size(), kMostNames); ++i) {
        text += (text.empty() ? "" : ", ") + names[i];
    }
    return names.size() > kMostNames
               ? text + " and " + std::to_string(names.size() - kMostNames) + " more"
               : text;
}

/// What systems put into archives by themselves: "__MACOSX/._fields.shp", ".DS_Store".
bool is_hidden(std::string_view name) {
    while (!name.empty()) {
        const auto part = name.substr(0, name.find('/'));
        if ((part.size() > 1 && part.starts_with('.')) || part == "__MACOSX") {
            return true;
        }
        name.remove_prefix(std::min(part.size() + 1, name.size()));
    }
    return false;
}

Problem no_map_in(const std::string& archive, const std::vector<std::string>& names) {
    return {ProblemKind::input,
            {.file = archive, .line = 0, .field = ""},
            names.empty() ? "there is no file in this archive"
                          : "no map is in this archive, but " + listed(names),
            "put the .shp, .dbf and .prj of a shapefile into it, a grid with its .prj, or a "
            "terminal's folder TASKDATA"};
}

/// The one map among an archive's files, with what stands beside it under its name.
Result<GroundReading> read_map_within(const std::vector<NamedFile>& entries,
                                      const std::string& archive, const MapFacts& facts) {
    std::vector<MapFile> files;  // maps and what belongs to them
    std::vector<std::string> maps;
    std::vector<std::string> others;
    for (const auto& entry : entries) {
        // One that was only packed for the way, under its own name, is called by that.
        const MapFile file{entry.name == archive ? archive : archive + "/" + entry.name,
                           entry.bytes};
        if (kind_of(file) != MapKind::unknown) {
            maps.push_back(entry.name);
        } else if (!is_companion(file)) {
            others.push_back(entry.name);
            continue;
        }
        files.push_back(file);
    }
    if (maps.empty()) {
        std::vector<std::string> names;
        for (const auto& entry : entries) {
            names.push_back(entry.name);
        }
        return no_map_in(archive, names);
    }
    if (maps.size() > 1) {
        return Problem{ProblemKind::input,
                       {.file = archive, .line = 0, .field = ""},
                       std::to_string(maps.size()) + " maps stand in this archive: " + listed(maps),
                       "send one at a time, each in an archive of its own or without one"};
    }
    auto reading = read_map_file(files, facts);
    if (reading && !others.empty()) {
        const auto note = "passed over in the archive, as no map: " + listed(others);
        std::visit([&](auto& one) { one.notes.push_back(note); }, *reading);
    }
    return as_ground(std::move(reading));
}

Result<GroundReading> read_archive(const MapFile& archive, const MapFacts& facts) {
    auto entries = read_zip(archive.bytes, archive.name);
    if (!entries) {
        return entries.problems();
    }
    std::erase_if(*entries, [](const NamedFile& entry) { return is_hidden(entry.name); });
    if (!holds_task_data(*entries)) {
        return read_map_within(*entries, archive.name, facts);
    }
    auto data = read_task_data(*entries);
    if (!data) {
        return problems_within(data.problems(), archive.name);
    }
    return as_ground(std::move(data));
}

Result<GroundReading> read_ground(std::span<const MapFile> files, const MapFacts& facts) {
    const auto archive =
        std::ranges::find_if(files, [](const MapFile& file) { return is_zip(file.bytes); });
    if (archive == files.end()) {
        return as_ground(read_map_file(files, facts));
    }
    if (files.size() > 1) {
        return Problem{ProblemKind::input,
                       {.file = archive->name, .line = 0, .field = ""},
                       "this archive came with other files",
                       "send it alone, with all that belongs together in it"};
    }
    return read_archive(*archive, facts);
}

/// Takes the field's border out of what a file has.
Result<BorderReading> border_among(std::vector<NamedArea> areas, std::vector<std::string> notes,
                                   const std::string& file, const std::string& field) {
    const auto named = std::ranges::count(areas, field, &NamedArea::name);
    if (named > 1) {
        return Problem{ProblemKind::input,
                       {.file = file, .line = 0, .field = "name"},
                       std::to_string(named) + " of its areas are named '" + field + "'",
                       "give each a name of its own, or save them as one area"};
    }
    if (named == 0 && areas.size() == 1) {
        if (const auto& name = areas.front().name; !name.empty()) {
            notes.push_back("its only area, '" + name + "', is taken as the border of '" + field +
                            "'");
        }
        return BorderReading{std::move(areas.front().area), std::move(notes)};
    }
    if (named == 1) {
        auto& found = *std::ranges::find(areas, field, &NamedArea::name);
        return BorderReading{std::move(found.area), std::move(notes)};
    }
    std::vector<std::string> names;
    for (const auto& one : areas) {
        if (!one.name.empty()) {
            names.push_back(one.name);
        }
    }
    if (areas.empty()) {
        return Problem{ProblemKind::missing,
                       {.file = file, .line = 0, .field = ""},
                       "it holds no border of a field",
                       "send a file with the field's border"};
    }
    return Problem{ProblemKind::missing,
                   {.file = file, .line = 0, .field = "name"},
                   "none of its areas is named '" + field + "'",
                   names.empty() ? "its areas have no names; save the field's border alone"
                                 : "name the field as one of: " + listed(names)};
}

/// What was driven on the field in a terminal's task data, as one track.
Result<ground::Track> logs_of(TaskDataReading data, const std::string& file,
                              const std::string& field, const MapFacts& facts) {
    ground::Track all{.name = file, .fixes = {}, .notes = std::move(data.notes)};
    const auto logged =
        std::ranges::count_if(data.tasks, [](const FieldTask& task) { return !task.logs.empty(); });
    std::vector<std::string> others;
    for (auto& task : data.tasks) {
        if (task.partfield != field && logged != 1) {
            if (!task.logs.empty() && !task.partfield.empty()) {
                others.push_back(task.partfield);
            }
            continue;
        }
        for (auto& log : task.logs) {
            all.heights_over = log.heights_over;
            all.fixes.insert(all.fixes.end(), log.fixes.begin(), log.fixes.end());
            all.notes.insert(all.notes.end(), log.notes.begin(), log.notes.end());
        }
    }
    if (all.fixes.empty()) {
        const std::string what = logged == 0
                                     ? "it holds no log of what was driven"
                                     : "none of its logs is of a field named '" + field + "'";
        const std::string fix =
            others.empty() ? "send the task data of the field, by its name here, with its logs"
                           : "name the field as one of: " + listed(others);
        return Problem{ProblemKind::missing, {.file = file, .line = 0, .field = "TLG"}, what, fix};
    }
    if (facts.heights_over != ground::HeightOver::unknown) {
        all.heights_over = facts.heights_over;
    }
    return all;
}

/// The name that problems of the whole give: of the map, not of what came along with it.
std::string name_of(std::span<const MapFile> files) {
    const auto map = std::ranges::find_if(
        files, [](const MapFile& file) { return kind_of(file) != MapKind::unknown; });
    return map == files.end() ? files.front().name : map->name;
}

}  // namespace

Result<BorderReading> read_border(std::span<const MapFile> files, const std::string& field,
                                  const MapFacts& facts) {
    auto reading = read_ground(files, facts);
    if (!reading) {
        return reading.problems();
    }
    const auto file = name_of(files);
    if (auto* areas = std::get_if<AreasReading>(&*reading)) {
        return border_among(std::move(areas->areas), std::move(areas->notes), file, field);
    }
    if (auto* data = std::get_if<TaskDataReading>(&*reading)) {
        return border_among(std::move(data->partfields), std::move(data->notes), file, field);
    }
    return Problem{ProblemKind::input,
                   {.file = file, .line = 0, .field = ""},
                   "this is a file of heights, without borders",
                   "send it as what tells the field's heights, and the border as GeoJSON, a "
                   "shapefile or task data"};
}

Result<HeightsReading> read_heights(std::span<const MapFile> files, const std::string& field,
                                    const MapFacts& facts) {
    auto reading = read_ground(files, facts);
    if (!reading) {
        return reading.problems();
    }
    const auto file = name_of(files);
    if (auto* track = std::get_if<ground::Track>(&*reading)) {
        return HeightsReading(std::move(*track));
    }
    if (auto* heights = std::get_if<ground::Heights>(&*reading)) {
        return HeightsReading(std::move(*heights));
    }
    if (auto* data = std::get_if<TaskDataReading>(&*reading)) {
        auto logs = logs_of(std::move(*data), file, field, facts);
        if (!logs) {
            return logs.problems();
        }
        return HeightsReading(std::move(*logs));
    }
    return Problem{ProblemKind::input,
                   {.file = file, .line = 0, .field = ""},
                   "this is a file of borders, without heights",
                   "send it as the field's border, and a receiver's log or a grid of heights as "
                   "what tells its heights"};
}

}  // namespace beetwright::maps
