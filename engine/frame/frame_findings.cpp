#include "frame/frame_findings.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/ensure.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "frame/overlap.hpp"
#include "joinery/free_end.hpp"

namespace boardring {
namespace {

// A cut within this of square counts as square, not as undercut: at the limit w_p / w_o = cos T rounding picks the sign.
constexpr double kSquareDeg = 1e-9;
// Widths nearer than this are one width: far over the rounding of a length that came through inches.
constexpr double kSameMm = 1e-9;
// Below this turn a difference of width d wants a mark d / sin T away, more than six times d: worth saying.
constexpr double kNearlyStraightDeg = 10.0;
constexpr std::size_t kMostStepsTold = 6;

std::string shown(double mm, const Project& project) {
    return show_length_unit(mm, project.style());
}

// Rounded up to the next step, so that the length shown works as shown; a length on a step but for rounding goes up too.
double up_to_step(double mm, const Project& project) {
    const double step = project.tools.rule_step_mm;
    return (std::floor(mm / step + 1e-6) + 1.0) * step;
}

double down_to_step(double mm, const Project& project) {
    const double step = project.tools.rule_step_mm;
    return std::floor(mm / step) * step;
}

bool differ(double a_mm, double b_mm, const Project& project) {
    return std::abs(a_mm - b_mm) >= 0.5 * project.tools.rule_step_mm;
}

const char* measure_word(Lie lie) {
    return lie == Lie::flat ? "wide" : "thick";
}
const char* measure_noun(Lie lie) {
    return lie == Lie::flat ? "width" : "thickness";
}

std::string side_name(const Outline& outline, std::size_t k) {
    return corner_letter(k) + corner_letter(outline.corner_after(k));
}

bool is_cut(const BoardEnd& end) {
    return end.face_mm > 0.0;
}

// A page of one and the same trouble helps nobody: the first twenty, the last of which says how many more there are.
void tell_first(Findings& to, Findings found, const char* places) {
    constexpr std::size_t kMostTold = 20;
    if (found.size() > kMostTold) {
        const std::size_t more = found.size() - kMostTold;
        found.resize(kMostTold);
        found.back().message += more == 1 ? std::string(" So it is with one more.") : fmt::format(" So it is with {} more {}.", more, places);
    }
    append(to, std::move(found));
}

Finding unequal_moulded(const Project& project, const Joint& joint) {
    const BoardAsked& before = project.boards[joint.before];
    const BoardAsked& after = project.boards[joint.after];
    return {
        Severity::error, "joint.unequal-moulded", project.joints[joint.corner].pointer,
        fmt::format(
            "At {} moulded boards {} ({} wide) and {} ({} wide) meet in a mitre: the lines of the moulding would not meet.",
            corner_letter(joint.corner), board_number(joint.before), shown(before.width_mm, project), board_number(joint.after),
            shown(after.width_mm, project)),
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
        letter, board_number(thick), board_number(thick), shown(most_mm, project), letter);
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
                        letter, show_angle(joint.interior_deg), board_number(thick), shown(thick_mm, project),
                        measure_word(project.lie), board_number(thin), shown(thin_mm, project), show_angle(std::abs(thick_saw)),
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
                             shown(std::abs(after_mm - before_mm), project), board_number(joint.before),
                             shown(before_mm, project), board_number(joint.after), shown(after_mm, project));
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
                     shown(lowest_mm, project))});
}

// "1 to 6", "1, 3 and 5"; the first eight of more.
std::string numbers_of(const std::vector<std::size_t>& boards) {
    constexpr std::size_t kMostNamed = 8;
    if (boards.size() > 2 && boards.back() - boards.front() + 1 == boards.size()) {
        return fmt::format("{} to {}", board_number(boards.front()), board_number(boards.back()));
    }
    std::string text;
    for (std::size_t i = 0; i < std::min(boards.size(), kMostNamed); ++i) {
        const bool last = i + 1 == boards.size();
        text += fmt::format("{}{}", i == 0 ? "" : last ? " and " : ", ", board_number(boards[i]));
    }
    return boards.size() > kMostNamed ? fmt::format("{} and {} more", text, boards.size() - kMostNamed) : text;
}

bool edge_vanishes(const Board& board) {
    return board.inside_length_mm() <= 0.0 || board.outside_length_mm() <= 0.0;
}

