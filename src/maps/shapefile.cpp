#include "maps/shapefile.hpp"

#include <cmath>
#include <optional>
#include <vector>

#include "base/counted.hpp"
#include "maps/area_intake.hpp"
#include "maps/binary.hpp"
#include "maps/crs.hpp"
#include "maps/dbase.hpp"
#include "maps/shapefile_rings.hpp"

namespace beetwright::maps {
namespace {

constexpr std::uint32_t kMagic = 9994;
constexpr std::size_t kHead = 100;
constexpr std::size_t kRecordHead = 8;

/// Kinds of shapes by their numbers; those with heights or measures begin as those without.
enum Shape : std::uint32_t { kNull = 0, kPolygon = 5, kPolygonZ = 15, kPolygonM = 25 };

std::string shape_words(std::uint32_t shape) {
    switch (shape) {
        case kNull: return "shape without corners";
        case 1:
        case 11:
        case 21: return "Point";
        case 3:
        case 13:
        case 23: return "PolyLine";
        case 8:
        case 18:
        case 28: return "MultiPoint";
        case 31: return "MultiPatch";
        default: return "shape of an unknown kind";
    }
}

class Reader {
 public:
    Reader(std::string_view shp, const DbaseTable& table, const std::optional<Crs>& crs,
           AreaIntake& intake)
        : shp_(shp), table_(table), crs_(crs), intake_(intake) {}

    void read() {
        std::size_t at = kHead;
        std::size_t record = 0;
        while (at < shp_.size()) {
            ++record;
            constexpr std::size_t kWord = 2;  // lengths are counted in 16 bits
            const std::size_t left = shp_.size() - at;
            const std::size_t length =
                left < kRecordHead ? 0 : std::size_t{big_endian(shp_, at + 4)} * kWord;
            if (left < kRecordHead || length > left - kRecordHead) {
                tell(record, "the file ends within this record",
                     "was it cut off in copying? Copy it again");
                return;
            }
            take(record, shp_.substr(at + kRecordHead, length));
            at += kRecordHead + length;
        }
        if (!table_.records.empty() && table_.records.size() != record) {
            intake_.problems().add(
                {.file = intake_.file(), .line = 0, .field = ""},
                counted(record, "shape stands", "shapes stand") + " in the .shp file and " +
                    counted(table_.records.size(), "record", "records") + " in the .dbf file",
                "copy both from the same shapefile");
        }
    }

 private:
    static Where at_record(std::size_t record) {
        return {.file = "", .line = 0, .field = "record " + std::to_string(record)};
    }
    void tell(std::size_t record, std::string what, std::string fix) {
        auto where = at_record(record);
        where.file = intake_.file();
        intake_.problems().add(std::move(where), std::move(what), std::move(fix));
    }

    void take(std::size_t record, std::string_view content) {
        if (content.size() < sizeof(std::uint32_t)) {
            tell(record, "this record is empty", "save the shapefile again");
            return;
        }
        const auto shape = little_endian<std::uint32_t>(content, 0);
        if (shape != kPolygon && shape != kPolygonZ && shape != kPolygonM) {
            intake_.pass_over(shape_words(shape));
            return;
        }
        std::vector<ground::PlaneRing> rings;
        if (!read_rings(record, content, rings)) {
            return;
        }
        std::size_t stray = 0;
        const auto polygons = polygons_of(std::move(rings), stray);
        if (stray > 0) {
            tell(record, counted(stray, "hole", "holes") + " with no ring around",
                 "outer rings run clockwise, holes counter-clockwise; save the shapefile again");
            return;
        }
        NamedArea area;
        if (record <= table_.records.size()) {
            area.said = table_.records[record - 1];
            area.name = name_among(area.said);
        }
        if (bring_to_wgs84(record, polygons, area.area)) {
            intake_.take(std::move(area), at_record(record));
        }
    }

