#include "maps/xml_tree.hpp"

#include <algorithm>
#include <pugixml.hpp>

#include "base/contract.hpp"
#include "io/encoding.hpp"

namespace beetwright::maps {

struct XmlTree::Held {
    pugi::xml_document document;
};

XmlTree::XmlTree(std::unique_ptr<Held> held, XmlElement root)
    : held_(std::move(held)), root_(std::move(root)) {}
XmlTree::~XmlTree() = default;
XmlTree::XmlTree(XmlTree&&) noexcept = default;
XmlTree& XmlTree::operator=(XmlTree&&) noexcept = default;

std::optional<std::string_view> XmlElement::attribute(std::string_view wanted) const {
    const auto found = std::ranges::find(attributes, wanted, &XmlAttribute::name);
    return found == attributes.end() ? std::nullopt : std::optional(found->value);
}

namespace {

Problem problem(ProblemKind kind, const std::string& file, int line, std::string what,
                std::string fix) {
    return {kind, {.file = file, .line = line, .field = ""}, std::move(what), std::move(fix)};
}

/// Which line a place is on, for places that come in their order.
class Lines {
 public:
    explicit Lines(std::string_view text) : text_(text) {}
    int of(std::ptrdiff_t place) {
        const auto to =
            std::min(static_cast<std::size_t>(std::max<std::ptrdiff_t>(place, 0)), text_.size());
        for (; at_ < to; ++at_) {
            line_ += text_[at_] == '\n' ? 1 : 0;
        }
        return line_;
    }

 private:
    std::string_view text_;
    std::size_t at_ = 0;
    int line_ = 1;
};

/// Copies a document's elements, and says what is wrong with them.
class TreeMaker {
 public:
    TreeMaker(std::string_view text, const std::string& file, int deepest)
        : lines_(text), file_(file), deepest_(deepest) {}

    std::optional<Problem> copy(const pugi::xml_node& from, XmlElement& to, int depth) {
        to.name = from.name();
        to.line = lines_.of(from.offset_debug());
        if (depth > deepest_) {
            return problem(
                ProblemKind::limit, file_, to.line,
                "elements stand in each other more than " + std::to_string(deepest_) + " deep",
                "no file of this kind does; write it anew");
        }
        for (const auto& attribute : from.attributes()) {
            to.attributes.push_back({attribute.name(), attribute.value()});
            if (!io::is_utf8(attribute.value()) || !io::is_utf8(attribute.name())) {
                return problem(ProblemKind::input, file_, to.line,
                               "a character is named that does not exist",
                               "take out what begins with &# and is no character");
            }
        }
        for (const auto& child : from.children()) {
            if (child.type() == pugi::node_element) {
                if (auto wrong = copy(child, to.children.emplace_back(), depth + 1)) {
                    return wrong;
                }
            }
        }
        return std::nullopt;
    }

 private:
    Lines lines_;
    const std::string& file_;
    int deepest_;
};

/// Says that a document would need more room than there is, before it is parsed; else takes the
/// room.
std::optional<Problem> take_room(std::string_view text, const std::string& file, XmlRoom& room) {
    std::size_t elements = 0;
    for (std::size_t at = 0; at + 1 < text.size(); ++at) {
        elements += text[at] == '<' && text[at + 1] != '/' ? 1U : 0U;
    }
    const auto attributes = static_cast<std::size_t>(std::ranges::count(text, '='));
    if (text.size() > room.bytes || elements > room.elements || attributes > room.attributes) {
        return problem(ProblemKind::limit, file, 0,
                       "the file is too large: " + std::to_string(text.size()) + " bytes, " +
                           std::to_string(elements) + " elements and " +
                           std::to_string(attributes) + " attributes, where there is room for " +
                           std::to_string(room.bytes) + ", " + std::to_string(room.elements) +
                           " and " + std::to_string(room.attributes),
                       "write files of fewer fields, tasks or days");
    }
    room.bytes -= text.size();
    room.elements -= elements;
    room.attributes -= attributes;
    return std::nullopt;
}

}  // namespace

Result<XmlTree> read_xml(std::string_view bytes, const std::string& file, XmlRoom& room) {
    std::string decoded;
    const auto text = io::as_utf8(bytes, decoded, file);
    if (!text) {
        return text.problems();
    }
    if (auto wrong = take_room(*text, file, room)) {
        return *wrong;
    }
    auto held = std::make_unique<XmlTree::Held>();
    const auto parsed = held->document.load_buffer(
        text->data(), text->size(), pugi::parse_default | pugi::parse_doctype, pugi::encoding_utf8);
    if (!parsed) {
        return problem(ProblemKind::input, file, Lines(*text).of(parsed.offset),
                       std::string("this is no whole XML: ") + parsed.description(),
                       "copy the file again; it may have been cut off");
    }
    pugi::xml_node root;
    for (const auto& child : held->document.children()) {
        if (child.type() == pugi::node_doctype) {
            return problem(ProblemKind::input, file, 0,
                           "the file brings a document type of its own (DOCTYPE)",
                           "leave the line that begins with <!DOCTYPE out");
        }
        if (child.type() == pugi::node_element) {
            if (root) {
                return problem(ProblemKind::input, file, 0, "the file has two outermost elements",
                               "put them in files of their own");
            }
            root = child;
        }
    }
    require(!root.empty(), "what was parsed has an element");
    XmlElement element;
    if (auto wrong = TreeMaker(*text, file, room.depth).copy(root, element, 1)) {
        return *wrong;
    }
    return XmlTree(std::move(held), std::move(element));
}

}  // namespace beetwright::maps
