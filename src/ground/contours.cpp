#include "ground/contours.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

#include "base/contract.hpp"

namespace beetwright::ground {
namespace {

constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();

/// A piece of a line within four neighbouring cells, from one side of their square to another. A
/// side is known by the cell that it begins at: twice its number, and one more across the rows.
using Piece = std::array<std::size_t, 2>;

/// Lines of one height.
class OneHeight {
 public:
    OneHeight(const Grid& grid, const Layer& height_m, double level)
        : grid_(grid), height_m_(height_m), level_(level) {}

    void append_to(std::vector<ContourLine>& lines) {
        for (std::size_t row = 0; row + 1 < grid_.rows; ++row) {
            for (std::size_t column = 0; column + 1 < grid_.columns; ++column) {
                cross(column, row);
            }
        }
        joined_.assign(2 * grid_.size(), {kNone, kNone});
        for (std::size_t k = 0; k < pieces_.size(); ++k) {
            for (const auto side : pieces_[k]) {
                auto& [one, other] = joined_[side];
                (one == kNone ? one : other) = k;
            }
        }
        is_taken_.assign(pieces_.size(), false);
        // Lines that end somewhere are gone through from an end; what is left then is closed.
        for (const bool is_open : {true, false}) {
            for (std::size_t k = 0; k < pieces_.size(); ++k) {
                for (const auto side : pieces_[k]) {
                    if (!is_taken_[k] && (joined_[side][1] == kNone) == is_open) {
                        lines.push_back({level_, follow(k, side)});
                    }
                }
            }
        }
    }

 private:
    [[nodiscard]] bool is_high(std::size_t cell) const { return height_m_[cell] >= level_; }

    /// The pieces between four cells, counter-clockwise from the one nearest the grid's corner.
    void cross(std::size_t column, std::size_t row) {
        const std::array cells{grid_.at(column, row), grid_.at(column + 1, row),
                               grid_.at(column + 1, row + 1), grid_.at(column, row + 1)};
        if (std::ranges::any_of(cells,
                                [&](std::size_t cell) { return std::isnan(height_m_[cell]); })) {
            return;
        }
        const std::array sides{2 * cells[0], 2 * cells[1] + 1, 2 * cells[3], 2 * cells[0] + 1};
        std::vector<std::size_t> crossed;
        double sum = 0.0;
        for (std::size_t k = 0; k < cells.size(); ++k) {
            sum += height_m_[cells[k]];
            if (is_high(cells[k]) != is_high(cells[(k + 1) % cells.size()])) {
                crossed.push_back(sides[k]);
            }
        }
        if (crossed.size() == 2) {
            pieces_.push_back({crossed[0], crossed[1]});
        } else if (crossed.size() == 4) {
            // A saddle: what its middle is of hangs together.
            const bool around_first = is_high(cells[0]) != (0.25 * sum >= level_);
            const std::size_t turn = around_first ? 3 : 0;
            pieces_.push_back({crossed[turn], crossed[(turn + 1) % 4]});
            pieces_.push_back({crossed[(turn + 2) % 4], crossed[(turn + 3) % 4]});
        }
    }

    /// The line on from a piece, away from one of its sides.
    std::vector<Point> follow(std::size_t piece, std::size_t from) {
        std::vector<Point> course{on_side(from)};
        while (piece != kNone && !is_taken_[piece]) {
            is_taken_[piece] = true;
            from = pieces_[piece][0] == from ? pieces_[piece][1] : pieces_[piece][0];
            course.push_back(on_side(from));
            piece = joined_[from][0] == piece ? joined_[from][1] : joined_[from][0];
        }
        return course;
    }

    /// Where the line crosses a side.
    [[nodiscard]] Point on_side(std::size_t side) const {
        const auto cell = side / 2;
        const auto next = cell + (side % 2 == 0 ? 1 : grid_.columns);
        const double share = (level_ - height_m_[cell]) / (height_m_[next] - height_m_[cell]);
        const Point a = grid_.middle(cell);
        const Point b = grid_.middle(next);
        return {a.east_m + share * (b.east_m - a.east_m),
                a.north_m + share * (b.north_m - a.north_m)};
    }

    const Grid& grid_;
    const Layer& height_m_;
    double level_;
    std::vector<Piece> pieces_;
    std::vector<std::array<std::size_t, 2>> joined_;  ///< pieces, by their sides
    std::vector<bool> is_taken_;
};

}  // namespace

std::vector<ContourLine> contours_of(const Grid& grid, const Layer& height_m, double step_m) {
    require(step_m > 0.0, "lines lie apart");
    require(height_m.size() == grid.size(), "each cell has a height");
    double least = std::numeric_limits<double>::infinity();
    double most = -least;
    for (const double height : height_m) {
        if (!std::isnan(height)) {
            least = std::min(least, height);
            most = std::max(most, height);
        }
    }
    std::vector<ContourLine> lines;
    if (!(least <= most)) {
        return lines;
    }
    const auto last = static_cast<std::int64_t>(std::floor(most / step_m));
    for (auto k = static_cast<std::int64_t>(std::ceil(least / step_m)); k <= last; ++k) {
        OneHeight(grid, height_m, static_cast<double>(k) * step_m).append_to(lines);
    }
    return lines;
}

}  // namespace beetwright::ground
