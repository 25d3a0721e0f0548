// The harvester that a machine of the season is: ready-made by its build, with what its owner says
// put in.
#pragma once

#include <span>
#include <string_view>

#include "base/result.hpp"
#include "check/machine_log.hpp"
#include "harvester/dial.hpp"
#include "harvester/machine.hpp"
#include "ledger/machine.hpp"

namespace beetwright::ledger {

/// Controls that are not fitted are left out. Where a build numbers its controls, as turbines, the
/// owner may have more of them: what is not said of those is as for the last one of the build.
/// Problems, each with a control's id for its field, or `build` or `rows`: the build is not said;
/// controls that machines of this build have not; all that harvester::problems_of() finds.
Result<harvester::Machine> harvester_of(const Machine& machine);

/// What the numbers of a control's display mean. Problems: the display's step or its points are
/// missing; all that harvester::Dial::make() finds.
Result<harvester::Dial> dial_of(const harvester::Control& control, const OwnControl& own);

/// What is wrong with values that somebody set on a machine, the others being as they were.
Problems problems_of(std::span<const check::SetControl> controls,
                     const harvester::Machine& machine);

}  // namespace beetwright::ledger
