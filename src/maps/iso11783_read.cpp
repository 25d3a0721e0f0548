#include "maps/iso11783_read.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "base/lower_case.hpp"
#include "maps/area_intake.hpp"
#include "maps/ddi.hpp"
#include "maps/iso11783_element.hpp"
#include "maps/iso11783_grid.hpp"
#include "maps/iso11783_log.hpp"

namespace beetwright::maps {
namespace {

constexpr std::string_view kMainFile = "taskdata.xml";
constexpr std::size_t kMostFixes = 1'000'000;
constexpr std::int64_t kMostCode = 254;

bool is_main(const std::string& lower_name) {
    return lower_name == kMainFile || lower_name.ends_with("/" + std::string(kMainFile));
}

/// The files beside TASKDATA.XML, by name; letters of any size, for terminals differ.
class TaskFiles {
 public:
    explicit TaskFiles(std::span<const NamedFile> files) {
        for (const auto& file : files) {
            const auto name = lower_case(file.name);
            if (is_main(name)) {
                mains_.push_back(&file);
            }
            if (!by_name_.emplace(name, &file).second) {
                twice_ = &file;
            }
        }
        if (mains_.size() == 1) {
            const auto& name = mains_.front()->name;
            folder_ = name.substr(0, name.size() - kMainFile.size());
        }
    }
    [[nodiscard]] const std::vector<const NamedFile*>& mains() const { return mains_; }
    /// A file whose name another has too, but for the size of its letters; or null.
    [[nodiscard]] const NamedFile* twice() const { return twice_; }
    /// A file of this name and ending, or null after saying that it is missing.
    const NamedFile* beside(ElementReader& reader, const XmlElement& element,
                            std::string_view attribute, const std::string& name,
                            std::string_view ending) const {
        const auto wanted = folder_ + name + std::string(ending);
        const auto found = by_name_.find(lower_case(wanted));
        if (found == by_name_.end()) {
            reader.wrong(element, attribute, "there is no file " + wanted,
                         "send it with the others: all of the folder, or the whole archive");
            return nullptr;
        }
        return found->second;
    }

 private:
    std::vector<const NamedFile*> mains_;
    std::map<std::string, const NamedFile*> by_name_;
    const NamedFile* twice_ = nullptr;
    std::string folder_;  ///< with its slash
};

/// Names of what partfields belong to, by their ids.
using Names = std::map<std::string, std::string, std::less<>>;

std::string name_of(const Names& names, std::string_view id) {
    const auto found = names.find(id);
    return found == names.end() ? std::string() : found->second;
}

class TaskDataReader {
 public:
    TaskDataReader(const TaskFiles& files, const TaskDataFacts& facts)
        : files_(files), facts_(facts) {}

    Result<TaskDataReading> read(const NamedFile& main) {
        const auto tree = read_xml(main.bytes, main.name, xml_room_);
        if (!tree) {
            return tree.problems();
        }
        ElementReader reader(main.name, problems_);
        const auto& root = tree->root();
        if (root.name != "ISO11783_TaskData") {
            reader.wrong(root, "", "this is no task data",
                         "it begins with ISO11783_TaskData; send the file TASKDATA.XML");
            return std::move(problems_).take();
        }
        // Names come first: what refers to them may stand before them.
        std::vector<std::pair<std::string, XmlTree>> outside = open_outside(reader, root);
        const auto each = [&](auto&& take) {
            take(reader, root);
            for (auto& [name, contents] : outside) {
                ElementReader of(name, problems_);
                take(of, contents.root());
            }
        };
        each([&](ElementReader&, const XmlElement& of) { take_names(of); });
        each([&](ElementReader& of, const XmlElement& from) { take_partfields(of, from); });
        each([&](ElementReader& of, const XmlElement& from) { take_tasks(of, from); });
        if (other_polygons_ > 0) {
            reading_.notes.push_back("polygons left out, neither boundaries nor zones: " +
                                     std::to_string(other_polygons_));
        }
        if (!problems_.empty()) {
            return std::move(problems_).take();
        }
        return std::move(reading_);
    }

 private:
    /// Parts of the task data that stand in files of their own.
    std::vector<std::pair<std::string, XmlTree>> open_outside(ElementReader& reader,
                                                              const XmlElement& root) {
        std::vector<std::pair<std::string, XmlTree>> outside;
        for (const auto& child : root.children) {
            if (child.name != "XFR") {
                continue;
            }
            const auto name = reader.file_name(child, "A", "");
            const auto* file = name && is_first(reader, child, "A", *name)
                                   ? files_.beside(reader, child, "A", *name, ".XML")
                                   : nullptr;
            if (file == nullptr) {
                continue;
            }
            auto tree = read_xml(file->bytes, file->name, xml_room_);
            if (!tree) {
                problems_.add(tree.problems());
            } else if (tree->root().name != "XFC") {
                ElementReader(file->name, problems_)
                    .wrong(tree->root(), "", "this is no part of task data", "it begins with XFC");
            } else {
                outside.emplace_back(file->name, std::move(*tree));
            }
        }
        return outside;
    }

