// Text as it may stand in XML, and documents written out.
#pragma once

#include <string>
#include <string_view>

namespace pugi {
class xml_document;
class xml_node;
}  // namespace pugi

namespace beetwright::maps {

/// The same without what XML 1.0 lets in nowhere: control characters become blanks, bytes that are
/// no UTF-8 question marks. Marks such as < are the writer's to write.
std::string xml_text(std::string_view text);

/// Degrees with eight decimals: a millimetre on the ground.
std::string xml_degrees(double degrees);

/// Begins a document of UTF-8 with its outermost element, which is given back.
pugi::xml_node begin_xml(pugi::xml_document& document, const char* root, const char* name_space);
/// An element that holds any text at all.
void append_text(pugi::xml_node to, const char* name, const std::string& text);

/// With its first line, in UTF-8, two blanks deeper with each level.
std::string written(const pugi::xml_document& document);

}  // namespace beetwright::maps
