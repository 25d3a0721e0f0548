#include "ledger/amounts.hpp"

namespace beetwright::ledger {

std::string_view words(Amount amount) {
    switch (amount) {
        case Amount::beet_mass: return "the beet mass";
        case Amount::soil: return "the soil tare";
        case Amount::tops: return "leaf and stalks";
        case Amount::deep_share: return "the count of beets topped too deep";
        case Amount::slanted_share: return "the count of slanted cuts";
        case Amount::long_petioles: return "the count of long leaf stalks";
        case Amount::short_petioles: return "the count of short leaf stalks";
        case Amount::untouched: return "the count of whole crowns";
        case Amount::tail_moment: return "the count of broken tails";
        case Amount::tail_break_area: return "the size of the breaks";
        case Amount::scar_area: return "the size of the topping cuts";
        case Amount::skin_damage: return "the torn skin";
        case Amount::rotten: return "the count of rotten beets";
        case Amount::frosted: return "the count of frost-hurt beets";
        case Amount::whole_roots: return "the whole roots dug";
        case Amount::pieces: return "the pieces dug";
        case Amount::pol: return "the sugar content";
        case Amount::potassium: return "potassium";
        case Amount::sodium: return "sodium";
        case Amount::amino_nitrogen: return "amino nitrogen";
        case Amount::deep_scars: return "the scars of beets topped too deep";
    }
    return "";
}

}  // namespace beetwright::ledger
