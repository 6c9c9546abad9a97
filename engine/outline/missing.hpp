#pragma once
#include <cstddef>
#include <vector>

#include "outline/chain.hpp"

namespace boardring {

/// Values of a ring that were left open with `?`. A ring has three conditions (the sum of its angles, and two for its sides to
/// meet), so at most three values follow from the rest, at most two of them sides: angles alone say nothing of size.
struct Unknowns {
    std::vector<std::size_t> sides;   ///< ascending
    std::vector<std::size_t> angles;  ///< ascending

    [[nodiscard]] std::size_t count() const { return sides.size() + angles.size(); }
    [[nodiscard]] bool none() const { return count() == 0; }
    /// True if the rest fixes them with nothing left over; else it says more than is needed and has to agree.
    [[nodiscard]] bool exactly_fixed() const { return count() == 3 || sides.size() == 2; }
};

/// One way of filling in the open values.
struct FilledChain {
    Chain chain;
    /// The side the open ones would have is no length (0 or less), or the angles go round more than once: nobody can build it.
    bool buildable = false;
    /// What 1 mm in the worst placed given side moves the open values, at most: sides in mm, angles in mm at the end of the longer
    /// side beside them. Only of values that are exactly fixed, else 0.
    double leverage = 0.0;
    std::size_t lever_side = 0;    ///< that given side
    std::size_t levered = 0;       ///< what it moves most: a side, or a corner if `levers_angle`
    bool levers_angle = false;
};

/// What the rest says of the open values.
struct ChainFilling {
    std::vector<FilledChain> ways;    ///< one; two for one side with two angles, and for three angles; none if out of reach
    bool parallel = false;            ///< the two open sides run alike: any length added to both still closes
    double between_deg = 90.0;        ///< two open sides: the angle between their lines, in [0, 90]
    double short_mm = 0.0;            ///< out of reach by this much ...
    std::size_t short_corner[2] = {}; ///< ... between these corners: the stretch that is too short or too far apart
};

/// Two open sides nearer to running alike than this are refused: 1 mm in the rest would move them by 10 m.
inline constexpr double kParallelDeg = 0.006;

/// The open values by closed forms, all others taken as given (over-determined ones: misses that remain are shared by the one
/// rule that serves every ring, adjust.hpp).
///
/// \param given  a closed chain of 3 sides or more; what stands at the open places does not matter
/// \param open   1 to 3 values, at most 2 of them sides
///
/// Two sides       an angle left open first gets what the sum leaves it (none: the sum is shared equally); then each side is one
///                 cross product over the sine between them.
/// Side, 2 angles  the corners left open part the ring into two stiff stretches: the chord of the one says what the chord of the
///                 other must be, a quadratic in the side.
/// Three angles    three stiff stretches, three chords: a triangle and its mirror image.
/// Side, angle or both; two angles: what is left over is not used: the sum for the angle, the foot of the perpendicular for the
///                 side, the directions of both chords for two angles.
/// Accuracy  exactly fixed: the ring closes within 1e-11 of its perimeter [missing_test]; ten random rings in a thousand are ill
///           placed, leverage says so.
/// Source    docs/theory/missing.md
ChainFilling fill_in(const Chain& given, const Unknowns& open);

}  // namespace boardring
