// Fields, machines, soils and destinations taken out of a season, or called otherwise; weather set
// and taken out.
#include <array>
#include <span>

#include "base/contract.hpp"
#include "records/season_file.hpp"
#include "records/weather_store.hpp"

namespace beetwright::records {
namespace {

using io::Master;

/// Where a name may stand besides its own table.
struct Use {
    const char* table;
    const char* column;
    const char* one;
    const char* many;
};

constexpr std::array kUsesOfFields{
    Use{"beet_sheets", "field", "sheet of beets", "sheets of beets"},
    Use{"strips", "field", "dug strip", "dug strips"},
    Use{"loads", "field", "load", "loads"},
    Use{"tares", "field", "tare sample", "tare samples"},
    Use{"labs", "field", "laboratory result", "laboratory results"},
    Use{"standing_looks", "field", "look at the standing crop", "looks at the standing crop"},
    Use{"settings_notes", "field", "note of settings", "notes of settings"},
    Use{"photos", "field", "photograph", "photographs"},
    Use{"places", "field", "place of something seen", "places of things seen"},
};
constexpr std::array kUsesOfMachines{
    Use{"beet_sheets", "machine", "sheet of beets", "sheets of beets"},
    Use{"strips", "machine", "dug strip", "dug strips"},
    Use{"settings_notes", "machine", "note of settings", "notes of settings"},
    Use{"part_changes", "machine", "new part or repair", "new parts and repairs"},
};
constexpr std::array kUsesOfDestinations{
    Use{"loads", "destination", "load", "loads"},
    Use{"cover_changes", "pile", "cover", "covers"},
    Use{"probe_readings", "pile", "temperature of the pile", "temperatures of the pile"},
    Use{"pile_removals", "pile", "removal", "removals"},
};

/// A table of its own in which more is said of one, and its column that names it.
struct Details {
    const char* table;
    const char* column;
};
constexpr std::array kDetailsOfFields{Details{"ground_parts", "field"}};
constexpr std::array kDetailsOfMachines{Details{"controls", "machine"},
                                        Details{"dial_points", "machine"}};
constexpr std::array kDetailsOfDestinations{Details{"temperatures", "destination"},
                                            Details{"piles", "name"}, Details{"fans", "pile"}};

struct Kind {
    const char* table;
    const char* word;
    std::span<const Use> observations;
    /// The column of `fields` that names one; null: none does.
    const char* in_fields;
    std::span<const Details> details;
};

const Kind& kind_of(Master master) {
    static constexpr Kind fields{"fields", "field", kUsesOfFields, nullptr, kDetailsOfFields};
    static constexpr Kind machines{"machines", "machine", kUsesOfMachines, "machine",
                                   kDetailsOfMachines};
    // What was seen names fields, and only those name a soil.
    static constexpr Kind soils{"soils", "soil", {}, "soil", {}};
    static constexpr Kind destinations{"destinations", "destination", kUsesOfDestinations,
                                       "destination", kDetailsOfDestinations};
    require(master != Master::none, "one of the tables of names");
    switch (master) {
        case Master::fields: return fields;
        case Master::machines: return machines;
        case Master::soils: return soils;
        case Master::destinations:
        case Master::none: break;
    }
    return destinations;
}

/// "3 sheets of beets, 1 dug strip"
void add_words(std::string& words, std::int64_t count, const char* one, const char* many) {
    if (count > 0) {
        words +=
            (words.empty() ? "" : ", ") + std::to_string(count) + " " + (count == 1 ? one : many);
    }
}

/// Changes one name within a transaction that the caller began.
class Naming {
 public:
    Naming(const Database& database, Master master) : database_(database), kind_(kind_of(master)) {}

    Result<Done> remove(const std::string& name) {
        auto done = must_be_there(name);
        std::string seen;
        if (done) {
            done = count_observations(name, seen);
        }
        if (done && !seen.empty()) {
            return conflict(name, "is named by " + seen,
                            "it stays, so that what was seen keeps its meaning");
        }
        std::int64_t fields = 0;
        if (done && kind_.in_fields != nullptr) {
            done = count("fields", kind_.in_fields, name, fields);
        }
        if (fields > 0) {
            std::string words;
            add_words(words, fields, "field", "fields");
            return conflict(name, "is named by " + words,
                            "give " + std::string(fields == 1 ? "it" : "them") + " another " +
                                kind_.word + " first");
        }
        for (const Details& more : kind_.details) {
            if (done) {
                done =
                    run("DELETE FROM " + std::string(more.table) + " WHERE " + more.column + " = ?",
                        name);
            }
        }
        return done ? run("DELETE FROM " + std::string(kind_.table) + " WHERE name = ?", name)
                    : done;
    }

