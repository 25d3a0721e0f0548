// Names that the tables of a season use, against those that its masters introduce.
#pragma once

#include <map>
#include <set>
#include <string>
#include <tuple>

#include "io/problem_list.hpp"
#include "io/table.hpp"
#include "ledger/season.hpp"

namespace beetwright::io {

/// Gathers names while tables are read, in whatever order, and tells those that nobody introduced.
class NamesUsed {
 public:
    /// A table of masters was there and its header was in order. Without it a name is just a name:
    /// to tell every one of them as well as the table's own fault would bury the fault.
    void can_be_read(const Table& masters);
    /// The names of a season's fields, machines and destinations, for tables of observations alone.
    void introduce(const ledger::Season& season);
    /// Looks at one row, in order or not: what a master row introduces, and what a row refers to.
    /// A master row that was refused introduces its name all the same, for its own fault is told.
    void look(const Table& table, const TableRow& row);
    /// Each name that was not introduced, told once for a column, where it first stands, with the
    /// nearest that was.
    void tell(ProblemList& problems) const;

 private:
    struct Use {
        int line = 0;
        bool again = false;
    };
    std::map<Master, std::set<std::string>> introduced_;
    std::map<std::tuple<const Table*, std::size_t, std::string>, Use> uses_;
    // Rows of one sheet follow each other: the name that stood there last needs no search.
    std::map<std::pair<const Table*, std::size_t>, std::pair<std::string, Use*>> last_;
};

}  // namespace beetwright::io
