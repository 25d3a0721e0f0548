// What all readers of areas hand their rings to: they are put in order and looked through, and
// come back as all areas of a file or everything that is wrong with them.
#pragma once

#include <cstddef>
#include <map>
#include <string>

#include "io/problem_list.hpp"
#include "maps/map_reading.hpp"
#include "maps/validity.hpp"

namespace beetwright::maps {

/// Puts the rings of a file's areas in order, and looks each through.
class AreaOrder {
 public:
    explicit AreaOrder(NumberOrder order) : order_(order) {}

    /// Whether the area is in order; its rings then run as they should, each corner once. What is
    /// wrong with it goes to the problems, at `where`.
    bool put(ground::Area& area, const Where& where, io::ProblemList& problems,
             double least_m2 = kLeastField_m2);
    /// Rings turned round so far.
    [[nodiscard]] std::size_t turned() const { return turned_; }

 private:
    NumberOrder order_;
    std::size_t turned_ = 0;
    std::size_t corners_ = 0;
};

class AreaIntake {
 public:
    AreaIntake(std::string file, NumberOrder order) : file_(std::move(file)), order_(order) {}

    /// An area with its rings as they stand in the file: closed or not, either way round. `where`
    /// needs no file.
    void take(NamedArea area, Where where);
    /// What is no area, as the file calls it: counted, and told as a note.
    void pass_over(const std::string& kind) { ++passed_over_[kind]; }
    void note(std::string words) { notes_.push_back(std::move(words)); }

    [[nodiscard]] const std::string& file() const { return file_; }
    [[nodiscard]] io::ProblemList& problems() { return problems_; }
    /// All areas; or the problems, of which that there is no area is one.
    Result<AreasReading> finish() &&;

 private:
    std::string file_;
    AreaOrder order_;
    io::ProblemList problems_;
    std::vector<NamedArea> areas_;
    std::vector<std::string> notes_;
    std::map<std::string, std::size_t> passed_over_;
};

/// The name among what a file says of an area, by the members that programs write it to; empty
/// where none of them is there.
std::string name_among(const std::map<std::string, std::string, std::less<>>& said);

}  // namespace beetwright::maps
