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

#include "base/angle_text.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "frame/finding_words.hpp"
#include "frame/overlap.hpp"

namespace boardring {
namespace {

bool is_cut(const BoardEnd& end) {
    return end.face_mm > 0.0;
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
// Its own margin moves an edge sideways; those of the boards beside it make it shorter.
std::string margin_hint(const Project& project, const Frame& frame, std::size_t k) {
    std::size_t farthest = k;
    for (const BoardEnd& end : frame.boards[k].ends) {
        if (end.mate && margin_mm(project, *end.mate) < margin_mm(project, farthest)) farthest = *end.mate;
    }
    const double margin = margin_mm(project, farthest);
    if (margin >= 0.0) return "";
    const std::string of = margin < margin_mm(project, k) ? fmt::format(" at board {}", board_number(farthest)) : "";
    return fmt::format(" A margin of {}{} moves boards inward: is that meant?", with_unit(margin, project), of);
}

Finding vanished_one(const Project& project, const Outline& outline, const Frame& frame, std::size_t k) {
    const Board& board = frame.boards[k];
    return {Severity::error, "board.edge-vanishes", project.boards[k].pointer,
            fmt::format("Board {} has no {} left: side {} is {}, and its ends {} and {} together take {} more.", board_number(k),
                        vanished_edge(board), side_name(outline, k), with_unit(board.side_mm, project), corner_letter(board.ends[0].corner),
                        corner_letter(board.ends[1].corner), show_small(0.0 - shorter_edge_mm(board), project.style())),
            fmt::format("Make side {} at least {} with the same corners, or use a smaller {} here and beside it.{}{}",
                        side_name(outline, k), with_unit(up_to_step(board.side_mm - shorter_edge_mm(board), project), project),
                        measure_noun(project.lie), nearly_straight_hint(outline, frame, board, project), margin_hint(project, frame, k))};
}

// Boards whose finding would say the same of each: "Boards 1 to 6".
Finding vanished_alike(const Project& project, const Frame& frame, const std::vector<std::size_t>& boards) {
    const std::size_t k = boards.front();
    const Board& board = frame.boards[k];
    return {Severity::error, "board.edge-vanishes", project.boards[k].pointer,
            fmt::format("Boards {} have no {} left: their sides are {}, and the two ends of each take {} more.", numbers_of(boards),
                        vanished_edge(board), with_unit(board.side_mm, project), show_small(0.0 - shorter_edge_mm(board), project.style())),
            fmt::format("Make these sides at least {} with the same corners, or use a smaller {}.{}",
                        with_unit(up_to_step(board.side_mm - shorter_edge_mm(board), project), project), measure_noun(project.lie),
                        margin_hint(project, frame, k))};
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
                     with_unit(up_to_step(board.side_mm - between_mm, project), project), lapped)});
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
    const std::string depth = with_unit(up_to_step(depth_mm, project), project);
    std::string fix;
    if (const std::optional<Longer> longer = side_to_lengthen(frame, overlap, depths)) {
        const double now_mm = frame.boards[longer->side].side_mm;
        fix = fmt::format("Make side {} at least {} (it is {}){}; or use boards together {} less in {}.",
                          side_name(outline, longer->side), with_unit(up_to_step(now_mm + longer->by_mm, project), project),
                          with_unit(now_mm, project), frame.closed ? ", with a side across the ring to match" : "", depth,
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

}  // namespace

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
