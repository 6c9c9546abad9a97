#pragma once
#include <optional>
#include <vector>

#include "outline/notebook.hpp"
#include "outline/suspects.hpp"
#include "project/project.hpp"

namespace boardring {

// Which single reading a misfit is laid to, and how surely. No text here.

/// How far ahead of the next the best must be, in logarithms of their likelihoods: e^4.6 = 100 to 1, e^1.2 = 3 to 1.
inline constexpr double kVeryLikely = 4.6;
inline constexpr double kLikely = 1.2;

/// The notebook with every value's `within` as the error the maker makes: the value's own +-, else the job's accuracy, never less
/// than its digits. How sure a suspect is depends on how well was measured, not on how many digits were written.
Notebook as_measured(const Notebook& book, const Project& project);

/// True if every corner is written as a multiple of 15: that is a design, not readings, and 90 means square. By chance it happens
/// to n whole degrees once in 15^n.
bool corners_by_design(const Chain& chain);

/// True if the ring closes within what the maker's accuracy leaves open: then nobody needs to be wrong. Never said of designs.
bool closes_as_measured(const Chain& measured);

/// The chain with corners that are exactly as written.
Chain with_exact_corners(Chain chain);

/// Corners that can be to blame, likeliest first.
struct JudgedCorners {
    std::vector<CornerSuspect> fitting;
    std::vector<double> badness;         ///< of those: negative logarithms of their likelihoods; slips and given diagonals count
    std::vector<CornerSuspect> nearest;  ///< every corner, nearest to meeting first
};
JudgedCorners judge_corners(const Notebook& measured, const std::vector<Reading>& readings);

/// Sides that can be to blame, likeliest first; the angle sum is shared out first.
std::vector<SideSuspect> fitting_sides(const Chain& measured, const LengthStyle& style);
double badness(const SideSuspect& side);

/// The best single side against the best single corner.
struct Weighed {
    double side_lead = 0.0;  ///< logarithm of the side's likelihood over the corner's
    std::optional<SideSuspect> side;
    std::optional<CornerSuspect> corner;
};
Weighed weigh(const Notebook& measured, const std::vector<Reading>& readings, const LengthStyle& style);

}  // namespace boardring
