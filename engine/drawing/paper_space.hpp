#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "base/vec2.hpp"

namespace boardring {

/// Distance by which some edge normal of two convex shapes keeps them apart, never more than their true distance; negative: how
/// deep they overlap at least. A shape is a polygon, a segment (two points) or a point.
double convex_gap(std::span<const Vec2> a, std::span<const Vec2> b);

/// What has been put on the paper so far, so that the next label can be put where nothing is. Convex shapes only.
class PaperSpace {
public:
    enum What : unsigned { kWood = 1, kText = 2, kLine = 4 };

    /// \param cell  size of the search grid, about the size of a label; > 0
    explicit PaperSpace(double cell) : cell_(cell) {}

    /// \param owner  who put it there: is_free can look past one owner
    void take(What what, std::span<const Vec2> shape, std::optional<std::size_t> owner = std::nullopt);

    /// True if every shape of the kinds in `what` (several joined by |) keeps at least `gap` away; a negative gap allows that
    /// much overlap.
    [[nodiscard]] bool is_free(unsigned what, std::span<const Vec2> shape, double gap,
                               std::optional<std::size_t> past_owner = std::nullopt) const;

private:
    struct Taken {
        What what = kText;
        std::optional<std::size_t> owner;
        std::vector<Vec2> shape;
        Vec2 low, high;
    };

    double cell_;
    std::vector<Taken> taken_;
    std::unordered_map<long long, std::vector<std::size_t>> cells_;  // only asked, never listed: its order shows nowhere
};

}  // namespace boardring
