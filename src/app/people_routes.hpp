// Routes by which people join, sign in and out, and see to each other. docs/formats/api.md.
#pragma once

#include <string>
#include <string_view>

#include "app/access.hpp"
#include "app/people.hpp"

namespace beetwright::app {

/// `access` and `people` outlive the routes.
void add_people_routes(Access& access, People& people);
/// Who asks: all that there is to know where there are no accounts.
void add_me_route(Access& access);

/// A request's target as a log may keep it: what could be a token is left out.
std::string without_tokens(std::string_view target);

}  // namespace beetwright::app
