#include "frame/frame_findings.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/ensure.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "frame/finding_words.hpp"
#include "joinery/free_end.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

// A cut within this of square counts as square, not as undercut: at the limit w_p / w_o = cos T rounding picks the sign.
constexpr double kSquareDeg = 1e-9;
constexpr std::size_t kMostStepsTold = 6;

Finding unequal_moulded(const Project& project, const Joint& joint) {
    const BoardAsked& before = project.boards[joint.before];
    const BoardAsked& after = project.boards[joint.after];
    return {
        Severity::error, "joint.unequal-moulded", project.joints[joint.corner].pointer,
        fmt::format(
            "At {} moulded boards {} ({} wide) and {} ({} wide) meet in a mitre: the lines of the moulding would not meet.",
            corner_letter(joint.corner), board_number(joint.before), with_unit(before.width_mm, project), board_number(joint.after),
            with_unit(after.width_mm, project)),
        fmt::format(
            "Use one moulding of one width on both sides of {}, or set a plain block in the corner and cut both square to it.",
            corner_letter(joint.corner))};
}

// A butt at a nearly straight corner would run on for w / sin T: no way out there.
std::string undercut_fix(const Project& project, const Joint& joint, double turn_deg, std::size_t thick, double most_mm) {
    const std::string letter = corner_letter(joint.corner);
    if (std::abs(turn_deg) < kNearlyStraightDeg) {
        return fmt::format("Use one {} on both sides of {}, where the boards turn by only {}.", measure_noun(project.lie), letter,
                           show_angle(std::abs(turn_deg), 3));
    }
    return fmt::format(
        "Butt {} with board {} running through; or plane board {} to {} or less near {}; or move the boards so that like meets "
        "like.",
        letter, board_number(thick), board_number(thick), with_unit(most_mm, project), letter);
}

// thick: the board that would be cut leaning the wrong way; thin: its mate.
Finding undercut(const Project& project, const Outline& outline, const Frame& frame, const Joint& joint, std::size_t thick,
                 std::size_t thin) {
    const bool thick_ends_here = thick == joint.before;
    const double thick_saw = frame.boards[thick].ends[thick_ends_here ? 1 : 0].saw_deg;
    const double thin_saw = frame.boards[thin].ends[thick_ends_here ? 0 : 1].saw_deg;
    const double thick_mm = frame.boards[thick].width_at(thick_ends_here ? 1 : 0);
    const double thin_mm = frame.boards[thin].width_at(thick_ends_here ? 0 : 1);
    // Square cut on the thick board exactly at thin / thick = cos T; a corner sharper than 90 is never undercut.
    const double turn_deg = outline.turn_deg[joint.corner];
    const double most_mm = thin_mm / cos_deg(turn_deg);
    const std::string letter = corner_letter(joint.corner);
    Finding finding{Severity::warning, "joint.undercut", project.joints[joint.corner].pointer,
            fmt::format("At {} ({}) board {} is {} {} and board {} only {}: the mitre leans {} the wrong way on board {} and "
                        "needs {} on board {} "
                        "(counted from a square cut).",
                        letter, show_angle(joint.interior_deg), board_number(thick), with_unit(thick_mm, project),
                        measure_word(project.lie), board_number(thin), with_unit(thin_mm, project), show_angle(std::abs(thick_saw)),
                        board_number(thick), show_angle(std::abs(thin_saw)), board_number(thin)),
            undercut_fix(project, joint, turn_deg, thick, down_to_step(most_mm, project))};
    if (std::abs(turn_deg) >= kNearlyStraightDeg) finding.changes = {fmt::format("joint {} butt, {} through", letter, board_number(thick))};
    return finding;
}

void add_undercut(const Project& project, const Outline& outline, const Frame& frame, const Joint& joint, Findings& findings) {
    const double turn = outline.turn_deg[joint.corner];
    const double sign = turn > 0.0 ? 1.0 : -1.0;
    if (frame.boards[joint.before].ends[1].saw_deg * sign < -kSquareDeg) {
        findings.push_back(undercut(project, outline, frame, joint, joint.before, joint.after));
    } else if (frame.boards[joint.after].ends[0].saw_deg * sign < -kSquareDeg) {
        findings.push_back(undercut(project, outline, frame, joint, joint.after, joint.before));
    }
}

// Of the two boards at a step, the one whose height fewer boards share; the file is likelier to be wrong there.
std::size_t odd_one(const Frame& frame, const Joint& joint) {
    const auto sharing = [&](std::size_t k) {
        return std::count_if(frame.boards.begin(), frame.boards.end(),
                             [&](const Board& b) { return b.height_mm == frame.boards[k].height_mm; });
    };
    return sharing(joint.before) < sharing(joint.after) ? joint.before : joint.after;
}

