// Any files: reading a season folder must end in a Season or in problems that each say a way out;
// and a Season that was read must be written and read back.
//
// The input is cut into files: a line `>>> name` starts each.
#include <cstdint>
#include <string>

#include "base/contract.hpp"
#include "io/season_folder.hpp"

using beetwright::require;
using beetwright::UnitSystem;
using namespace beetwright::io;

namespace {

FileTexts cut(std::string_view bytes) {
    FileTexts files;
    std::string* current = nullptr;
    while (!bytes.empty()) {
        const auto end = bytes.find('\n');
        const auto line = bytes.substr(0, end);
        bytes.remove_prefix(end == std::string_view::npos ? bytes.size() : end + 1);
        if (line.substr(0, 4) == ">>> ") {
            current = &files[std::string(line.substr(4))];
        } else if (current != nullptr) {
            *current += line;
            *current += end == std::string_view::npos ? "" : "\n";
        }
    }
    return files;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto files = cut({reinterpret_cast<const char*>(data), size});
    const auto season = read_season(files);
    if (!season) {
        for (const auto& problem : season.problems()) {
            require(!problem.what.empty() && !problem.fix.empty(), "a problem says a way out");
        }
        return 0;
    }
    const auto again = read_season(write_season(*season, UnitSystem::metric));
    require(again.ok(), "what was read can be written and read");
    require(again->fields.size() == season->fields.size(), "no field is lost");
    require(again->beet_sheets.size() == season->beet_sheets.size(), "no sheet is lost");
    require(again->standing.size() == season->standing.size(), "no look is lost");
    for (std::size_t i = 0; i < season->standing.size(); ++i) {
        require(again->standing[i].crowns.size() == season->standing[i].crowns.size(),
                "no crown is lost");
    }
    require(again->machines.size() == season->machines.size(), "no machine is lost");
    for (std::size_t i = 0; i < season->machines.size(); ++i) {
        const auto& was = season->machines[i].controls;
        const auto& is = again->machines[i].controls;
        require(is.size() == was.size(), "no control is lost");
        for (std::size_t k = 0; k < was.size(); ++k) {
            require(is[k].dial.size() == was[k].dial.size(), "no point of a display is lost");
        }
    }
    require(again->settings.size() == season->settings.size(), "no note is lost");
    for (std::size_t i = 0; i < season->settings.size(); ++i) {
        require(again->settings[i].controls.size() == season->settings[i].controls.size(),
                "nothing that was set is lost");
    }
    require(again->parts.size() == season->parts.size(), "no new part is lost");
    require(again->piles.size() == season->piles.size(), "no pile is lost");
    for (std::size_t i = 0; i < season->piles.size(); ++i) {
        require(again->piles[i].fans.size() == season->piles[i].fans.size(), "no fan is lost");
    }
    require(again->covers.size() == season->covers.size(), "no cover is lost");
    require(again->probes.size() == season->probes.size(), "no reading is lost");
    require(again->removals.size() == season->removals.size(), "no removal is lost");
    return 0;
}
