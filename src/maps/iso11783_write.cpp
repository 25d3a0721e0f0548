#include "maps/iso11783_write.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/contract.hpp"
#include "base/counted.hpp"
#include "base/number_text.hpp"
#include "maps/iso11783_cells.hpp"
#include "maps/iso11783_settings.hpp"
#include "maps/zip.hpp"

namespace beetwright::maps {
namespace {

constexpr int kMostCode = 254;
constexpr std::size_t kFewestCorners = 3;
constexpr std::string_view kGridFile = "GRD00001";
constexpr int kGridZone = 1;  ///< the zone that says what a grid's cells have values of

/// Elements and attributes as text, indented. What XML cannot hold becomes a blank.
class XmlText {
 public:
    XmlText& open(std::string_view name) {
        end_head(">\n");
        text_ += std::string(2 * open_.size(), ' ') + "<" + std::string(name);
        open_.emplace_back(name);
        in_head_ = true;
        return *this;
    }
    XmlText& attribute(std::string_view name, std::string_view value) {
        text_ += " " + std::string(name) + "=\"";
        for (const char c : value) {
            switch (c) {
                case '&': text_ += "&amp;"; break;
                case '<': text_ += "&lt;"; break;
                case '>': text_ += "&gt;"; break;
                case '"': text_ += "&quot;"; break;
                default: text_ += static_cast<unsigned char>(c) < ' ' ? ' ' : c;
            }
        }
        text_ += '"';
        return *this;
    }
    XmlText& attribute(std::string_view name, std::int64_t value) {
        return attribute(name, std::to_string(value));
    }
    void close() {
        const auto name = open_.back();
        open_.pop_back();
        if (in_head_) {
            end_head("/>\n");
        } else {
            text_ += std::string(2 * open_.size(), ' ') + "</" + name + ">\n";
        }
    }
    [[nodiscard]] std::string take() && {
        require(open_.empty(), "every element is closed");
        return std::move(text_);
    }

 private:
    void end_head(std::string_view with) {
        if (in_head_) {
            text_ += with;
        }
        in_head_ = false;
    }

    std::string text_ = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
    std::vector<std::string> open_;
    bool in_head_ = false;
};

std::string four_digits(std::uint16_t identifier) {
    constexpr std::string_view kDigits = "0123456789ABCDEF";
    std::string text;
    for (int shift = 12; shift >= 0; shift -= 4) {
        text += kDigits[(static_cast<unsigned>(identifier) >> static_cast<unsigned>(shift)) & 0xfU];
    }
    return text;
}

class TaskDataWriter {
 public:
    TaskDataWriter(const ZonePlan& plan, const TaskDataOptions& options)
        : plan_(plan), options_(options) {}

    Result<WrittenTaskData> write() {
        look_through();
        if (!problems_.empty()) {
            return std::move(problems_).take();
        }
        settings_ = zone_settings(plan_, options_.form, written_.notes, problems_);
        if (options_.form == TaskDataForm::grid) {
            if (settings_.front().values.empty()) {
                problems_.add({},
                              "no setting goes out as a value in every zone, so a grid would "
                              "be empty",
                              "send the zones themselves");
            }
            cells_ = zone_cells(plan_, options_.cell_m, problems_);
        }
        if (!problems_.empty()) {
            return std::move(problems_).take();
        }
        std::vector<NamedFile> files{{"TASKDATA/TASKDATA.XML", task_data()}};
        if (options_.form == TaskDataForm::grid) {
            files.push_back({"TASKDATA/" + std::string(kGridFile) + ".BIN", grid_bytes()});
        }
        auto zip = write_zip(files);
        if (!zip) {
            return zip.problems();
        }
        written_.zip = std::move(*zip);
        return std::move(written_);
    }

 private:
    void wrong(const std::string& field, std::string what, std::string fix) {
        problems_.add({.file = "", .line = 0, .field = field}, std::move(what), std::move(fix));
    }

