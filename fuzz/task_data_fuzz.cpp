// Any bytes as TASKDATA.XML, with a few files beside it: the reader must end, and what it accepts
// is whole and on earth.
#include <algorithm>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/iso11783_read.hpp"
#include "what_is_read.hpp"

using namespace beetwright;

namespace {

void look_at_task(const maps::FieldTask& task) {
    for (const auto& zone : task.zones) {
        require(zone.code >= 0 && zone.code <= 254, "a zone has a code");
        look_at(zone.area);
    }
    for (const auto& grid : task.grids) {
        const auto cells = std::size_t{grid.columns} * grid.rows;
        require(grid.zone_codes.size() + grid.steps.size() ==
                    cells * std::max<std::size_t>(1, grid.identifiers.size()),
                "a grid is whole");
    }
    for (const auto& log : task.logs) {
        look_at(log);
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    const std::vector<maps::NamedFile> files{
        {"TASKDATA.XML", bytes},
        {"PFD00001.XML", "<XFC><PFD A=\"PFD9\" C=\"Beyond\" D=\"0\"/></XFC>"},
        {"GRD00001.BIN", std::string(24, '\1')},
        {"TLG00001.XML", "<TIM A=\"\" D=\"4\"><PTN A=\"\" B=\"\" D=\"\"/></TIM>"},
        {"TLG00001.BIN", std::string("\1\0\0\0\1\0\0\1\0\0\0\1\0\0\1\0", 16)},
    };
    const auto reading = maps::read_task_data(files);
    if (!is_read(reading)) {
        return 0;
    }
    for (const auto& field : reading->partfields) {
        require(!field.area.empty(), "a partfield that is told has a boundary");
        look_at(field.area);
    }
    for (const auto& task : reading->tasks) {
        look_at_task(task);
    }
    return 0;
}
