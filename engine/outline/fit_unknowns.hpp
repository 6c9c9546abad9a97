#pragma once
#include <cstddef>
#include <vector>

#include "outline/network.hpp"

namespace boardring {

/// Which coordinates of the points are unknown: all but A's two, and, where nothing is read against level, B's y.
class FitUnknowns {
public:
    explicit FitUnknowns(const Network& network) {
        const bool turns = network.levelled();
        for (std::size_t p = 0; p < network.points; ++p) {
            x_.push_back(p == 0 ? -1 : count_++);
            y_.push_back(p == 0 || (p == 1 && !turns) ? -1 : count_++);
        }
    }
    /// Index of the unknown, -1 where the coordinate is held.
    [[nodiscard]] int x(std::size_t point) const { return x_[point]; }
    [[nodiscard]] int y(std::size_t point) const { return y_[point]; }
    [[nodiscard]] int count() const { return count_; }

private:
    std::vector<int> x_, y_;
    int count_ = 0;
};

}  // namespace boardring
