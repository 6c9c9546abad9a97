#pragma once
#include <cstddef>

#include "base/vec2.hpp"
#include "closure/made_board.hpp"
#include "frame/frame.hpp"

namespace boardring {

/// Where a board touches its neighbour, in the board's own coordinates: x along, y to the left (inwards: a line at offset q
/// has y = -q). The face is straight: outer = inner + face (cos theta, sin theta).
struct Contact {
    Vec2 inner_mm;           ///< towards the inside of the ring
    Vec2 outer_mm;
    double theta_rad = 0.0;  ///< direction of the face from inside to outside, counted from the board's own x axis, never wrapped
    double face_mm = 0.0;    ///< > 0
};

/// A joint reduced to what closure needs. All kinds of joints look alike from here on. docs/theory/closure.md section 2
///
/// Mitre     the sawn faces of both boards.
/// Butt      the end face of the stopped board; on the board that runs through the same length of its near edge, from its end
///           inwards.
/// Half-lap  a stand-in: held at the corner of the shoulders (inside at a convex corner, outside at an inward one), its
///           direction the mean of own shoulder and own mated edge, so that the turn is the mean of what the two shoulders
///           say; its length reaches level with the opposite corner, (w + w') / (2 cos T/2). End marks do not matter: they
///           only make an end proud or short.
/// Laws      for exact boards own and other coincide in the plan, and turn_rad() is T.
struct JointContact {
    std::size_t corner = 0;
    Contact own;    ///< of the board that starts at the corner
    Contact other;  ///< of the board that ends there
    /// What a tight joint brings together: the outer points (a flush butt at a convex corner, shoulders at an inward one),
    /// else the inner points.
    bool held_outside = false;

    /// By how much the boards turn when the joint is tight.
    [[nodiscard]] double turn_rad() const { return other.theta_rad - own.theta_rad; }
};

/// \param before  the board that ends at the joint, as made
/// \param after   the board that starts there, as made
JointContact joint_contact(const Joint& joint, const MadeBoard& before, const MadeBoard& after);

/// The face of a free end, seen as if a board were to meet it.
Contact free_contact(const MadeBoard& board, std::size_t end);

}  // namespace boardring
