// 100,000 random frames: every mark against a second construction, and the laws of the joints. Areas and overlaps against GEOS: frames_by_geos_test.
// Seeds are fixed; a failure names the seed, so that random_frame_case(seed, slimmer) builds that frame again.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "frame/frame.hpp"
#include "frame/overlap.hpp"
#include "joinery/mitre.hpp"
#include "project/joint_kinds.hpp"
#include "support/built_frame.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random_frame.hpp"
#include "support/world_frame.hpp"

using namespace boardring;
using boardring_test::Built;
using boardring_test::built;
using boardring_test::check_worst;
using boardring_test::FrameCase;
using boardring_test::kFirstSeed;
using boardring_test::largest_coordinate;
using boardring_test::outline_through;
using boardring_test::Point;
using boardring_test::Random;
using boardring_test::random_frame_case;
using boardring_test::WorldBoard;
using boardring_test::WorldFrame;
using boardring_test::Worst;

namespace {

constexpr double kEps = std::numeric_limits<double>::epsilon();

// How many frames: 100,000, ten times as many with BOARDRING_FULL=1 (two minutes), or what BOARDRING_FRAMES says.
std::size_t frames_wanted() {
    const char* asked = std::getenv("BOARDRING_FRAMES");
    if (asked == nullptr) return boardring_test::cases(100000, 1000000);
    return static_cast<std::size_t>(std::strtoull(asked, nullptr, 10));
}

// docs/accuracy.md: 1e-9 of the largest coordinate, times 1 / |sin T| where |T| < 1 degree. At straight corners nothing is
// divided.
double mark_bound(double turn_deg, double largest) {
    const double turn = std::abs(turn_deg);
    return 1e-9 * largest / (turn < 1.0 && turn >= kStraightTurnDeg ? sin_deg(turn) : 1.0);
}

double apart(Vec2 a, Point b) {
    return static_cast<double>(std::hypot(static_cast<long double>(a.x) - b.x, static_cast<long double>(a.y) - b.y));
}

// Where an end's marks stand in Board::plan_mm.
constexpr std::size_t inside_of(std::size_t end) {
    return end == 0 ? 0 : 3;
}
constexpr std::size_t outside_of(std::size_t end) {
    return end == 0 ? 1 : 2;
}

struct Survey {
    std::size_t frames = 0;
    std::size_t tried = 0;
    std::size_t open = 0;
    std::size_t inward = 0;
    std::size_t nearly_straight = 0;
    std::size_t straight = 0;
    std::size_t undercuts = 0;
    std::array<std::size_t, kJointKinds.size()> kinds{};
    std::array<std::size_t, 3> lines{};
    std::set<std::size_t> sizes;
    double sharpest_deg = 180.0;
    double bluntest_deg = 180.0;
    double widest_ratio = 1.0;

