#include "maps/tiff_picture.hpp"

#include <tiffio.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdarg>
#include <cstdio>
#include <cstring>
#include <limits>
#include <memory>
#include <type_traits>

#include "base/contract.hpp"
#include "io/decimal.hpp"

namespace beetwright::maps {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

// What GeoTIFF adds (OGC 19-008), and GDAL's tag for cells that are not known.
constexpr std::uint32_t kPixelScale = 33550;
constexpr std::uint32_t kTiePoints = 33922;
constexpr std::uint32_t kTransformation = 34264;
constexpr std::uint32_t kGeoKeys = 34735;
constexpr std::uint32_t kNoData = 42113;

/// Bytes as the library wants a file: it reads from where it stands.
struct Source {
    std::string_view bytes;
    std::uint64_t at = 0;
    std::string complaint;  ///< the library's first
};

tmsize_t read_on(thandle_t handle, void* to, tmsize_t count) {
    auto& source = *static_cast<Source*>(handle);
    const std::uint64_t begin = std::min<std::uint64_t>(source.at, source.bytes.size());
    const auto taken = std::min<std::uint64_t>(count < 0 ? 0 : static_cast<std::uint64_t>(count),
                                               source.bytes.size() - begin);
    std::memcpy(to, source.bytes.data() + begin, taken);
    source.at = begin + taken;
    return static_cast<tmsize_t>(taken);
}

tmsize_t write_nothing(thandle_t, void*, tmsize_t) {
    return 0;
}

toff_t go_to(thandle_t handle, toff_t offset, int whence) {
    auto& source = *static_cast<Source*>(handle);
    const std::uint64_t from = whence == SEEK_CUR   ? source.at
                               : whence == SEEK_END ? source.bytes.size()
                                                    : 0;
    source.at = from + offset;
    return source.at;
}

int close_nothing(thandle_t) {
    return 0;
}

toff_t size_of(thandle_t handle) {
    return static_cast<Source*>(handle)->bytes.size();
}

[[gnu::format(printf, 4, 0)]] int keep_complaint(TIFF*, void* user, const char*, const char* format,
                                                 va_list arguments) {
    auto& complaint = static_cast<Source*>(user)->complaint;
    if (complaint.empty()) {
        std::array<char, 200> text{};
        std::vsnprintf(text.data(), text.size(), format, arguments);
        complaint = text.data();
    }
    return 1;  // and nobody else need hear of it
}

int ignore(TIFF*, void*, const char*, const char*, va_list) {
    return 1;
}

struct Close {
    void operator()(TIFF* tiff) const { TIFFClose(tiff); }
};
using Tiff = std::unique_ptr<TIFF, Close>;

Tiff open(Source& source) {
    TIFFOpenOptions* const options = TIFFOpenOptionsAlloc();
    require(options != nullptr, "there is memory for a few options");
    constexpr tmsize_t kMostAtOnce = 256 << 20;
    TIFFOpenOptionsSetMaxSingleMemAlloc(options, kMostAtOnce);
    TIFFOpenOptionsSetErrorHandlerExtR(options, keep_complaint, &source);
    TIFFOpenOptionsSetWarningHandlerExtR(options, ignore, nullptr);
    Tiff tiff(TIFFClientOpenExt("bytes", "rm", &source, read_on, write_nothing, go_to,
                                close_nothing, size_of, nullptr, nullptr, options));
    TIFFOpenOptionsFree(options);
    return tiff;
}

/// The numbers of a tag that the library does not know, which it keeps as it finds them; none where
/// they are of another kind.
template <class Number>
std::vector<Number> tag_numbers(TIFF* tiff, std::uint32_t tag, TIFFDataType kind) {
    const TIFFField* const field = TIFFFindField(tiff, tag, TIFF_ANY);
    if (field == nullptr || TIFFFieldDataType(field) != kind || TIFFFieldPassCount(field) != 1 ||
        TIFFFieldReadCount(field) != TIFF_VARIABLE2) {
        return {};
    }
    std::uint32_t count = 0;
    const Number* numbers = nullptr;
    if (TIFFGetField(tiff, tag, &count, &numbers) != 1 || numbers == nullptr) {
        return {};
    }
    return {numbers, numbers + count};
}

class Reader {
 public:
    Reader(std::string_view bytes, const std::string& file, std::size_t most_cells)
        : source_{.bytes = bytes, .at = 0, .complaint = ""}, file_(file), most_cells_(most_cells) {}

