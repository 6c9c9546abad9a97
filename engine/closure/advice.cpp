#include "closure/advice.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

constexpr int kHalvings = 18;
constexpr double kMostTimes = 64.0;
constexpr double kMuchLess = 0.8;
constexpr std::size_t kMostTestPieces = 6;

// The largest factor in [0, most] for which `fine` holds, fine being true below some factor; empty if not even at 0.
template <typename Fine>
std::optional<double> largest(double most, Fine&& fine) {
    if (!fine(0.0)) return std::nullopt;
    if (fine(most)) return most;
    double low = 0.0, high = most;
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = 0.5 * (low + high);
        (fine(middle) ? low : high) = middle;
    }
    return low;
}

bool keeps(const RingErrors& errors, const std::vector<double>& factor, double wanted_mm) {
    return errors.odds(factor, wanted_mm, kBuildsOfPage).within >= kSure;
}

std::vector<Needed> needed_of(const RingErrors& errors, const Budget& budget, double wanted_mm) {
    const std::size_t sources = errors.model.sources.size();
    std::vector<Needed> needed;
    for (const BudgetLine& line : budget.lines) {
        std::size_t s = 0;
        while (s < sources && errors.model.sources[s].kind != line.source.kind) ++s;
        ENSURE(s < sources);
        std::vector<double> factor(sources, 1.0);
        factor[s] = 0.5;
        Needed one;
        one.source = line.source;
        one.most_if_half_mm = errors.odds(factor, wanted_mm, kBuildsOfPage).most_mm;
        if (line.spread_share > 0.01) {
            const auto times = largest(kMostTimes, [&](double f) {
                factor[s] = f;
                return keeps(errors, factor, wanted_mm);
            });
            if (times) one.sd = *times * line.source.sd;
        }
        needed.push_back(one);
    }
    return needed;
}

std::optional<LeaveLong> better_last(const RingErrors& errors, const LeaveLong& now) {
    constexpr std::size_t kMostBoards = 24;  // in larger rings one board is like the next
    if (errors.ring.joints.size() > kMostBoards) return std::nullopt;
    std::optional<LeaveLong> best;
    for (std::size_t k = 0; k < errors.ring.joints.size(); ++k) {
        const LeaveLong one = errors.leave_long(k, now.told_mm);
        if (one.long_mm < kMuchLess * now.long_mm && (!best || one.long_mm < best->long_mm - 1e-6)) best = one;
    }
    return best;
}

// What a half of the ring between two corners is out by: along the line that parts it, and the turn between its faces.
struct HalfOut {
    double span_mm = 0.0, turn_rad = 0.0;
};

// An error's part in the half that starts at corner `from` and ends at `to`.
HalfOut half_out(const Frame& frame, const RingErrors& errors, const ErrorInput& input, std::size_t from, std::size_t to) {
    const std::size_t n = frame.boards.size();
    const Vec2 start = errors.ring.joints[from].inner_mm, finish = errors.ring.joints[to].inner_mm;
    const Vec2 along = (1.0 / length(finish - start)) * (finish - start);
    HalfOut out;
    const std::size_t boards = (to + n - from) % n;
    for (const FaceChange& change : face_changes(frame, errors.model, input)) {
        const std::size_t at = (change.corner + n - from) % n;
        const bool first_face = at == 0 && change.end == 0;
        const bool last_face = at == boards && change.end == 1;
        if (!first_face && !last_face && !(at > 0 && at < boards)) continue;
        const double way = change.end == 1 ? 1.0 : -1.0;
        // A change carries the end along; at the half's two faces, whose inner corners are held, it swings it across the line only.
        const Vec2 moved = way * (change.held_mm + change.turn_rad * left_of(finish - errors.ring.joints[change.corner].held_mm));
        out.span_mm += dot(moved, along);
        out.turn_rad += way * change.turn_rad;
    }
    return out;
}

