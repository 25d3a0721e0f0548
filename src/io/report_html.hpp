// The season's ledger as one self-contained page: no script, no picture, nothing to fetch.
#pragma once

#include <string>

#include "engine/report_question.hpp"
#include "io/people_units.hpp"

namespace beetwright::io {

std::string report_html(const engine::ReportAnswer& report, const PeopleUnits& units);

}  // namespace beetwright::io
