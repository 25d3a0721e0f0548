#include "maps/crs.hpp"

#include <proj.h>

#include <array>
#include <charconv>
#include <cmath>

#include "base/contract.hpp"
#include "base/lower_case.hpp"
#include "base/number_text.hpp"
#include "base/trimmed.hpp"

namespace beetwright::maps {
namespace {

struct DestroyContext {
    void operator()(PJ_CONTEXT* context) const { proj_context_destroy(context); }
};
struct DestroyObject {
    void operator()(PJ* object) const { proj_destroy(object); }
};
using Context = std::unique_ptr<PJ_CONTEXT, DestroyContext>;
using Object = std::unique_ptr<PJ, DestroyObject>;

Context new_context() {
    Context context(proj_context_create());
    require(context != nullptr, "positions can be reckoned");
    proj_context_set_enable_network(context.get(), 0);
    proj_log_level(context.get(), PJ_LOG_NONE);
    return context;
}

Problem problem_at(const Where& where, std::string what, std::string fix) {
    return {ProblemKind::input, where, std::move(what), std::move(fix)};
}

constexpr int kWgs84 = 4326;  // of EPSG's systems

const char* const kFix = "give an EPSG code, such as EPSG:25832, or the text of a .prj file";

/// A text may name files with which the library would correct positions; it is given none.
bool names_files(std::string_view text) {
    std::string lower = lower_case(text);
    constexpr std::string_view kNoGrid = "nadgrids=@null";
    for (auto at = lower.find(kNoGrid); at != std::string::npos; at = lower.find(kNoGrid)) {
        lower.erase(at, kNoGrid.size());
    }
    for (const std::string_view word :
         {"grids", "parameterfile", "+init", "+proj=pipeline", "filename"}) {
        if (lower.find(word) != std::string::npos) {
            return true;
        }
    }
    return false;
}

/// The part that says where on earth, of systems that say more; null where none does.
Object horizontal(PJ_CONTEXT* context, Object crs) {
    constexpr int kDeepest = 4;
    for (int depth = 0; crs && depth < kDeepest; ++depth) {
        switch (proj_get_type(crs.get())) {
            case PJ_TYPE_GEOGRAPHIC_2D_CRS:
            case PJ_TYPE_GEOGRAPHIC_3D_CRS:
            case PJ_TYPE_PROJECTED_CRS: return crs;
            case PJ_TYPE_COMPOUND_CRS:
                crs.reset(proj_crs_get_sub_crs(context, crs.get(), 0));
                break;
            case PJ_TYPE_BOUND_CRS: crs.reset(proj_get_source_crs(context, crs.get())); break;
            default: return nullptr;
        }
    }
    return nullptr;
}

bool is_on_earth(PJ_CONTEXT* context, const PJ* crs) {
    const Object ellipsoid(proj_get_ellipsoid(context, crs));
    double semi_major_m = 0.0;
    double semi_minor_m = 0.0;
    if (!ellipsoid || proj_ellipsoid_get_parameters(context, ellipsoid.get(), &semi_major_m,
                                                    &semi_minor_m, nullptr, nullptr) == 0) {
        return false;
    }
    // All that geodesists took the earth for, spheres too.
    constexpr double kLeast_m = 6.34e6;
    constexpr double kMost_m = 6.40e6;
    return semi_major_m > kLeast_m && semi_major_m < kMost_m && semi_minor_m > kLeast_m &&
           semi_minor_m < kMost_m;
}

/// What a unit of its axes is in SI; nothing where they do not run east and north.
std::optional<double> unit_of_axes(PJ_CONTEXT* context, const PJ* crs) {
    const Object axes(proj_crs_get_coordinate_system(context, crs));
    bool has_east = false;
    bool has_north = false;
    double unit = 1.0;
    for (int axis = 0; axes && axis < 2; ++axis) {
        const char* direction = nullptr;
        if (proj_cs_get_axis_info(context, axes.get(), axis, nullptr, nullptr, &direction, &unit,
                                  nullptr, nullptr, nullptr) == 0 ||
            direction == nullptr) {
            return std::nullopt;
        }
        has_east = has_east || std::string_view(direction) == "east";
        has_north = has_north || std::string_view(direction) == "north";
    }
    return has_east && has_north ? std::optional(unit) : std::nullopt;
}

/// Whether its way from degrees to a map is one that the library knows to reckon.
bool is_known_projection(PJ_CONTEXT* context, const PJ* crs) {
    const Object projection(proj_crs_get_coordoperation(context, crs));
    return projection && proj_coordoperation_is_instantiable(context, projection.get()) == 1;
}

}  // namespace

struct Crs::Held {
    Context context;
    Object to_wgs84;
    std::string name;
    bool is_geographic = false;
    double unit_si = 1.0;

