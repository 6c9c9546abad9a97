#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "closure/budget.hpp"

namespace boardring {

// What to do about the last joint, from the same numbers as the budget.

/// Builds out of a hundred that shall keep the wanted gap.
inline constexpr double kSure = 0.95;

/// How good one source must be so that kSure of the builds keep the wanted gap, the others staying as they are.
struct Needed {
    ErrorSource source;
    std::optional<double> sd;   ///< in the unit of its kind; empty: not even without it, or it does not matter
    double most_if_half_mm = 0.0;  ///< 95 of 100 builds stay under this when this source alone is halved
};

/// Two halves joined first, their faces trued, then put together.
struct HalvesLeft {
    std::size_t first_corner = 0, second_corner = 0;
    double lip_sd_mm = 0.0;   ///< by how much one half is wider than the other, spread over both joints: half of the difference
    double skim_sd_mm = 0.0;  ///< what truing takes off at the thick end of a face of the half that is out more
};

/// A test on scrap: a half-ring of pieces, all ends sawn as in the frame, laid with one end against a straight edge. Its 2 x pieces cuts
/// add up their common error, and the other end's face stands off the straight edge by so much.
struct TestRing {
    double saw_deg = 0.0;        ///< the setting of one end of each piece; 0: one piece sawn through square, one half turned over
    double other_deg = 0.0;      ///< of the other end, <= saw_deg; the same where the boards of a corner are equally wide
    std::size_t pieces = 0;
    double face_mm = 0.0;        ///< width of scrap over cos S, at the end of saw_deg
    double deg_per_mm = 0.0;     ///< by how much each cut is out for each mm that one edge of that face stands off more than the other
    double shim_per_mm = 0.0;    ///< thickness of shim at kShimAt for each mm read
};
inline constexpr double kShimAtMm = 300.0;

/// One for each corner that makes a half-ring, most cuts first, square cuts last; rings and open chains.
std::vector<TestRing> test_rings(const Frame& frame);

struct Advice {
    std::optional<double> all_times;  ///< all sources together may be this many times what they are; empty: rounding alone is too much
    std::vector<Needed> needed;       ///< in the order of the budget's lines
    LeaveLong leave_long;
    std::optional<LeaveLong> better_last;  ///< another board that needs much less, if there is one
    std::optional<HalvesLeft> halves;
    std::vector<TestRing> tests;      ///< see test_rings
};

/// \param halves  corners to part the ring at; both mitres
/// Laws   a half-ring of n pieces reads 2n d times the face, the ring of 2n pieces 4n d
/// Accuracy  each piece of advice against boards made and laid by other code [advice_test]
/// Source docs/theory/last_joint.md section 5
Advice advise(const Frame& frame, const RingErrors& errors, const Budget& budget, double wanted_mm,
              const std::optional<std::pair<std::size_t, std::size_t>>& halves);

}  // namespace boardring