// One finding for the whole course: the same odd board would otherwise be told at both its ends.
void add_unequal_heights(const Project& project, const Frame& frame, Findings& findings) {
    std::string steps;
    std::size_t count = 0;
    std::optional<std::size_t> first_odd;
    double lowest_mm = frame.boards.front().height_mm;
    for (const Board& board : frame.boards) lowest_mm = std::min(lowest_mm, board.height_mm);
    for (const Joint& joint : frame.joints) {
        const double before_mm = frame.boards[joint.before].height_mm;
        const double after_mm = frame.boards[joint.after].height_mm;
        if (!differ(before_mm, after_mm, project)) continue;
        if (project.lie == Lie::flat && joint.kind == JointKind::half_lap) continue;  // cut so that the faces are flush
        if (!first_odd) first_odd = odd_one(frame, joint);
        if (++count > kMostStepsTold) continue;
        steps += fmt::format("{}{} by {} (board {} {}, board {} {})", count == 1 ? "" : "; ", corner_letter(joint.corner),
                             with_unit(std::abs(after_mm - before_mm), project), board_number(joint.before),
                             with_unit(before_mm, project), board_number(joint.after), with_unit(after_mm, project));
    }
    if (!first_odd) return;
    if (count > kMostStepsTold) steps += fmt::format("; and at {} more", count - kMostStepsTold);
    const bool flat = project.lie == Lie::flat;
    findings.push_back(
        {Severity::warning, "joint.unequal-heights", project.boards[*first_odd].pointer,
         fmt::format("The boards of a course are not all equally {}: with {} level, {} step at {}.", flat ? "thick" : "high",
                     flat ? "the backs" : "the lower edges", flat ? "the faces" : "the upper edges", steps),
         fmt::format("Use boards of one {}, or {} the {} ones to {}; or leave it if the step is wanted.",
                     flat ? "thickness" : "width", flat ? "plane" : "rip", flat ? "thicker" : "higher",
                     with_unit(lowest_mm, project))});
}
// "38 mm at D, 36.6 mm at E"
std::string taper_words(const Project& project, const Outline& outline, const Board& board, std::size_t k) {
    return fmt::format("{} at {}, {} at {}", with_unit(board.width_at(0), project), corner_letter(k), with_unit(board.width_at(1), project),
                       corner_letter(outline.corner_after(k)));
}

double taper_per_length(const Board& board) {
    return std::abs(board.taper_mm) / board.side_mm;
}

Finding steep_taper(const Project& project, const Outline& outline, const Board& board, std::size_t k) {
    return {Severity::warning, "board.taper-steep", project.boards[k].pointer,
            fmt::format("Board {} would taper 1 in {:.0f} over its side of {}: {}.", board_number(k), 1.0 / taper_per_length(board),
                        with_unit(board.side_mm, project), taper_words(project, outline, board, k)),
            fmt::format("Measure both ends again, or plane it to {} all along.", with_unit(std::min(board.width_at(0), board.width_at(1)), project))};
}

const char* straight_face(OutlineLine line) {
    switch (line) {
        case OutlineLine::inside:
            return "the inside face, the straight one";
        case OutlineLine::outside:
            return "the outside face, the straight one";
        case OutlineLine::middle:
            return "a line down the middle";
    }
    ENSURE(false);
    return "";
}

// What tapers is told once for all boards; a taper that no sawmill makes is asked about board by board.
void add_tapers(const Project& project, const Outline& outline, const Frame& frame, Findings& findings) {
    constexpr double kSteepTaper = 1.0 / 50.0;  // sawn boards seldom lose more than a few mm in a metre: common practice, from memory
    constexpr std::size_t kMostNamed = 4;
    std::string names;
    std::size_t count = 0;
    double most = 0.0;
    std::string pointer;
    Findings steep;
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const Board& board = frame.boards[k];
        if (std::abs(board.taper_mm) < kSameMm) continue;
        if (taper_per_length(board) > kSteepTaper) steep.push_back(steep_taper(project, outline, board, k));
        most = std::max(most, taper_per_length(board));
        if (count == 0) pointer = project.boards[k].pointer;
        if (++count > kMostNamed) continue;
        names += fmt::format("{}oard {} is {}", count == 1 ? "B" : "; b", board_number(k), taper_words(project, outline, board, k));
    }
    if (count == 0) return;
    if (count > kMostNamed) names += fmt::format("; and {} more", count - kMostNamed);
    const double leans = degrees(std::atan(project.outline.line == OutlineLine::middle ? 0.5 * most : most));
    findings.push_back({Severity::note, "board.tapers", pointer,
                        fmt::format("{}. Each end is set for its own {}: mark, set the bevel and saw from {}.", names, measure_noun(project.lie),
                                    straight_face(project.outline.line)),
                        fmt::format("{} up to {} degrees to it: set nothing from there.",
                                    project.outline.line == OutlineLine::middle ? "Both faces lean by" : "The other face leans by",
                                    show_angle(std::max(leans, 0.1), 1))});
    tell_first(findings, std::move(steep), "boards");
}

}  // namespace

