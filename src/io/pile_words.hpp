// Words of a pile's answers that programs and people meet alike.
#pragma once

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

}  // namespace beetwright::io
