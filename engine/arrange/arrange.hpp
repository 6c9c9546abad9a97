#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

// Where each board of a pile goes. Theory: docs/theory/pile.md.

/// What an order of boards asks of the saw, one course and the extra pieces; less is better.
struct PlaceScore {
    std::size_t beyond_saw = 0;  ///< cuts of the ring that no motion of the saw reaches
    std::size_t settings = 0;    ///< settings as the cut list counts them (SettingGroup)
    double steepest_deg = 0.0;   ///< largest |S|
};

/// Cuts beyond the saw first, then settings, then the steepest cut, kSquareCutDeg apart or more.
bool better(const PlaceScore& a, const PlaceScore& b);

/// One order of boards round the outline.
struct Places {
    std::vector<std::size_t> kinds;  ///< per board an index into Project::pile
    PlaceScore score;
};

struct Arrangement {
    Places places;
    /// Every other order, and every other choice of boards to leave over, is no better.
    bool proven = false;
    /// The best order that is worse at the saw; empty if all orders are as good, or none was met.
    std::optional<Places> next;
    std::vector<std::size_t> left_over;  ///< per entry of Project::pile, how many boards found no place
    /// Instead: all boards in place brought to the least width in the joint among them.
    struct AllAlike {
        double width_mm = 0.0;
        std::size_t boards = 0;  ///< how many are thicker (flat: wider) now
        PlaceScore score;
    };
    std::optional<AllAlike> all_alike;  ///< empty if they are alike already
    std::size_t steps = 0;              ///< what the search took
};

/// Steps of the search before it stops proving and only improves; a step is a board put on trial, a tenth of a millisecond at most.
struct ArrangeLimits {
    std::size_t steps = 60'000;
};

/// Finds every board of the pile its place.
///
/// \param project  with a pile of at least as many boards as the outline has; its own `boards` are not looked at
/// \return of all orders whose frame can be built the best by PlaceScore; of equals the first, when the pile's entries are taken in the
///         order given; of its images under the symmetries of the outline (sides, corners, joints, margins) the one whose board
///         fitted last lies between boards of its own kind, then has the gentlest ends, then the first. If no order was found that can be built: the pile in the order given.
/// Laws      the score is that of list_cuts and ways_to_saw on the built frame; lettering the ring from another corner changes no score;
///           a pile of one kind is one setting a corner angle.
/// Edge      alike boards (kSamePieceMm) of different stock are one kind to the search and are handed out in the order given.
/// Proven    a search by branch and bound that was not cut short; with many kinds on many places it is, then exchanges of two boards
///           improve what it found and `proven` is false [arrange_test: all orders of small rings by brute force]
Arrangement arrange(const Project& project, const Outline& outline, const ArrangeLimits& limits = {});

/// The project's boards by these places.
std::vector<BoardAsked> boards_in_place(const Project& project, const Places& places);

}  // namespace boardring
