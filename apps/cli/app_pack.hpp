// The built app, carried inside the program.
#pragma once

#include <string_view>

namespace beetwright::cli {

/// Empty where the program was built without it.
std::string_view app_pack();

}  // namespace beetwright::cli
