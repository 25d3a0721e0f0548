#include "campaign/slicing_cells.hpp"

#include <algorithm>
#include <cmath>

namespace beetwright::campaign {
namespace {

/// Cells a part: the finer, the nearer the bound, and the longer each round.
constexpr double kCellsPerPart = 12.0;
constexpr double kLeastCells = 200.0;
constexpr double kMostCells = 3000.0;
/// A part's mass counts as a whole number of cells to this share of it.
constexpr double kWhole = 1e-9;
/// Parts of the smallest one that are tried for cells which fit all parts.
constexpr int kFinestFit = 20;

}  // namespace

SlicingCells::SlicingCells(const SlicingWork& work) : work_(work), parts_(work.parts().size()) {
    cut();
    worth_at_.assign(parts_.size() * width(), 0.0);
    worth_inside_.assign(fits_all_ ? 0 : parts_.size() * width(), 0.0);
    bulge_.assign(fits_all_ ? 0 : parts_.size() * width(), 0.0);
    for (PartIndex part = 0; part < parts_.size(); ++part) {
        lay(part);
    }
}

/// Into cells that fit every part, if any are so; else into fine ones.
void SlicingCells::cut() {
    double least_kg = work_.total_kg();
    for (const WorkPart& part : work_.parts()) {
        least_kg = std::min(least_kg, part.mass_kg);
    }
    const auto fits = [&](double cell_kg) {
        return work_.total_kg() / cell_kg <= kMostCells &&
               std::ranges::all_of(work_.parts(), [&](const WorkPart& part) {
                   const double cells = part.mass_kg / cell_kg;
                   return std::abs(cells - std::round(cells)) <= kWhole * cells;
               });
    };
    for (int k = 1; k <= kFinestFit && !fits_all_; ++k) {
        fits_all_ = fits(least_kg / k);
        cell_kg_ = least_kg / k;
    }
    if (!fits_all_) {
        const double cells =
            std::clamp(kCellsPerPart * static_cast<double>(parts_.size()), kLeastCells, kMostCells);
        const double wanted_kg = work_.total_kg() / cells;
        cell_kg_ = least_kg > wanted_kg ? least_kg / std::ceil(least_kg / wanted_kg) : wanted_kg;
    }
    const double cells = work_.total_kg() / cell_kg_;
    count_ = static_cast<std::size_t>(fits_all_ ? std::round(cells) : std::ceil(cells));
    last_cell_ = fits_all_ ? 1.0 : cells - static_cast<double>(count_ - 1);
}

void SlicingCells::lay(PartIndex index) {
    const WorkPart& part = work_.parts()[index];
    PartCells& cells = parts_[index];
    const double covered = part.mass_kg / cell_kg_;
    const double whole = fits_all_ ? std::round(covered) : std::floor(covered);
    cells.whole = static_cast<std::size_t>(whole);
    cells.more = fits_all_ ? 0.0 : covered - whole;

    const double last_kg = std::max(0.0, work_.total_kg() - part.mass_kg);
    const double from_kg = std::max(0.0, part.not_before_kg - work_.slack_kg());
    const double to_kg = std::min(last_kg, part.by_kg - part.mass_kg) + work_.slack_kg();
    cells.can_be = from_kg <= to_kg;
    if (!cells.can_be) {
        return;
    }
    const double first = from_kg / cell_kg_;
    cells.earliest = static_cast<std::size_t>(fits_all_ ? std::ceil(first) : first);
    cells.latest = std::min(static_cast<std::size_t>(to_kg / cell_kg_), count_ - cells.whole);
    cells.can_be = cells.earliest <= cells.latest;
    lay_worth(index, last_kg);
}

void SlicingCells::lay_worth(PartIndex index, double last_kg) {
    const PartCells& cells = parts_[index];
    const auto worth = [&](double at_kg) {
        return work_.worth(index, std::clamp(at_kg, 0.0, last_kg));
    };
    double* const at = &worth_at_[index * width()];
    for (std::size_t k = 0; k < width(); ++k) {
        at[k] = worth(static_cast<double>(k) * cell_kg_);
    }
    if (fits_all_) {
        return;
    }
    const double corner = 1.0 - cells.more;
    double* const inside = &worth_inside_[index * width()];
    for (std::size_t k = 0; k < width(); ++k) {
        inside[k] = worth((static_cast<double>(k) + corner) * cell_kg_);
    }
    // Worth is straight but where the part's beginning or end comes to a new day.
    double* const bulge = &bulge_[index * width()];
    const auto bend = [&](double at_kg) {
        if (at_kg <= 0.0 || at_kg > last_kg) {
            return;
        }
        const auto k = static_cast<std::size_t>(at_kg / cell_kg_);
        const double along = at_kg / cell_kg_ - static_cast<double>(k);
        const double straight =
            along <= corner ? at[k] + (inside[k] - at[k]) * along / corner
                            : inside[k] + (at[k + 1] - inside[k]) * (along - corner) / cells.more;
        bulge[k] = std::max(bulge[k], worth(at_kg) - straight);
    };
    for (const double before_kg : work_.sliced_before_kg()) {
        bend(before_kg);
        bend(before_kg - work_.parts()[index].mass_kg);
    }
    bend(last_kg);
}

std::size_t SlicingCells::cell_at(double position_kg) const {
    if (fits_all_) {
        return static_cast<std::size_t>(std::lround(position_kg / cell_kg_));
    }
    const double at = (position_kg - work_.slack_kg()) / cell_kg_;
    return at <= 0.0 ? 0 : static_cast<std::size_t>(at);
}

inline SlicingCells::Nets SlicingCells::nets(PartIndex index, std::size_t k,
                                             const double* paid) const {
    const PartCells& part = parts_[index];
    const std::size_t row = index * width() + k;
    const std::size_t end = k + part.whole;
    if (fits_all_) {
        return {worth_at_[row] - (paid[end] - paid[k]), 0.0};
    }
    const double corner = 1.0 - part.more;
    const double end_price = paid[end + 1] - paid[end];
    const double begin_price = paid[k + 1] - paid[k];
    return {worth_at_[row] - (paid[end] + part.more * end_price - paid[k]),
            worth_inside_[row] - (paid[end + 1] - paid[k] - corner * begin_price)};
}

void SlicingCells::enter_net(PartIndex index, std::span<const double> paid_before,
                             std::span<double> net_money) const {
    const PartCells& part = parts_[index];
    if (!part.can_be) {
        return;
    }
    const double* const paid = paid_before.data();
    Nets here = nets(index, part.earliest, paid);
    for (std::size_t k = part.earliest; k <= part.latest; ++k) {
        if (fits_all_) {
            net_money[k] = nets(index, k, paid).at_cell;
            continue;
        }
        const Nets next = nets(index, k + 1, paid);
        net_money[k] =
            std::max({here.at_cell, here.inside, next.at_cell}) + bulge_[index * width() + k];
        here = next;
    }
}

double SlicingCells::best_beginning(PartIndex index, std::size_t k,
                                    std::span<const double> paid_before) const {
    const auto cell = static_cast<double>(k);
    if (fits_all_) {
        return cell;
    }
    const Nets here = nets(index, k, paid_before.data());
    const Nets next = nets(index, k + 1, paid_before.data());
    if (here.at_cell >= std::max(here.inside, next.at_cell)) {
        return cell;
    }
    return cell + (here.inside >= next.at_cell ? 1.0 - parts_[index].more : 1.0);
}

}  // namespace beetwright::campaign
