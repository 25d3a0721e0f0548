#include "io/ledger_json.hpp"

#include "io/estimate_json.hpp"
#include "io/json.hpp"

namespace beetwright::io {
namespace {

Json entry_object(const ledger::Entry& entry, bool single_field) {
    Json object = {{"line", ledger::key(entry.line)},
                   {"words", ledger::words(entry.line)},
                   {"beet_t_per_ha", interval_json(entry.mass, unit::t_clean_per_ha)},
                   {"sugar_kg_per_ha", interval_json(entry.sugar, unit::kg_sugar_per_ha)},
                   {"money_per_ha", interval_json(entry.money, unit::money_per_ha)}};
    if (entry.cost_at_slicing.value.is_known()) {
        object["cost_at_slicing_money_per_ha"] =
            interval_json(entry.cost_at_slicing, unit::money_per_ha);
    }
    if (single_field) {
        object["rests_on"] = footing_key(entry.rests_on);
        object["evidence"] = entry.evidence;
        if (!entry.contributor.what.empty()) {
            object["most_of_uncertainty"] = {{"from", entry.contributor.what},
                                             {"share", entry.contributor.share}};
        }
    }
    return object;
}

Json account_object(const ledger::Account& account) {
    const bool single = account.lifting != ledger::Lifting::of_many;
    Json object = {{"name", account.name},
                   {"area_ha", account.area / unit::ha},
                   {"fields", account.fields},
                   {"days_stored", account.days_stored}};
    if (single) {
        object["lifted"] = account.lifting == ledger::Lifting::lifted
                               ? Json(to_text(account.lifted))
                               : Json(nullptr);
        object["sliced"] = to_text(account.sliced);
    }
    object["lines"] = Json::array();
    for (const auto& entry : account.entries) {
        object["lines"].push_back(entry_object(entry, single));
    }
    if (account.in_storage.value.is_known()) {
        object["together"] = {{"left_behind_sugar_kg_per_ha",
                               interval_json(account.left_behind, unit::kg_sugar_per_ha)},
                              {"in_storage_sugar_kg_per_ha",
                               interval_json(account.in_storage, unit::kg_sugar_per_ha)}};
    }
    object["left_over"] = {{"beet_t_per_ha", account.mass_left_over / unit::t_clean_per_ha},
                           {"sugar_kg_per_ha", account.sugar_left_over / unit::kg_sugar_per_ha},
                           {"money_per_ha", account.money_left_over / unit::money_per_ha}};
    if (single) {
        object["not_proven"] = account.not_proven;
    }
    return object;
}

Json accounts_array(const std::vector<ledger::Account>& accounts) {
    Json array = Json::array();
    for (const auto& account : accounts) {
        array.push_back(account_object(account));
    }
    return array;
}

std::string_view group_key(engine::GroupBy by) {
    switch (by) {
        case engine::GroupBy::field: return "by_field";
        case engine::GroupBy::machine: return "by_machine";
        case engine::GroupBy::operator_name: return "by_operator";
        case engine::GroupBy::day: return "by_day";
        case engine::GroupBy::destination: return "by_destination";
        case engine::GroupBy::grower: return "by_grower";
    }
    return "";
}

// Names come from files that may hold any bytes; a bad byte becomes a replacement mark, not an
// error.
std::string dump(const Json& json) {
    return json.lines() + "\n";
}

}  // namespace

std::string ledger_json(const engine::LedgerAnswer& answer, const std::string& currency) {
    Json object = {{"beetwright_ledger", kLedgerJsonVersion}, {"currency", currency}};
    object["season"] = account_object(answer.season);
    object["fields"] = accounts_array(answer.fields);
    for (const auto& group : answer.groups) {
        object[std::string(group_key(group.by))] = accounts_array(group.accounts);
    }
    object["assumptions"] = answer.assumptions;
    return dump(object);
}

std::string next_counts_json(const std::vector<engine::NextCount>& counts,
                             const std::string& currency) {
    Json object = {{"currency", currency}, {"counts", Json::array()}};
    for (const auto& count : counts) {
        object["counts"].push_back({{"field", count.field},
                                    {"what", count.what},
                                    {"why", count.why},
                                    {"at_stake_money", count.at_stake.si()}});
    }
    return dump(object);
}

}  // namespace beetwright::io