// Even a difference no rule shows is enough here: at a turn of 0.01 degrees 0.1 mm becomes 570 mm.
std::string nearly_straight_hint(const Outline& outline, const Frame& frame, const Board& board, const Project& project) {
    for (std::size_t e = 0; e < 2; ++e) {
        const BoardEnd& end = board.ends[e];
        if (!end.mate || std::abs(outline.turn_deg[end.corner]) >= kNearlyStraightDeg) continue;
        if (std::abs(board.width_at(e) - frame.boards[*end.mate].width_at(1 - e)) < kSameMm) continue;
        return fmt::format(
            " At {} the boards turn by only {}, and unequal boards want a very long cut there: one {} on both sides would end "
            "that.",
            corner_letter(end.corner), show_angle(std::abs(outline.turn_deg[end.corner]), 3), measure_noun(project.lie));
    }
    return "";
}

double shorter_edge_mm(const Board& board) {
    return std::min(board.inside_length_mm(), board.outside_length_mm());
}

const char* vanished_edge(const Board& board) {
    const double inside_mm = board.inside_length_mm();
    const double outside_mm = board.outside_length_mm();
    if (inside_mm <= 0.0 && outside_mm <= 0.0) return "edge at all";
    return inside_mm <= outside_mm ? "inside edge" : "outside edge";
}

double margin_mm(const Project& project, std::size_t k) {
    return project.outline.margin_mm.empty() ? 0.0 : project.outline.margin_mm[k];
}

// A margin below nothing moves a board inward; where that leaves no edge, it is likelier the slip than the sides.
std::string margin_hint(const Project& project, std::size_t k) {
    const double margin = margin_mm(project, k);
    if (margin >= 0.0) return "";
    return fmt::format(" A margin of {} moves boards inward: is that meant?", shown(margin, project));
}

Finding vanished_one(const Project& project, const Outline& outline, const Frame& frame, std::size_t k) {
    const Board& board = frame.boards[k];
    return {Severity::error, "board.edge-vanishes", project.boards[k].pointer,
            fmt::format("Board {} has no {} left: side {} is {}, and its ends {} and {} together take {} more.", board_number(k),
                        vanished_edge(board), side_name(outline, k), shown(board.side_mm, project), corner_letter(board.ends[0].corner),
                        corner_letter(board.ends[1].corner), show_small(0.0 - shorter_edge_mm(board), project.style())),
            fmt::format("Make side {} at least {} with the same corners, or use a smaller {} here and beside it.{}{}",
                        side_name(outline, k), shown(up_to_step(board.side_mm - shorter_edge_mm(board), project), project),
                        measure_noun(project.lie), nearly_straight_hint(outline, frame, board, project), margin_hint(project, k))};
}

// Boards whose finding would say the same of each: "Boards 1 to 6".
Finding vanished_alike(const Project& project, const Frame& frame, const std::vector<std::size_t>& boards) {
    const std::size_t k = boards.front();
    const Board& board = frame.boards[k];
    return {Severity::error, "board.edge-vanishes", project.boards[k].pointer,
            fmt::format("Boards {} have no {} left: their sides are {}, and the two ends of each take {} more.", numbers_of(boards),
                        vanished_edge(board), shown(board.side_mm, project), show_small(0.0 - shorter_edge_mm(board), project.style())),
            fmt::format("Make these sides at least {} with the same corners, or use a smaller {}.{}",
                        shown(up_to_step(board.side_mm - shorter_edge_mm(board), project), project), measure_noun(project.lie),
                        margin_hint(project, k))};
}

// One finding for boards of which the same would be said; others one by one, in the order of the first of each.
Findings vanished_edges(const Project& project, const Outline& outline, const Frame& frame, const std::vector<std::size_t>& vanished) {
    std::vector<std::vector<std::size_t>> groups;
    for (const std::size_t k : vanished) {
        const Board& board = frame.boards[k];
        const bool alone = !nearly_straight_hint(outline, frame, board, project).empty();
        const auto group = std::find_if(groups.begin(), groups.end(), [&](const std::vector<std::size_t>& boards) {
            const Board& first = frame.boards[boards.front()];
            return !alone && !differ(first.side_mm, board.side_mm, project) && !differ(shorter_edge_mm(first), shorter_edge_mm(board), project) &&
                   vanished_edge(first) == std::string_view(vanished_edge(board)) &&
                   margin_mm(project, boards.front()) == margin_mm(project, k) &&
                   nearly_straight_hint(outline, frame, first, project).empty();
        });
        if (group == groups.end()) {
            groups.push_back({k});
        } else {
            group->push_back(k);
        }
    }
    Findings findings;
    for (const std::vector<std::size_t>& boards : groups) {
        findings.push_back(boards.size() == 1 ? vanished_one(project, outline, frame, boards.front()) : vanished_alike(project, frame, boards));
    }
    return findings;
}