    Result<TiffPicture> read() {
        tiff_ = open(source_);
        if (!tiff_) {
            return fault("", "this is no TIFF that can be read: " + source_.complaint,
                         "copy the file again");
        }
        if (auto problem = describe()) {
            return *problem;
        }
        picture_.pixel_scale = tag_numbers<double>(tiff_.get(), kPixelScale, TIFF_DOUBLE);
        picture_.tie_points = tag_numbers<double>(tiff_.get(), kTiePoints, TIFF_DOUBLE);
        picture_.transformation = tag_numbers<double>(tiff_.get(), kTransformation, TIFF_DOUBLE);
        picture_.geo_keys = tag_numbers<std::uint16_t>(tiff_.get(), kGeoKeys, TIFF_SHORT);
        picture_.numbers.assign(picture_.columns * picture_.rows, kNone);
        if (auto problem = blocks()) {
            return *problem;
        }
        return std::move(picture_);
    }

 private:
    [[nodiscard]] Problem fault(std::string field, std::string what, std::string fix,
                                ProblemKind kind = ProblemKind::input) const {
        return {kind,
                {.file = file_, .line = 0, .field = std::move(field)},
                std::move(what),
                std::move(fix)};
    }

    /// A tag of one number; its default, or 0, where it is not there.
    template <class Number>
    Number tag(std::uint32_t which) const {
        Number number = 0;
        TIFFGetFieldDefaulted(tiff_.get(), which, &number);
        return number;
    }

    std::optional<Problem> describe() {
        picture_.columns = tag<std::uint32_t>(TIFFTAG_IMAGEWIDTH);
        picture_.rows = tag<std::uint32_t>(TIFFTAG_IMAGELENGTH);
        bits_ = tag<std::uint16_t>(TIFFTAG_BITSPERSAMPLE);
        format_ = tag<std::uint16_t>(TIFFTAG_SAMPLEFORMAT);
        if (picture_.columns == 0 || picture_.rows == 0) {
            return fault("", "the picture has no cells", "save it again");
        }
        if (picture_.columns > most_cells_ / picture_.rows) {
            return fault("", "the grid has more than " + std::to_string(most_cells_) + " cells",
                         "cut it to the fields' ground", ProblemKind::limit);
        }
        if (tag<std::uint16_t>(TIFFTAG_SAMPLESPERPIXEL) != 1) {
            return fault("", "each cell has several numbers, as in a photograph",
                         "save heights alone, one number in a cell");
        }
        const bool is_whole = format_ == SAMPLEFORMAT_INT || format_ == SAMPLEFORMAT_UINT;
        const bool is_known = (is_whole && (bits_ == 16 || bits_ == 32)) ||
                              (format_ == SAMPLEFORMAT_IEEEFP && (bits_ == 32 || bits_ == 64));
        if (!is_known) {
            return fault("", "its numbers of " + std::to_string(bits_) + " bits are not read",
                         "save heights as 16 or 32 bits whole, or 32 or 64 bits fractional");
        }
        const auto compression = tag<std::uint16_t>(TIFFTAG_COMPRESSION);
        constexpr std::array<std::uint16_t, 5> kRead{COMPRESSION_NONE, COMPRESSION_LZW,
                                                     COMPRESSION_ADOBE_DEFLATE, COMPRESSION_DEFLATE,
                                                     COMPRESSION_PACKBITS};
        if (std::ranges::find(kRead, compression) == kRead.end()) {
            return fault("",
                         "its compression, number " + std::to_string(compression) + ", is not read",
                         "save it with DEFLATE or LZW");
        }
        const auto no_data = tag_numbers<char>(tiff_.get(), kNoData, TIFF_ASCII);
        const auto mark = io::leading_decimal({no_data.data(), no_data.size()});
        no_data_ = mark ? mark->value : kNone;
        return std::nullopt;
    }

