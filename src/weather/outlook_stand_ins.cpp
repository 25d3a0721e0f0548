#include "weather/outlook_stand_ins.hpp"

#include <algorithm>
#include <cmath>

#include "weather/air.hpp"
#include "weather/evapotranspiration.hpp"
#include "weather/irradiance.hpp"
#include "weather/lifting_hours.hpp"

namespace beetwright::weather {
namespace {

double& value(Series& series, std::size_t hour, Element element) {
    return series.hours[hour][static_cast<std::size_t>(element)];
}

/// Whether an element is known at some hours, and whether it is not at some.
struct Presence {
    bool is_there = false;
    bool lacks = false;
};

Presence presence(std::span<const Series> members, Element element) {
    Presence found;
    for (const Series& member : members) {
        for (std::size_t k = 0; k < member.hours.size(); ++k) {
            (std::isnan(member.at(k, element)) ? found.lacks : found.is_there) = true;
        }
    }
    return found;
}

/// Calls `fill(member, hour)` where an element is not known, and puts its answer there.
template <class Fill>
void fill_lacking(std::span<Series> members, Element element, Fill&& fill) {
    for (Series& member : members) {
        for (std::size_t k = 0; k < member.hours.size(); ++k) {
            if (std::isnan(member.at(k, element))) {
                value(member, k, element) = fill(member, k);
            }
        }
    }
}

double saturation_Pa(const Series& series, std::size_t hour, Element element) {
    return saturation_pressure_Pa(Temperature::kelvin(series.at(hour, element)));
}

/// The least temperature of each hour's day.
std::vector<double> least_of_days(const Series& series) {
    std::vector<double> least(series.hours.size());
    for (std::size_t from = 0; from < least.size();) {
        std::size_t to = from;
        double coldest = series.at(from, Element::air);
        while (to < least.size() && series.day_of(to) == series.day_of(from)) {
            coldest = std::min(coldest, series.at(to, Element::air));
            ++to;
        }
        std::fill(least.begin() + static_cast<std::ptrdiff_t>(from),
                  least.begin() + static_cast<std::ptrdiff_t>(to), coldest);
        from = to;
    }
    return least;
}

void make_moisture_whole(std::span<Series> members, std::vector<std::string>& notes) {
    const auto dew = presence(members, Element::dew_point);
    const auto humidity = presence(members, Element::humidity);
    // One of the two says it all, and the other would be worked out for nothing.
    const bool has_dew = dew.is_there && !dew.lacks;
    const bool has_humidity = humidity.is_there && !humidity.lacks;
    const bool is_nowhere = !dew.is_there && !humidity.is_there;
    if (is_nowhere || (has_humidity && !dew.is_there) || (has_dew && !humidity.is_there)) {
        return;
    }
    bool is_supposed = false;
    for (Series& member : members) {
        std::vector<double> least;
        for (std::size_t k = 0; k < member.hours.size(); ++k) {
            double& point = value(member, k, Element::dew_point);
            const double share = member.at(k, Element::humidity);
            if (!std::isnan(point)) {
                continue;
            }
            if (share > 0.0) {
                point = dew_point(share * saturation_Pa(member, k, Element::air)).in_kelvin();
                continue;
            }
            if (least.empty()) {
                least = least_of_days(member);
            }
            point = least[k];
            is_supposed = true;
        }
    }
    fill_lacking(members, Element::humidity, [](const Series& member, std::size_t k) {
        return std::min(1.0, saturation_Pa(member, k, Element::dew_point) /
                                 saturation_Pa(member, k, Element::air));
    });
    if (is_supposed) {
        notes.emplace_back(
            "where the dew point is not known it is taken as the day's least temperature");
    }
}

}  // namespace

bool lend_rain(const Climate& climate, Stretch stretch, Series& member) {
    bool has_lent = false;
    for (std::size_t k = 0; k < member.hours.size(); ++k) {
        if (std::isnan(member.at(k, Element::rain))) {
            value(member, k, Element::rain) =
                climate.hour(stretch, member.begin_of(k))[static_cast<std::size_t>(Element::rain)];
            has_lent = true;
        }
    }
    return has_lent;
}

void stand_in_for_what_lacks(std::span<Series> members, std::vector<std::string>& notes) {
    const auto is_in_part = [&](Element element) {
        const auto found = presence(members, element);
        return found.is_there && found.lacks;
    };
    make_moisture_whole(members, notes);
    if (is_in_part(Element::rain)) {
        fill_lacking(members, Element::rain, [](const Series&, std::size_t) { return 0.0; });
        notes.emplace_back(
            "some of the hours come without rain, which counts as none: the ground will be wetter "
            "than is said here");
    }
    if (is_in_part(Element::wind)) {
        const double at_10m = kUsualWind_m_s / wind_at_2m(1.0, 10.0);
        fill_lacking(members, Element::wind, [=](const Series&, std::size_t) { return at_10m; });
        notes.emplace_back("where the wind is not known it is taken as 2 m/s near the ground");
    }
    if (is_in_part(Element::global)) {
        fill_lacking(members, Element::global, [](const Series& member, std::size_t k) {
            const double cloud = member.at(k, Element::cloud);
            const auto sun =
                sun_position(member.begin_of(k) + std::chrono::minutes(30), member.place);
            return sunshine_under_cloud(sun, std::isnan(cloud) ? kUsualCloud : cloud);
        });
        notes.emplace_back(
            "where sunshine is not known it is reckoned from the clouds, or as under half a sky of "
            "them");
    }
    std::string left_out;
    for (std::size_t e = 0; e < kElements; ++e) {
        const auto element = static_cast<Element>(e);
        if (!is_in_part(element)) {
            continue;
        }
        for (Series& member : members) {
            for (std::size_t k = 0; k < member.hours.size(); ++k) {
                value(member, k, element) = kUnknown;
            }
        }
        left_out += (left_out.empty() ? "" : ", ") + std::string(words_of(element));
    }
    if (!left_out.empty()) {
        notes.push_back("not known in all hours, and left out: " + left_out);
    }
}

}  // namespace beetwright::weather
