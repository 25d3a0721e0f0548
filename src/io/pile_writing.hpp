// How a pile's figures are written for people at a terminal.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/estimate.hpp"
#include "engine/pile_parts.hpp"
#include "io/people_units.hpp"

namespace beetwright::io {

/// An estimate in people's units: "4.8 % (2.1 to 7.9)".
std::string with_interval(const Estimate<double>& estimate, std::string_view unit = "");
/// Of a share.
std::string percent_text(const Estimate<double>& share);

class PileWriter {
 public:
    PileWriter(const std::string& currency, UnitSystem units)
        : people_(units, currency), is_us_(units == UnitSystem::us) {}

    [[nodiscard]] std::string celsius(const Estimate<double>& at) const;
    /// "58 m", "4.8 m": places in a pile.
    [[nodiscard]] std::string length(Length metres) const;
    [[nodiscard]] std::string mass(CleanMass mass) const;
    [[nodiscard]] std::string sugar(const Estimate<double>& kg) const;
    [[nodiscard]] std::string money(const Estimate<Money>& money) const;
    [[nodiscard]] std::string stretch(const engine::PilePart& part) const;

 private:
    PeopleUnits people_;
    bool is_us_;
};

/// A table: columns as wide as their widest cell.
class Columns {
 public:
    void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
    [[nodiscard]] std::string text() const;

 private:
    std::vector<std::vector<std::string>> rows_;
};

}  // namespace beetwright::io
