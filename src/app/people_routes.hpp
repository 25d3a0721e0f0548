// Routes by which people join, sign in and out, and see to each other. docs/formats/api.md.
#pragma once

#include "app/access.hpp"
#include "app/people.hpp"

namespace beetwright::app {

/// `access` and `people` outlive the routes.
void add_people_routes(Access& access, People& people);
/// Who asks: all that there is to know where there are no accounts.
void add_me_route(Access& access);

}  // namespace beetwright::app
