#include "io/jpeg.hpp"

#include <algorithm>
#include <optional>

namespace beetwright::io {
namespace {

namespace marker {
constexpr int start_of_frame = 0xC0;
constexpr int huffman_tables = 0xC4;  // among the frames' numbers, as are the next two
constexpr int reserved = 0xC8;
constexpr int arithmetic_conditions = 0xCC;
constexpr int last_frame = 0xCF;
constexpr int first_restart = 0xD0;
constexpr int last_restart = 0xD7;
constexpr int end_of_image = 0xD9;
constexpr int start_of_scan = 0xDA;
constexpr int quantisation_tables = 0xDB;
constexpr int hierarchical = 0xDE;
constexpr int expansion = 0xDF;
constexpr int jfif = 0xE0;
constexpr int exif = 0xE1;
constexpr int adobe = 0xEE;
constexpr int last_application = 0xEF;
constexpr int comment = 0xFE;
}  // namespace marker

constexpr std::string_view kExif("Exif\0\0", 6);
constexpr std::string_view kJfif("JFIF\0", 5);

unsigned byte_at(std::string_view bytes, std::size_t at) {
    return static_cast<unsigned char>(bytes[at]);
}
unsigned big_endian(std::string_view bytes, std::size_t at) {
    return byte_at(bytes, at) << 8U | byte_at(bytes, at + 1);
}

bool is_frame(int kind) {
    return kind >= marker::start_of_frame && kind <= marker::last_frame &&
           kind != marker::huffman_tables && kind != marker::reserved &&
           kind != marker::arithmetic_conditions;
}
/// What belongs to the picture itself, or to how it is coded.
bool is_known(int kind) {
    return (kind >= marker::start_of_frame && kind <= marker::last_frame &&
            kind != marker::reserved) ||
           (kind >= marker::quantisation_tables && kind <= marker::last_application &&
            kind != marker::hierarchical && kind != marker::expansion) ||
           kind == marker::start_of_scan || kind == marker::comment;
}

/// The numbers of a TIFF file, which is what Exif is, in whichever order of bytes it is written.
class Tiff {
 public:
    explicit Tiff(std::string_view bytes) : bytes_(bytes), is_little_(bytes.starts_with("II")) {}

    /// Of `count` bytes; nothing where the file ends before.
    [[nodiscard]] std::optional<std::size_t> number(std::size_t at, std::size_t count) const {
        if (at > bytes_.size() || bytes_.size() - at < count) {
            return std::nullopt;
        }
        std::size_t value = 0;
        for (std::size_t i = 0; i < count; ++i) {
            value = value << 8U | byte_at(bytes_, at + (is_little_ ? count - 1 - i : i));
        }
        return value;
    }

 private:
    std::string_view bytes_;
    bool is_little_;
};

/// How the camera was held, 1 to 8; 1 where that is not said. Of an Exif segment.
int turned_by(std::string_view exif) {
    constexpr std::size_t orientation = 0x0112;
    constexpr std::size_t entry_bytes = 12;
    const Tiff tiff(exif.substr(kExif.size()));
    const auto table = tiff.number(4, 4);
    const auto entries = table ? tiff.number(*table, 2) : std::nullopt;
    for (std::size_t k = 0; entries && k < *entries; ++k) {
        const std::size_t at = *table + 2 + k * entry_bytes;
        const auto tag = tiff.number(at, 2);
        if (!tag) {
            break;
        }
        const auto value = tiff.number(at + 8, 2);
        if (*tag == orientation && value && *value >= 1 && *value <= 8) {
            return static_cast<int>(*value);
        }
    }
    return 1;
}

/// An Exif segment that says how the camera was held and nothing else.
std::string segment_of(int turned) {
    std::string segment("\xFF\xE1\x00\x22", 4);
    segment += kExif;
    // Big-endian, its one table at 8: one entry, the tag, a short, one of it, its value; no more.
    segment += std::string_view(
        "MM\x00\x2A\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00", 19);
    segment += static_cast<char>(turned);
    return segment + std::string(6, '\0');
}

class Reader {
 public:
    Reader(std::string_view bytes, Metadata metadata) : bytes_(bytes), metadata_(metadata) {}

    Result<Jpeg> read() {
        if (!bytes_.starts_with("\xFF\xD8\xFF")) {
            return no_jpeg("this is not a JPEG");
        }
        at_ = 2;
        out_ = bytes_.substr(0, at_);
        while (!is_over_) {
            if (const char* wrong = segment()) {
                return no_jpeg(wrong);
            }
        }
        if (!has_scan_) {
            return no_jpeg("this JPEG has no picture in it");
        }
        if (metadata_ == Metadata::keep) {
            out_ = bytes_;
        } else if (jpeg_.turned != 1) {
            out_.insert(place_of_exif_, segment_of(jpeg_.turned));
        }
        jpeg_.bytes = std::move(out_);
        return std::move(jpeg_);
    }

