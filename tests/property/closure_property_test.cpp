// Laws of closure on random frames. The default run is small; BOARDRING_FULL=1 in the environment takes ten times as many.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "closure/chain_walk.hpp"
#include "closure/closure.hpp"
#include "closure/contact.hpp"
#include "closure/made_board.hpp"
#include "project/joint_kinds.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/laid_ring.hpp"
#include "support/random.hpp"
#include "support/random_frame.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;
using namespace boardring_test::laid_ring;

namespace {

int cases(int usual) { return static_cast<int>(boardring_test::cases(static_cast<std::size_t>(usual), static_cast<std::size_t>(10 * usual))); }

double perimeter_of(const Frame& frame) {
    double sum = 0.0;
    for (const Board& board : frame.boards) sum += board.side_mm;
    return sum;
}

double narrowest(const Frame& frame) {
    double least = HUGE_VAL;
    for (const Board& board : frame.boards) least = std::min(least, board.width_mm);
    return least;
}

struct Built {
    Project project;
    Frame frame;
};

// A random frame; boards that overlap or vanish are made slimmer until they fit. The rule suits the boards: a thirtieth of
// the narrowest.
std::optional<Built> random_built(std::uint64_t seed) {
    for (int slimmer = 0; slimmer < 6; ++slimmer) {
        FrameCase made = random_frame_case(seed, slimmer);
        const Result<Frame> frame = build_frame(made.project, made.outline);
        if (!frame.ok()) continue;
        Random random(seed + 77);
        made.project.tools.rule_step_mm = std::min(0.5, narrowest(frame.value()) / 30.0);
        made.project.tools.slope_by = std::array{SlopeBy::bevel, SlopeBy::marks, SlopeBy::saw}[random.index(3)];
        return Built{std::move(made.project), frame.value()};
    }
    return std::nullopt;
}

std::vector<Misfit> misfits_of(const SpreadClosure& spread) {
    std::vector<Misfit> misfits;
    for (const JointMisfit& j : spread.joints) misfits.push_back({j.gap_in_mm, j.gap_out_mm, j.lip_in_mm});
    return misfits;
}

std::vector<JointContact> marked_contacts(const Built& built) {
    const Bench bench = Bench::of(built.project.tools, built.frame);
    std::vector<MadeBoard> made;
    for (const Board& board : built.frame.boards) made.push_back(marked_board(board, bench));
    std::vector<JointContact> contacts;
    for (const Joint& joint : built.frame.joints) contacts.push_back(joint_contact(joint, made[joint.before], made[joint.after]));
    return contacts;
}

// A ring of a few boards, all joint kinds, inward corners among them, marked with a rule of 0.5.
std::optional<Built> small_ring(Random& random, std::size_t n) {
    for (int attempt = 0; attempt < 50; ++attempt) {
        std::vector<Vec2> points;
        double at = 0.0;
        for (std::size_t k = 0; k < n; ++k) {
            at += 360.0 / static_cast<double>(n) * random.between(0.7, 1.3);
            points.push_back(random.between(300.0, 700.0) * unit_deg(at));
        }
        const Outline outline = outline_through(points);
        double sum = 0.0;
        for (const double turn : outline.turn_deg) sum += turn;
        if (std::abs(sum - 360.0) > 1.0) continue;
        std::vector<double> widths;
        for (std::size_t k = 0; k < n; ++k) widths.push_back(random.between(25.0, 70.0));
        Project project = project_for(outline, widths);
        for (JointAsked& joint : project.joints) joint.kind = kJointKinds[random.index(kJointKinds.size())];
        const Result<Frame> frame = build_frame(project, outline);
        if (frame.ok()) return Built{project, frame.value()};
    }
    return std::nullopt;
}

}  // namespace