    Worst marks, shoulders, runs, saws, faces, square_lines, edges;
    Worst tiling, meet_face_to_face, saws_add_up, undercut_rule;
    Worst butt_reach, butt_saw, lap_halves;
    Worst scaled, rotated, relabelled, mirrored, reversed;
};

void look_at_marks(const Built& b, double largest, Survey& survey) {
    const Outline& outline = b.asked.outline;
    const WorldFrame world(b.asked.project, outline);
    for (std::size_t k = 0; k < b.frame.boards.size(); ++k) {
        const Board& board = b.frame.boards[k];
        const WorldBoard& second = world.boards[k];
        const std::array<Vec2, 4> plan = board.plan_mm();
        double both_bounds = 0.0;
        for (std::size_t e = 0; e < 2; ++e) {
            const BoardEnd& end = board.ends[e];
            const double bound = mark_bound(outline.turn_deg[end.corner], largest);
            both_bounds += bound;
            const Point p = second.plan[inside_of(e)];
            const Point q = second.plan[outside_of(e)];
            survey.marks.see(apart(plan[inside_of(e)], p), bound, b.seed);
            survey.marks.see(apart(plan[outside_of(e)], q), bound, b.seed);
            const long double beyond = (q.x - p.x) * second.along.x + (q.y - p.y) * second.along.y;
            const double run = static_cast<double>(e == 0 ? -beyond : beyond);
            survey.runs.see(std::abs(end.run_mm - run), bound, b.seed);
            survey.square_lines.see(std::abs(end.square_second_mm - end.square_first_mm - end.run_mm), bound, b.seed);
            survey.saws.see(std::abs(end.saw_deg - degrees(std::atan(run / board.width_mm))), degrees(bound / board.width_mm),
                            b.seed);
            survey.faces.see(std::abs(end.face_mm - std::hypot(board.width_mm, run)), bound, b.seed);
            survey.lap_halves.must(end.lap.has_value() == second.lapped[e], b.seed);
            if (!end.lap) continue;
            survey.shoulders.see(apart(board.at(end.lap->shoulder_inside_mm, board.offset_mm), second.shoulder[e][0]), bound,
                                 b.seed);
            survey.shoulders.see(
                apart(board.at(end.lap->shoulder_outside_mm, board.offset_mm + board.width_mm), second.shoulder[e][1]), bound,
                b.seed);
        }
        const double longer = board.width_mm * (tan_deg(board.ends[0].saw_deg) + tan_deg(board.ends[1].saw_deg));
        survey.edges.see(std::abs(board.outside_length_mm() - board.inside_length_mm() - longer), both_bounds, b.seed);
    }
}

void look_at_mitre(const Built& b, const Joint& joint, double bound, Survey& survey) {
    const double turn = b.asked.outline.turn_deg[joint.corner];
    const Board& before = b.frame.boards[joint.before];
    const Board& after = b.frame.boards[joint.after];
    const double saw_before = before.ends[1].saw_deg;
    const double saw_after = after.ends[0].saw_deg;
    survey.meet_face_to_face.see(length(before.plan_mm()[3] - after.plan_mm()[0]), bound, b.seed);
    survey.meet_face_to_face.see(length(before.plan_mm()[2] - after.plan_mm()[1]), bound, b.seed);
    survey.meet_face_to_face.see(std::abs(before.ends[1].face_mm - after.ends[0].face_mm), bound, b.seed);
    survey.saws_add_up.see(std::abs(saw_before + saw_after - turn), 1e-12, b.seed);
    const std::array<std::array<double, 3>, 2> ends{
        {{saw_before, before.width_mm, after.width_mm}, {saw_after, after.width_mm, before.width_mm}}};
    for (const auto& [saw, own, other] : ends) {
        const double margin = other / own - cos_deg(turn);
        const bool undercut = saw * turn < 0.0;
        survey.undercuts += undercut ? 1U : 0U;
        if (std::abs(margin) > 1e-12) survey.undercut_rule.must(undercut == (margin < 0.0), b.seed);
    }
}

// Each mark of the board that runs through reaches at least as far as a mitre's would, and one of them w_other / |sin T| further.
void look_at_butt(const Built& b, const Joint& joint, double bound, Survey& survey) {
    const double turn = b.asked.outline.turn_deg[joint.corner];
    const Board& before = b.frame.boards[joint.before];
    const Board& after = b.frame.boards[joint.after];
    const Result<JointCuts> as_mitre = mitre(turn, {before.offset_mm, before.width_mm}, {after.offset_mm, after.width_mm});
    const bool before_runs = joint.through == joint.before;
    const EndCut& instead = before_runs ? as_mitre.value().before : as_mitre.value().after;
    const Board& through = before_runs ? before : after;
    const BoardEnd& end = through.ends[before_runs ? 1U : 0U];
    const auto reach = [&](double x) { return before_runs ? x - through.side_mm : -x; };
    const double inside_more = reach(end.inside_mm) + instead.inside_mm;
    const double outside_more = reach(end.outside_mm) + instead.outside_mm;
    const double wanted = (before_runs ? after : before).width_mm / std::abs(sin_deg(turn));
    survey.butt_reach.see(-std::min(inside_more, outside_more), bound, b.seed);
    survey.butt_reach.see(std::abs(std::max(inside_more, outside_more) - wanted), bound, b.seed);
    survey.butt_reach.must(end.runs_through && std::max(inside_more, outside_more) > 0.0, b.seed);
    const double saw = turn > 0.0 ? 90.0 - joint.interior_deg : 270.0 - joint.interior_deg;
    survey.butt_saw.see(std::abs(before.ends[1].saw_deg - saw), 1e-11, b.seed);
    survey.butt_saw.see(std::abs(after.ends[0].saw_deg - saw), 1e-11, b.seed);
}

// Heights as intervals from the ground (on edge) or from the back (flat): what is left of both laps must fill the lower board's
// height once, and be flush at the face side.
void look_at_lap(const Built& b, const Joint& joint, Survey& survey) {
    const Board& before = b.frame.boards[joint.before];
    const Board& after = b.frame.boards[joint.after];
    const BoardLap& one = *before.ends[1].lap;
    const BoardLap& two = *after.ends[0].lap;
    const double lower = std::min(before.height_mm, after.height_mm);
    survey.lap_halves.must(one.keeps_upper != two.keeps_upper, b.seed);
    survey.lap_halves.must(one.depth_mm == two.depth_mm && one.depth_mm == 0.5 * lower, b.seed);
    const Board& up = one.keeps_upper ? before : after;
    const Board& down = one.keeps_upper ? after : before;
    // On edge both stand on the ground: the upper piece starts at depth, the lower piece ends there, or wood would overlap or
    // gape. Flat the same from the face down.
    const bool flat = b.asked.project.lie == Lie::flat;
    const double upper_left = up.height_mm - one.depth_mm;
    const double lower_left = down.height_mm - two.depth_mm;
    const double cheek = flat ? upper_left : lower_left;
    survey.lap_halves.see(std::abs(cheek - 0.5 * lower), 1e-12 * lower, b.seed);
}

FrameCase with_points(const FrameCase& from, const std::vector<Vec2>& points) {
    FrameCase made = from;
    made.outline = outline_through(points, from.outline.closed);
    return made;
}

Frame frame_of(const FrameCase& asked) {
    Result<Frame> made = build_frame(asked.project, asked.outline);
    if (!made.ok()) return {};
    return std::move(made).value();
}

// Two boards marked alike, the second `scale` times as big.
void see_alike(const Board& a, const Board& b, double scale, double bound, std::uint64_t seed, Worst& worst) {
    for (std::size_t e = 0; e < 2; ++e) {
        worst.see(std::abs(scale * a.ends[e].inside_mm - b.ends[e].inside_mm), bound, seed);
        worst.see(std::abs(scale * a.ends[e].outside_mm - b.ends[e].outside_mm), bound, seed);
        worst.see(std::abs(scale * a.ends[e].run_mm - b.ends[e].run_mm), bound, seed);
    }
}

// Two boards marked alike but for their ends, which are swapped; `swap_edges`: inside and outside too.
void see_alike_turned(const Board& a, const Board& b, bool swap_edges, double bound, std::uint64_t seed, Worst& worst) {
    for (std::size_t e = 0; e < 2; ++e) {
        const BoardEnd& mine = a.ends[e];
        const BoardEnd& others = b.ends[1 - e];
        worst.see(std::abs(a.side_mm - mine.inside_mm - (swap_edges ? others.outside_mm : others.inside_mm)), bound, seed);
        worst.see(std::abs(a.side_mm - mine.outside_mm - (swap_edges ? others.inside_mm : others.outside_mm)), bound, seed);
        worst.see(std::abs(mine.run_mm - (swap_edges ? -others.run_mm : others.run_mm)), bound, seed);
    }
}

double loosest_bound(const Outline& outline, double largest) {
    double most = 0.0;
    for (const double turn : outline.turn_deg) most = std::max(most, mark_bound(turn, largest));
    return most;
}

void look_at_scaled(const Built& b, double bound, Survey& survey) {
    const double scale = Random(b.seed).log_between(0.01, 100.0);
    std::vector<Vec2> points = b.asked.outline.corners_mm;
    for (Vec2& p : points) p = scale * p;
    FrameCase asked = with_points(b.asked, points);
    for (BoardAsked& board : asked.project.boards) board.thickness_mm *= scale;
    for (double& margin : asked.project.outline.margin_mm) margin *= scale;
    const Frame frame = frame_of(asked);
    survey.scaled.must(frame.boards.size() == b.frame.boards.size(), b.seed);
    for (std::size_t k = 0; k < frame.boards.size(); ++k)
        see_alike(b.frame.boards[k], frame.boards[k], scale, scale * bound, b.seed, survey.scaled);
}

void look_at_rotated(const Built& b, double bound, Survey& survey) {
    const double angle = Random(b.seed).between(0.0, 360.0);
    std::vector<Vec2> points = b.asked.outline.corners_mm;
    for (Vec2& p : points) p = turned(p, cos_deg(angle), sin_deg(angle));
    const Frame frame = frame_of(with_points(b.asked, points));
    survey.rotated.must(frame.boards.size() == b.frame.boards.size(), b.seed);
    for (std::size_t k = 0; k < frame.boards.size(); ++k)
        see_alike(b.frame.boards[k], frame.boards[k], 1.0, bound, b.seed, survey.rotated);
}

// A closed ring whose letters start elsewhere: the same numbers to the last bit.
void look_at_relabelled(const Built& b, Survey& survey) {
    if (!b.frame.closed) return;
    const std::size_t n = b.frame.boards.size();
    const std::size_t shift = Random(b.seed).index(n);
    const auto rotate = [&](auto& list) {
        std::rotate(list.begin(), list.begin() + static_cast<std::ptrdiff_t>(shift), list.end());
    };
    std::vector<Vec2> points = b.asked.outline.corners_mm;
    rotate(points);
    FrameCase asked = with_points(b.asked, points);
    rotate(asked.project.boards);
    rotate(asked.project.joints);
    rotate(asked.project.outline.margin_mm);
    for (JointAsked& joint : asked.project.joints) {
        if (joint.through) joint.through = (*joint.through + n - shift) % n;
    }
    const Frame frame = frame_of(asked);
    survey.relabelled.must(frame.boards.size() == n, b.seed);
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        see_alike(b.frame.boards[(k + shift) % n], frame.boards[k], 1.0, 1e-300, b.seed, survey.relabelled);
    }
}

