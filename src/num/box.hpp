// A box of cells and how they lie in memory: upwards first, then across, then along.
//
// Before the first and behind the last cell there is room for one plane more, so that a loop over
// all cells may look at any neighbour without asking whether there is one: the coupling to what is
// not there is nought.
#pragma once

#include <array>
#include <cstddef>
#include <new>
#include <vector>

namespace beetwright::num {

/// Takes memory that begins where a widest register's does.
template <class Number>
struct WideMemory {
    using value_type = Number;
    static constexpr std::align_val_t kBegins{64};

    WideMemory() = default;
    template <class Other>
    explicit WideMemory(const WideMemory<Other>&) {}
    Number* allocate(std::size_t count) {
        return static_cast<Number*>(::operator new(count * sizeof(Number), kBegins));
    }
    void deallocate(Number* at, std::size_t) { ::operator delete(at, kBegins); }
    bool operator==(const WideMemory&) const = default;
};

/// One number per cell, with room about them.
using Field = std::vector<double, WideMemory<double>>;
/// The same in single precision.
using Floats = std::vector<float, WideMemory<float>>;

enum class Direction : std::size_t { up = 0, across = 1, along = 2 };
inline constexpr std::size_t kDirections = 3;
inline constexpr std::array<Direction, kDirections> kEveryDirection{
    Direction::up, Direction::across, Direction::along};

struct Box {
    std::size_t across = 1;  ///< number of cells
    std::size_t along = 1;
    std::size_t up = 1;

    [[nodiscard]] std::size_t cells() const { return across * along * up; }
    /// So much that the first cell, too, stands where a widest register's memory begins.
    [[nodiscard]] std::size_t pad() const {
        constexpr std::size_t kRegister = 16;
        const std::size_t plane = along > 1 ? across * up : up;
        return (plane + kRegister - 1) / kRegister * kRegister;
    }
    [[nodiscard]] std::size_t begin() const { return pad(); }
    [[nodiscard]] std::size_t end() const { return pad() + cells(); }
    /// Of a Field of this box.
    [[nodiscard]] std::size_t room() const { return cells() + 2 * pad(); }
    [[nodiscard]] Field field(double value = 0.0) const { return Field(room(), value); }

    [[nodiscard]] std::size_t index(std::size_t i_across, std::size_t i_along,
                                    std::size_t i_up) const {
        return pad() + (i_along * across + i_across) * up + i_up;
    }
    /// From a cell to the next in a direction.
    [[nodiscard]] std::size_t stride(Direction direction) const {
        switch (direction) {
            case Direction::up: return 1;
            case Direction::across: return up;
            case Direction::along: return across * up;
        }
        return 0;
    }
    [[nodiscard]] std::size_t count(Direction direction) const {
        switch (direction) {
            case Direction::up: return up;
            case Direction::across: return across;
            case Direction::along: return along;
        }
        return 0;
    }
    /// Sections have two directions; their third one has no loops.
    [[nodiscard]] std::size_t directions() const { return along > 1 ? 3 : 2; }
};

}  // namespace beetwright::num