    Result<Done> rename(const std::string& name, const std::string& to) {
        auto done = must_be_there(name);
        std::string seen;
        if (done) {
            done = count_observations(name, seen);
        }
        if (done && !seen.empty()) {
            return conflict(name, "is named by " + seen + ", and what was seen is not edited",
                            "add one under the new name, and leave this one as it is");
        }
        std::int64_t others = 0;
        if (done) {
            done = count(kind_.table, "name", to, others);
        }
        if (others > 0) {
            return conflict(to, "is the name of another " + std::string(kind_.word),
                            "give each a name of its own");
        }
        if (done) {
            done = replace(kind_.table, "name", name, to);
        }
        if (done && kind_.in_fields != nullptr) {
            done = replace("fields", kind_.in_fields, name, to);
        }
        for (const Details& more : kind_.details) {
            if (done) {
                done = replace(more.table, more.column, name, to);
            }
        }
        return done;
    }

 private:
    template <class... Values>
    Result<Done> run(const std::string& sql, const Values&... values) {
        auto statement = database_.prepare(sql);
        if (!statement) {
            return statement.problems();
        }
        (statement->bind(std::string_view(values)), ...);
        return statement->run();
    }
    Result<Done> replace(const char* table, const char* column, const std::string& name,
                         const std::string& to) {
        return run(
            "UPDATE " + std::string(table) + " SET " + column + " = ? WHERE " + column + " = ?", to,
            name);
    }
    Result<Done> count(const char* table, const char* column, const std::string& name,
                       std::int64_t& into) {
        auto statement = database_.prepare("SELECT count(*) FROM " + std::string(table) +
                                           " WHERE " + column + " = ?");
        if (!statement) {
            return statement.problems();
        }
        statement->bind(std::string_view(name));
        if (const auto row = statement->step(); !row) {
            return row.problems();
        }
        into = statement->integer(0);
        return Done{};
    }
    Result<Done> count_observations(const std::string& name, std::string& words) {
        for (const Use& use : kind_.observations) {
            std::int64_t found = 0;
            if (auto done = count(use.table, use.column, name, found); !done) {
                return done;
            }
            add_words(words, found, use.one, use.many);
        }
        return Done{};
    }
    Result<Done> must_be_there(const std::string& name) {
        std::int64_t found = 0;
        auto done = count(kind_.table, "name", name, found);
        if (done && found == 0) {
            return Problem{
                ProblemKind::missing,
                {.file = std::string(kind_.table) + ".csv", .line = 0, .field = "name"},
                "no " + std::string(kind_.word) + " of this season is called \"" + name + "\"",
                "somebody may have taken it out or renamed it meanwhile"};
        }
        return done;
    }
    [[nodiscard]] Problem conflict(const std::string& name, const std::string& what,
                                   std::string fix) const {
        return {ProblemKind::conflict,
                {.file = std::string(kind_.table) + ".csv", .line = 0, .field = "name"},
                "\"" + name + "\" " + what,
                std::move(fix)};
    }

    const Database& database_;
    const Kind& kind_;
};

/// The change under way makes the revision after the file's.
constexpr const char* kWeatherChanges = "UPDATE revision SET weather = number + 1";

/// What is kept of the ground goes by fields' names.
Result<Done> ground_changes(const Database& database, Master master) {
    return master == Master::fields ? database.execute("UPDATE revision SET ground = ground + 1")
                                    : Result<Done>(Done{});
}

/// Does it in one transaction that also says that the season has changed, and by whom.
template <class Change>
Result<Done> change_season(const Database& database, const AuditEntry& by, Change&& change) {
    auto transaction = Transaction::begin(database);
    if (!transaction) {
        return transaction.problems();
    }
    Result<Done> done = change();
    if (done) {
        done = database.execute("UPDATE revision SET number = number + 1");
    }
    if (done) {
        done = note(database, by);
    }
    return done ? transaction->commit() : done;
}

}  // namespace

Result<Done> SeasonFile::remove(io::Master master, const std::string& name, const AuditEntry& by) {
    return change_season(database_, by, [&] {
        auto done = Naming(database_, master).remove(name);
        return done ? ground_changes(database_, master) : done;
    });
}

Result<Done> SeasonFile::rename(io::Master master, const std::string& name, const std::string& to,
                                const AuditEntry& by) {
    return change_season(database_, by, [&] {
        auto done = Naming(database_, master).rename(name, to);
        return done ? ground_changes(database_, master) : done;
    });
}

Result<Done> SeasonFile::set_weather(const weather::KnownWeather& weather, const AuditEntry& by) {
    return change_season(database_, by, [&] {
        auto done = store_weather(database_, weather);
        return done ? database_.execute(kWeatherChanges) : done;
    });
}

Result<Done> SeasonFile::remove_weather(io::WeatherPart part, const AuditEntry& by) {
    return change_season(database_, by, [&]() -> Result<Done> {
        const auto had = drop_weather(database_, part);
        if (!had) {
            return had.problems();
        }
        if (!*had) {
            return Problem{ProblemKind::missing,
                           {.file = io::file_of(part), .line = 0, .field = ""},
                           "this season has no such weather",
                           "somebody may have taken it out meanwhile"};
        }
        return database_.execute(kWeatherChanges);
    });
}

}  // namespace beetwright::records
