#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "closure/lanes.hpp"
#include "closure/least_opening.hpp"

namespace boardring {

/// A twist of eight builds.
using TwistLanes = std::array<Lanes, 3>;

/// least_opening for one ring and very many motions: the columns are scaled once, then eight motions are solved side by side by the
/// same steps without a step rule; the few that do not arrive go the slow way.
class OpeningLanes {
public:
    /// \param columns  one per joint, spanning all three directions (ready() tells)
    explicit OpeningLanes(std::vector<OpeningColumns> columns);

    /// False where all joints slide along one line, or there are none: nothing can be solved then.
    [[nodiscard]] bool ready() const { return ready_; }
    [[nodiscard]] const std::vector<OpeningColumns>& columns() const { return columns_; }

    /// One joint's openings in eight builds.
    struct Opened {
        Lanes gap_in, gap_out, lip_in;
    };

    /// \param wanted  the motions
    /// \param guess   in: where to start (as a former call left it, or zeros); out: for the next call nearby
    /// \param opened  one per joint, written
    /// Accuracy  1e-9 of the largest opening against least_opening [opening_lanes_test]
    void solve(const TwistLanes& wanted, TwistLanes& guess, std::vector<Opened>& opened) const;

    /// Sum of all squares the motion takes if wood could overlap: what adds up over independent errors.
    [[nodiscard]] double effort(const Twist& motion) const;

private:
    struct Gap {
        double a0, a1, a2;                  // scaled column
        double a00, a01, a02, a11, a12, a22;  // its square
    };
    void slow_way(const TwistLanes& wanted, std::size_t lane, std::vector<Opened>& opened) const;

    std::vector<OpeningColumns> columns_;
    std::array<std::array<double, 3>, 3> scale_{};  // lower triangle: rows = scale x scaled rows
    std::vector<Gap> gaps_;                         // inner and outer of each joint
    std::vector<std::array<double, 3>> lips_;
    std::array<double, 6> lip_square_{};
    bool ready_ = false;
};

}  // namespace boardring