TEST_CASE("unrounded boards close within 1e-9 of the perimeter, rings and open chains") {
    int rings = 0;
    int chains = 0;
    double worst = 0.0;
    for (int seed = 1; seed <= cases(4000); ++seed) {
        const std::optional<Built> built = random_built(static_cast<std::uint64_t>(seed));
        if (!built) continue;
        const ClosureReport exact = close_frame(built->project, built->frame).exact;
        const double perimeter = perimeter_of(built->frame);
        double left = 0.0;
        if (built->frame.closed) {
            ++rings;
            const JointMisfit& last = exact.stiff->last;
            left = std::max(std::hypot(last.gap_in_mm, last.lip_in_mm), std::hypot(last.gap_out_mm, last.lip_out_mm));
            left = std::max({left, exact.spread->widest_mm, exact.spread->lip_mm});
            if (!exact.spread->settled || exact.stiff->one_in != 0.0) left = HUGE_VAL;
        } else {
            ++chains;
            left = std::hypot(*exact.span_off_mm, *exact.span_across_mm);
            left = std::max(left, perimeter * radians(std::abs(*exact.span_angle_deg)));
        }
        worst = std::max(worst, left / perimeter);
        if (left > 1e-9 * perimeter) {
            INFO("seed " << seed);
            CHECK(left <= 1e-9 * perimeter);
        }
    }
    CHECK(rings > cases(4000) / 2);
    CHECK(chains > cases(4000) / 5);
    CHECK(worst < 1e-12);
}

TEST_CASE("rounded rings drawn in close exactly, without overlap, and at a minimum") {
    int checked = 0;
    int judged = 0;
    double worst_miss = 0.0;
    double worst_overlap = 0.0;
    double worst_condition = 0.0;
    for (int seed = 1; checked < cases(400); ++seed) {
        const std::optional<Built> built = random_built(static_cast<std::uint64_t>(seed));
        if (!built || !built->frame.closed) continue;
        ++checked;
        INFO("seed " << seed);
        const std::vector<JointContact> contacts = marked_contacts(*built);
        const SpreadClosure spread = *close_frame(built->project, built->frame).marked.spread;
        REQUIRE(spread.settled);
        const std::vector<Misfit> misfits = misfits_of(spread);
        const double perimeter = perimeter_of(built->frame);
        const Vec2 about = middle_of(contacts, misfits);
        const auto miss = once_round(contacts, misfits, about);
        worst_miss = std::max(worst_miss, std::hypot(miss[0], miss[1], perimeter * miss[2]) / perimeter);
        for (const Misfit& m : misfits) worst_overlap = std::max({worst_overlap, -m.gap_in / perimeter, -m.gap_out / perimeter});
        const std::optional<double> off = off_condition(contacts, misfits, about, perimeter);
        if (!off) continue;
        ++judged;
        worst_condition = std::max(worst_condition, *off);
    }
    INFO(checked << " rings, " << judged << " judged");
    INFO("closed to " << worst_miss << ", overlap " << worst_overlap << ", condition " << worst_condition);
    CHECK(judged > checked * 9 / 10);
    CHECK(worst_miss < 1e-10);
    CHECK(worst_overlap < 1e-15);
    CHECK(worst_condition < 1e-5);
}