 private:
    static Problem no_jpeg(const char* what) {
        return {ProblemKind::input,
                {},
                what,
                "send the photograph as the camera made it, whole, in JPEG"};
    }

    /// Reads one marker with what belongs to it; what is wrong, or null.
    const char* segment() {
        if (at_ >= bytes_.size() || byte_at(bytes_, at_) != 0xFF) {
            return at_ >= bytes_.size() ? kBrokenOff : "this JPEG is damaged";
        }
        while (at_ < bytes_.size() && byte_at(bytes_, at_) == 0xFF) {
            ++at_;  // any number of them may stand before a marker
        }
        if (at_ >= bytes_.size()) {
            return kBrokenOff;
        }
        const int kind = static_cast<int>(byte_at(bytes_, at_++));
        if (kind == marker::end_of_image) {
            out_ += "\xFF\xD9";
            is_over_ = true;  // what stands behind it is not of this picture
            return nullptr;
        }
        if (!is_known(kind)) {
            return "this JPEG is damaged";
        }
        if (bytes_.size() - at_ < 2) {
            return kBrokenOff;
        }
        const std::size_t length = big_endian(bytes_, at_);  // its own two bytes with it
        if (length < 2) {
            return "this JPEG is damaged";
        }
        if (bytes_.size() - at_ < length) {
            return kBrokenOff;
        }
        const auto inside = bytes_.substr(at_ + 2, length - 2);
        at_ += length;
        if (is_frame(kind)) {
            return frame(kind, inside);
        }
        if (kind == marker::start_of_scan) {
            return scan(inside);
        }
        keep_what_is_needed(kind, inside);
        return nullptr;
    }

    const char* frame(int kind, std::string_view inside) {
        constexpr std::size_t least = 6;  // precision, height, width, number of components
        if (jpeg_.width != 0 || inside.size() < least ||
            inside.size() != least + std::size_t{3} * byte_at(inside, 5)) {
            return "this JPEG is damaged";
        }
        jpeg_.height = static_cast<int>(big_endian(inside, 1));
        jpeg_.width = static_cast<int>(big_endian(inside, 3));
        if (jpeg_.width == 0 || jpeg_.height == 0) {
            return "this JPEG has no size";
        }
        write(kind, inside);
        return nullptr;
    }

    /// The scan's own segment, and the coded pixels up to the next marker.
    const char* scan(std::string_view inside) {
        if (jpeg_.width == 0 || inside.empty() ||
            inside.size() != 4 + std::size_t{2} * byte_at(inside, 0)) {
            return "this JPEG is damaged";
        }
        write(marker::start_of_scan, inside);
        const std::size_t first = at_;
        for (;; ++at_) {
            at_ = std::min(bytes_.find('\xFF', at_), bytes_.size());
            if (bytes_.size() - at_ < 2) {
                return kBrokenOff;
            }
            // A byte of pixels that looks like a marker is followed by a zero.
            const int next = static_cast<int>(byte_at(bytes_, at_ + 1));
            if (next != 0 && next != 0xFF &&
                (next < marker::first_restart || next > marker::last_restart)) {
                break;
            }
        }
        if (at_ == first) {
            return "this JPEG has no picture in it";
        }
        out_ += bytes_.substr(first, at_ - first);
        has_scan_ = true;
        return nullptr;
    }

    void keep_what_is_needed(int kind, std::string_view inside) {
        if (kind == marker::exif && inside.starts_with(kExif)) {
            jpeg_.turned = turned_by(inside);
        }
        const bool is_application = kind >= marker::jfif && kind <= marker::last_application;
        constexpr std::size_t without_thumbnail = 14;
        if (kind == marker::jfif && inside.starts_with(kJfif) &&
            inside.size() >= without_thumbnail && !has_jfif_) {
            has_jfif_ = true;
            std::string plain(inside.substr(0, without_thumbnail - 2));
            write(kind, plain.append(2, '\0'));
            place_of_exif_ = out_.size();
        } else if (kind == marker::adobe || (!is_application && kind != marker::comment)) {
            // Adobe's says how colours are coded; without it some pictures turn green.
            write(kind, inside);
        }
    }

    void write(int kind, std::string_view inside) {
        const std::size_t length = inside.size() + 2;
        out_ += '\xFF';
        out_ += static_cast<char>(kind);
        out_ += static_cast<char>(length >> 8U);
        out_ += static_cast<char>(length & 0xFFU);
        out_ += inside;
    }

    static constexpr const char* kBrokenOff = "this JPEG breaks off";

    std::string_view bytes_;
    Metadata metadata_;
    std::size_t at_ = 0;
    std::size_t place_of_exif_ = 2;
    bool is_over_ = false;
    bool has_scan_ = false;
    bool has_jfif_ = false;
    std::string out_;
    Jpeg jpeg_;
};

}  // namespace

Result<Jpeg> read_jpeg(std::string_view bytes, Metadata metadata) {
    return Reader(bytes, metadata).read();
}

}  // namespace beetwright::io