    /// Each file belongs to one element: their names are ids.
    bool is_first(ElementReader& reader, const XmlElement& element, std::string_view attribute,
                  const std::string& name) {
        const bool is_new = named_.insert(lower_case(name)).second;
        if (!is_new) {
            reader.wrong(element, attribute, "the file " + name + " is named twice",
                         "name each file in one place");
        }
        return is_new;
    }

    void take_names(const XmlElement& from) {
        for (const auto& child : from.children) {
            // A customer's last name is B and a first name C; others have one designator.
            std::string name;
            if (child.name == "CTR") {
                const auto first = ElementReader::text(child, "C");
                name = (first.empty() ? "" : first + " ") + ElementReader::text(child, "B");
            } else if (child.name == "FRM" || child.name == "CTP") {
                name = ElementReader::text(child, "B");
            } else if (child.name == "PFD") {
                name = ElementReader::text(child, "C");
            } else {
                continue;
            }
            names_.emplace(ElementReader::text(child, "A"), std::move(name));
        }
    }

    /// The polygons of an element, put in order; what is wrong with them is said of the element.
    ground::Area area_of(ElementReader& reader, const XmlElement& element, PolygonType type,
                         double least_m2) {
        const auto before = problems_.count();
        auto area = reader.area(element, type, other_polygons_);
        if (!area.empty() && problems_.count() == before) {
            const Where where{
                .file = reader.file(), .line = element.line, .field = std::string(element.name)};
            order_.put(area, where, problems_, least_m2);
        }
        return area;
    }

    void take_partfields(ElementReader& reader, const XmlElement& from) {
        for (const auto& child : from.children) {
            if (child.name != "PFD") {
                continue;
            }
            NamedArea partfield{
                .name = ElementReader::text(child, "C"),
                .area = area_of(reader, child, PolygonType::boundary, kLeastField_m2)};
            if (partfield.area.empty()) {
                reading_.notes.push_back("partfield '" + partfield.name +
                                         "' has no boundary, and is left out");
                continue;
            }
            const auto say = [&](const char* what, std::string text) {
                if (!text.empty()) {
                    partfield.said.emplace(what, std::move(text));
                }
            };
            say("id", ElementReader::text(child, "A"));
            say("code", ElementReader::text(child, "B"));
            const auto area = ElementReader::text(child, "D");
            say("area", area.empty() ? "" : area + " m2");
            say("customer", name_of(names_, ElementReader::text(child, "E")));
            say("farm", name_of(names_, ElementReader::text(child, "F")));
            say("crop", name_of(names_, ElementReader::text(child, "G")));
            reading_.partfields.push_back(std::move(partfield));
        }
    }

    void take_tasks(ElementReader& reader, const XmlElement& from) {
        for (const auto& child : from.children) {
            if (child.name == "TSK") {
                take_task(reader, child);
            }
        }
    }

    void take_task(ElementReader& reader, const XmlElement& element) {
        FieldTask task{.name = ElementReader::text(element, "B"),
                       .partfield = name_of(names_, ElementReader::text(element, "E"))};
        const auto code = [&](std::string_view attribute) -> std::optional<int> {
            const auto said = reader.whole_if_said(element, attribute, 0, kMostCode);
            return said ? std::optional(static_cast<int>(*said)) : std::nullopt;
        };
        task.default_zone = code("H");
        task.position_lost_zone = code("I");
        task.out_of_field_zone = code("J");
        std::vector<GridElement> grids;
        for (const auto& child : element.children) {
            if (child.name == "TZN") {
                take_zone(reader, child, task);
            } else if (child.name == "GRD") {
                if (auto grid = read_grid_element(reader, child)) {
                    grids.push_back(std::move(*grid));
                }
            } else if (child.name == "CAN") {
                if (auto said = ElementReader::text(child, "C"); !said.empty()) {
                    task.comments.push_back(std::move(said));
                }
            } else if (child.name == "TLG") {
                take_log(reader, child, task);
            }
        }
        for (auto& grid : grids) {
            const auto& at = *grid.element;
            const auto* cells = is_first(reader, at, "G", grid.file)
                                    ? files_.beside(reader, at, "G", grid.file, ".BIN")
                                    : nullptr;
            if (cells == nullptr) {
                continue;
            }
            auto read = read_grid_cells(reader, std::move(grid), *cells, task.zones, problems_);
            if (read) {
                task.grids.push_back(std::move(*read));
            }
        }
        reading_.tasks.push_back(std::move(task));
    }

