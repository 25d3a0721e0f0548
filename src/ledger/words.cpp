#include <array>

#include "ledger/ledger.hpp"

namespace beetwright::ledger {
namespace {

struct LineText {
    std::string_view key;
    std::string_view words;
};

constexpr std::array<LineText, kLineCount> kTexts{{
    {"standing_crop", "standing crop"},
    {"over_topping", "crown cut away too deep"},
    {"tails", "tails broken and left"},
    {"whole_roots", "whole roots left or thrown out"},
    {"pieces", "broken pieces left"},
    {"storage_breathing", "breathed away in storage"},
    {"storage_tail_wounds", "in storage: wounds of broken tails"},
    {"storage_crown_wounds", "in storage: topping wounds"},
    {"storage_skin_wounds", "in storage: torn skin"},
    {"storage_leaf_and_soil", "in storage: leaf and soil"},
    {"storage_rot_and_frost", "in storage: rot and frost"},
    {"molasses", "held back in molasses"},
    {"crown_and_leaf", "more molasses from crown and leaf"},
    {"factory_loss", "lost in processing"},
    {"recovered", "sugar recovered"},
    {"soil_and_tops", "deductions for soil and tops"},
    {"haul", "haul"},
    {"date_terms", "early or late delivery"},
    {"paid", "money paid"},
}};

}  // namespace

std::string_view words(Line line) {
    return kTexts[static_cast<std::size_t>(line)].words;
}

std::string_view key(Line line) {
    return kTexts[static_cast<std::size_t>(line)].key;
}

}  // namespace beetwright::ledger
