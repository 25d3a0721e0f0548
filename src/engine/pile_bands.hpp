// What a pile's courses say, put together over its members.
#pragma once

#include "engine/pile_question.hpp"

namespace beetwright::engine {

/// Mean and 90 % interval of these.
Estimate<double> summary_of(std::vector<double> values);
Estimate<Money> money_of(std::vector<double> values);

PartAnswer part_answer(const PileStudy& study, const Courses& courses, std::size_t part);
/// Of the whole pile, by mass of what lies there on that day.
std::vector<PileBandDay> whole_bands(const PileStudy& study, const Courses& courses);
PilePicture picture_of(const PileStudy& study, const Courses& courses, std::size_t part,
                       std::span<const Day> days);

}  // namespace beetwright::engine