// The list of corners the other way round: corner j is what was corner (n - j) mod n of a ring, n - j of a chain of n boards.
FrameCase walked_back(const Built& b, bool mirror) {
    const std::size_t n = b.frame.boards.size();
    const std::size_t corners = b.asked.outline.corners_mm.size();
    const auto old_corner = [&](std::size_t j) { return b.frame.closed ? (n - j) % n : n - j; };
    std::vector<Vec2> points;
    for (std::size_t j = 0; j < corners; ++j) {
        const Vec2 p = b.asked.outline.corners_mm[old_corner(j)];
        points.push_back(mirror ? Vec2{p.x, -p.y} : p);
    }
    FrameCase asked = with_points(b.asked, points);
    std::reverse(asked.project.boards.begin(), asked.project.boards.end());
    std::reverse(asked.project.outline.margin_mm.begin(), asked.project.outline.margin_mm.end());
    for (std::size_t j = 0; j < corners; ++j) asked.project.joints[j] = b.asked.project.joints[old_corner(j)];
    for (const Joint& joint : b.frame.joints) {
        const std::size_t j = b.frame.closed ? (n - joint.corner) % n : n - joint.corner;
        if (joint.through) asked.project.joints[j].through = n - 1 - *joint.through;
    }
    std::swap(asked.project.first_end, asked.project.last_end);
    return asked;
}

