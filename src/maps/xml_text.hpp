// Text as it may stand in XML, and documents written out.
#pragma once

#include <string>
#include <string_view>

namespace pugi {
class xml_document;
}

namespace beetwright::maps {

/// The same without what XML 1.0 lets in nowhere: control characters become blanks, bytes that are
/// no UTF-8 question marks. Marks such as < are the writer's to write.
std::string xml_text(std::string_view text);

/// Degrees with eight decimals: a millimetre on the ground.
std::string xml_degrees(double degrees);

/// With its first line, in UTF-8, two blanks deeper with each level.
std::string written(const pugi::xml_document& document);

}  // namespace beetwright::maps
