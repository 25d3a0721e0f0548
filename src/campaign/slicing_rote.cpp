#include "campaign/slicing_rote.hpp"

#include <tuple>

#include "campaign/piles_left.hpp"

namespace beetwright::campaign {

Sequence order_by_rote(const SlicingWork& work, const Rank& rank) {
    Sequence order;
    PilesLeft left(work);
    std::size_t loader = work.loader_at();
    double at_kg = 0.0;
    while (order.size() < work.parts().size()) {
        using Place = std::tuple<bool, double, bool, PartIndex>;
        Place first{true, 0.0, true, static_cast<PartIndex>(work.parts().size())};
        bool is_any = false;
        left.for_each_open(work, [&](PartIndex part) {
            const WorkPart& p = work.parts()[part];
            const bool is_too_soon = at_kg < p.not_before_kg - work.slack_kg();
            const Place place{is_too_soon, rank(part, at_kg), p.pile != loader, part};
            if (!is_any || place < first) {
                first = place;
                is_any = true;
            }
        });
        const PartIndex part = std::get<PartIndex>(first);
        left.take(work, part);
        order.push_back(part);
        loader = work.parts()[part].pile;
        at_kg += work.parts()[part].mass_kg;
    }
    return order;
}

}  // namespace beetwright::campaign
