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
    std::vector<std::string> notes;  ///< what was supposed in reading
};

void read_epw(std::string_view bytes, WeatherRows& rows, ProblemList& problems);
void read_tmy3(std::string_view bytes, WeatherRows& rows, ProblemList& problems);
/// Draws the hours from the days.
void read_weather_days(std::string_view bytes, const WeatherFacts& given, WeatherRows& rows,
                       ProblemList& problems);
void read_weather_table(std::string_view bytes, const WeatherFacts& given, WeatherRows& rows,
                        ProblemList& problems);

/// Whether the headings of a plain table, or those given in their place, have a column `day`.
bool is_table_of_days(std::string_view bytes, const WeatherFacts& given);
/// Place and clock of a plain table, as it says or as was given. What is to be read then: the table
/// itself, or, in `replaced`, with the headings that were given.
std::string_view read_weather_head(std::string_view bytes, const WeatherFacts& given,
                                   std::string& replaced, WeatherRows& rows, ProblemList& problems);

/// The columns of a plain table that hold what is measured, in the order of weather::Element. Rain
/// is told in metres, as every length in a table; a series has it in millimetres.
std::span<const Column> weather_element_columns();

/// Rain as a series has it. What was written with up to 15 digits comes back as it was.
double in_millimetres(double metres);

}  // namespace beetwright::io
