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

/// Half-lap of one end: how deep, and which half of the height stays (rule and reason: docs/theory/half_lap.md).
struct BoardLap {
    double depth_mm = 0.0;            ///< wood taken away here: half the lower height of the two boards
    bool keeps_upper = false;         ///< the upper half (on edge: away from the ground; flat: the face side) stays
    double shoulder_inside_mm = 0.0;  ///< x from the board's first corner
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
    double square_first_mm = 0.0;  ///< see EndCut
    double square_second_mm = 0.0;
    bool runs_through = false;  ///< butt: this board runs on past its mate
    std::optional<BoardLap> lap;
};

/// Board k on side k. A board that tapers is met at each end as a parallel board of that end's width would be: x, slopes and square
/// lines are those of the side of the outline (docs/theory/taper.md).
struct Board {
    double width_mm = 0.0;         ///< w, in the joint; of a board that tapers at its first corner
    double height_mm = 0.0;        ///< h
    double offset_mm = 0.0;        ///< a of the inside line; of a board that tapers at its first corner
    double side_mm = 0.0;          ///< of the outline
    Vec2 corner_mm;                ///< outline corner where x = 0
    Vec2 along;                    ///< unit direction of x
    std::array<BoardEnd, 2> ends;  ///< first corner, second corner
    double taper_mm = 0.0;         ///< w at the second corner less w at the first
    double drift_mm = 0.0;         ///< likewise of a: 0 where the outline runs along the inside

    [[nodiscard]] double width_at(std::size_t end) const { return end == 0 ? width_mm : width_mm + taper_mm; }
    [[nodiscard]] double offset_at(std::size_t end) const { return end == 0 ? offset_mm : offset_mm + drift_mm; }
    [[nodiscard]] double outer_at(std::size_t end) const { return offset_at(end) + width_at(end); }
    [[nodiscard]] double inside_length_mm() const { return ends[1].inside_mm - ends[0].inside_mm; }
    [[nodiscard]] double outside_length_mm() const { return ends[1].outside_mm - ends[0].outside_mm; }
    /// Point of the plan at x along and q outward of the outline.
    [[nodiscard]] Vec2 at(double x_mm, double q_mm) const { return corner_mm + x_mm * along + q_mm * right_of(along); }
    /// Inside at first corner, outside at first, outside at second, inside at second: counter-clockwise.
    [[nodiscard]] std::array<Vec2, 4> plan_mm() const {
        return {at(ends[0].inside_mm, offset_at(0)), at(ends[0].outside_mm, outer_at(0)), at(ends[1].outside_mm, outer_at(1)),
                at(ends[1].inside_mm, offset_at(1))};
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
    Vec2 inner_mm;         ///< where the inside lines meet
    Vec2 outer_mm;         ///< where the outside lines meet
    double face_mm = 0.0;  ///< mitre: the face both share; butt: the end of the board that stops; half-lap: 0, no face must match
};

/// All boards round the outline.
struct Frame {
    bool closed = true;
    /// As Outline: what is seen is the mirror image, so a board's first corner lies at its right.
    bool letters_clockwise = false;
    std::vector<Board> boards;
    std::vector<Joint> joints;    ///< in corner order
    std::vector<Vec2> inside_mm;  ///< inner outline, one point per corner (free ends: where the end cut meets the inside line)
    std::vector<Vec2> outside_mm;
};

/// Puts a board on every side and cuts every corner.
///
/// \param outline  closed by the outline stage: sides > 0, no crossing; its boards and corners are those of `project`
/// \return the frame, or every error of the stage; corners in order, then sections, then boards in order, then overlapping pairs
/// Laws      scaling, turning, mirroring, lettering from another corner and walking an open chain backwards change no mark
///           (but by the scale); a mitred ring tiles the band between its outlines.
/// Edge      a board keeps its full length where its ends only touch its neighbours; both edges must be longer than 0.
/// Errors    joint.straight-unequal, joint.straight-overlap, joint.through-elsewhere, joint.unequal-moulded, end.too-flat,
///           board.edge-vanishes, board.laps-meet, board.overlap
/// Tapers    a mitre is exact where an end's width is that at its outside mark (inside mark with the outline along the outside);
///           measured d away from there each mark moves by up to d (r_o + r_p) / |sin T|, r the tapers per length
///           [tapered_frames_test]
/// Warnings  joint.undercut, joint.unequal-heights, board.taper-steep; differences under half a step of the maker's rule are not
///           spoken of. Note: board.tapers
/// Accuracy  marks 1e-9 of the largest coordinate, times 1 / |sin T| where |T| is below 1 degree or above 179.5; worst seen in 100,000
///           frames 5e-15 and that with the factor [frames_test]
Result<Frame> build_frame(const Project& project, const Outline& outline);

}  // namespace boardring