    /// What no task data can be made of.
    void look_through() {
        look_through("boundary", plan_.boundary);
        if (plan_.zones.empty()) {
            wrong("zones", "the plan has no zone", "draw one, or more");
        }
        std::set<int> numbers;
        for (const auto& zone : plan_.zones) {
            const auto field = "zone " + std::to_string(zone.number);
            if (zone.number < 1 || zone.number > kMostCode) {
                wrong(field, "a terminal cannot tell this number",
                      "number zones from 1 to " + std::to_string(kMostCode));
            }
            if (!numbers.insert(zone.number).second) {
                wrong(field, "two zones have this number", "give each a number of its own");
            }
            look_through(field, zone.area);
        }
        if (options_.form == TaskDataForm::grid && !(options_.cell_m > 0.0)) {
            wrong("cell", "cells have to have a size", "3 m, say");
        }
    }
    void look_through(const std::string& field, const ground::Area& area) {
        if (area.empty()) {
            wrong(field, "it has no area", "draw it");
        }
        const auto look = [&](const ground::Ring& ring) {
            if (ring.size() < kFewestCorners) {
                wrong(field,
                      "a ring of " + counted(ring.size(), "corner", "corners") +
                          " goes round nothing",
                      "give it three corners or more");
            }
            if (!std::ranges::all_of(ring, ground::is_on_earth)) {
                wrong(field, "a corner is not on earth",
                      "latitudes are within 90 degrees, longitudes within 180");
            }
        };
        for (const auto& polygon : area) {
            look(polygon.outer);
            std::ranges::for_each(polygon.holes, look);
        }
    }

    std::string name(const std::string& text) { return name_of_32(text, written_.notes); }

    /// The largest zone's: its settings are wrong on the least ground.
    [[nodiscard]] std::size_t usual_zone() const {
        const auto area_of = [](const PlannedZone& zone) { return area_m2(zone.area); };
        const auto largest = std::ranges::max_element(plan_.zones, {}, area_of);
        return static_cast<std::size_t>(largest - plan_.zones.begin());
    }

    std::string task_data() {
        usual_ = usual_zone();
        xml_.open("ISO11783_TaskData")
            .attribute("VersionMajor", 4)
            .attribute("VersionMinor", 3)
            .attribute("ManagementSoftwareManufacturer", "Beetwright")
            .attribute("ManagementSoftwareVersion", name(options_.version))
            .attribute("DataTransferOrigin", 1);
        xml_.open("PFD")
            .attribute("A", "PFD1")
            .attribute("C", name(plan_.field))
            .attribute("D", std::llround(area_m2(plan_.boundary)));
        constexpr int kBoundary = 1;
        add_area(plan_.boundary, kBoundary);
        xml_.close();
        add_task();
        xml_.close();
        return std::move(xml_).take();
    }

    void add_task() {
        const bool is_grid = options_.form == TaskDataForm::grid;
        const int usual = is_grid ? kGridZone : plan_.zones[usual_].number;
        constexpr int kPlanned = 1;
        xml_.open("TSK")
            .attribute("A", "TSK1")
            .attribute("B", name(plan_.season))
            .attribute("E", "PFD1")
            .attribute("G", kPlanned)
            .attribute("H", usual)
            .attribute("I", usual);
        if (is_grid) {
            add_zone(kGridZone, "elsewhere as in zone " + zone_name(usual_),
                     settings_[usual_].values, {});
            add_grid();
        }
        std::vector<std::string> comments;
        for (std::size_t z = 0; z < plan_.zones.size(); ++z) {
            add_planned_zone(z, comments);
        }
        for (const auto& comment : comments) {
            xml_.open("CAN").attribute("C", name(comment)).close();
        }
        xml_.close();
    }

    /// "2 knoll"
    [[nodiscard]] std::string zone_name(std::size_t z) const {
        const auto& zone = plan_.zones[z];
        return std::to_string(zone.number) + (zone.words.empty() ? "" : " " + zone.words);
    }

