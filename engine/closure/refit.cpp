#include "closure/refit.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "outline/adjust.hpp"
#include "outline/build.hpp"
#include "outline/laid_on.hpp"

namespace boardring {
namespace {

using Shapes = std::vector<std::optional<BoardShape>>;

constexpr double kFreeDeg = 20.0;    // how far a free corner may be bent
constexpr double kFreeLength = 0.5;  // and a free length changed, as a part of the longest

std::size_t after(std::size_t k, std::size_t n) { return k + 1 == n ? 0 : k + 1; }
std::size_t before(std::size_t k, std::size_t n) { return k == 0 ? n - 1 : k - 1; }

double given_turn_deg(const Frame& planned, const Shapes& cut, std::size_t c) {
    const std::size_t p = before(c, cut.size());
    return turn_face_to_face(cut[p]->run_mm[1], planned.boards[p].width_at(1), cut[c]->run_mm[0], planned.boards[c].width_at(0));
}

// The inside corners with every row of cut boards laid where it fits the plan best.
std::optional<Outline> keep_outline(const Frame& planned, const Shapes& cut) {
    const std::size_t n = cut.size();
    std::vector<Vec2> corners = planned.inside_mm;
    for (std::size_t start = 0; start < n; ++start) {
        if (!cut[start] || cut[before(start, n)]) continue;
        std::vector<Vec2> row{{}}, targets{planned.inside_mm[start]};
        std::vector<std::size_t> which{start};
        double heading = 0.0;
        for (std::size_t k = start; cut[k]; k = after(k, n)) {
            if (k != start) heading += given_turn_deg(planned, cut, k);
            row.push_back(row.back() + cut[k]->inside_mm * unit_deg(heading));
            which.push_back(after(k, n));
            targets.push_back(planned.inside_mm[which.back()]);
        }
        const std::vector<Vec2> laid = laid_on(row, targets, std::vector<bool>(row.size(), true));
        for (std::size_t i = 0; i < which.size(); ++i) corners[which[i]] = laid[i];
    }
    for (std::size_t k = 0; k < n; ++k) {
        if (length(corners[after(k, n)] - corners[k]) <= 0.0) return std::nullopt;
    }
    Outline outline = build_points({corners}, false, false);
    if (outline.letters_clockwise) return std::nullopt;  // turned inside out
    return outline;
}

// The ring as a chain whose given values have no play.
Chain chain_of(const Frame& planned, const Shapes& cut, double free_side_mm, double free_angle_deg) {
    const std::size_t n = cut.size();
    Chain chain;
    for (std::size_t k = 0; k < n; ++k) {
        const bool joint_given = cut[k] && cut[before(k, n)];
        const Board& board = planned.boards[k];
        chain.sides_mm.push_back(cut[k] ? cut[k]->inside_mm : board.inside_length_mm());
        chain.side_within_mm.push_back(cut[k] ? 0.0 : free_side_mm);
        chain.interior_deg.push_back(joint_given ? 180.0 - given_turn_deg(planned, cut, k) : planned.joints[k].interior_deg);
        chain.angle_within_deg.push_back(joint_given ? 0.0 : free_angle_deg);
    }
    return chain;
}

std::optional<Outline> closed(const Chain& chain) {
    const std::optional<Spread> spread = spread_within_digits(chain);
    if (!spread) return std::nullopt;
    const Chain done = with_spread(chain, *spread);
    for (std::size_t k = 0; k < done.sides(); ++k) {
        if (done.sides_mm[k] <= 0.0 || done.interior_deg[k] <= 0.0 || done.interior_deg[k] >= 360.0) return std::nullopt;
    }
    return build_chain(done);
}

}  // namespace

std::optional<Outline> refit_outline(const Frame& planned, const Shapes& cut, Keep keep) {
    const std::size_t n = cut.size();
    ENSURE(planned.closed && planned.boards.size() == n);
    const auto open = static_cast<std::size_t>(std::count(cut.begin(), cut.end(), std::nullopt));
    ENSURE(open > 0);
    std::optional<Outline> outline;
    double longest_mm = 0.0;
    for (const Board& board : planned.boards) longest_mm = std::max(longest_mm, board.inside_length_mm());
    const double free_mm = kFreeLength * longest_mm;
    // One open board has no choice left: the first way serves all.
    if (keep == Keep::angles && open > 1) outline = closed(chain_of(planned, cut, free_mm, kFreeDeg));
    if (keep == Keep::lengths && open > 1) outline = closed(chain_of(planned, cut, 0.0, kFreeDeg));
    if (!outline) outline = keep_outline(planned, cut);
    if (outline) outline->letters_clockwise = planned.letters_clockwise;
    return outline;
}

bool put_cut_boards(Frame& frame, const Shapes& cut) {
    const std::size_t n = cut.size();
    const auto set_end = [&frame](std::size_t k, std::size_t e, double run_mm) {
        Board& board = frame.boards[k];
        BoardEnd& end = board.ends[e];
        end.run_mm = run_mm;
        end.outside_mm = end.inside_mm + (e == 0 ? -run_mm : run_mm);
        end.saw_deg = degrees(std::atan2(run_mm, board.width_at(e)));
        end.face_mm = std::hypot(board.width_at(e), run_mm);
    };
    for (std::size_t k = 0; k < n; ++k) {
        if (!cut[k]) continue;
        frame.boards[k].ends[1].inside_mm = frame.boards[k].ends[0].inside_mm + cut[k]->inside_mm;
        set_end(k, 0, cut[k]->run_mm[0]);
        set_end(k, 1, cut[k]->run_mm[1]);
    }
    for (const Joint& joint : frame.joints) {
        if (cut[joint.before].has_value() == cut[joint.after].has_value()) continue;
        const double turn_deg = turn_of(joint.interior_deg);
        const bool own = !cut[joint.after].has_value();
        const std::size_t k = own ? joint.after : joint.before;
        const double mate_deg = own ? frame.boards[joint.before].ends[1].saw_deg : frame.boards[joint.after].ends[0].saw_deg;
        const double slope_deg = turn_deg - mate_deg;
        if (std::abs(slope_deg) >= 90.0) return false;  // past the board's own line: its tangent would be that of another cut
        set_end(k, own ? 0 : 1, frame.boards[k].width_at(own ? 0 : 1) * tan_deg(slope_deg));
    }
    for (Joint& joint : frame.joints) joint.face_mm = frame.boards[joint.after].ends[0].face_mm;
    return true;
}

std::vector<double> corners_moved_mm(const Frame& planned, const Outline& refitted) {
    const std::vector<Vec2> laid = laid_on(refitted.corners_mm, planned.inside_mm, std::vector<bool>(refitted.corners_mm.size(), true));
    std::vector<double> moved;
    for (std::size_t c = 0; c < laid.size(); ++c) moved.push_back(length(laid[c] - planned.inside_mm[c]));
    return moved;
}

double lip_outside_mm(const Frame& frame, const Joint& joint) {
    const BoardEnd& ends = frame.boards[joint.before].ends[1];
    const BoardEnd& starts = frame.boards[joint.after].ends[0];
    return ends.face_mm - starts.face_mm;
}

namespace {

// The wanted board laid along the wood, its first inside mark `at` from the wood's: where it may lie.
struct Play {
    double from = 0.0, to = 0.0;
};
Play play_of(const BoardShape& wood, const BoardShape& wanted) {
    const double from = std::max(0.0, wanted.run_mm[0] - wood.run_mm[0]);
    const double to = std::min(wood.inside_mm - wanted.inside_mm,
                               wood.inside_mm + wood.run_mm[1] - wanted.inside_mm - wanted.run_mm[1]);
    return {from, to};
}

}  // namespace

double too_short_mm(const BoardShape& wood, const BoardShape& wanted) {
    const Play play = play_of(wood, wanted);
    return std::max(0.0, play.from - play.to);
}

std::optional<Trim> trim_to(const BoardShape& wood, const BoardShape& wanted) {
    constexpr double kRounding = 1e-9;
    const Play play = play_of(wood, wanted);
    if (play.to < play.from - kRounding) return std::nullopt;
    // Slid against one end or the other: the one where less comes off in all, and one end may stay as it is.
    Trim best;
    bool have = false;
    for (const double at : {play.from, play.to}) {
        Trim trim;
        trim.off_mm[0][0] = at;
        trim.off_mm[0][1] = at - wanted.run_mm[0] + wood.run_mm[0];
        trim.off_mm[1][0] = wood.inside_mm - wanted.inside_mm - at;
        trim.off_mm[1][1] = trim.off_mm[1][0] + wood.run_mm[1] - wanted.run_mm[1];
        int touched = 0, best_touched = 0;
        for (std::size_t e = 0; e < 2; ++e) {
            for (std::size_t i = 0; i < 2; ++i) trim.most_mm = std::max(trim.most_mm, trim.off_mm[e][i]);
            touched += std::max(trim.off_mm[e][0], trim.off_mm[e][1]) > kRounding ? 1 : 0;
            best_touched += std::max(best.off_mm[e][0], best.off_mm[e][1]) > kRounding ? 1 : 0;
        }
        if (!have || touched < best_touched) best = trim;
        have = true;
    }
    return best;
}

}  // namespace boardring
