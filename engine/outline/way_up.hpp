#pragma once
#include <cstddef>
#include <optional>

#include "base/finding.hpp"
#include "outline/fit.hpp"
#include "outline/network.hpp"
#include "project/project.hpp"

namespace boardring {

/// Which side of an opening in a wall is at the bottom, and how that is known.
struct WayUp {
    enum class By {
        said,      ///< "AB sill", "CD head"
        readings,  ///< what was read against level and plumb fits the other way up by kDecided worse, or more
        order,     ///< neither: letters are taken to start at the sill
    } by = By::order;
    std::size_t sill = 0;            ///< the side at the bottom; of several that run level the lowest
    /// Chi-square of the best fit near the half turn less that of what was taken, below 0 where what is said fits worse; none where
    /// there is no such fit, or nothing was read against level.
    std::optional<double> decides;
};

/// Chi-square by which the other way up must fit worse for readings to decide it: 1000 to 1 in likelihood, 2 ln 1000.
inline constexpr double kDecided = 13.8;

/// A fit with the right side at the bottom.
struct UprightFit {
    NetworkFit fit;
    WayUp way;
};

/// The fit and, of it and its half turn, the one that stands the right way up. Readings against level and plumb are a few millimetres,
/// and turned by half a ring fits their opposites: what they differ by tells which it is, if it is much beside their accuracy. So it
/// goes by what the maker calls the sill or the head; without that by the readings, if they decide; else letters start at the sill
/// (at a side AB that stands upright the better fit is taken).
///
/// Without readings against level nothing can be fitted better or worse: AB is level, and at the bottom unless said otherwise.
///
/// \param letters_clockwise  the ring is kept mirrored, top for bottom: its sill runs to the left
/// Laws      openings drawn at random never stand on their head where it is said or the readings decide, beyond 1 in 1000
///           [hang_property_test]; said, taken and decided agree where they all can [way_up_test]
/// Source    docs/theory/hang.md section 1
UprightFit fit_upright(const Network& network, bool letters_clockwise);

/// Error `hang.sill-unclear`: what is called the sill stands upright in this fit, or two sides are called so that run opposite ways.
Findings sill_findings(const Project& project, const Network& network, const NetworkFit& fit);

}  // namespace boardring
