// XML as a tree of elements and their attributes, with limits; what stands between elements is
// passed over. No entity but XML's own five is known, so none can grow.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace beetwright::maps {

struct XmlAttribute {
    std::string_view name;
    std::string_view value;
};

struct XmlElement {
    std::string_view name;
    int line = 0;  ///< on which it begins, from 1
    std::vector<XmlAttribute> attributes;
    std::vector<XmlElement> children;

    /// The attribute's value; empty where it is empty, nothing where it is not there.
    [[nodiscard]] std::optional<std::string_view> attribute(std::string_view wanted) const;
};

/// The most that is taken of one document, or of several that belong together.
struct XmlRoom {
    std::size_t bytes = std::size_t{16} << 20;
    std::size_t elements = 300'000;
    std::size_t attributes = 1'500'000;
    int depth = 32;
};

/// The root of a document with all under it; the texts live as long as the tree.
class XmlTree {
 public:
    struct Held;  ///< the parsed document
    XmlTree(std::unique_ptr<Held> held, XmlElement root);
    ~XmlTree();
    XmlTree(XmlTree&&) noexcept;
    XmlTree& operator=(XmlTree&&) noexcept;

    [[nodiscard]] const XmlElement& root() const { return root_; }

 private:
    std::unique_ptr<Held> held_;
    XmlElement root_;
};

/// Takes off the room what the document needs of it. Problems name `file`, and the line where it is
/// known.
Result<XmlTree> read_xml(std::string_view bytes, const std::string& file, XmlRoom& room);

}  // namespace beetwright::maps
