#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "base/finding.hpp"
#include "base/vec2.hpp"
#include "project/project.hpp"

namespace boardring {

struct Outline;

/// What is done with one peg of a staked-out ring.
struct PegMove {
    bool stays = false;
    double off_mm = 0.0;     ///< how far it stands from its place; of a peg that stays too
    double within_mm = 0.0;  ///< so far off is right: what the tape can tell of it, or what the maker's accuracy leaves
    Vec2 place_mm;           ///< where it belongs, in the frame of the pegs as found; what the ways below are told from
    // Of a peg to move: its way along the string to a neighbour, and square to that.
    std::size_t string_to = 0;  ///< that neighbour
    double towards_mm = 0.0;    ///< - away from it
    double out_mm = 0.0;        ///< + out of the ring, - into it
    /// Two pegs and their distances that find the place with two tapes, pegs that stay before others.
    std::array<std::size_t, 2> from{};
    std::array<double, 2> from_mm{};
};

/// The wanted outline laid on pegs as they were found.
struct PegMoves {
    std::vector<PegMove> pegs;         ///< one a corner
    std::size_t moved = 0;
    double moved_mm = 0.0;             ///< all moves together
    bool every_way = true;             ///< every choice of pegs was tried: no other leaves more of them standing
    std::vector<double> shared_mm;     ///< instead: how far each would move if all shared it with the least sum of squares
    std::vector<Vec2> found_mm;        ///< pegs as found
};

/// Fewest pegs moved, and of those ways the one that moves them least.
///
/// A choice of pegs to keep is possible if the wanted outline, laid on those pegs by turn and shift with the least sum of squares,
/// leaves each of them within its `within_mm`. Up to 14 pegs every choice is tried; beyond, choices are grown from every pair of pegs
/// (two pegs say where the ring lies; at most 4000 pairs, spread over all) by adding what is within and laying anew, until nothing
/// changes.
///
/// \param wanted_mm, found_mm  corners in the same order, both counter-clockwise; at least 2
/// \param must_stay  pegs that cannot be moved (against a wall); kept first, possible or not
/// Laws      pegs where they belong are not moved; turning and shifting the pegs changes nothing; pegs knocked out of place are the ones
///           named, against all choices laid by a general minimiser [pegs_test]
/// Source    docs/theory/hang.md section 4
PegMoves move_pegs(const std::vector<Vec2>& wanted_mm, const std::vector<Vec2>& found_mm, const std::vector<double>& within_mm,
                   const std::vector<bool>& must_stay, bool closed);

/// The same for a project with readings of its pegs: fitted as a found outline, laid on. What is an error for a found outline is a
/// warning here, since the boards do not hang on it; and the warning `pegs.cannot-stay`.
struct PegsResult {
    std::optional<PegMoves> moves;  ///< nothing if the readings cannot be fitted
    Findings findings;
};
PegsResult place_pegs(const Project& project, const Outline& wanted);

}  // namespace boardring
