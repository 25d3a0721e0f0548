// How people see the truth: samples of a field's truth with all their noise, rounded to what the
// instruments read.
#pragma once

#include "check/sheet.hpp"
#include "demo_season/look.hpp"
#include "demo_season/reading.hpp"

namespace beetwright::demo {

/// The `number`-th (from 0) observation of each kind in a field.
check::BeetSheet observed_sheet(const Look& look, int number);
check::DugStrip observed_strip(const Look& look, int number);
check::TareSample observed_tare(const Look& look, int number);
check::LabSample observed_lab(const Look& look, int number);

/// The sheet as it was first entered, with two topping classes mixed up, and the corrected one that
/// supersedes it, entered the same evening.
struct Correction {
    check::BeetSheet wrong;
    check::BeetSheet right;
};
Correction corrected(const Look& look, const check::BeetSheet& sheet);

}  // namespace beetwright::demo
