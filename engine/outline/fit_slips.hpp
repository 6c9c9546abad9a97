#pragma once
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "base/length_text.hpp"
#include "outline/network.hpp"
#include "outline/suspects.hpp"

namespace boardring {

/// What goes wrong with a level or a plumb line.
enum class LevelSlip {
    other_way,    ///< rise for fall, left for right
    factor_ten,   ///< cm for mm, or a nought too many
    factor_inch,  ///< inches for mm, or the other way
    swapped,      ///< two digits exchanged
};

/// A usual slip of a tape, a protractor or a level, and what the reading would then have been.
struct FittingSlip {
    std::optional<SideSlip> length;   ///< of a distance
    std::optional<Slip> angle;        ///< of an angle
    std::optional<LevelSlip> level;   ///< of a reading against level or plumb
    double meant = 0.0;               ///< mm or deg
};

/// What slips need to know of the notebook.
struct SlipContext {
    LengthStyle style;
    /// By line of the notebook: what a side read along another line of the boards would have to change by, w (tan S + tan S) of
    /// its board or half of that; empty where the boards are not known.
    std::vector<std::vector<std::pair<SideSlip, double>>> other_lines;
};

/// The slips that a reading of `given` could be, with what each would have meant: digits exchanged, 100 mm, 10 mm or an inch not
/// taken off (or taken off twice), factors of 10, 25.4 and 12; at a corner the angle outside, the turn, half, the saw's setting; against
/// level the other way, digits exchanged, factors of 10 and 25.4.
/// Both directions of each; common practice.
std::vector<FittingSlip> slips_of(const Observation& observation, const SlipContext& context);

/// The slips that fit what the other readings make of it, nearest first, and what they take off the badness: 2 ln of how much
/// likelier the reading is with usual slips allowed than with an error of any size. docs/theory/fit.md section 5.
struct WeighedSlips {
    std::vector<FittingSlip> fitting;
    double speaks_for = 0.0;
};
WeighedSlips weigh_slips(const Observation& observation, double would_be, double would_be_sd, const SlipContext& context);

}  // namespace boardring
