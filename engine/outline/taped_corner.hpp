#pragma once
#include <optional>

namespace boardring {

/// A corner measured with the tape alone: a mark on each leg, and the length straight across between the marks.
struct TapedCorner {
    double interior_deg = 0.0;  ///< (0, 180]
    double deg_per_mm = 0.0;    ///< how far the angle is off, as a rule, for each millimetre the three tapes are off
};

/// The angle whose legs are `one_mm` and `other_mm` long and `across_mm` apart: 2 atan of the half-angle formula, for these lengths
/// within 11 units of 2^-53 of itself, for flat triangles too: brackets 4 and 5 units, their roots 3 and 3.5, atan2 and the change to
/// degrees 2 each.
/// \return nothing if three such lengths make no triangle
/// deg_per_mm is the root of the sum of squares of the three derivatives; a triangle so flat that they say nothing (tapes a
/// millimetre off could make it straight) gives what that millimetre really does.
/// Laws      order of the legs and scale do not matter, to the last bit; against the law of cosines in long double, within that bound
///           and what rounding the length across does; against differences [taped_corner_test]
std::optional<TapedCorner> taped_corner(double one_mm, double other_mm, double across_mm);

}  // namespace boardring