// Marks where an end's full wood begins: its shoulders if it is lapped, else its end.
double full_inside_mm(const BoardEnd& end) {
    return end.lap ? end.lap->shoulder_inside_mm : end.inside_mm;
}
double full_outside_mm(const BoardEnd& end) {
    return end.lap ? end.lap->shoulder_outside_mm : end.outside_mm;
}

// A lap must not run into the other end's lap, nor the other end's cut into it: along one edge no full wood would be left.
void add_meeting_laps(const Project& project, const Outline& outline, const Frame& frame, std::size_t k, Findings& findings) {
    const Board& board = frame.boards[k];
    const bool both = board.ends[0].lap && board.ends[1].lap;
    if ((!board.ends[0].lap && !board.ends[1].lap) || edge_vanishes(board)) return;
    const double inside_mm = full_inside_mm(board.ends[1]) - full_inside_mm(board.ends[0]);
    const double outside_mm = full_outside_mm(board.ends[1]) - full_outside_mm(board.ends[0]);
    const double between_mm = std::min(inside_mm, outside_mm);
    if (between_mm > 0.0) return;
    const std::string lapped = corner_letter(board.ends[board.ends[0].lap ? 0 : 1].corner);
    const std::string other = corner_letter(board.ends[board.ends[0].lap ? 1 : 0].corner);
    findings.push_back(
        {Severity::error, "board.laps-meet", project.boards[k].pointer,
         fmt::format("Board {} has no full wood left on its {} edge: the shoulder of its lap at {} lies {} beyond {} at {}.",
                     board_number(k), inside_mm <= outside_mm ? "inside" : "outside", lapped,
                     show_small(0.0 - between_mm, project.style()), both ? "the other lap's shoulder" : "the cut", other),
         fmt::format("Make side {} at least {} with the same corners, or mitre corner {}.", side_name(outline, k),
                     shown(up_to_step(board.side_mm - between_mm, project), project), lapped)});
}

struct Span {
    double low = 0.0;
    double high = 0.0;
};

Span span_along(const std::array<Vec2, 4>& corners, Vec2 axis) {
    Span span{dot(corners[0], axis), dot(corners[0], axis)};
    for (const Vec2& p : corners) {
        span.low = std::min(span.low, dot(p, axis));
        span.high = std::max(span.high, dot(p, axis));
    }
    return span;
}

// Two boards that share wood, and how deep they lie in each other along the normals of their edges, from the first to the second.
// Convex shapes are apart as soon as they are apart along one of these.
struct Depth {
    Vec2 direction;
    double depth_mm = 0.0;
};

std::vector<Depth> depths_of(const Board& first, const Board& second) {
    const std::array<std::array<Vec2, 4>, 2> plans = {first.plan_mm(), second.plan_mm()};
    std::vector<Depth> depths;
    for (const std::array<Vec2, 4>& plan : plans) {
        for (std::size_t i = 0; i < 4; ++i) {
            const Vec2 edge = plan[(i + 1) % 4] - plan[i];
            const Vec2 normal = (1.0 / length(edge)) * right_of(edge);
            for (const Vec2 axis : {normal, -normal}) {
                depths.push_back({axis, span_along(plans[0], axis).high - span_along(plans[1], axis).low});
            }
        }
    }
    return depths;
}

double shortest_move_mm(const std::vector<Depth>& depths) {
    return std::min_element(depths.begin(), depths.end(), [](const Depth& a, const Depth& b) { return a.depth_mm < b.depth_mm; })
        ->depth_mm;
}

// How far the second board must be carried in this direction to be free of the first; nothing if it takes more than `most_mm`.
std::optional<double> move_along_mm(const std::vector<Depth>& depths, Vec2 direction, double most_mm) {
    std::optional<double> least;
    for (const Depth& d : depths) {
        const double carries = dot(d.direction, direction);
        if (carries * most_mm < d.depth_mm) continue;
        if (!least || d.depth_mm / carries < *least) least = d.depth_mm / carries;
    }
    return least;
}

struct Longer {
    std::size_t side = 0;
    double by_mm = 0.0;
};

// The side between the two boards that frees them with the least lengthening; of sides that do equally well the shortest, which
// is the neck the maker will look at.
std::optional<Longer> side_to_lengthen(const Frame& frame, const Overlap& overlap, const std::vector<Depth>& depths) {
    constexpr double kAsWell = 1.01;
    std::optional<Longer> best;
    for (std::size_t k = overlap.first + 1; k < overlap.second; ++k) {
        const std::optional<double> by = move_along_mm(depths, frame.boards[k].along, 2.0 * shortest_move_mm(depths));
        if (!by) continue;
        const bool shorter = best && frame.boards[k].side_mm < frame.boards[best->side].side_mm;
        if (!best || *by * kAsWell < best->by_mm || (*by < best->by_mm * kAsWell && shorter)) best = Longer{k, *by};
    }
    return best;
}

