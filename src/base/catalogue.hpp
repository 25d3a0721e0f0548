// The catalogue of constants: every number the models borrow, once, with its unit, its spread,
// where it comes from and how it is known.
//
// The rows live in data/catalogue/*.csv, where people read and correct them; the build compiles
// them in (tools/catalogue_to_cpp.cpp) and makes an enumerator of each id: `tip.exponent` is
// ConstantId::tip_exponent. A season may put its own number in a row's place.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "catalogue_ids.inc"  // enum class ConstantId; generated

namespace beetwright {

/// The shape of a constant's uncertainty. `low` and `high` are its 5 % and 95 % points.
enum class Spread {
    fixed,      ///< a definition or a convention: no uncertainty
    normal,     ///< value is the mean; low and high lie evenly about it
    lognormal,  ///< value is the median; low, value, high in equal ratio
    uniform,    ///< even between ends a little beyond low and high (5 % of the mass outside each)
};

enum class HowKnown { measured, derived, common_practice, from_memory, assumed };

std::string_view words(HowKnown how);
std::string_view words(Spread spread);

struct ConstantRow {
    std::string_view id;
    double value;  ///< in `unit`, as are low and high
    std::string_view unit;
    double low;
    double high;
    Spread spread;
    HowKnown how;
    std::string_view source;
    std::string_view words;  ///< what it is, in a sentence
};

/// The rows as compiled in, in the order of ConstantId.
std::span<const ConstantRow> catalogue_rows();
std::optional<ConstantId> find_constant(std::string_view id);

/// One season's constants: the compiled-in rows, with the season's own numbers in their places.
class Catalogue {
 public:
    Catalogue();

    /// Puts a user's own number in a row's place; all in the row's unit. low <= value <= high.
    Result<Done> replace(std::string_view id, double value, double low, double high);

    /// The central value, SI.
    [[nodiscard]] double value(ConstantId id) const { return at_score(id, 0.0); }
    /// The value, SI, whose chance of not being exceeded is that of a standard normal score z:
    /// at_score(id, -1.645) is low, at_score(id, +1.645) is high.
    [[nodiscard]] double at_score(ConstantId id, double z) const;
    [[nodiscard]] bool is_replaced(ConstantId id) const;
    [[nodiscard]] double value_in_unit(ConstantId id) const;
    [[nodiscard]] double low_in_unit(ConstantId id) const;
    [[nodiscard]] double high_in_unit(ConstantId id) const;

 private:
    struct Numbers {
        double value, low, high;
        bool replaced;
    };
    std::vector<Numbers> numbers_;
};

}  // namespace beetwright
