#include "io/pile_probes_json.hpp"

#include "io/estimate_json.hpp"
#include "io/pile_words.hpp"

namespace beetwright::io {
namespace {

Json place_json(const engine::PlaceInPile& place) {
    return {{"along_m", place.along.si()},
            {"across_m", place.across.si()},
            {"height_m", place.height.si()}};
}

Json probe_json(const engine::ProbeAnswer& probe) {
    Json json = place_json(probe.place);
    json["probe"] = probe.probe;
    json["kind"] = std::string(probe_kind_key(probe.kind));
    json["part"] = probe.part ? Json(*probe.part) : Json(nullptr);
    json["readings"] = probe.readings;
    json["at"] = to_text(probe.at);
    json["celsius"] = probe.celsius;
    json["before_C"] = probe.before ? interval_json(*probe.before) : Json(nullptr);
    json["after_C"] = probe.after ? interval_json(*probe.after) : Json(nullptr);
    json["trusted"] = probe.is_trusted();
    json["fault"] = std::string(probe_fault_key(probe.fault));
    json["why"] = probe.why;
    return json;
}

Json level_json(const engine::LearnedLevel& level) {
    return {{"before", interval_json(level.before)}, {"after", interval_json(level.after)}};
}

}  // namespace

void add_probes_json(const engine::PileAnswer& answer, Json& json) {
    Json probes = Json::array();
    for (const auto& probe : answer.learned.probes) {
        probes.push_back(probe_json(probe));
    }
    json["probes"] = probes;
    const auto& learned = answer.learned;
    json["learned"] = learned.breathing && learned.resistance
                          ? Json{{"breathing_g_t_d", level_json(*learned.breathing)},
                                 {"resistance", level_json(*learned.resistance)},
                                 {"words", learned_words(learned)}}
                          : Json(nullptr);
    Json next = Json::array();
    for (const auto& probe : answer.next_probes) {
        Json one = place_json(probe.place);
        one["part"] = probe.part;
        one["low_C"] = probe.celsius_low;
        one["high_C"] = probe.celsius_high;
        one["sugar_before_t"] = probe.half_width_before_kg / 1000.0;
        one["sugar_after_t"] = probe.half_width_after_kg / 1000.0;
        next.push_back(one);
    }
    json["next_probes"] = next;
}

}  // namespace beetwright::io