TEST_CASE("the drawn-in ring is the one that trying every set of shut gaps finds in the places of the boards") {
    Random random(5);
    for (const std::size_t n : {std::size_t{3}, std::size_t{4}, std::size_t{5}, std::size_t{6}, std::size_t{7}}) {
        const int rings = n <= 5 ? cases(20) : n == 6 ? cases(3) : 1;
        for (int i = 0; i < rings; ++i) {
            const std::optional<Built> built = small_ring(random, n);
            REQUIRE(built);
            const std::vector<JointContact> contacts = marked_contacts(*built);
            const SpreadClosure spread = *close_frame(built->project, built->frame).marked.spread;
            INFO(n << " boards, ring " << i);
            REQUIRE(spread.settled);
            const BoardByBoard plain(contacts);
            std::vector<Place> places = planned(built->frame);
            const double radius = perimeter_of(built->frame) / (2.0 * kPi);
            double step = HUGE_VAL;
            for (int round = 0; round < 12 && step > 1e-9; ++round) {
                const Row z = plain.best_step(places, radius);
                REQUIRE(!z.empty());
                step = 0.0;
                for (std::size_t u = 0; u < z.size(); ++u) {
                    places = BoardByBoard::moved(places, u, z[u], radius);
                    step = std::max(step, std::abs(z[u]));
                }
            }
            REQUIRE(step < 1e-6);
            const Row y = plain.misfits(places);
            double widest = 0.0;
            for (std::size_t c = 0; c < n; ++c) {
                CHECK_THAT(spread.joints[c].gap_in_mm, within_mm(y[3 * c], 1e-6));
                CHECK_THAT(spread.joints[c].gap_out_mm, within_mm(y[3 * c + 1], 1e-6));
                CHECK_THAT(spread.joints[c].lip_in_mm, within_mm(y[3 * c + 2], 1e-6));
                widest = std::max({widest, y[3 * c], y[3 * c + 1]});
            }
            CHECK_THAT(spread.widest_mm, within_mm(widest, 1e-6));
        }
    }
}

TEST_CASE("lettering the ring from another corner changes neither what is drawn in nor what is marked") {
    Random random(21);
    for (int i = 0; i < cases(40); ++i) {
        const std::size_t n = 3 + random.index(8);
        const std::optional<Built> built = small_ring(random, n);
        REQUIRE(built);
        const Closure first = close_frame(built->project, built->frame);
        // The same frame, boards and joints counted from board 1.
        Frame turned;
        turned.boards = built->frame.boards;
        turned.joints = built->frame.joints;
        std::rotate(turned.boards.begin(), turned.boards.begin() + 1, turned.boards.end());
        std::rotate(turned.joints.begin(), turned.joints.begin() + 1, turned.joints.end());
        const auto shifted = [n](std::size_t k) { return (k + n - 1) % n; };
        for (Joint& joint : turned.joints) {
            joint.corner = shifted(joint.corner);
            joint.before = shifted(joint.before);
            joint.after = shifted(joint.after);
            if (joint.through) joint.through = shifted(*joint.through);
        }
        const Closure second = close_frame(built->project, turned);
        for (const auto& [a, b] : {std::pair{first.marked, second.marked}, std::pair{first.set, second.set}}) {
            CHECK_THAT(b.spread->widest_mm, within_mm(a.spread->widest_mm, 1e-8));
            CHECK(b.spread->corner == shifted(a.spread->corner));
            for (std::size_t c = 0; c < n; ++c) {
                CHECK_THAT(b.spread->joints[shifted(c)].gap_in_mm, within_mm(a.spread->joints[c].gap_in_mm, 1e-8));
                CHECK_THAT(b.spread->joints[shifted(c)].lip_in_mm, within_mm(a.spread->joints[c].lip_in_mm, 1e-8));
            }
            // The angle left is the same wherever the last joint is.
            CHECK_THAT(b.stiff->last.angle_left_deg, within_deg(a.stiff->last.angle_left_deg, 1e-9));
        }
    }
}

