// One draw of the catalogue's constants.
#pragma once

#include <string_view>

#include "base/catalogue.hpp"
#include "base/random.hpp"

namespace beetwright::weather {

/// A getter for lifting_constants and its like. Each constant has a stream of its own, so that a
/// new one changes no other's draws.
class ConstantDraw {
 public:
    ConstantDraw(const Catalogue& catalogue, std::uint64_t seed, std::string_view purpose,
                 std::size_t draw)
        : catalogue_(catalogue), seed_(seed), purpose_(purpose), draw_(draw) {}

    double operator()(ConstantId id) const {
        RandomStream random(seed_, purpose_, catalogue_rows()[static_cast<std::size_t>(id)].id);
        constexpr std::size_t kWords = 2;  // in a normal number
        random.seek(kWords * draw_);
        return catalogue_.at_score(id, random.normal());
    }

 private:
    const Catalogue& catalogue_;
    std::uint64_t seed_;
    std::string_view purpose_;
    std::size_t draw_;
};

}  // namespace beetwright::weather
