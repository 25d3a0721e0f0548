// The readers behind weather_file.hpp, one for each kind of file.
#pragma once

#include "io/problem_list.hpp"
#include "io/weather_file.hpp"

namespace beetwright::io {

/// What a reader finds, before it is made a series.
struct WeatherRows {
    std::vector<weather::Record> records;
    weather::SourceFacts facts;
    bool is_typical_year = false;
};

void read_epw(std::string_view bytes, WeatherRows& rows, ProblemList& problems);
void read_tmy3(std::string_view bytes, WeatherRows& rows, ProblemList& problems);
void read_weather_table(std::string_view bytes, const WeatherFacts& given, WeatherRows& rows,
                        ProblemList& problems);

}  // namespace beetwright::io