Finding through_elsewhere(const Project& project, const Joint& joint) {
    return {Severity::error, "joint.through-elsewhere", project.joints[joint.corner].pointer,
            fmt::format("At {} boards {} and {} meet, so board {} cannot run through there.", corner_letter(joint.corner),
                        board_number(joint.before), board_number(joint.after), board_number(*joint.through)),
            fmt::format("Name board {} or {}, or leave it out: then the board on the longer side runs through.",
                        board_number(joint.before), board_number(joint.after))};
}

Finding end_too_flat(const Project& project, const EndAsked& end, std::size_t corner) {
    return {Severity::error, "end.too-flat", end.pointer.empty() ? project.outline.form_pointer : end.pointer,
            fmt::format("End {} would be cut {} from square, nearly along the board; up to {} can be marked out.",
                        corner_letter(corner), show_angle(std::abs(end.saw_deg), 2), show_angle(kSteepestFreeEndDeg)),
            fmt::format(
                "Give end {} at least {} between board and wall, or turn the last side so that it meets the wall more squarely.",
                corner_letter(corner), show_angle(90.0 - kSteepestFreeEndDeg))};
}

Finding straight_refused(const Project& project, const Joint& joint, const Board& before, const Board& after,
                         const Finding& refused) {
    const std::string letter = corner_letter(joint.corner);
    const std::string names =
        fmt::format("At {} boards {} and {} run on in one line", letter, board_number(joint.before), board_number(joint.after));
    Finding finding{Severity::error, refused.code, project.joints[joint.corner].pointer, "", ""};
    const double wider = after.width_at(0) - before.width_at(1);
    if (refused.code == "joint.straight-overlap") {
        finding.message = fmt::format("{}: there is no edge for a {} to reach to, so nothing says how far they overlap.", names,
                                      joint.kind == JointKind::butt ? "butt" : "half-lap");
        finding.fix = fmt::format(
            "Make {} a mitre, which is a plain square joint here, with a block behind it; or leave corner {} out and run one "
            "board "
            "over both sides.",
            letter, letter);
        if (std::abs(wider) < kSameMm) finding.changes = {fmt::format("joint {} mitre", letter)};
    } else if (std::abs(wider) >= kSameMm) {
        const std::size_t thinner = wider > 0.0 ? joint.before : joint.after;
        finding.message = fmt::format("{}, but board {} is {} {} and board {} {}: no one cut serves both.", names,
                                      board_number(joint.before), with_unit(before.width_at(1), project), measure_word(project.lie),
                                      board_number(joint.after), with_unit(after.width_at(0), project));
        finding.fix = fmt::format(
            "Use one {} on both sides of {}, or pack board {} out by {} and enter it so; or leave corner {} out and run one "
            "board "
            "over both sides.",
            measure_noun(project.lie), letter, board_number(thinner), with_unit(std::abs(wider), project), letter);
    } else {
        finding.message = fmt::format("{}, but their inside edges lie {} apart.", names,
                                      show_small(std::abs(after.offset_at(0) - before.offset_at(1)), project.style()));
        finding.fix =
            fmt::format("Give boards {} and {} the same margin.", board_number(joint.before), board_number(joint.after));
    }
    return finding;
}

Findings section_findings(const Project& project, const Outline& outline, const Frame& frame) {
    Findings findings;
    const auto moulded = [&](std::size_t k) {
        const std::optional<std::size_t> stock = project.boards[k].stock;
        return stock && project.stock[*stock].surface == Surface::moulded;
    };
    Findings unmatched;
    Findings undercuts;
    for (const Joint& joint : frame.joints) {
        if (!is_mitred(joint.kind)) continue;
        const bool both_moulded = moulded(joint.before) && moulded(joint.after);
        if (both_moulded && differ(project.boards[joint.before].width_mm, project.boards[joint.after].width_mm, project)) {
            unmatched.push_back(unequal_moulded(project, joint));
        }
        add_undercut(project, outline, frame, joint, undercuts);
    }
    tell_first(findings, std::move(unmatched), "corners");
    tell_first(findings, std::move(undercuts), "corners");
    add_unequal_heights(project, frame, findings);
    add_tapers(project, outline, frame, findings);
    return findings;
}

}  // namespace boardring