void look_at_mirrored(const Built& b, double bound, Survey& survey) {
    const Frame frame = frame_of(walked_back(b, true));
    const std::size_t n = b.frame.boards.size();
    survey.mirrored.must(frame.boards.size() == n, b.seed);
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        see_alike_turned(b.frame.boards[n - 1 - k], frame.boards[k], false, bound, b.seed, survey.mirrored);
    }
}

// An open chain walked from its other end: what was inside is outside, every slope changes its sign.
void look_at_reversed(const Built& b, double bound, Survey& survey) {
    if (b.frame.closed) return;
    FrameCase asked = walked_back(b, false);
    OutlineLine& line = asked.project.outline.line;
    line = line == OutlineLine::inside    ? OutlineLine::outside
           : line == OutlineLine::outside ? OutlineLine::inside
                                          : OutlineLine::middle;
    for (double& margin : asked.project.outline.margin_mm) margin = -margin;
    asked.project.first_end.saw_deg = -asked.project.first_end.saw_deg;
    asked.project.last_end.saw_deg = -asked.project.last_end.saw_deg;
    const Frame frame = frame_of(asked);
    const std::size_t n = b.frame.boards.size();
    survey.reversed.must(frame.boards.size() == n, b.seed);
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        see_alike_turned(b.frame.boards[n - 1 - k], frame.boards[k], true, bound, b.seed, survey.reversed);
    }
}

