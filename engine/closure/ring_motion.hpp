#pragma once
#include <vector>

#include "closure/least_opening.hpp"
#include "closure/sources.hpp"
#include "frame/frame.hpp"

namespace boardring {

/// A closed ring where the plan has it, ready for small errors: to first order every error moves the end of the stiff chain by a
/// twist, and all that shows at any joint follows from the sum of the twists.
///
/// A twist is the motion of board 1, as the chain walked once round puts it, against board 1 where it lies: a displacement of
/// `middle_mm` and a turn (+ counter-clockwise). docs/theory/last_joint.md section 2
struct RingMotion {
    struct JointPlace {
        Vec2 inner_mm, outer_mm;  ///< of the own face
        Vec2 held_mm;             ///< what a tight joint brings together
        Vec2 e, m;                ///< along the face, and out of the own board's wood
        double face_mm = 0.0;
        double saw_before_deg = 0.0;  ///< of the board that ends there
    };
    std::vector<JointPlace> joints;  ///< by corner
    Vec2 middle_mm;                  ///< of all inner points
};

RingMotion ring_motion(const Frame& frame);

/// All places where boards meet, by corner; the free ends of an open chain too, as faces held at their inside marks.
std::vector<RingMotion::JointPlace> joint_places(const Frame& frame);

/// The columns of least_opening for boards where the plan has them; the motion wanted is minus the twist.
std::vector<OpeningColumns> opening_columns(const RingMotion& ring);

/// What one standard deviation of an error does to the face of one board at one joint.
struct FaceChange {
    std::size_t corner = 0;
    std::size_t end = 0;    ///< 1: the board that ends there, 0: the board that starts there
    Vec2 held_mm;           ///< the held point moves so, seen in the plan
    double turn_rad = 0.0;  ///< the face turns so, + counter-clockwise
};
/// Closed rings and open chains, free ends too.
std::vector<FaceChange> face_changes(const Frame& frame, const ErrorModel& model, const ErrorInput& input);

/// Twist of one standard deviation of each independent error, analytically.
/// Accuracy  1e-6 of its size against differences of the exact chain [property last_joint_test]
std::vector<Twist> error_twists(const Frame& frame, const RingMotion& ring, const ErrorModel& model);

/// Twist of the boards as meant, by walking them.
Twist twist_of(const Frame& frame, const RingMotion& ring, const std::vector<MadeBoard>& made);

/// What a twist shows at one joint when all others are tight; signs as in JointMisfit.
struct StiffShown {
    double gap_in_mm = 0.0, gap_out_mm = 0.0, lip_in_mm = 0.0, angle_left_rad = 0.0;
};
StiffShown shown_at(const RingMotion& ring, std::size_t corner, const Twist& twist);

}  // namespace boardring