    /// Strips go over the whole width; else both are blocks of cells.
    std::optional<Problem> blocks() {
        const bool is_tiled = TIFFIsTiled(tiff_.get()) != 0;
        std::size_t wide = picture_.columns;
        std::size_t high =
            std::min<std::size_t>(tag<std::uint32_t>(TIFFTAG_ROWSPERSTRIP), picture_.rows);
        if (is_tiled) {
            wide = tag<std::uint32_t>(TIFFTAG_TILEWIDTH);
            high = tag<std::uint32_t>(TIFFTAG_TILELENGTH);
        }
        // Tiles go over the edge of small pictures; more than this is no tile.
        constexpr std::size_t kMostOfTile = 4096UL * 4096UL;
        const std::size_t most = is_tiled ? kMostOfTile : most_cells_;
        if (wide == 0 || high == 0 || wide > most / high) {
            return fault("", "its tiles are of no size that is read", "save it in tiles of 256");
        }
        const std::size_t cell_bytes = bits_ / 8U;
        std::vector<unsigned char> block(wide * high * cell_bytes);
        const std::size_t across = (picture_.columns + wide - 1) / wide;
        const std::size_t down = (picture_.rows + high - 1) / high;
        for (std::size_t k = 0; k < across * down; ++k) {
            const auto number = static_cast<std::uint32_t>(k);
            if (TIFFGetStrileByteCount(tiff_.get(), number) == 0) {
                continue;  // left out: none of its cells is known
            }
            const std::size_t column = (k % across) * wide;
            const std::size_t row = (k / across) * high;
            const std::size_t rows = std::min(high, picture_.rows - row);
            const auto expected =
                static_cast<tmsize_t>((is_tiled ? high : rows) * wide * cell_bytes);
            const auto size = static_cast<tmsize_t>(block.size());
            const auto got = is_tiled
                                 ? TIFFReadEncodedTile(tiff_.get(), number, block.data(), size)
                                 : TIFFReadEncodedStrip(tiff_.get(), number, block.data(), size);
            if (got < expected) {
                return fault((is_tiled ? "tile " : "strip ") + std::to_string(k + 1),
                             "this cannot be read: " + source_.complaint,
                             "was the file cut off in copying? Copy it again");
            }
            for (std::size_t y = 0; y < rows; ++y) {
                for (std::size_t x = 0; x < std::min(wide, picture_.columns - column); ++x) {
                    picture_.numbers[(row + y) * picture_.columns + column + x] =
                        number_at(block.data() + (y * wide + x) * cell_bytes);
                }
            }
        }
        return std::nullopt;
    }

    template <class Number>
    [[nodiscard]] double as(const unsigned char* at) const {
        Number number{};
        std::memcpy(&number, at, sizeof number);
        const auto value = static_cast<double>(number);
        // The mark of cells that are not known is written with more digits than a float has.
        const bool is_unknown = std::is_same_v<Number, float>
                                    ? std::abs(value - no_data_) <= 1e-6 * std::abs(no_data_)
                                    : value == no_data_;
        return is_unknown ? kNone : value;
    }

    [[nodiscard]] double number_at(const unsigned char* at) const {
        if (format_ == SAMPLEFORMAT_IEEEFP) {
            return bits_ == 32 ? as<float>(at) : as<double>(at);
        }
        if (format_ == SAMPLEFORMAT_INT) {
            return bits_ == 16 ? as<std::int16_t>(at) : as<std::int32_t>(at);
        }
        return bits_ == 16 ? as<std::uint16_t>(at) : as<std::uint32_t>(at);
    }

    Source source_;
    const std::string& file_;
    std::size_t most_cells_;
    Tiff tiff_;
    TiffPicture picture_;
    std::uint16_t bits_ = 0;
    std::uint16_t format_ = 0;
    double no_data_ = kNone;
};

}  // namespace

Result<TiffPicture> read_tiff(std::string_view bytes, const std::string& file,
                              std::size_t most_cells) {
    return Reader(bytes, file, most_cells).read();
}

}  // namespace beetwright::maps
