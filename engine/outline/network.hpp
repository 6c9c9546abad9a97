#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "base/vec2.hpp"
#include "project/project.hpp"

namespace boardring {

/// One reading as the fit sees it: a function of the places of at most three points.
struct Observation {
    enum class Kind {
        distance,  ///< from `a` to `b` [mm]
        angle,     ///< interior angle at `a`, from the way to `b` (the next corner) left round to `c` (the one before) [deg]
        height,    ///< how far `b` lies above `a`: y of b less y of a [mm]
        sideways,  ///< how far `b` lies to the right of `a`: x of b less x of a [mm]
    };
    Kind kind = Kind::distance;
    std::size_t a = 0, b = 0, c = 0;
    double value = 0.0;
    double sigma = 1.0;    ///< standard deviation of the reading, > 0, mm or deg
    std::size_t line = 0;  ///< index of the reading in the notebook
};

/// Points and what was read between them. Corners of the ring (or chain) first, in ring order, helper pegs behind.
struct Network {
    std::size_t corners = 0;
    std::size_t points = 0;  ///< corners and pegs
    bool closed = true;
    std::vector<std::size_t> letters;  ///< of each point: corner_letter(letters[p]) is its name
    std::vector<Observation> observations;
    /// What the maker calls the sill, or the head the other way round: from the first corner to the second runs to the right.
    std::vector<std::array<std::size_t, 2>> sills;

    /// True if some reading is taken against level: the fit then knows which way is up, and turns the ring by it.
    [[nodiscard]] bool levelled() const;
    [[nodiscard]] std::size_t next(std::size_t corner) const { return corner + 1 == corners ? 0 : corner + 1; }
    [[nodiscard]] std::size_t before(std::size_t corner) const { return corner == 0 ? corners - 1 : corner - 1; }
};

/// The readings of a found outline as a network. A reading's standard deviation is its own +-, else the job's accuracy of its
/// kind, never less than what rounding to its last digit leaves (half a step over the square root of 3). An angle at a free end
/// is counted against the straight line between the two free ends. Readings without a value are left out.
Network open_network(const Project& project);

/// What the reading would be if the points were the truth, mm or deg in [0, 360).
double predicted(const Observation& observation, const std::vector<Vec2>& points_mm);

/// Reading less prediction; angles by the shorter way round, in (-180, 180].
double residual_of(const Observation& observation, const std::vector<Vec2>& points_mm);

/// Derivatives of the prediction by the places of its points, mm or deg per mm. Unused entries have no weight.
/// Against differences: 1e-6 relative [fit_test]. Points that coincide have none (all zero).
struct Gradient {
    std::size_t count = 0;
    std::array<std::size_t, 3> point{};
    std::array<Vec2, 3> by{};
};
Gradient gradient_of(const Observation& observation, const std::vector<Vec2>& points_mm);

}  // namespace boardring
