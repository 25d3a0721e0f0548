// Task data put together for tests: a file TASKDATA.XML around some elements, and records of logs.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "maps/zip.hpp"

namespace beetwright::maps {

inline NamedFile task_data_with(const std::string& elements) {
    return {"TASKDATA/TASKDATA.XML",
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
            "<ISO11783_TaskData VersionMajor=\"4\" VersionMinor=\"0\" DataTransferOrigin=\"2\">\n" +
                elements + "\n</ISO11783_TaskData>\n"};
}

/// A ring by its corners, "53.1 8.2".
inline std::string ring_element(int type,
                                const std::vector<std::pair<std::string, std::string>>& corners) {
    std::string text = "<LSG A=\"" + std::to_string(type) + "\">";
    for (const auto& [north, east] : corners) {
        text += "<PNT A=\"2\" C=\"" + north + "\" D=\"" + east + "\"/>";
    }
    return text + "</LSG>";
}

inline std::string triangle_element(int type = 1) {
    return ring_element(type, {{"53.1", "8.2"}, {"53.1", "8.3"}, {"53.2", "8.2"}});
}

/// Numbers as little-endian bytes, one after another.
class RecordBytes {
 public:
    RecordBytes& number(std::size_t bytes, std::int64_t value) {
        for (std::size_t k = 0; k < bytes; ++k) {
            text_ += static_cast<char>((static_cast<std::uint64_t>(value) >> (8 * k)) & 0xffU);
        }
        return *this;
    }
    /// Milliseconds since midnight and days since 1 January 1980.
    RecordBytes& time(std::int64_t ms, int days) { return number(4, ms).number(2, days); }
    RecordBytes& degrees(double value) {
        return number(4, static_cast<std::int64_t>(value * 1e7 + (value < 0.0 ? -0.5 : 0.5)));
    }
    /// Values by their index.
    RecordBytes& values(const std::vector<std::pair<int, std::int64_t>>& of) {
        number(1, static_cast<std::int64_t>(of.size()));
        for (const auto& [index, steps] : of) {
            number(1, index).number(4, steps);
        }
        return *this;
    }
    [[nodiscard]] const std::string& text() const { return text_; }

 private:
    std::string text_;
};

/// A task with one log, of this header (what stands in TIM) and these records.
inline std::vector<NamedFile> task_with_log(const std::string& header, const std::string& records,
                                            const std::string& log_attributes = "") {
    return {task_data_with("<TSK A=\"TSK1\" B=\"Lifting\" G=\"4\"><TLG A=\"TLG00001\" C=\"1\"" +
                           log_attributes + "/></TSK>"),
            {"TASKDATA/TLG00001.XML", "<TIM A=\"\" D=\"4\">" + header + "</TIM>"},
            {"TASKDATA/TLG00001.BIN", records}};
}

}  // namespace beetwright::maps
