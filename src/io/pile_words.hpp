// Words of a pile's answers that programs and people meet alike.
#pragma once

#include <string>
#include <string_view>

#include "engine/pile_question.hpp"

namespace beetwright::io {

/// "nothing", "rot", "thaw"
constexpr std::string_view due_for_key(engine::DueFor why) {
    switch (why) {
        case engine::DueFor::nothing: return "nothing";
        case engine::DueFor::rot: return "rot";
        case engine::DueFor::thaw: return "thaw";
    }
    return "";
}

/// "lance", "logger", "surface"
constexpr std::string_view probe_kind_key(check::ProbeKind kind) {
    switch (kind) {
        case check::ProbeKind::lance: return "lance";
        case check::ProbeKind::logger: return "logger";
        case check::ProbeKind::surface: return "surface";
    }
    return "";
}

/// "none", "nowhere", "stuck", "jumping", "fahrenheit", "celsius", "unreconciled"
constexpr std::string_view probe_fault_key(engine::ProbeFault fault) {
    switch (fault) {
        case engine::ProbeFault::none: return "none";
        case engine::ProbeFault::nowhere: return "nowhere";
        case engine::ProbeFault::stuck: return "stuck";
        case engine::ProbeFault::jumping: return "jumping";
        case engine::ProbeFault::fahrenheit: return "fahrenheit";
        case engine::ProbeFault::celsius: return "celsius";
        case engine::ProbeFault::unreconciled: return "unreconciled";
    }
    return "";
}

/// How far readings moved breathing and resistance to air, in a sentence; nothing where they did
/// not.
std::string learned_words(const engine::PileLearned& learned);

}  // namespace beetwright::io
