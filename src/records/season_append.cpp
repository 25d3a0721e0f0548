#include <algorithm>

#include "ledger/observation_kinds.hpp"
#include "records/corrections_check.hpp"
#include "records/observation_writer.hpp"
#include "records/season_file.hpp"

namespace beetwright::records {
namespace {

bool corrects_anything(const ledger::Season& season) {
    bool corrects = false;
    ledger::for_each_kind(season, [&](const auto& all) {
        corrects = corrects || std::ranges::any_of(
                                   all, [](const auto& one) { return !one.supersedes.is_nil(); });
    });
    return corrects;
}

Problems contradictions(const std::vector<Uuid>& edited) {
    Problems problems;
    for (const auto& id : edited) {
        problems.push_back({ProblemKind::conflict,
                            {.file = "", .line = 0, .field = id.text()},
                            id.short_text() + " is known already, with other content",
                            "what was seen is never edited: send it under an id of its own, with " +
                                id.short_text() + " under supersedes"});
    }
    return problems;
}

/// Writes one submission within the transaction; the caller takes it back where there are problems.
Result<Receipt> write_one(const Database& database, const Submission& submission) {
    ObservationWriter writer(database);
    if (!writer.write(submission.observations)) {
        return writer.problems();
    }
    if (!writer.edited().empty()) {
        return contradictions(writer.edited());
    }
    if (corrects_anything(submission.observations)) {
        Problems problems;
        if (auto checked = check_corrections(database, {}, problems); !checked) {
            return checked.problems();
        }
        if (!problems.empty()) {
            return problems;
        }
    }
    auto note = database.prepare("INSERT INTO received VALUES (?, ?, ?)");
    if (!note) {
        return note.problems();
    }
    for (const auto& id : writer.fresh()) {
        note->bind(id).bind(std::string_view(submission.by));
        note->bind(std::int64_t{submission.at.time_since_epoch().count()});
        if (auto noted = note->run(); !noted) {
            return noted.problems();
        }
    }
    std::int64_t known = 0;
    for (const auto& row : writer.report().rows) {
        known += row.known;
    }
    return Receipt{writer.fresh(), known};
}

}  // namespace

Appended SeasonFile::append(std::span<const Submission> submissions) {
    const auto all_failed = [&](const Problems& problems) {
        return Appended{{submissions.size(), Result<Receipt>(problems)}, 0};
    };
    auto transaction = Transaction::begin(database_);
    if (!transaction) {
        return all_failed(transaction.problems());
    }
    Appended appended;
    bool has_fresh = false;
    for (const auto& submission : submissions) {
        if (auto marked = database_.execute("SAVEPOINT submission"); !marked) {
            return all_failed(marked.problems());
        }
        appended.receipts.push_back(write_one(database_, submission));
        const auto& receipt = appended.receipts.back();
        if (!receipt.ok() && receipt.problems().front().kind == ProblemKind::outside) {
            // A full disk may already have undone the whole transaction, savepoints and all.
            return all_failed(Problems(receipt.problems()));
        }
        has_fresh = has_fresh || (receipt.ok() && !receipt->fresh.empty());
        auto closed = database_.execute(
            receipt.ok() ? "RELEASE submission" : "ROLLBACK TO submission; RELEASE submission");
        if (!closed) {
            return all_failed(closed.problems());
        }
    }
    if (has_fresh) {
        if (auto counted = database_.execute("UPDATE revision SET number = number + 1"); !counted) {
            return all_failed(counted.problems());
        }
        const auto number = revision();
        if (!number) {
            return all_failed(number.problems());
        }
        appended.revision = *number;
    }
    if (auto committed = transaction->commit(); !committed) {
        return all_failed(committed.problems());
    }
    return appended;
}

}  // namespace beetwright::records
