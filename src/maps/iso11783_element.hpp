// The attributes of task data's elements, each read with what is wrong said by file, line, element
// and attribute. Only readers of task data use this.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "ground/area.hpp"
#include "io/problem_list.hpp"
#include "maps/xml_tree.hpp"

namespace beetwright::maps {

/// What a polygon is for, as PLN says it.
enum class PolygonType : std::uint8_t { boundary = 1, treatment_zone = 2 };

class ElementReader {
 public:
    ElementReader(std::string file, io::ProblemList& problems)
        : file_(std::move(file)), problems_(problems) {}

    [[nodiscard]] const std::string& file() const { return file_; }

    void wrong(const XmlElement& element, std::string_view attribute, std::string what,
               std::string fix);

    /// A text that must be there; empty where it is not, which is then a problem.
    std::string_view required(const XmlElement& element, std::string_view attribute);
    /// A text that may be left out.
    [[nodiscard]] static std::string text(const XmlElement& element, std::string_view attribute) {
        return std::string(element.attribute(attribute).value_or(""));
    }
    std::optional<double> decimal(const XmlElement& element, std::string_view attribute,
                                  double least, double most);
    std::optional<std::int64_t> whole(const XmlElement& element, std::string_view attribute,
                                      std::int64_t least, std::int64_t most);
    /// Nothing, and no problem, where it is left out or empty.
    std::optional<std::int64_t> whole_if_said(const XmlElement& element, std::string_view attribute,
                                              std::int64_t least, std::int64_t most);
    /// A data identifier, four hexadecimal digits.
    std::optional<std::uint16_t> identifier(const XmlElement& element, std::string_view attribute);
    /// The name of a file without its ending: three letters and five digits.
    std::optional<std::string> file_name(const XmlElement& element, std::string_view attribute,
                                         std::string_view letters);

    /// All polygons of this type that stand in the element; `others` counts those of other types.
    ground::Area area(const XmlElement& element, PolygonType type, int& others);

 private:
    void add_polygon(const XmlElement& polygon, ground::Area& area);
    ground::Ring ring(const XmlElement& line);

    std::string file_;
    io::ProblemList& problems_;
};

}  // namespace beetwright::maps