    bool read_rings(std::size_t record, std::string_view content,
                    std::vector<ground::PlaneRing>& rings) {
        constexpr std::size_t kCounts = 36;  // behind the kind and the box around the shape
        constexpr std::size_t kParts = 44;
        constexpr std::size_t kPoint = 16;
        constexpr std::size_t kMostRings = 1000;
        const auto cut_off = [&] {
            tell(record, "the record is shorter than its corners", "save the shapefile again");
            return false;
        };
        if (content.size() < kParts) {
            return cut_off();
        }
        const std::size_t parts = little_endian<std::uint32_t>(content, kCounts);
        const std::size_t points = little_endian<std::uint32_t>(content, kCounts + 4);
        if (parts > kMostRings) {
            tell(record, "this area has more than " + std::to_string(kMostRings) + " rings",
                 "part it into several");
            return false;
        }
        const std::size_t corners = kParts + 4 * parts;
        if (content.size() < corners || (content.size() - corners) / kPoint < points) {
            return cut_off();
        }
        for (std::size_t part = 0; part < parts; ++part) {
            const auto begin_of = [&](std::size_t k) -> std::size_t {
                return k < parts ? little_endian<std::uint32_t>(content, kParts + 4 * k) : points;
            };
            const std::size_t begin = begin_of(part);
            const std::size_t end = begin_of(part + 1);
            if (begin >= end || end > points) {
                tell(record, "ring " + std::to_string(part + 1) + " ends before it begins",
                     "save the shapefile again");
                return false;
            }
            auto& ring = rings.emplace_back();
            for (std::size_t k = begin; k < end; ++k) {
                const std::size_t at = corners + kPoint * k;
                ring.push_back({little_endian_double(content, at),
                                little_endian_double(content, at + sizeof(double))});
            }
        }
        return true;
    }

    bool bring_to_wgs84(std::size_t record, const ground::PlaneArea& polygons, ground::Area& area) {
        const auto bring = [&](const ground::PlaneRing& from, ground::Ring& to) {
            for (const auto& corner : from) {
                // Without a system the numbers are degrees, and looked through as such.
                const auto position =
                    crs_ ? crs_->position(corner.east_m, corner.north_m)
                         : std::optional(ground::Position{corner.north_m, corner.east_m});
                if (!position) {
                    tell(record, "a corner is nowhere in " + crs_->name(),
                         "see whether the .prj file belongs to this shapefile");
                    return false;
                }
                to.push_back(*position);
            }
            return true;
        };
        for (const auto& polygon : polygons) {
            auto& to = area.emplace_back();
            if (!bring(polygon.outer, to.outer)) {
                return false;
            }
            for (const auto& hole : polygon.holes) {
                if (!bring(hole, to.holes.emplace_back())) {
                    return false;
                }
            }
        }
        return true;
    }

    std::string_view shp_;
    const DbaseTable& table_;
    const std::optional<Crs>& crs_;
    AreaIntake& intake_;
};

Problem not_a_shapefile(const std::string& file) {
    return {ProblemKind::input,
            {.file = file, .line = 0, .field = ""},
            "this is no .shp file",
            "copy the shapefile again, with its .dbf, .prj and .cpg"};
}

}  // namespace

bool looks_like_shapefile(std::string_view bytes) {
    return bytes.size() >= sizeof(std::uint32_t) && big_endian(bytes, 0) == kMagic;
}

Result<AreasReading> read_shapefile(const ShapefileParts& parts, const std::string& file,
                                    const MapFacts& facts) {
    if (!looks_like_shapefile(parts.shp) || parts.shp.size() < kHead) {
        return not_a_shapefile(file);
    }
    DbaseTable table;
    if (!parts.dbf.empty()) {
        auto read = read_dbase(parts.dbf, parts.cpg, file);
        if (!read) {
            return read.problems();
        }
        table = std::move(*read);
    }
    std::optional<Crs> crs;
    const std::string_view system = facts.crs.empty() ? parts.prj : std::string_view(facts.crs);
    if (!system.empty()) {
        auto named = Crs::from_text(system, {.file = file, .line = 0, .field = "crs"});
        if (!named) {
            return named.problems();
        }
        crs.emplace(std::move(named).value());
    }
    const bool is_map = crs && !crs->is_geographic();
    AreaIntake intake(file, is_map ? NumberOrder::projected : NumberOrder::longitude_first);
    if (!crs) {
        intake.note("the shapefile is supposed to be in degrees of WGS 84: it has no .prj");
    }
    Reader(parts.shp, table, crs, intake).read();
    if (crs && !crs->note().empty()) {
        intake.note(crs->note());
    }
    return std::move(intake).finish();
}

}  // namespace beetwright::maps
