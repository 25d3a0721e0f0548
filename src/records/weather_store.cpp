#include "records/weather_store.hpp"

#include <algorithm>
#include <utility>

#include "records/writing.hpp"

namespace beetwright::records {
namespace {

using io::WeatherPart;
using weather::KnownWeather;
using weather::Series;

std::int64_t code(WeatherPart part) {
    return static_cast<std::int64_t>(part);
}

class Writer : private Writing {
 public:
    explicit Writer(const Database& database) : Writing(database) {}

    bool write(const KnownWeather& weather) {
        if (!prepared("INSERT INTO weather_series (part, run, name, latitude, longitude, "
                      "elevation, clock, begin) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                      series_) ||
            !prepared("INSERT INTO weather_hours VALUES "
                      "(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                      hour_)) {
            return false;
        }
        return (!weather.observed || replace(WeatherPart::observed, {&*weather.observed, 1})) &&
               (weather.forecast.empty() || replace(WeatherPart::forecast, weather.forecast)) &&
               (!weather.climate || replace(WeatherPart::usual, {&*weather.climate, 1}));
    }
    using Writing::problems;

 private:
    bool replace(WeatherPart part, std::span<const Series> runs) {
        if (!passed(drop_weather(database_, part))) {
            return false;
        }
        std::int64_t number = 0;
        return std::ranges::all_of(runs,
                                   [&](const Series& run) { return add(part, number++, run); });
    }
    bool add(WeatherPart part, std::int64_t number, const Series& run) {
        if (!this->run(series_, code(part), number, std::string_view(run.name),
                       run.place.latitude_rad, run.place.longitude_rad, run.place.elevation_m,
                       std::int64_t{run.clock.count()},
                       std::int64_t{run.begin.time_since_epoch().count()})) {
            return false;
        }
        const std::int64_t id = database_.last_row();
        std::size_t next_filled = 0;
        for (std::size_t k = 0; k < run.hours.size(); ++k) {
            const bool is_filled = next_filled < run.filled.size() && run.filled[next_filled] == k;
            next_filled += is_filled ? 1 : 0;
            hour_.bind(id).bind(static_cast<std::int64_t>(k)).bind(std::int64_t{is_filled});
            for (const double value : run.hours[k]) {
                hour_.bind(value);
            }
            if (!passed(hour_.run())) {
                return false;
            }
        }
        return true;
    }

    Statement series_;
    Statement hour_;
};

}  // namespace

Result<Done> store_weather(const Database& database, const KnownWeather& weather) {
    Writer writer(database);
    if (!writer.write(weather)) {
        return writer.problems();
    }
    return Done{};
}

Result<bool> drop_weather(const Database& database, WeatherPart part) {
    const auto number = std::to_string(code(part));
    const auto had = database.integer("SELECT count(*) FROM weather_series WHERE part = " + number);
    if (!had) {
        return had.problems();
    }
    const auto done = database.execute(
        "DELETE FROM weather_hours WHERE series IN "
        "(SELECT position FROM weather_series WHERE part = " +
        number + "); DELETE FROM weather_series WHERE part = " + number);
    if (!done) {
        return done.problems();
    }
    return *had > 0;
}

Result<std::shared_ptr<const KnownWeather>> load_weather(const Database& database) {
    struct Stored {
        WeatherPart part{};
        Series series;
    };
    std::vector<std::pair<std::int64_t, Stored>> all;
    auto read =
        for_each_row(database,
                     "SELECT position, part, name, latitude, longitude, elevation, clock, begin "
                     "FROM weather_series ORDER BY position",
                     [&](const Statement& row) {
                         auto& [position, stored] = all.emplace_back();
                         position = row.integer(0);
                         stored.part = static_cast<WeatherPart>(row.integer(1));
                         stored.series.name = row.text(2);
                         stored.series.place = {row.real(3), row.real(4), row.real(5)};
                         stored.series.clock = std::chrono::minutes(row.integer(6));
                         stored.series.begin = Instant(std::chrono::milliseconds(row.integer(7)));
                     });
    std::size_t at = 0;
    if (read) {
        read = for_each_row(
            database, "SELECT * FROM weather_hours ORDER BY series, hour",
            [&](const Statement& row) {
                while (at < all.size() && all[at].first < row.integer(0)) {
                    ++at;
                }
                if (at == all.size() || all[at].first != row.integer(0)) {
                    return;
                }
                Series& series = all[at].second.series;
                if (row.integer(2) != 0) {
                    series.filled.push_back(static_cast<std::uint32_t>(series.hours.size()));
                }
                auto& hour = series.hours.emplace_back();
                constexpr int kFirst = 3;
                for (std::size_t e = 0; e < weather::kElements; ++e) {
                    hour[e] = row.real(kFirst + static_cast<int>(e));
                }
            });
    }
    if (!read) {
        return read.problems();
    }
    if (all.empty()) {
        return std::shared_ptr<const KnownWeather>();
    }
    KnownWeather weather;
    for (auto& [position, stored] : all) {
        switch (stored.part) {
            case WeatherPart::observed: weather.observed = std::move(stored.series); break;
            case WeatherPart::forecast: weather.forecast.push_back(std::move(stored.series)); break;
            case WeatherPart::usual: weather.climate = std::move(stored.series); break;
        }
    }
    return std::make_shared<const KnownWeather>(std::move(weather));
}

}  // namespace beetwright::records
