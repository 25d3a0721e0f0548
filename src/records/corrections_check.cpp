#include "records/corrections_check.hpp"

#include <algorithm>

#include "records/edited_rows.hpp"
#include "records/observation_tables.hpp"

namespace beetwright::records {
namespace {

bool is_told(const Where& where, const Problems& problems) {
    return where.line > 0 && std::ranges::any_of(problems, [&](const Problem& problem) {
               return problem.where.file == where.file && problem.where.line == where.line;
           });
}

}  // namespace

Result<Done> check_corrections(const Database& database, const io::RowPlaces& places,
                               Problems& problems) {
    const auto add = [&](ProblemKind kind, const Uuid& id, std::string what, std::string fix) {
        const Where where = place_of(id, places, "supersedes");
        if (!is_told(where, problems)) {
            problems.push_back({kind, where, std::move(what), std::move(fix)});
        }
    };
    for (const std::string table : kObservationTables) {
        auto of_nothing = for_each_row(
            database,
            "SELECT id, supersedes FROM " + table +
                " WHERE supersedes IS NOT NULL AND supersedes NOT IN (SELECT id FROM " + table +
                ")",
            [&](const Statement& row) {
                add(ProblemKind::missing, row.uuid(0),
                    row.uuid(0).short_text() + " supersedes " + row.uuid(1).text() +
                        ", which this season does not hold",
                    "mend the id, or import the earlier one first");
            });
        if (!of_nothing) {
            return of_nothing;
        }
        auto twice = for_each_row(
            database,
            "SELECT b.id, a.id, a.supersedes FROM " + table + " a JOIN " + table +
                " b ON a.supersedes = b.supersedes AND a.position < b.position",
            [&](const Statement& row) {
                add(ProblemKind::conflict, row.uuid(0),
                    row.uuid(2).short_text() + " was corrected before, by " +
                        row.uuid(1).short_text() + ", and both would count",
                    "let the later correct the earlier one: write " + row.uuid(1).short_text());
            });
        if (!twice) {
            return twice;
        }
    }
    return Done{};
}

}  // namespace beetwright::records