TEST_CASE("a frame k times as large, marked with a rule k times as coarse, leaves k times as much") {
    Random random(22);
    for (int i = 0; i < cases(40); ++i) {
        const std::optional<Built> built = small_ring(random, 3 + random.index(8));
        REQUIRE(built);
        Frame large = built->frame;
        Project project = built->project;
        const double k = 8.0;  // a power of two: the same digits
        project.tools.rule_step_mm *= k;
        project.tools.bevel_base_mm *= k;
        for (Board& board : large.boards) {
            for (double* x : {&board.width_mm, &board.offset_mm, &board.side_mm, &board.corner_mm.x, &board.corner_mm.y}) *x *= k;
            for (BoardEnd& end : board.ends) {
                for (double* x : {&end.inside_mm, &end.outside_mm, &end.run_mm, &end.face_mm}) *x *= k;
                if (end.lap) {
                    end.lap->shoulder_inside_mm *= k;
                    end.lap->shoulder_outside_mm *= k;
                }
            }
        }
        const Closure one = close_frame(built->project, built->frame);
        const Closure more = close_frame(project, large);
        for (const auto& [a, b] : {std::pair{one.marked, more.marked}, std::pair{one.set, more.set}}) {
            CHECK_THAT(b.spread->widest_mm, within_mm(k * a.spread->widest_mm, 1e-8));
            CHECK_THAT(b.stiff->last.gap_in_mm, within_mm(k * a.stiff->last.gap_in_mm, 1e-8));
            CHECK_THAT(b.stiff->one_in, WithinAbs(a.stiff->one_in, 1e-6 * a.stiff->one_in));
        }
        REQUIRE(one.worst_marked);
        REQUIRE(more.worst_marked);
        CHECK(one.worst_marked->board == more.worst_marked->board);
        CHECK_THAT(more.worst_marked->stiff_gap_mm, within_mm(k * one.worst_marked->stiff_gap_mm, 1e-8));
    }
}

TEST_CASE("the mirror image of a ring, lettered the other way round, leaves the same") {
    Random random(23);
    for (int i = 0; i < cases(40); ++i) {
        const std::size_t n = 3 + random.index(8);
        const std::optional<Built> built = small_ring(random, n);
        REQUIRE(built);
        // Board k becomes board n - 1 - k, its ends change places; corner c becomes corner n - c. The datum changes ends, too.
        Frame mirror;
        mirror.letters_clockwise = true;
        for (std::size_t k = n; k-- > 0;) {
            const Board& was = built->frame.boards[k];
            Board board = was;
            const Vec2 end = was.corner_mm + was.side_mm * was.along;
            board.corner_mm = {-end.x, end.y};
            board.along = {was.along.x, -was.along.y};
            for (std::size_t e = 0; e < 2; ++e) {
                BoardEnd& to = board.ends[e];
                to = was.ends[1 - e];
                to.inside_mm = was.side_mm - to.inside_mm;
                to.outside_mm = was.side_mm - to.outside_mm;
                if (to.lap) {
                    to.lap->shoulder_inside_mm = was.side_mm - to.lap->shoulder_inside_mm;
                    to.lap->shoulder_outside_mm = was.side_mm - to.lap->shoulder_outside_mm;
                }
            }
            mirror.boards.push_back(board);
        }
        for (std::size_t c = 0; c < n; ++c) {
            Joint joint = built->frame.joints[(n - c) % n];
            joint.corner = c;
            joint.before = n - 1 - joint.before;
            joint.after = n - 1 - joint.after;
            std::swap(joint.before, joint.after);
            if (joint.through) joint.through = n - 1 - *joint.through;
            mirror.joints.push_back(joint);
        }
        const Closure seen_here = close_frame(built->project, built->frame);
        const Closure seen_there = close_frame(built->project, mirror);
        for (const auto& [a, b] : {std::pair{seen_here.marked, seen_there.marked}, std::pair{seen_here.set, seen_there.set}}) {
            // Gaps and lips are read along the later board's face, which is the other one of the two now: the same but for
            // lip x angle left.
            CHECK_THAT(b.spread->widest_mm, within_mm(a.spread->widest_mm, 0.02 * a.spread->widest_mm));
            CHECK_THAT(b.stiff->last.angle_left_deg, within_deg(a.stiff->last.angle_left_deg, 1e-9));
        }
        REQUIRE(seen_there.exact.spread);
        CHECK(seen_there.exact.spread->widest_mm < 1e-9);
        CHECK(std::abs(seen_there.exact.stiff->last.gap_in_mm) < 1e-9);
    }
}