HalvesLeft halves_left(const Frame& frame, const RingErrors& errors, std::size_t first, std::size_t second) {
    HalvesLeft left;
    left.first_corner = first;
    left.second_corner = second;
    double lip = 0.0, turn = 0.0, turn_of_other = 0.0;
    for (const ErrorInput& input : errors.model.inputs) {
        const HalfOut one = half_out(frame, errors, input, first, second);
        const HalfOut other = half_out(frame, errors, input, second, first);
        lip += (one.span_mm - other.span_mm) * (one.span_mm - other.span_mm);
        turn += one.turn_rad * one.turn_rad;
        turn_of_other += other.turn_rad * other.turn_rad;
    }
    const double face_mm = std::max(errors.ring.joints[first].face_mm, errors.ring.joints[second].face_mm);
    left.lip_sd_mm = 0.5 * std::sqrt(lip);
    left.skim_sd_mm = 0.5 * std::sqrt(std::max(turn, turn_of_other)) * face_mm;
    return left;
}

// Cuts that are tested together: both ends at one corner.
struct CornerCuts {
    double saw_deg, other_deg;  // the larger first
    double width_mm;
    std::size_t cuts = 0;
};

std::vector<CornerCuts> corner_cuts(const Frame& frame) {
    constexpr double kSame = 1e-6;
    std::vector<CornerCuts> all;
    for (const Joint& joint : frame.joints) {
        const Board &before = frame.boards[joint.before], &after = frame.boards[joint.after];
        double p = before.ends[1].saw_deg, o = after.ends[0].saw_deg;
        // The face tried is the one sawn at the larger setting; at a butt the end of the board that stops.
        double width_mm = std::abs(p) > std::abs(o) ? before.width_at(1) : after.width_at(0);
        if (!is_mitred(joint.kind)) {
            const bool before_stops = joint.kind == JointKind::butt && joint.through == joint.after;
            p = o = before_stops ? p : o;
            width_mm = before_stops ? before.width_at(1) : after.width_at(0);
        }
        if (std::abs(p) < kSame && std::abs(o) < kSame) p = o = 0.0;
        if (p * o < 0.0) continue;  // undercut: one of them the other way round
        const CornerCuts now{std::max(std::abs(p), std::abs(o)), std::min(std::abs(p), std::abs(o)), width_mm};
        auto same = std::find_if(all.begin(), all.end(), [&](const CornerCuts& c) {
            return std::abs(c.saw_deg - now.saw_deg) < kSame && std::abs(c.other_deg - now.other_deg) < kSame;
        });
        if (same == all.end()) same = all.insert(all.end(), now);
        same->cuts += joint.kind == JointKind::butt ? 1 : 2;
    }
    std::stable_sort(all.begin(), all.end(), [](const CornerCuts& a, const CornerCuts& b) {
        if ((a.saw_deg > 0.0) != (b.saw_deg > 0.0)) return a.saw_deg > 0.0;
        return a.cuts > b.cuts;
    });
    return all;
}

}  // namespace

std::vector<TestRing> test_rings(const Frame& frame) {
    std::vector<TestRing> tests;
    for (const CornerCuts& cuts : corner_cuts(frame)) {
        // A piece turned over makes its square cut the mate of itself: a ring of one piece.
        const double pieces = cuts.saw_deg > 0.0 ? 180.0 / (cuts.saw_deg + cuts.other_deg) : 1.0;
        if (std::abs(pieces - std::round(pieces)) > 1e-6 || pieces > static_cast<double>(kMostTestPieces) + 0.5) continue;
        TestRing test;
        test.saw_deg = cuts.saw_deg;
        test.other_deg = cuts.other_deg;
        test.pieces = static_cast<std::size_t>(std::lround(pieces));
        test.face_mm = cuts.width_mm / cos_deg(cuts.saw_deg);
        const double rad_per_mm = 1.0 / (2.0 * std::round(pieces) * test.face_mm);
        test.deg_per_mm = degrees(rad_per_mm);
        test.shim_per_mm = kShimAtMm * rad_per_mm;
        tests.push_back(test);
    }
    return tests;
}

Advice advise(const Frame& frame, const RingErrors& errors, const Budget& budget, double wanted_mm,
              const std::optional<std::pair<std::size_t, std::size_t>>& halves) {
    Advice advice;
    advice.all_times = largest(kMostTimes, [&](double times) {
        return keeps(errors, std::vector<double>(errors.model.sources.size(), times), wanted_mm);
    });
    advice.needed = needed_of(errors, budget, wanted_mm);
    advice.leave_long = budget.leave_long;
    advice.better_last = better_last(errors, budget.leave_long);
    if (halves) advice.halves = halves_left(frame, errors, halves->first, halves->second);
    advice.tests = test_rings(frame);
    return advice;
}

}  // namespace boardring