void look_at_joints(const Built& b, double largest, Survey& survey) {
    bool all_mitres = b.frame.closed;
    for (const Joint& joint : b.frame.joints) {
        const double turn = b.asked.outline.turn_deg[joint.corner];
        // Both boards' marks are off by at most their bound.
        const double bound = 2.0 * mark_bound(turn, largest);
        ++survey.kinds[static_cast<std::size_t>(joint.kind)];
        survey.inward += turn < 0.0 ? 1U : 0U;
        survey.straight += std::abs(turn) < kStraightTurnDeg ? 1U : 0U;
        survey.nearly_straight += std::abs(turn) < 1.0 ? 1U : 0U;
        survey.sharpest_deg = std::min(survey.sharpest_deg, joint.interior_deg);
        survey.bluntest_deg = std::max(survey.bluntest_deg, joint.interior_deg);
        survey.widest_ratio =
            std::max(survey.widest_ratio, b.frame.boards[joint.before].width_mm / b.frame.boards[joint.after].width_mm);
        all_mitres = all_mitres && is_mitred(joint.kind);
        switch (joint.kind) {
            case JointKind::mitre:
                look_at_mitre(b, joint, bound, survey);
                break;
            case JointKind::butt:
                look_at_butt(b, joint, bound, survey);
                break;
            case JointKind::half_lap:
                look_at_lap(b, joint, survey);
                break;
        }
    }
    if (!all_mitres) return;
    // 1e-9, unless the corners themselves do not carry so many digits: a ring of 0.05 mm strips 100 m from the origin.
    double band = 0.0;
    double perimeter = 0.0;
    for (const Board& board : b.frame.boards) {
        perimeter += board.inside_length_mm() + board.outside_length_mm();
        band += 0.5 * board.width_mm * (board.inside_length_mm() + board.outside_length_mm());
    }
    survey.tiling.see(tiling_error(b.frame), std::max(1e-9, 4.0 * kEps * largest * perimeter / band), b.seed);
}

// One pass over all frames; the tests below each read one part of what it saw.
const Survey& survey() {
    static const Survey seen = [] {
        Survey all;
        const std::size_t wanted = frames_wanted();
        for (; all.frames < wanted; ++all.tried) {
            const std::optional<Built> b = built(kFirstSeed + all.tried);
            if (!b) continue;
            ++all.frames;
            const double largest = largest_coordinate(b->asked.outline);
            all.sizes.insert(b->frame.boards.size());
            all.open += b->frame.closed ? 0U : 1U;
            ++all.lines[static_cast<std::size_t>(b->asked.project.outline.line)];
            look_at_marks(*b, largest, all);
            look_at_joints(*b, largest, all);
            const double bound = 2.0 * loosest_bound(b->asked.outline, largest);
            switch (all.tried % 5) {
                case 0:
                    look_at_scaled(*b, bound, all);
                    break;
                case 1:
                    look_at_rotated(*b, bound, all);
                    break;
                case 2:
                    look_at_relabelled(*b, all);
                    break;
                case 3:
                    look_at_mirrored(*b, bound, all);
                    break;
                default:
                    look_at_reversed(*b, bound, all);
                    break;
            }
        }
        return all;
    }();
    return seen;
}

}  // namespace

