#include "demo_season/receiver.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <set>

#include "base/number_text.hpp"
#include "base/random.hpp"
#include "base/time.hpp"
#include "ground/local_plane.hpp"

namespace beetwright::demo {
namespace {

// The field, in metres along and across its passes.
constexpr double kLength_m = 800.0;
constexpr double kBreadth_m = 500.0;
constexpr double kDirection_rad = 0.35;
constexpr double kPass_m = 2.7;
constexpr double kSpeed_m_s = 1.7;
constexpr double kEvery_s = 2.0;
constexpr double kTurn_s = 25.0;

/// A round knoll or, of a negative height, a hollow; half of its height is at its radius.
struct Bump {
    double along_m;
    double across_m;
    double radius_m;
    double height_m;
};
constexpr std::array kBumps{Bump{-230.0, 110.0, 60.0, 2.1}, Bump{40.0, -150.0, 45.0, 1.4},
                            Bump{220.0, 70.0, 115.0, -1.7}};

double height_at(double along_m, double across_m) {
    double height = 31.0 + 0.008 * along_m - 0.004 * across_m;
    for (const auto& bump : kBumps) {
        const double off =
            std::hypot(along_m - bump.along_m, across_m - bump.across_m) / bump.radius_m;
        height += bump.height_m / (1.0 + std::pow(off, 6.0));
    }
    return height;
}

// Where the season's weather is from.
ground::LocalPlane field_plane() {
    return ground::LocalPlane({54.0, 7.0});
}

ground::Point in_plane(double along_m, double across_m) {
    return {std::cos(kDirection_rad) * along_m - std::sin(kDirection_rad) * across_m,
            std::sin(kDirection_rad) * along_m + std::cos(kDirection_rad) * across_m};
}

constexpr const char* kField = "Hollow Oak";

}  // namespace

std::vector<check::Place> places_of_sheets(const ledger::Season& season) {
    const auto plane = field_plane();
    RandomStream random(season.seed, "demo places in Hollow Oak");
    std::vector<check::Place> places;
    for (const auto& sheet : season.beet_sheets) {
        if (sheet.field != kField) {
            continue;
        }
        std::set<std::int32_t> spots;
        for (const auto& beet : sheet.beets) {
            spots.insert(beet.spot);
        }
        for (const auto spot : spots) {
            // Off the headlands, where nobody counts.
            const double along = 0.86 * kLength_m * (random.uniform() - 0.5);
            const double across = 0.86 * kBreadth_m * (random.uniform() - 0.5);
            const auto position = plane.to_earth(in_plane(along, across));
            const std::uint64_t high = random.word64();
            constexpr double kDegree = std::numbers::pi / 180.0;
            // A phone's digits: a tenth of a metre.
            const auto read = [&](double degrees) {
                return std::round(1e6 * degrees) / 1e6 * kDegree;
            };
            places.push_back({.id = Uuid::version7(sheet.at, high, random.word64()),
                              .supersedes = {},
                              .field = sheet.field,
                              .at = sheet.at,
                              .of = sheet.id,
                              .spot = spot,
                              .latitude_rad = read(position.latitude_deg),
                              .longitude_rad = read(position.longitude_deg),
                              .accuracy = Length(3.0 + static_cast<double>(random.below(4)))});
        }
    }
    return places;
}

std::string field_border() {
    // Metres along and across the passes, from the middle.
    constexpr std::array<std::array<double, 2>, 7> kCorners{{{-402.0, -251.0},
                                                             {250.0, -251.0},
                                                             {402.0, -170.0},
                                                             {402.0, 248.0},
                                                             {-60.0, 251.0},
                                                             {-402.0, 246.0},
                                                             {-402.0, -251.0}}};
    const auto plane = field_plane();
    std::string corners;
    for (const auto& [along, across] : kCorners) {
        const auto at = plane.to_earth(in_plane(along, across));
        corners += (corners.empty() ? "[" : ", [") + fixed_text(at.longitude_deg, 8) + ", " +
                   fixed_text(at.latitude_deg, 8) + "]";
    }
    return "{\"type\": \"Feature\", \"properties\": {\"name\": \"" + std::string(kField) +
           "\"},\n"
           " \"geometry\": {\"type\": \"Polygon\", \"coordinates\": [[" +
           corners + "]]}}\n";
}

std::string receivers_log(std::uint64_t seed) {
    const auto plane = field_plane();
    RandomStream random(seed, "a receiver in Hollow Oak");
    const Instant begin = *parse_instant("2031-11-10T06:30:00Z");
    std::string text = "# what the receiver on the lifter wrote down in Hollow Oak\n";
    text += "at,latitude [°],longitude [°],height [m],quality,satellites,speed [km/h]\n";
    double since_s = 0.0;
    double drift_m = 0.0;
    const int passes = static_cast<int>(kBreadth_m / kPass_m);
    for (int pass = 0; pass < passes; ++pass) {
        const double across = (pass + 0.5) * kPass_m - 0.5 * kBreadth_m;
        const double way = pass % 2 == 0 ? 1.0 : -1.0;
        for (double gone = 0.0; gone <= kLength_m; gone += kSpeed_m_s * kEvery_s) {
            const double along = way * (gone - 0.5 * kLength_m);
            drift_m += 0.004 * random.normal() - 1e-3 * drift_m;
            auto at = in_plane(along, across);
            at.east_m += 0.03 * random.normal();
            at.north_m += 0.03 * random.normal();
            const auto position = plane.to_earth(at);
            const double height = height_at(along, across) + drift_m + 0.03 * random.normal();
            text += to_text(begin + std::chrono::milliseconds(std::llround(1000.0 * since_s)));
            text += "," + fixed_text(position.latitude_deg, 8);
            text += "," + fixed_text(position.longitude_deg, 8);
            text += "," + fixed_text(height, 3) + ",fixed,";
            text += std::to_string(14 + random.below(5)) + ",";
            text += fixed_text(3.6 * kSpeed_m_s + 0.1 * random.normal(), 1) + "\n";
            since_s += kEvery_s;
        }
        since_s += kTurn_s;
    }
    return text;
}

}  // namespace beetwright::demo
