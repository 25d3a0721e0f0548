// One series after another: what a station has measured since its last file.
#pragma once

#include "base/result.hpp"
#include "weather/series.hpp"

namespace beetwright::weather {

/// `before` with the hours of `after` that it does not have. Between them up to kLongestFilled_h
/// hours are filled and marked. Problems: they overlap and differ there; the gap between is longer;
/// they are of places that differ; one measures what the other does not. The first one's clock
/// stays. Temperatures are
/// alike within 0.05 K, all else within a hundredth of itself.
Result<Series> joined(const Series& before, const Series& after);

}  // namespace beetwright::weather
