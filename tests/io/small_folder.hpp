// A small season folder, and what reading it must give.
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "io/season_folder.hpp"

namespace beetwright::io {

inline constexpr const char* kSeason =
    R"({"beetwright_season": 1, "name": "Trial", "currency": "EUR", "units": "metric", "first_day": "2031-09-15"})";

/// The smallest folder that is in order.
inline FileTexts small_folder() {
    return {{"season.json", kSeason},
            {"fields.csv", "name,area [ha]\nLong Acre,12.5\nMill Field,8\n"}};
}

inline ledger::Season must_read(const FileTexts& files) {
    auto season = read_season(files);
    if (!season) {
        for (const auto& problem : season.problems()) {
            ADD_FAILURE() << problem.text();
        }
        return {};
    }
    return std::move(*season);
}

/// That reading fails with a problem in this file, line and field, whose text holds these words.
inline void expect_problem(const FileTexts& files, const std::string& file, int line,
                           const std::string& field, const std::string& words) {
    const auto season = read_season(files);
    ASSERT_FALSE(season.ok()) << "was read, and should not have been";
    std::string all;
    for (const auto& problem : season.problems()) {
        const bool placed = problem.where.file == file && problem.where.line == line &&
                            problem.where.field == field;
        if (placed && problem.text().find(words) != std::string::npos) {
            EXPECT_FALSE(problem.fix.empty()) << "says no way out: " << problem.text();
            return;
        }
        all += problem.text() + '\n';
    }
    ADD_FAILURE() << "no problem at " << file << ':' << line << ' ' << field << " with '" << words
                  << "'; there were:\n"
                  << all;
}

}  // namespace beetwright::io
