#include "maps/xml_text.hpp"

#include <algorithm>
#include <pugixml.hpp>

#include "base/number_text.hpp"
#include "io/encoding.hpp"

namespace beetwright::maps {
namespace {

struct IntoString : pugi::xml_writer {
    std::string text;
    void write(const void* data, std::size_t size) override {
        text.append(static_cast<const char*>(data), size);
    }
};

}  // namespace

std::string xml_text(std::string_view text) {
    std::string clean;
    while (!text.empty()) {
        const auto good = text.substr(0, io::utf8_prefix(text));
        clean += good;
        text.remove_prefix(good.size());
        if (!text.empty()) {
            clean += '?';
            text.remove_prefix(1);
        }
    }
    constexpr char kDelete = '\x7F';
    std::ranges::replace_if(
        clean,
        [](char c) {
            return (static_cast<unsigned char>(c) < ' ' && c != '\n' && c != '\t') || c == kDelete;
        },
        ' ');
    return clean;
}

std::string xml_degrees(double degrees) {
    constexpr int kDecimals = 8;
    return fixed_text(degrees, kDecimals);
}

pugi::xml_node begin_xml(pugi::xml_document& document, const char* root, const char* name_space) {
    auto declaration = document.append_child(pugi::node_declaration);
    declaration.append_attribute("version").set_value("1.0");
    declaration.append_attribute("encoding").set_value("UTF-8");
    auto outermost = document.append_child(root);
    outermost.append_attribute("xmlns").set_value(name_space);
    return outermost;
}

void append_text(pugi::xml_node to, const char* name, const std::string& text) {
    to.append_child(name).text().set(xml_text(text).c_str());
}

std::string written(const pugi::xml_document& document) {
    IntoString into;
    document.save(into, "  ", pugi::format_default, pugi::encoding_utf8);
    return std::move(into.text);
}

}  // namespace beetwright::maps