    void add_planned_zone(std::size_t z, std::vector<std::string>& comments) {
        const auto& zone = plan_.zones[z];
        const auto& settings = settings_[z];
        auto with_words = zone_name(z);
        for (const auto& words : settings.words) {
            with_words += (&words == &settings.words.front() ? ": " : ", ") + words;
        }
        constexpr std::size_t kMost = 32;
        const bool is_grid = options_.form == TaskDataForm::grid;
        const bool fits = !is_grid && characters(with_words) <= kMost;
        if (!is_grid) {
            add_zone(zone.number, fits ? with_words : zone_name(z), settings.values, zone.area);
        } else if (!settings.words.empty()) {
            comments.push_back(zone_name(z));  // no zone of this name stands in the file
        }
        if (!fits) {
            for (const auto& words : settings.words) {
                comments.push_back(std::to_string(zone.number) + ": " + words);
            }
        }
    }

    void add_zone(int code, const std::string& zone_words,
                  const std::vector<IdentifiedValue>& values, const ground::Area& area) {
        xml_.open("TZN").attribute("A", code).attribute("B", name(zone_words));
        constexpr int kTreatmentZone = 2;
        add_area(area, kTreatmentZone);
        for (const auto& value : values) {
            xml_.open("PDV")
                .attribute("A", four_digits(value.identifier))
                .attribute("B", value.steps)
                .close();
        }
        xml_.close();
    }

    void add_area(const ground::Area& area, int type) {
        constexpr int kExterior = 1;
        constexpr int kInterior = 2;
        for (const auto& polygon : area) {
            xml_.open("PLN").attribute("A", type);
            add_ring(polygon.outer, kExterior);
            for (const auto& hole : polygon.holes) {
                add_ring(hole, kInterior);
            }
            xml_.close();
        }
    }

    void add_ring(const ground::Ring& ring, int type) {
        xml_.open("LSG").attribute("A", type);
        for (const auto& corner : ring) {
            add_corner(corner);
        }
        add_corner(ring.front());  // terminals look for a ring that is joined
        xml_.close();
    }
    void add_corner(const ground::Position& corner) {
        constexpr int kOther = 2;
        xml_.open("PNT")
            .attribute("A", kOther)
            .attribute("C", degrees_text(corner.latitude_deg))
            .attribute("D", degrees_text(corner.longitude_deg))
            .close();
    }

    void add_grid() {
        const auto& grid = cells_.grid;
        constexpr int kOfValues = 2;
        xml_.open("GRD")
            .attribute("A", degrees_text(grid.south_west.latitude_deg))
            .attribute("B", degrees_text(grid.south_west.longitude_deg))
            .attribute("C", shortest_text(grid.cell_north_deg))
            .attribute("D", shortest_text(grid.cell_east_deg))
            .attribute("E", grid.columns)
            .attribute("F", grid.rows)
            .attribute("G", kGridFile)
            .attribute("H", static_cast<std::int64_t>(4 * cells_.zone_of.size() *
                                                      settings_.front().values.size()))
            .attribute("I", kOfValues)
            .attribute("J", kGridZone)
            .close();
    }

    [[nodiscard]] std::string grid_bytes() const {
        std::string bytes;
        for (const auto z : cells_.zone_of) {
            for (const auto& value : settings_[z].values) {
                const auto bits = static_cast<std::uint32_t>(value.steps);
                for (unsigned shift = 0; shift < 32; shift += 8) {
                    bytes += static_cast<char>((bits >> shift) & 0xffU);
                }
            }
        }
        return bytes;
    }

    const ZonePlan& plan_;
    const TaskDataOptions& options_;
    io::ProblemList problems_;
    WrittenTaskData written_;
    std::vector<ZoneSettings> settings_;
    ZoneCells cells_;
    std::size_t usual_ = 0;  ///< index of the zone whose settings hold elsewhere
    XmlText xml_;
};

}  // namespace

Result<WrittenTaskData> write_task_data(const ZonePlan& plan, const TaskDataOptions& options) {
    return TaskDataWriter(plan, options).write();
}

}  // namespace beetwright::maps
