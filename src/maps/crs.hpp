// Positions from whatever coordinate system a file is in. The library for it is seen in crs.cpp
// alone; it reads its own database, and neither the network nor files that a text names.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "ground/position.hpp"

namespace beetwright::maps {

class Crs {
 public:
    /// "EPSG:25832" or well-known text, ESRI's of a .prj file too. Problems are at `where`: a text
    /// that is none, and systems that do not say where on earth something is.
    static Result<Crs> from_text(std::string_view text, const Where& where);
    static Result<Crs> from_epsg(int code, const Where& where);
    /// Latitudes and longitudes, as files have them that say nothing else.
    static Result<Crs> wgs84(const Where& where);

    Crs(Crs&&) noexcept;
    Crs& operator=(Crs&&) noexcept;
    ~Crs();

    /// What it is called: "ETRS89 / UTM zone 32N".
    [[nodiscard]] const std::string& name() const;
    /// Latitudes and longitudes rather than metres or feet on a map.
    [[nodiscard]] bool is_geographic() const;
    /// Of its numbers: metres, or where it is geographic degrees (or grades).
    [[nodiscard]] double units_to_si() const;

    /// Nothing where these are not the numbers of any place. East comes first, whatever order the
    /// system's own definition has.
    [[nodiscard]] std::optional<ground::Position> position(double east, double north) const;

    /// What was supposed on the way to WGS 84, as a note for whoever reads; after the first
    /// position. Empty where nothing was: it was in WGS 84.
    [[nodiscard]] std::string note() const;

 private:
    struct Held;
    explicit Crs(std::unique_ptr<Held> held);
    std::unique_ptr<Held> held_;
};

}  // namespace beetwright::maps