    /// Of any system of the library; null where nothing was found at all.
    static Result<Crs> hold(Context context, Object any, const std::string& called,
                            const Where& where);
};

Result<Crs> Crs::Held::hold(Context context, Object any, const std::string& called,
                            const Where& where) {
    const Object target(proj_create_from_database(
        context.get(), "EPSG", std::to_string(kWgs84).c_str(), PJ_CATEGORY_CRS, 0, nullptr));
    if (!target) {
        return Problem{ProblemKind::outside, where,
                       "the library for coordinate systems does not find its database",
                       "install Debian's package proj-data on the machine that reads this"};
    }
    if (!any) {
        return problem_at(where, "'" + called + "' is no coordinate system that is known", kFix);
    }
    auto held = std::make_unique<Held>();
    const char* const name = proj_get_name(any.get());
    held->name = name != nullptr ? name : called;
    const auto refuse = [&](const char* why) {
        return problem_at(where, "'" + held->name + "' " + why, kFix);
    };
    const auto crs = horizontal(context.get(), std::move(any));
    if (!crs) {
        return refuse("does not say where on the ground something is");
    }
    if (!is_on_earth(context.get(), crs.get())) {
        return refuse("is not on earth");
    }
    const auto unit = unit_of_axes(context.get(), crs.get());
    if (!unit) {
        return refuse("does not count to the east and to the north");
    }
    held->unit_si = *unit;
    held->is_geographic = proj_get_type(crs.get()) != PJ_TYPE_PROJECTED_CRS;
    if (!held->is_geographic && !is_known_projection(context.get(), crs.get())) {
        return refuse("is of a projection that is not known");
    }
    const Object there(
        proj_create_crs_to_crs_from_pj(context.get(), crs.get(), target.get(), nullptr, nullptr));
    if (there) {
        held->to_wgs84.reset(proj_normalize_for_visualization(context.get(), there.get()));
    }
    if (!held->to_wgs84) {
        return refuse("cannot be brought to WGS 84");
    }
    held->context = std::move(context);
    return Crs(std::move(held));
}

Crs::Crs(std::unique_ptr<Held> held) : held_(std::move(held)) {}
Crs::Crs(Crs&&) noexcept = default;
Crs& Crs::operator=(Crs&&) noexcept = default;
Crs::~Crs() = default;

Result<Crs> Crs::from_epsg(int code, const Where& where) {
    auto context = new_context();
    const auto number = std::to_string(code);
    Object crs(proj_create_from_database(context.get(), "EPSG", number.c_str(), PJ_CATEGORY_CRS, 0,
                                         nullptr));
    return Held::hold(std::move(context), std::move(crs), "EPSG:" + number, where);
}

Result<Crs> Crs::from_text(std::string_view text, const Where& where) {
    constexpr std::size_t kLongest = 50'000;
    text = trimmed(text.substr(0, kLongest + 1), std::string_view(" \t\r\n\0", 5));
    constexpr std::string_view kEpsg = "epsg:";
    if (lower_case(text.substr(0, kEpsg.size())) == kEpsg) {
        const auto digits = text.substr(kEpsg.size());
        int code = 0;
        const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), code);
        if (read.ec == std::errc{} && read.ptr == digits.data() + digits.size() && code > 0) {
            return from_epsg(code, where);
        }
    }
    constexpr std::size_t kShown = 40;
    const std::string called(text.substr(0, kShown));
    if (text.size() > kLongest || text.find('\0') != std::string_view::npos) {
        return problem_at(where, "this is no text of a coordinate system", kFix);
    }
    if (names_files(text)) {
        return problem_at(where, "'" + called + "...' names files with corrections",
                          "these are not read; save it in WGS 84");
    }
    auto context = new_context();
    PROJ_STRING_LIST warnings = nullptr;
    PROJ_STRING_LIST errors = nullptr;
    Object crs(proj_create_from_wkt(context.get(), std::string(text).c_str(), nullptr, &warnings,
                                    &errors));
    proj_string_list_destroy(warnings);
    proj_string_list_destroy(errors);
    return Held::hold(std::move(context), std::move(crs), called, where);
}

Result<Crs> Crs::wgs84(const Where& where) {
    return from_epsg(kWgs84, where);
}

const std::string& Crs::name() const {
    return held_->name;
}

bool Crs::is_geographic() const {
    return held_->is_geographic;
}

double Crs::units_to_si() const {
    return held_->unit_si;
}

std::optional<ground::Position> Crs::position(double east, double north) const {
    if (!std::isfinite(east) || !std::isfinite(north)) {
        return std::nullopt;
    }
    proj_errno_reset(held_->to_wgs84.get());
    const PJ_COORD there =
        proj_trans(held_->to_wgs84.get(), PJ_FWD, proj_coord(east, north, 0.0, HUGE_VAL));
    const ground::Position position{.latitude_deg = there.xy.y,
                                    .longitude_deg = std::abs(there.xy.x) <= 180.0
                                                         ? there.xy.x
                                                         : std::remainder(there.xy.x, 360.0)};
    return ground::is_on_earth(position) ? std::optional(position) : std::nullopt;
}

std::string Crs::note() const {
    if (held_->name == "WGS 84") {
        return {};
    }
    const Object used(proj_trans_get_last_used_operation(held_->to_wgs84.get()));
    const double accuracy_m =
        used ? proj_coordoperation_get_accuracy(held_->context.get(), used.get()) : -1.0;
    const std::string from = "positions were brought from " + held_->name + " to WGS 84";
    if (accuracy_m < 0.0) {
        return from + "; how exactly is not known, it may be off by some metres";
    }
    return accuracy_m == 0.0 ? from : from + " to within " + general_text(accuracy_m, 2) + " m";
}

}  // namespace beetwright::maps
