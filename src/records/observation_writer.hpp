// Writing observations into a season file: new ones are added, known ones passed over, and ids that
// come again with other content are noted.
#pragma once

#include <vector>

#include "base/result.hpp"
#include "ledger/season.hpp"
#include "records/season_file.hpp"
#include "records/writing.hpp"

namespace beetwright::records {

class ObservationWriter : private Writing {
 public:
    explicit ObservationWriter(const Database& database) : Writing(database) {}

    /// Within the caller's transaction. False once something has failed; problems() says what.
    bool write(const ledger::Season& season);

    using Writing::problems;
    [[nodiscard]] const ImportReport& report() const { return report_; }
    /// Observations that the file did not have.
    [[nodiscard]] const std::vector<Uuid>& fresh() const { return fresh_; }
    /// Ids that the file has with other content.
    [[nodiscard]] const std::vector<Uuid>& edited() const { return edited_; }

 private:
    enum class Met { fresh, known, edited, failed };

    Met meet(Statement& find, const Uuid& id, std::int64_t content);
    template <class Observation, class Content, class Write>
    bool write_all(const std::vector<Observation>& all, const char* table, const char* what,
                   Content&& content_of, Write&& write);
    bool write_loads(const ledger::Season& season);
    bool write_sheets(const ledger::Season& season);
    bool write_strips(const ledger::Season& season);
    bool write_tares(const ledger::Season& season);
    bool write_labs(const ledger::Season& season);
    bool write_standing(const ledger::Season& season);
    bool write_settings(const ledger::Season& season);
    bool write_parts(const ledger::Season& season);
    bool write_covers(const ledger::Season& season);
    bool write_probes(const ledger::Season& season);
    bool write_removals(const ledger::Season& season);
    bool write_places(const ledger::Season& season);

    ImportReport report_;
    std::vector<Uuid> fresh_;
    std::vector<Uuid> edited_;
};

}  // namespace beetwright::records
