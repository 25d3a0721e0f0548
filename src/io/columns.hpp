// How the columns of a season's tables are described, and those that many tables have.
#pragma once

#include <array>
#include <span>
#include <string_view>

#include "check/sheet.hpp"
#include "io/number_column.hpp"

namespace beetwright::io::columns {

inline constexpr auto required = Presence::required;
inline constexpr auto optional = Presence::optional;

constexpr Column text(std::string_view name, Presence presence, std::string_view words) {
    return {.name = name, .kind = CellKind::text, .presence = presence, .words = words};
}

constexpr Column name_of(Master master, std::string_view name, Presence presence,
                         std::string_view words) {
    Column column = text(name, presence, words);
    column.refers_to = master;
    return column;
}

constexpr Column explained_in(Master master, Column column) {
    column.explained_in = master;
    return column;
}

inline constexpr auto number = number_column;

constexpr Column count(std::string_view name, Presence presence, double most,
                       std::string_view words, double least = 0.0) {
    Column column = number(name, presence, UnitKind::number, "", "", least, most, words);
    column.digits = Digits::whole;
    return column;
}

constexpr Column mass(std::string_view name, Presence presence, std::string_view words,
                      std::string_view metric = "kg", std::string_view us = "lb",
                      double most_kg = 1e9) {
    return number(name, presence, UnitKind::mass, metric, us, 0.0, most_kg, words);
}

inline constexpr double kLongestPile = 2000.0;  // [m]

/// A place along a pile, from the end at which it was begun.
constexpr Column along_pile(std::string_view name, Presence presence, std::string_view words) {
    return number(name, presence, UnitKind::length, "m", "ft", 0.0, kLongestPile, words);
}

constexpr Column word(std::string_view name, std::span<const Word> allowed, std::string_view words,
                      Presence presence = optional) {
    return {.name = name,
            .kind = CellKind::word,
            .presence = presence,
            .words = words,
            .allowed = allowed};
}

constexpr Column day(std::string_view name, Presence presence, std::string_view words) {
    return {.name = name, .kind = CellKind::day, .presence = presence, .words = words};
}

constexpr Column instant(std::string_view name = "at") {
    return {.name = name,
            .kind = CellKind::instant,
            .presence = required,
            .words = "when it was seen: 2031-10-04T09:30+02:00, or a day alone"};
}

constexpr Column id(std::string_view name, std::string_view words) {
    return {.name = name, .kind = CellKind::id, .words = words};
}

inline constexpr Column own_id =
    id("id", "a UUID made where it was seen; left empty, the row's own content names it");
inline constexpr Column supersedes{
    .name = "supersedes",
    .kind = CellKind::earlier,
    .words =
        "the earlier one that this one corrects: its id, or the id's "
        "beginning as messages show it"};
inline constexpr Column field =
    name_of(Master::fields, "field", required, "the field's name, as in fields.csv");
inline constexpr Column machine =
    name_of(Master::machines, "machine", optional, "the machine's name, as in machines.csv");

constexpr Column content(std::string_view name, worth::Element element, double most,
                         std::string_view words) {
    Column column = number(name, optional, UnitKind::amount_content, "mmol/100 g", "mmol/100 g",
                           0.0, most, words);
    column.element = element;
    return column;
}

template <class Enum>
constexpr int code(Enum value) {
    return static_cast<int>(value);
}

inline constexpr std::array kYesNo{Word{"no", code(check::Seen::no)},
                                   Word{"yes", code(check::Seen::yes)}};

}  // namespace beetwright::io::columns
