#include "maps/iso11783_settings.hpp"

#include <algorithm>
#include <set>

#include "base/contract.hpp"
#include "maps/ddi.hpp"

namespace beetwright::maps {
namespace {

constexpr std::size_t kMostCharacters = 32;

bool begins_character(char c) {
    return (static_cast<unsigned char>(c) & 0xc0U) != 0x80U;
}

const PlannedControl* find(const PlannedZone& zone, harvester::ControlKind kind) {
    const auto found = std::ranges::find_if(
        zone.settings, [&](const auto& setting) { return setting.control.kind == kind; });
    return found == zone.settings.end() ? nullptr : &*found;
}

/// Whether a control goes out under its identifier.
bool is_identified(const ZonePlan& plan, TaskDataForm form, harvester::ControlKind kind) {
    std::set<int> places;
    for (const auto& zone : plan.zones) {
        for (const auto& setting : zone.settings) {
            if (setting.control.kind == kind) {
                places.insert(setting.control.place);
            }
        }
    }
    const auto sets_it = [&](const PlannedZone& zone) { return find(zone, kind) != nullptr; };
    return places.size() == 1 &&
           (form == TaskDataForm::zones || std::ranges::all_of(plan.zones, sets_it));
}

}  // namespace

std::vector<ZoneSettings> zone_settings(const ZonePlan& plan, TaskDataForm form,
                                        std::vector<std::string>& notes,
                                        io::ProblemList& problems) {
    std::vector<ZoneSettings> all(plan.zones.size());
    std::set<harvester::ControlKind> identified;
    for (const auto& [kind, identifier] : identified_controls()) {
        if (!is_identified(plan, form, kind)) {
            continue;
        }
        identified.insert(kind);
        const auto* of = find_data_identifier(identifier);
        require(of != nullptr, "controls go out under identifiers that are known");
        for (std::size_t z = 0; z < all.size(); ++z) {
            const auto* setting = find(plan.zones[z], kind);
            if (setting == nullptr) {
                continue;
            }
            if (const auto steps = steps_of(*of, setting->value)) {
                all[z].values.push_back({identifier, *steps});
            } else {
                problems.add({.file = "",
                              .line = 0,
                              .field = "zone " + std::to_string(plan.zones[z].number) + ", " +
                                       setting->control.id()},
                             "the value is beyond what a terminal can be sent",
                             "set it within the machine's range");
            }
        }
    }
    std::set<std::string> in_words;
    for (std::size_t z = 0; z < all.size(); ++z) {
        for (const auto& [control, value, shown] : plan.zones[z].settings) {
            if (!identified.contains(control.kind)) {
                all[z].words.push_back(control.text(value) + " " + control.id());
                in_words.insert(control.words());
            }
        }
    }
    for (const auto& words : in_words) {
        notes.push_back("the " + words + " goes out in words, to be set by hand");
    }
    return all;
}

std::size_t characters(std::string_view text) {
    return static_cast<std::size_t>(std::ranges::count_if(text, begins_character));
}

std::string name_of_32(const std::string& text, std::vector<std::string>& notes) {
    std::size_t count = 0;
    for (std::size_t at = 0; at < text.size(); ++at) {
        count += begins_character(text[at]) ? 1U : 0U;
        if (count > kMostCharacters) {
            notes.push_back("'" + text + "' is cut to the 32 characters that the standard allows");
            return text.substr(0, at);
        }
    }
    return text;
}

}  // namespace beetwright::maps