    void take_zone(ElementReader& reader, const XmlElement& element, FieldTask& task) {
        const auto code = reader.whole(element, "A", 0, kMostCode);
        TreatmentZone zone{.code = static_cast<int>(code.value_or(0)),
                           .name = ElementReader::text(element, "B"),
                           .area = area_of(reader, element, PolygonType::treatment_zone, 0.0)};
        for (const auto& child : element.children) {
            if (child.name != "PDV") {
                continue;
            }
            const auto identifier = reader.identifier(child, "A");
            const auto steps = reader.whole(child, "B", std::numeric_limits<std::int32_t>::min(),
                                            std::numeric_limits<std::int32_t>::max());
            if (identifier && steps) {
                zone.values.push_back({*identifier, static_cast<std::int32_t>(*steps)});
            }
        }
        if (code &&
            std::ranges::find(task.zones, zone.code, &TreatmentZone::code) != task.zones.end()) {
            reader.wrong(element, "A",
                         "the task has two zones of the code " + std::to_string(zone.code),
                         "give each a code of its own");
        }
        task.zones.push_back(std::move(zone));
    }

    void take_log(ElementReader& reader, const XmlElement& element, FieldTask& task) {
        const auto name = reader.file_name(element, "A", "TLG");
        if (!name || !is_first(reader, element, "A", *name)) {
            return;
        }
        const auto* header = files_.beside(reader, element, "A", *name, ".XML");
        const auto* records = files_.beside(reader, element, "A", *name, ".BIN");
        if (header == nullptr || records == nullptr) {
            return;
        }
        constexpr std::int64_t kMostBytes = 4294967294;
        const auto length = reader.whole_if_said(element, "B", 0, kMostBytes);
        if (length && static_cast<std::uint64_t>(*length) > records->bytes.size()) {
            reader.wrong(element, "B",
                         records->name + " has " + std::to_string(records->bytes.size()) +
                             " bytes of " + std::to_string(*length),
                         "copy the file from the terminal again; it was cut off");
            return;
        }
        auto track = read_time_log({header, records}, facts_, room_, problems_);
        track.name = task.name.empty() ? *name : task.name + ", " + *name;
        if (!track.fixes.empty()) {
            task.logs.push_back(std::move(track));
            return;
        }
        for (const auto& note : track.notes) {
            reading_.notes.push_back(track.name + ": " + note);
        }
    }

    const TaskFiles& files_;
    const TaskDataFacts& facts_;
    io::ProblemList problems_;
    TaskDataReading reading_;
    Names names_;
    std::set<std::string> named_;  ///< files
    XmlRoom xml_room_;
    std::size_t room_ = kMostFixes;
    int other_polygons_ = 0;
    AreaOrder order_{NumberOrder::latitude_first};
};

}  // namespace

bool holds_task_data(std::span<const NamedFile> files) {
    return std::ranges::any_of(
        files, [](const NamedFile& file) { return is_main(lower_case(file.name)); });
}

Result<TaskDataReading> read_task_data(std::span<const NamedFile> files,
                                       const TaskDataFacts& facts) {
    const TaskFiles by_name(files);
    const auto& mains = by_name.mains();
    if (mains.empty()) {
        return Problem{ProblemKind::missing,
                       {},
                       "there is no file TASKDATA.XML",
                       "send all of the folder TASKDATA, or the archive with it"};
    }
    if (mains.size() > 1) {
        return Problem{ProblemKind::input,
                       {.file = mains[1]->name, .line = 0, .field = ""},
                       "there is another file TASKDATA.XML, " + mains[0]->name,
                       "send one folder of task data at a time"};
    }
    if (const auto* twice = by_name.twice()) {
        return Problem{ProblemKind::input,
                       {.file = twice->name, .line = 0, .field = ""},
                       "another file has this name, but for the size of its letters",
                       "leave the one out that does not belong to the others"};
    }
    return TaskDataReader(by_name, facts).read(*mains.front());
}

Result<TaskDataReading> read_task_data_zip(std::string_view bytes, const std::string& file,
                                           const TaskDataFacts& facts) {
    const auto files = read_zip(bytes, file);
    if (!files) {
        return files.problems();
    }
    auto reading = read_task_data(*files, facts);
    if (!reading) {
        return problems_within(reading.problems(), file);
    }
    return reading;
}

}  // namespace beetwright::maps
