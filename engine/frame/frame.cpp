#include "frame/frame.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "frame/frame_findings.hpp"
#include "frame/joint_of_kind.hpp"
#include "joinery/free_end.hpp"

namespace boardring {
namespace {

// Sides that differ by less than this share count as equally long: corners computed by sines differ in the last digits.
constexpr double kSameSide = 1e-9;

double inside_offset_mm(OutlineLine line, double width_mm, double margin_mm) {
    switch (line) {
        case OutlineLine::inside:
            return margin_mm;
        case OutlineLine::outside:
            return margin_mm - width_mm;
        case OutlineLine::middle:
            return margin_mm - 0.5 * width_mm;
    }
    ENSURE(false);
    return 0.0;
}

BoardInPlan in_plan(const Board& board, std::size_t end) {
    return {board.offset_at(end), board.width_at(end)};
}

std::vector<Board> bare_boards(const Project& project, const Outline& outline) {
    const std::size_t n = outline.boards();
    ENSURE(project.boards.size() == n);
    ENSURE(outline.corners_mm.size() == (outline.closed ? n : n + 1));
    std::vector<Board> boards(n);
    for (std::size_t k = 0; k < n; ++k) {
        Board& board = boards[k];
        const Vec2 side = outline.corners_mm[outline.corner_after(k)] - outline.corners_mm[k];
        const double side_mm = length(side);
        ENSURE(side_mm > 0.0);
        const double margin_mm = project.outline.margin_mm.empty() ? 0.0 : project.outline.margin_mm[k];
        board.width_mm = project.width_in_joint_mm(k, 0);
        board.taper_mm = project.boards[k].taper_mm;
        board.height_mm = project.height_mm(k);
        board.offset_mm = inside_offset_mm(project.outline.line, board.width_mm, margin_mm);
        board.drift_mm = inside_offset_mm(project.outline.line, board.taper_mm, 0.0);
        board.side_mm = outline.sides_mm[k];
        board.corner_mm = outline.corners_mm[k];
        board.along = (1.0 / side_mm) * side;
        board.ends[0].corner = k;
        board.ends[1].corner = outline.corner_after(k);
    }
    return boards;
}

// Positions counted from the end's own corner become x from the board's first corner.
double x_of(const Board& board, std::size_t end, double t_mm) {
    return end == 0 ? t_mm : board.side_mm - t_mm;
}

void set_end(Board& board, std::size_t end, const EndCut& cut) {
    BoardEnd& to = board.ends[end];
    to.inside_mm = x_of(board, end, cut.inside_mm);
    to.outside_mm = x_of(board, end, cut.outside_mm);
    to.run_mm = cut.run_mm;
    to.saw_deg = cut.saw_deg;
    to.face_mm = cut.face_mm;
    to.square_first_mm = cut.square_first_mm;
    to.square_second_mm = cut.square_second_mm;
}

// The board that runs on at a butt: as asked, else the one on the longer side, else the one that starts here.
std::size_t through_board(const JointAsked& asked, const std::vector<Board>& boards, std::size_t before, std::size_t after) {
    if (asked.through) return *asked.through;
    const bool before_longer = boards[before].side_mm > boards[after].side_mm * (1.0 + kSameSide);
    return before_longer ? before : after;
}

// Which board keeps the upper half (docs/theory/half_lap.md): equal heights, the one that starts here; else the lower of the two
// keeps the half on the face side (flat: top, on edge: bottom), so that each loses min(h)/2 and the face side is flush.
bool after_keeps_upper(Lie lie, double before_height_mm, double after_height_mm) {
    if (before_height_mm == after_height_mm) return true;
    const bool after_is_lower = after_height_mm < before_height_mm;
    return lie == Lie::flat ? after_is_lower : !after_is_lower;
}

void set_lap(Board& board, std::size_t end, const LapCut& cut, double depth_mm, bool keeps_upper) {
    board.ends[end].lap =
        BoardLap{depth_mm, keeps_upper, x_of(board, end, cut.shoulder_inside_mm), x_of(board, end, cut.shoulder_outside_mm)};
}

// Where two neighbours' lines at these offsets meet; at a straight corner they are one line.
Vec2 meeting_point(const Board& after, double turn_deg, double after_offset_mm, double before_offset_mm) {
    const bool straight = std::abs(turn_deg) < kStraightTurnDeg;
    const double t = straight ? 0.0 - after_offset_mm * tan_deg(0.5 * turn_deg)
                              : line_crossing_mm(after_offset_mm, before_offset_mm, turn_deg);
    return after.at(t, after_offset_mm);
}

double joint_face_mm(const Joint& joint, const JointCuts& cuts) {
    switch (joint.kind) {
        case JointKind::mitre:
            return cuts.after.face_mm;
        case JointKind::butt:
            return joint.through == joint.before ? cuts.after.face_mm : cuts.before.face_mm;
        case JointKind::half_lap:
            return 0.0;
    }
    ENSURE(false);
    return 0.0;
}

// Cuts both ends at corner c. Nothing is added if the joint cannot be made.
void cut_joint(const Project& project, const Outline& outline, std::size_t c, Frame& frame, Findings& findings) {
    const JointAsked& asked = project.joints[c];
    Joint joint;
    joint.corner = c;
    joint.before = outline.board_before(c);
    joint.after = outline.board_after(c);
    joint.kind = asked.kind;
    joint.interior_deg = outline.interior_deg[c];
    const double turn_deg = outline.turn_deg[c];
    Board& before = frame.boards[joint.before];
    Board& after = frame.boards[joint.after];
    if (joint.kind == JointKind::butt) {
        joint.through = through_board(asked, frame.boards, joint.before, joint.after);
        if (*joint.through != joint.before && *joint.through != joint.after) {
            findings.push_back(through_elsewhere(project, joint));
            return;
        }
    }
    const Result<JointCuts> made = joint_of_kind(joint.kind, turn_deg, in_plan(before, 1), in_plan(after, 0), joint.through == joint.before);
    if (!made.ok()) {
        findings.push_back(straight_refused(project, joint, before, after, made.findings().front()));
        return;
    }
    const JointCuts& cuts = made.value();
    set_end(before, 1, cuts.before);
    set_end(after, 0, cuts.after);
    before.ends[1].mate = joint.after;
    after.ends[0].mate = joint.before;
    before.ends[1].runs_through = joint.through == joint.before;
    after.ends[0].runs_through = joint.through == joint.after;
    if (joint.kind == JointKind::half_lap) {
        const double depth_mm = 0.5 * std::min(before.height_mm, after.height_mm);
        const bool upper = after_keeps_upper(project.lie, before.height_mm, after.height_mm);
        set_lap(before, 1, *cuts.before.lap, depth_mm, !upper);
        set_lap(after, 0, *cuts.after.lap, depth_mm, upper);
    }
    joint.inner_mm = meeting_point(after, turn_deg, after.offset_at(0), before.offset_at(1));
    joint.outer_mm = meeting_point(after, turn_deg, after.outer_at(0), before.outer_at(1));
    joint.face_mm = joint_face_mm(joint, cuts);
    frame.joints.push_back(joint);
}

void cut_free_end(const Project& project, const EndAsked& asked, Board& board, std::size_t end, Findings& findings) {
    if (std::abs(asked.saw_deg) >= kSteepestFreeEndDeg) {
        findings.push_back(end_too_flat(project, asked, board.ends[end].corner));
        return;
    }
    set_end(board, end, free_end(asked.saw_deg, in_plan(board, end)));
}

void add_outlines(Frame& frame) {
    if (!frame.closed) {
        frame.inside_mm.push_back(frame.boards.front().plan_mm()[0]);
        frame.outside_mm.push_back(frame.boards.front().plan_mm()[1]);
    }
    for (const Joint& joint : frame.joints) {
        frame.inside_mm.push_back(joint.inner_mm);
        frame.outside_mm.push_back(joint.outer_mm);
    }
    if (!frame.closed) {
        frame.inside_mm.push_back(frame.boards.back().plan_mm()[3]);
        frame.outside_mm.push_back(frame.boards.back().plan_mm()[2]);
    }
}

}  // namespace

Result<Frame> build_frame(const Project& project, const Outline& outline) {
    Frame frame;
    frame.closed = outline.closed;
    frame.letters_clockwise = outline.letters_clockwise;
    frame.boards = bare_boards(project, outline);
    ENSURE(project.joints.size() >= outline.corners_mm.size());
    Findings findings;
    for (std::size_t c = 0; c < outline.corners_mm.size(); ++c) {
        if (outline.is_joint(c)) cut_joint(project, outline, c, frame, findings);
    }
    if (!frame.closed) {
        cut_free_end(project, project.first_end, frame.boards.front(), 0, findings);
        cut_free_end(project, project.last_end, frame.boards.back(), 1, findings);
    }
    append(findings, section_findings(project, outline, frame));
    append(findings, length_findings(project, outline, frame));
    if (has_error(findings)) return findings;
    add_outlines(frame);
    return {std::move(frame), std::move(findings)};
}

}  // namespace boardring
