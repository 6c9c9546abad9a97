#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "base/result.hpp"
#include "base/vec2.hpp"
#include "joinery/joint_cuts.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

/// Half-lap of one end: how deep, and which half of the height stays.
struct BoardLap {
    double depth_mm = 0.0;             ///< wood taken away here
    bool keeps_upper = false;          ///< the upper half (on edge: away from the ground; flat: the face side) stays
    double shoulder_inside_mm = 0.0;   ///< x from the board's first corner
    double shoulder_outside_mm = 0.0;
};

/// One end of a board. Marks are x along the board from the outline's first corner of the board (fixed under perturbation); the
/// datum exists only when shown (plan/plan.hpp).
struct BoardEnd {
    std::size_t corner = 0;
    std::optional<std::size_t> mate;  ///< board it meets; empty at a free end
    double inside_mm = 0.0;           ///< x of the inside mark
    double outside_mm = 0.0;          ///< x of the outside mark
    double run_mm = 0.0;              ///< outside beyond inside, towards this end
    double saw_deg = 0.0;             ///< + = outside longer
    double face_mm = 0.0;
    double square_first_mm = 0.0;     ///< see EndCut
    double square_second_mm = 0.0;
    bool runs_through = false;        ///< butt: this board runs on past its mate
    std::optional<BoardLap> lap;
};

/// Board k on side k.
struct Board {
    double width_mm = 0.0;    ///< w, in the joint
    double height_mm = 0.0;   ///< h
    double offset_mm = 0.0;   ///< a of the inside line
    double side_mm = 0.0;     ///< of the outline
    Vec2 corner_mm;           ///< outline corner where x = 0
    Vec2 along;               ///< unit direction of x
    std::array<BoardEnd, 2> ends;  ///< first corner, second corner

    [[nodiscard]] double inside_length_mm() const { return ends[1].inside_mm - ends[0].inside_mm; }
    [[nodiscard]] double outside_length_mm() const { return ends[1].outside_mm - ends[0].outside_mm; }
    /// Point of the plan at x along and q outward of the outline.
    [[nodiscard]] Vec2 at(double x_mm, double q_mm) const { return corner_mm + x_mm * along + q_mm * right_of(along); }
    /// Inside at first corner, outside at first, outside at second, inside at second: counter-clockwise.
    [[nodiscard]] std::array<Vec2, 4> plan_mm() const {
        const double outer = offset_mm + width_mm;
        return {at(ends[0].inside_mm, offset_mm), at(ends[0].outside_mm, outer), at(ends[1].outside_mm, outer), at(ends[1].inside_mm, offset_mm)};
    }
};

/// A joint (not a free end).
struct Joint {
    std::size_t corner = 0;
    std::size_t before = 0;  ///< board that ends here
    std::size_t after = 0;   ///< board that starts here
    JointKind kind = JointKind::mitre;
    std::optional<std::size_t> through;
    double interior_deg = 0.0;
    Vec2 inner_mm;  ///< where the inside lines meet
    Vec2 outer_mm;  ///< where the outside lines meet
    double face_mm = 0.0;
};

/// All boards round the outline.
struct Frame {
    bool closed = true;
    bool letters_clockwise = false;  ///< as Outline: what is seen is the mirror image, so a board's first corner lies at its right
    std::vector<Board> boards;
    std::vector<Joint> joints;    ///< in corner order
    std::vector<Vec2> inside_mm;  ///< inner outline, one point per corner (free ends: where the end cut meets the inside line)
    std::vector<Vec2> outside_mm;
};

/// Puts a board on every side and cuts every corner. Findings: straight corners that cannot be joined, edges that vanish or
/// run backwards, boards that overlap without meeting; notes and warnings on undercut, unequal heights, unequal moulded widths.
Result<Frame> build_frame(const Project& project, const Outline& outline);

}  // namespace boardring
