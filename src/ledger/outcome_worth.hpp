// What comes out of a harvester, carried to the ledger's last line: what is paid for it when it is
// sliced, less what the work took.
//
// Everything but the harvester's own doing stays as the field's amounts have it, draw by draw.
// docs/methods/harvester_advice.md.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "harvester/likelihood.hpp"
#include "harvester/prospect.hpp"
#include "ledger/account.hpp"
#include "ledger/amounts.hpp"
#include "ledger/model.hpp"
#include "ledger/standing.hpp"
#include "worth/price.hpp"

namespace beetwright::ledger {

/// Share of a usual root's mass that a break takes, for whoever looks at breaks.
harvester::LossOfBreaks loss_of_breaks(const Catalogue& catalogue);

/// Clean beet that stands on each field before the machine, as crews know it: to the tonne a
/// hectare, so that a count somewhere else does not move it.
std::vector<CleanMassPerArea> standing_crops(std::span<const FieldAmounts> fields);

class OutcomeWorth {
 public:
    /// The model must have prepared the question's stay, and outlive this with what it names.
    /// `hour_cost`: of the machine and its crew [money/s]; NaN: the catalogue's.
    OutcomeWorth(const Model& model, const FieldQuestion& question, double hour_cost);

    [[nodiscard]] std::size_t draws() const { return bases_.size(); }
    /// Without terms that pay, nothing is paid; the work costs all the same.
    harvester::Earned operator()(const harvester::Outcome& outcome, std::size_t draw) const;
    /// The field's state with this outcome in the place of what was counted.
    [[nodiscard]] Standing with(const harvester::Outcome& outcome, std::size_t draw) const;

 private:
    struct Base {
        Standing standing;
        double crop = 0.0;            ///< kg/m2 before the machine, topped correctly
        double molasses = 0.0;        ///< as analysed
        double loss_per_depth = 0.0;  ///< [1/m]
        std::array<double, harvester::kBreakClasses> tail_losses{};
        double hour_cost = 0.0;   ///< [money/s]
        double fuel_price = 0.0;  ///< [money/m3]
        double leaf_risk = 0.0;
    };
    const Model* model_;
    const std::vector<pile::Exposure>* exposures_;
    worth::Price price_;
    bool pays_;
    double leaf_limit_, long_stalks_mass_, short_stalks_mass_;
    double widest_m_, leaf_free_m_, right_m_, crown_height_m_;
    std::vector<Base> bases_;
};

}  // namespace beetwright::ledger
