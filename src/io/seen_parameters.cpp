#include "io/seen_parameters.hpp"

#include <algorithm>

#include "io/season_tables.hpp"

namespace beetwright::io {

std::optional<check::StandingLook> seen_in(Parameters& parameters) {
    check::StandingLook look;
    const auto column = [](std::size_t place) -> const Column& {
        return standing::table.columns[place];
    };
    look.soil_in_hand =
        static_cast<check::SoilInHand>(parameters.word(column(standing::soil_in_hand)));
    look.crown_height = Length(parameters.amount(column(standing::crown_height)));
    look.evenness = static_cast<check::Evenness>(parameters.word(column(standing::evenness)));
    look.root_mass = CleanMass(parameters.amount(column(standing::root_mass)));
    look.leaf_sick = parameters.amount(column(standing::leaf_sick));
    look.leaf_frozen = static_cast<check::Seen>(parameters.word(column(standing::leaf_frozen)));
    const bool is_said = std::ranges::any_of(kSeenParameters, [&](const ParameterInfo& one) {
        return !parameters.text(std::string(one.name)).empty();
    });
    return is_said ? std::optional(std::move(look)) : std::nullopt;
}

}  // namespace beetwright::io
