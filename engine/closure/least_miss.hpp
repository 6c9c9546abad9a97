#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace boardring {

/// What is left at the last joint, three numbers: gap in, gap out, lip in [mm].
using Miss = std::array<double, 3>;

/// The widest of them.
double widest_of(const Miss& miss);

/// Which choices two boards may make together where they meet, and what their faces then differ by. Index into both tables: bit i is set
/// when `choices[i]` is taken the other way.
struct JointRule {
    std::vector<std::size_t> choices;  ///< at most 4, each once
    std::vector<double> mismatch_mm;   ///< one for each of the 2^choices ways
    std::vector<char> allowed;         ///< likewise; index 0 must be allowed
};

/// Numbers that each go one way (0) or the other (1).
struct MissProblem {
    Miss base{};                  ///< what is left with every choice 0
    std::vector<Miss> change;     ///< by choice: what the other way adds
    std::vector<double> squares;  ///< by choice: what the other way adds to the sum of squared moves
    std::vector<JointRule> joints;  ///< every choice of theirs is one of the choices
    double mismatch_mm = 0.0;     ///< widest of the joints that no choice touches
    std::size_t keep = 64;        ///< how many of the best are wanted
    double near_mm = 0.0;         ///< and none that leaves more than the best by this
    std::size_t counted = 24;     ///< so many choices are counted in full, at most kMostCounted
    std::size_t leaves = 64;      ///< and so many times, where there are more choices
};

/// Both halves of so many choices fit into a list.
inline constexpr std::size_t kMostCounted = 28;

using Ways = std::vector<std::uint8_t>;  ///< one 0 or 1 for each choice

struct MissAnswer {
    std::vector<Ways> best;  ///< best first: widest of what is left, widest mismatch, sum of squares, first in order
    double least_mm = 0.0;   ///< what the first leaves
    double bound_mm = 0.0;   ///< nothing can leave less; equal to least_mm when exact
    bool exact = true;       ///< no way leaves less: every way was counted or ruled out by a bound
};

/// Two lengths nearer than this are one when ways are compared [mm].
inline constexpr double kSameMiss = 1e-6;

/// The ways of choosing that leave least.
///
/// Up to `counted`: both halves of the choices are listed with what they leave, one is sorted, and for each way of the other only
/// those are looked at that could leave less than the best so far. Beyond: the same on twenty choices at a time, the others staying as
/// they are, until a whole round finds nothing better; then branching over those that change most, with bounds of the linear programme,
/// the last `counted` being counted in full. Exact where that ends within `leaves` counts and 512 ways looked at closely for each of them; else
/// the bound is that of the linear programme over all (closure/linear_bound).
///
/// Edge      no choices: one way, Ways{}. All ways 0 are always allowed, so there is an answer.
/// Accuracy  against trying every way, up to 16 choices, some of them counted and the rest branched over [least_miss_test]
/// Cost      24 choices: about a millisecond; beyond: docs/accuracy.md
MissAnswer least_miss(const MissProblem& problem);

}  // namespace boardring
