#include "io/corrections.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "base/lower_case.hpp"

namespace beetwright::io {
namespace {

constexpr std::size_t kLeastDigits = 8;

bool is_beginning_of_id(const std::string& text) {
    return text.size() >= kLeastDigits &&
           text.find_first_not_of("0123456789abcdef-") == std::string::npos;
}

void set_superseded(ledger::Season& season, const Corrections::Row& row, const Uuid& id) {
    switch (row.kind) {
        case Observed::load: season.loads[row.index].supersedes = id; break;
        case Observed::sheet: season.beet_sheets[row.index].supersedes = id; break;
        case Observed::strip: season.strips[row.index].supersedes = id; break;
        case Observed::tare: season.tares[row.index].supersedes = id; break;
        case Observed::lab: season.labs[row.index].supersedes = id; break;
        case Observed::standing: season.standing[row.index].supersedes = id; break;
        case Observed::settings: season.settings[row.index].supersedes = id; break;
        case Observed::part: season.parts[row.index].supersedes = id; break;
        case Observed::cover: season.covers[row.index].supersedes = id; break;
        case Observed::probe: season.probes[row.index].supersedes = id; break;
        case Observed::removal: season.removals[row.index].supersedes = id; break;
        case Observed::place: season.places[row.index].supersedes = id; break;
    }
}

/// What can be corrected among one kind of observation.
struct Earlier {
    std::set<std::string> ids;                      ///< in full
    std::multimap<std::string, std::string> names;  ///< of sheets and notes: their ids

    [[nodiscard]] std::vector<std::string> beginning_with(const std::string& text) const {
        std::vector<std::string> found;
        for (auto id = ids.lower_bound(text); id != ids.end() && id->starts_with(text); ++id) {
            found.push_back(*id);
        }
        return found;
    }
    /// Ids that a row's text under `supersedes` may mean.
    [[nodiscard]] std::vector<std::string> meant_by(const Corrections::Row& row) const {
        const auto [first, last] = names.equal_range(row.text);
        std::vector<std::string> found;
        for (auto name = first; name != last; ++name) {
            found.push_back(name->second);
        }
        if (row.kind == Observed::sheet || row.kind == Observed::settings) {
            // The one of that name and this field or machine, imported before and not in this
            // folder.
            const auto id_of = row.kind == Observed::sheet ? sheet_id : note_id;
            const auto named = id_of(row.text, row.named_within).text();
            if (ids.contains(named) && std::ranges::find(found, named) == found.end()) {
                found.push_back(named);
            }
        }
        const std::string begins = lower_case(row.text);
        return found.empty() && is_beginning_of_id(begins) ? beginning_with(begins) : found;
    }
};

class Resolver {
 public:
    Resolver(const std::vector<Corrections::Row>& rows, const KnownIds& known) : rows_(rows) {
        for (std::size_t kind = 0; kind < kObservedKinds; ++kind) {
            for (const Uuid& id : known[kind]) {
                earlier_[kind].ids.insert(id.text());
            }
        }
        for (const auto& row : rows) {
            Earlier& earlier = earlier_[static_cast<std::size_t>(row.kind)];
            earlier.ids.insert(row.id.text());
            if (!row.name.empty()) {
                earlier.names.emplace(row.name, row.id.text());
            }
        }
    }

    void resolve(ledger::Season& season, ProblemList& problems) {
        for (const auto& row : rows_) {
            if (row.text.empty()) {
                continue;
            }
            const auto meant = earlier_[static_cast<std::size_t>(row.kind)].meant_by(row);
            const Where where{
                .file = std::string(row.table->file), .line = row.line, .field = "supersedes"};
            if (meant.size() != 1) {
                tell_unresolved(row, where, meant, problems);
                continue;
            }
            const Uuid id = Uuid::parse(meant.front()).value_or(Uuid());
            if (comes_back_to(row.id, id)) {
                problems.add(where, "this row corrects itself",
                             "name the earlier one that it corrects");
                continue;
            }
            const auto [first, is_new] = corrected_.try_emplace(id, &row);
            if (!is_new) {
                problems.add(where,
                             "line " + std::to_string(first->second->line) +
                                 " corrects the same row, and both would count",
                             "let the later correct the earlier one: write " +
                                 first->second->id.short_text());
                continue;
            }
            corrects_[row.id] = id;
            set_superseded(season, row, id);
        }
    }

 private:
    static void tell_unresolved(const Corrections::Row& row, const Where& where,
                                const std::vector<std::string>& meant, ProblemList& problems) {
        if (meant.empty()) {
            problems.add(where, "nothing that can be corrected here is called \"" + row.text + "\"",
                         "write the id of the earlier row, or its beginning as messages and "
                         "`beetwright export` show it; the row must stand in this table or in the "
                         "season file that you import into");
            return;
        }
        std::string list;
        for (std::size_t i = 0; i < std::min<std::size_t>(meant.size(), 3); ++i) {
            list += (i == 0 ? "" : ", ") + meant[i];
        }
        problems.add(where,
                     "\"" + row.text + "\" may mean " + std::to_string(meant.size()) + " rows",
                     "write more of one of " + list);
    }

    /// Whether `earlier`, or what it corrects in turn, is `id`.
    [[nodiscard]] bool comes_back_to(const Uuid& id, Uuid earlier) const {
        while (earlier != id) {
            const auto next = corrects_.find(earlier);
            if (next == corrects_.end()) {
                return false;
            }
            earlier = next->second;
        }
        return true;
    }

    const std::vector<Corrections::Row>& rows_;
    std::array<Earlier, kObservedKinds> earlier_;
    std::map<Uuid, Uuid> corrects_;
    std::map<Uuid, const Corrections::Row*> corrected_;
};

}  // namespace

void Corrections::resolve(const KnownIds& known, ledger::Season& season,
                          ProblemList& problems) const {
    Resolver(rows_, known).resolve(season, problems);
}

}  // namespace beetwright::io