TEST_CASE("the random frames are the ones that were wanted", "[property][frame]") {
    const Survey& all = survey();
    const std::size_t n = all.frames;
    REQUIRE(n == frames_wanted());
    CHECK(all.tried < n + n / 20);
    CHECK(*all.sizes.begin() <= 3);
    CHECK(*all.sizes.rbegin() == 40);
    CHECK(all.sizes.size() == 39);
    CHECK(all.open > n / 5);
    CHECK(all.open < n / 2);
    CHECK(all.inward > n);
    CHECK(all.straight > n / 20);
    CHECK(all.nearly_straight - all.straight > n / 20);
    CHECK(all.undercuts > n / 20);
    for (const std::size_t count : all.kinds) CHECK(count > n);
    for (const std::size_t count : all.lines) CHECK(count > n / 4);
    CHECK(all.sharpest_deg >= 15.0 - 1e-9);
    CHECK(all.sharpest_deg < 16.0);
    CHECK(all.bluntest_deg <= 345.0 + 1e-9);
    CHECK(all.bluntest_deg > 344.0);
    CHECK(all.widest_ratio <= 5.0 + 1e-9);
    CHECK(all.widest_ratio > 4.9);
}

TEST_CASE("every mark is where two lines laid out in the plan meet, within 1e-9 of the largest coordinate", "[property][frame]") {
    check_worst("marks", survey().marks);
    check_worst("shoulders of half-laps", survey().shoulders);
}

TEST_CASE("run, slope, face, square line and edge lengths follow from the marks", "[property][frame]") {
    check_worst("run", survey().runs);
    check_worst("saw setting", survey().saws);
    check_worst("face", survey().faces);
    check_worst("second - first of the square line", survey().square_lines);
    check_worst("outside - inside = w (tan S first + tan S second)", survey().edges);
}

TEST_CASE("mitred boards tile the band between inner and outer outline", "[property][frame]") {
    check_worst("tiling", survey().tiling);
}

TEST_CASE("at a mitre both faces are the same line and both slopes add up to the turn", "[property][joinery]") {
    check_worst("faces", survey().meet_face_to_face);
    check_worst("slopes", survey().saws_add_up);
    check_worst("undercut exactly if the other board is thinner than w cos T", survey().undercut_rule);
}

TEST_CASE("at a butt the board that runs through reaches further than with a mitre, inward corners too", "[property][joinery]") {
    check_worst("reach", survey().butt_reach);
    check_worst("slope 90 - I, inward 270 - I", survey().butt_saw);
}

TEST_CASE("half-lapped boards share the lower board's height half and half, flush at the face side", "[property][frame]") {
    check_worst("halves", survey().lap_halves);
}

TEST_CASE("a frame scaled, turned, lettered from another corner, mirrored or walked backwards has the same marks",
          "[property][frame]") {
    check_worst("scaled", survey().scaled);
    check_worst("rotated", survey().rotated);
    check_worst("relabelled", survey().relabelled);
    check_worst("mirrored", survey().mirrored);
    check_worst("reversed", survey().reversed);
}

// Strips a thousandth of a millimetre thick at a corner that turns by half a thousandth of a degree: the faces are 100 mm long
// scarfs, and rounding alone made an "overlap" above the share of such a board that counts.
TEST_CASE("rounding at a nearly straight corner is no overlap", "[property][frame]") {
    for (const std::uint64_t seed : {795497762207753291ULL, 795497762208228462ULL}) {
        const FrameCase asked = random_frame_case(seed, 10);
        const Result<Frame> made = build_frame(asked.project, asked.outline);
        REQUIRE(made.ok());
        Survey survey_of_one;
        const Built b{asked, made.value(), seed};
        const double bound = 2.0 * loosest_bound(asked.outline, largest_coordinate(asked.outline));
        look_at_scaled(b, bound, survey_of_one);
        look_at_rotated(b, bound, survey_of_one);
        check_worst("scaled", survey_of_one.scaled);
        check_worst("rotated", survey_of_one.rotated);
    }
}
