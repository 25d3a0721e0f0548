// Any bytes as the records of a time log, under one of a few headers, which the first byte chooses.
#include <array>
#include <cmath>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/iso11783_read.hpp"

using namespace beetwright;

namespace {

constexpr std::array<std::string_view, 4> kHeaders{
    "<PTN A=\"\" B=\"\" D=\"\"/>",
    "<PTN A=\"\" B=\"\" C=\"\" D=\"\" E=\"\" F=\"\" G=\"\" H=\"\" I=\"\"/>"
    "<DLV A=\"018D\"/><DLV A=\"0054\"/><DLV A=\"008D\"/><DLV A=\"DFFE\"/>",
    "<PTN A=\"53.1\" B=\"\" C=\"120\" F=\"\"/><DLV A=\"008D\"/><DLV A=\"008D\"/>",
    "<DLV A=\"0074\"/>",
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) {
        return 0;
    }
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const std::vector<maps::NamedFile> files{
        {"TASKDATA.XML",
         "<ISO11783_TaskData><TSK A=\"TSK1\" G=\"4\"><TLG A=\"TLG00001\" C=\"1\"/></TSK>"
         "</ISO11783_TaskData>"},
        {"TLG00001.XML",
         "<TIM A=\"\" D=\"4\">" + std::string(kHeaders[data[0] % kHeaders.size()]) + "</TIM>"},
        {"TLG00001.BIN", std::string(bytes.substr(1))},
    };
    const auto reading = maps::read_task_data(files);
    if (!reading) {
        require(reading.problems().size() == 1 && !reading.problems().front().what.empty(),
                "the first thing wrong is said, for what follows cannot be told");
        return 0;
    }
    for (const auto& log : reading->tasks.at(0).logs) {
        for (const auto& fix : log.fixes) {
            require(ground::is_on_earth(fix.position), "a fix is on earth");
            require(!(fix.speed_m_s < 0.0) && !(fix.yield_kg_m2 < 0.0), "what is less is not said");
            require(fix.satellites >= -1 && fix.satellites <= 254, "satellites are counted");
        }
    }
    return 0;
}
