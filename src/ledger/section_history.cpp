#include "ledger/section_history.hpp"

namespace beetwright::ledger {

pile::Exposure SectionHistory::at(Day day, std::size_t draw, double basal_at_5C) const {
    const Member& member = members[draw % members.size()];
    pile::Exposure exposure = member.after[static_cast<std::size_t>((day - first).count())];
    const double level = basal_at_5C / member.basal_at_5C;
    for (double* const integral :
         {&exposure.breathing, &exposure.healing, &exposure.rotting, &exposure.thawed}) {
        *integral *= level;
    }
    return exposure;
}

}  // namespace beetwright::ledger
