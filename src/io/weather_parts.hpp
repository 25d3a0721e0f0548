// The readers behind weather_file.hpp, one for each kind of file.
#pragma once

#include <span>

#include "io/problem_list.hpp"
#include "io/table.hpp"
#include "io/weather_file.hpp"

namespace beetwright::io {

/// What a reader finds, before it is made a series.
struct WeatherRows {
    std::vector<weather::Record> records;
    /// The run of a forecast that each record is of; empty where there are no runs.
    std::vector<int> runs;
    /// The records that were filled in when the file was written.
    std::vector<bool> was_filled;
    weather::SourceFacts facts;
    bool is_typical_year = false;
};

void read_epw(std::string_view bytes, WeatherRows& rows, ProblemList& problems);
void read_tmy3(std::string_view bytes, WeatherRows& rows, ProblemList& problems);
void read_weather_table(std::string_view bytes, const WeatherFacts& given, WeatherRows& rows,
                        ProblemList& problems);

/// The columns of a plain table that hold what is measured, in the order of weather::Element. Rain
/// is told in metres, as every length in a table; a series has it in millimetres.
std::span<const Column> weather_element_columns();

}  // namespace beetwright::io
