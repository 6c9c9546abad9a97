#pragma once
#include <cmath>
#include <vector>

#include "base/vec2.hpp"
#include "closure/closure.hpp"
#include "closure/contact.hpp"

namespace boardring {

/// Where a board lies: its own origin and x axis in the plan. The heading is never wrapped, so that whole turns count.
struct Pose {
    Vec2 origin_mm;
    double heading_rad = 0.0;
    Vec2 along{1.0, 0.0};  ///< unit vector of the heading

    static Pose at(Vec2 origin_mm, double heading_rad);
    [[nodiscard]] Vec2 place(Vec2 own_mm) const { return origin_mm + turned(own_mm, along.x, along.y); }
    [[nodiscard]] Vec2 own(Vec2 plan_mm) const { return turned(plan_mm - origin_mm, along.x, -along.y); }
    /// This pose as seen from `base`.
    [[nodiscard]] Pose seen_from(const Pose& base) const;
    /// A pose given as seen from this one, in the plan.
    [[nodiscard]] Pose compose(const Pose& inner) const;
};

/// What is wrong at a joint, three independent numbers: the rest of JointMisfit follows from them.
struct JointState {
    double gap_in_mm = 0.0;
    double lip_in_mm = 0.0;
    double left_rad = 0.0;  ///< angle left, + opens outside

    /// The outer gap; `face_mm` is the other board's.
    [[nodiscard]] double gap_out_mm(double face_mm) const { return gap_in_mm + face_mm * std::sin(left_rad); }
};

/// The own board's pose from the other's, the joint being held tight: anchors together, faces in one direction.
Pose held_tight(const Pose& other, const JointContact& contact);

/// The own board's pose from the other's with the misfit given.
Pose held_with(const Pose& other, const JointContact& contact, const JointState& state);

/// What shows at a joint whose boards lie so.
/// \param own, other  headings counted on the same way round: own.heading - other.heading is the turn made
JointMisfit misfit_at(const Pose& own, const Pose& other, const JointContact& contact);

/// All of the misfit from its three numbers, wherever the joint lies.
JointMisfit misfit_of(const JointContact& contact, const JointState& state);

/// Boards 0, 1, ... of a chain whose joints are all tight. `contacts[k]` joins board k to board k + 1; board 0 has pose `first`.
std::vector<Pose> walk_tight(const Pose& first, const std::vector<JointContact>& contacts);

}  // namespace boardring
