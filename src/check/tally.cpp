#include "check/tally.hpp"

namespace beetwright::check {

SpotSum total(std::span<const SpotSum> spots) {
    SpotSum all;
    for (const SpotSum& spot : spots) {
        all.n += spot.n;
        all.sum += spot.sum;
        all.sum_squares += spot.sum_squares;
        all.positive += spot.positive;
    }
    return all;
}

}  // namespace beetwright::check
