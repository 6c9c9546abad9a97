#include "closure/last_joint.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {
namespace {

// Moves the marks of an end by what is added to its face, square to it: + longer.
void add_to_face(MadeBoard& board, std::size_t e, double inside_mm, double outside_mm) {
    MadeEnd& end = board.ends[e];
    const double secant = std::hypot(board.width_at(e), end.run_mm) / board.width_at(e);
    const double towards = e == 0 ? -1.0 : 1.0;
    end.inside_mm += towards * inside_mm * secant;
    end.outside_mm += towards * outside_mm * secant;
    end.run_mm = towards * (end.outside_mm - end.inside_mm);
}

// Wood added (or taken off) until what is left at the corner is `wanted`: marks move it almost straight, a few steps do.
void bring_to(const Frame& frame, std::vector<MadeBoard>& made, std::size_t corner, std::size_t board, std::size_t end,
              double gap_in_mm, double gap_out_mm) {
    for (int step = 0; step < 20; ++step) {
        const JointMisfit now = stiff_at(frame, made, corner);
        const double in_mm = now.gap_in_mm - gap_in_mm, out_mm = now.gap_out_mm - gap_out_mm;
        if (std::hypot(in_mm, out_mm) < 1e-10) return;
        add_to_face(made[board], end, in_mm, out_mm);
    }
}

}  // namespace

LastJoint last_joint(const Frame& frame, std::size_t corner, std::size_t fit, const std::optional<DryFitGap>& gap) {
    const std::size_t n = frame.boards.size();
    LastJoint last;
    last.corner = corner;
    last.plane_board = fit;
    last.plane_end = fit == corner ? 0 : 1;
    ENSURE(fit == corner || fit + 1 == corner || (corner == 0 && fit + 1 == n));
    std::vector<MadeBoard> made = exact_boards(frame);
    if (gap) bring_to(frame, made, corner, last.plane_board, last.plane_end, gap->inside_mm, gap->outside_mm);
    last.open = stiff_at(frame, made, corner);
    last.before = *close_made(frame, made).spread;
    const double taper_mm = last.open.gap_out_mm - last.open.gap_in_mm;
    last.plane_inside = taper_mm > 0.0;
    last.plane_mm = std::abs(taper_mm);
    std::vector<MadeBoard> planed = made;
    add_to_face(planed[last.plane_board], last.plane_end, last.plane_inside ? -last.plane_mm : 0.0,
                last.plane_inside ? 0.0 : -last.plane_mm);
    last.after = *close_made(frame, planed).spread;
    return last;
}

namespace {

// One for every board that alone could close the ring.
std::vector<Recut> recuts(const Frame& planned, const std::vector<std::optional<BoardShape>>& cut) {
    std::vector<Recut> all;
    for (std::size_t k = 0; k < cut.size(); ++k) {
        std::vector<std::optional<BoardShape>> others = cut;
        others[k].reset();
        const std::optional<Outline> outline = refit_outline(planned, others, Keep::outline);
        if (!outline) continue;
        const std::size_t n = cut.size(), p = k == 0 ? n - 1 : k - 1, next = k + 1 == n ? 0 : k + 1;
        const auto run_for = [&](double turn, std::size_t mate, std::size_t mate_end) {
            const double mate_deg = turn_face_to_face(cut[mate]->run_mm[mate_end], planned.boards[mate].width_at(mate_end), 0.0, 1.0);
            return planned.boards[k].width_at(1 - mate_end) * tan_deg(turn - mate_deg);
        };
        Recut recut{k, {outline->sides_mm[k], {run_for(outline->turn_deg[k], p, 1), run_for(outline->turn_deg[next], next, 0)}}, {}, 0.0, 0.0};
        recut.trim = trim_to(*cut[k], recut.shape);
        recut.too_short_mm = too_short_mm(*cut[k], recut.shape);
        for (const double moved : corners_moved_mm(planned, *outline)) recut.moved_mm = std::max(recut.moved_mm, moved);
        all.push_back(std::move(recut));
    }
    return all;
}

}  // namespace

std::optional<Recut> best_recut(const Frame& planned, const std::vector<std::optional<BoardShape>>& cut) {
    std::optional<Recut> best;
    for (Recut& recut : recuts(planned, cut)) {
        const bool better = !best || (recut.trim && (!best->trim || recut.moved_mm < best->moved_mm)) ||
                            (!recut.trim && !best->trim && recut.too_short_mm < best->too_short_mm);
        if (better) best = std::move(recut);
    }
    return best;
}

std::optional<Recut> nearest_recut(const Frame& planned, const std::vector<std::optional<BoardShape>>& cut) {
    std::optional<Recut> nearest;
    for (Recut& recut : recuts(planned, cut)) {
        if (!nearest || recut.moved_mm < nearest->moved_mm) nearest = std::move(recut);
    }
    return nearest;
}

}  // namespace boardring