Finding overlap_finding(const Project& project, const Outline& outline, const Frame& frame, const Overlap& overlap) {
    const std::vector<Depth> depths = depths_of(frame.boards[overlap.first], frame.boards[overlap.second]);
    const double depth_mm = shortest_move_mm(depths);
    const std::string depth = shown(up_to_step(depth_mm, project), project);
    std::string fix;
    if (const std::optional<Longer> longer = side_to_lengthen(frame, overlap, depths)) {
        const double now_mm = frame.boards[longer->side].side_mm;
        fix = fmt::format("Make side {} at least {} (it is {}){}; or use boards together {} less in {}.",
                          side_name(outline, longer->side), shown(up_to_step(now_mm + longer->by_mm, project), project),
                          shown(now_mm, project), frame.closed ? ", with a side across the ring to match" : "", depth,
                          measure_noun(project.lie));
    } else {
        fix = fmt::format("Set them at least {} further apart, or use boards together {} less in {}.", depth, depth,
                          measure_noun(project.lie));
    }
    return {Severity::error, "board.overlap", project.boards[overlap.first].pointer,
            fmt::format("Boards {} and {} would share wood: they lie {} too close.", board_number(overlap.first),
                        board_number(overlap.second), show_small(depth_mm, project.style())),
            fix};
}

// Beside a board without an edge its neighbours lie across each other; that is the same fault, told already.
bool beside_vanished(const Frame& frame, const Board& board) {
    return std::any_of(board.ends.begin(), board.ends.end(),
                       [&](const BoardEnd& end) { return end.mate && edge_vanishes(frame.boards[*end.mate]); });
}

void add_overlaps(const Project& project, const Outline& outline, const Frame& frame, Findings& findings) {
    Findings found;
    for (const Overlap& overlap : overlapping_boards(frame)) {
        const bool told_already =
            beside_vanished(frame, frame.boards[overlap.first]) || beside_vanished(frame, frame.boards[overlap.second]);
        if (!told_already) found.push_back(overlap_finding(project, outline, frame, overlap));
    }
    tell_first(findings, std::move(found), "pairs");
}

// "38 mm at D, 36.6 mm at E"
std::string taper_words(const Project& project, const Outline& outline, const Board& board, std::size_t k) {
    return fmt::format("{} at {}, {} at {}", shown(board.width_at(0), project), corner_letter(k), shown(board.width_at(1), project),
                       corner_letter(outline.corner_after(k)));
}

double taper_per_length(const Board& board) {
    return std::abs(board.taper_mm) / board.side_mm;
}

Finding steep_taper(const Project& project, const Outline& outline, const Board& board, std::size_t k) {
    return {Severity::warning, "board.taper-steep", project.boards[k].pointer,
            fmt::format("Board {} would taper 1 in {:.0f} over its side of {}: {}.", board_number(k), 1.0 / taper_per_length(board),
                        shown(board.side_mm, project), taper_words(project, outline, board, k)),
            fmt::format("Measure both ends again, or plane it to {} all along.", shown(std::min(board.width_at(0), board.width_at(1)), project))};
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
                                      board_number(joint.before), shown(before.width_at(1), project), measure_word(project.lie),
                                      board_number(joint.after), shown(after.width_at(0), project));
        finding.fix = fmt::format(
            "Use one {} on both sides of {}, or pack board {} out by {} and enter it so; or leave corner {} out and run one "
            "board "
            "over both sides.",
            measure_noun(project.lie), letter, board_number(thinner), shown(std::abs(wider), project), letter);
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
        if (joint.kind != JointKind::mitre) continue;
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

Findings length_findings(const Project& project, const Outline& outline, const Frame& frame) {
    Findings findings;
    std::vector<std::size_t> vanished;
    Findings lapped;
    bool all_cut = true;
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        if (!is_cut(frame.boards[k].ends[0]) || !is_cut(frame.boards[k].ends[1])) {
            all_cut = false;
            continue;
        }
        if (edge_vanishes(frame.boards[k])) vanished.push_back(k);
        add_meeting_laps(project, outline, frame, k, lapped);
    }
    tell_first(findings, vanished_edges(project, outline, frame, vanished), "boards");
    tell_first(findings, std::move(lapped), "boards");
    if (all_cut) add_overlaps(project, outline, frame, findings);
    return findings;
}

}  // namespace boardring
