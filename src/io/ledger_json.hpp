// The ledger for programs: JSON with the unit in every name, always metric.
// docs/formats/ledger_json.md.
#pragma once

#include <string>

#include "engine/ledger_question.hpp"
#include "engine/report_question.hpp"

namespace beetwright::io {

inline constexpr int kLedgerJsonVersion = 1;

/// The whole answer: season, fields, groups, assumptions.
std::string ledger_json(const engine::LedgerAnswer& answer, const std::string& currency);

/// The counts that would settle most money, the dearest first.
std::string next_counts_json(const std::vector<engine::NextCount>& counts,
                             const std::string& currency);

}  // namespace beetwright::io
