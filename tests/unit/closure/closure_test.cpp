#include "closure/closure.hpp"

#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/ring.hpp"
#include "base/angle.hpp"
#include "closure/chain_walk.hpp"
#include "closure/made_board.hpp"
#include "closure/spread.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

Frame framed(const Project& project, const Outline& outline) {
    const Result<Frame> frame = build_frame(project, outline);
    for (const Finding& f : frame.findings()) UNSCOPED_INFO(f.code << ": " << f.message);
    REQUIRE(frame.ok());
    return frame.value();
}

Frame regular_frame(std::size_t n, double side_mm, double width_mm) {
    const Outline outline = regular_ring(n, side_mm);
    return framed(project_for(outline, {width_mm}), outline);
}

std::vector<JointContact> contacts_of(const Frame& frame, const std::vector<MadeBoard>& made) {
    std::vector<JointContact> contacts;
    for (const Joint& joint : frame.joints) contacts.push_back(joint_contact(joint, made[joint.before], made[joint.after]));
    return contacts;
}

// Every cut of a frame off by `deg`, inside marks kept.
std::vector<JointContact> with_all_cuts_off(const Frame& frame, double deg) {
    std::vector<MadeBoard> made;
    for (const Board& board : frame.boards) {
        MadeBoard m = exact_board(board);
        for (std::size_t e = 0; e < 2; ++e) {
            m.ends[e].run_mm = board.width_mm * tan_deg(board.ends[e].saw_deg + deg);
            m.ends[e].outside_mm = m.ends[e].inside_mm + (e == 0 ? -1.0 : 1.0) * m.ends[e].run_mm;
        }
        made.push_back(m);
    }
    return contacts_of(frame, made);
}

JointMisfit stiff_at_a(const std::vector<JointContact>& contacts) {
    const Pose last = walk_tight(Pose{}, {contacts.begin() + 1, contacts.end()}).back();
    return misfit_at(Pose::at({}, 2.0 * kPi), last, contacts.front());
}

double farther_point_mm(const JointMisfit& m) {
    return std::max(std::hypot(m.gap_in_mm, m.lip_in_mm), std::hypot(m.gap_out_mm, m.lip_out_mm));
}

// The plain way: for each rounding the whole ring, walked round.
WorstRounding worst_by_full_walks(const Frame& frame, const Bench& bench, bool marked) {
    WorstRounding worst;
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const Board& board = frame.boards[k];
        for (const Deviation& deviation : marked ? marked_deviations(board, bench) : set_deviations(board, bench)) {
            std::vector<MadeBoard> made;
            for (const Board& b : frame.boards) made.push_back(exact_board(b));
            made[k].ends[deviation.end] = deviation.made;
            const double left_mm = farther_point_mm(stiff_at_a(contacts_of(frame, made)));
            if (left_mm > worst.stiff_gap_mm) worst = {k, deviation.end, deviation.what, deviation.moved, left_mm};
        }
    }
    return worst;
}

SpreadClosure spread_of(const std::vector<JointContact>& contacts, const Frame& frame) {
    double perimeter = 0.0;
    for (const Board& board : frame.boards) perimeter += board.side_mm;
    std::vector<JointState> start;
    for (const JointContact& contact : contacts) {
        start.push_back({0.0, 0.0, 2.0 * kPi / static_cast<double>(contacts.size()) - contact.turn_rad()});
    }
    return draw_in(contacts, start, perimeter);
}

}  // namespace

TEST_CASE("a hexagon of 38 mm boards with all cuts a tenth of a degree small opens 7.7 mm held stiff and 0.15 mm drawn in") {
    const double side = 640.0 * tan_deg(30.0);
    const Frame frame = regular_frame(6, side, 38.0);
    const std::vector<JointContact> contacts = with_all_cuts_off(frame, -0.1);
    const JointMisfit last = stiff_at_a(contacts);
    const SpreadClosure spread = spread_of(contacts, frame);
    // design: 2 N d R_in and 2 d w / cos S
    CHECK_THAT(last.gap_in_mm, within_mm(7.74, 0.05));
    CHECK_THAT(last.angle_left_deg, within_deg(1.2, 1e-9));
    CHECK(spread.settled);
    CHECK_THAT(spread.widest_mm, within_mm(2.0 * radians(0.1) * 38.0 / cos_deg(30.0), 1e-3));
    for (const JointMisfit& joint : spread.joints) {
        CHECK_THAT(joint.gap_out_mm, within_mm(spread.widest_mm, 1e-9));
        CHECK_THAT(joint.gap_in_mm, within_mm(0.0, 1e-12));
        CHECK_THAT(joint.lip_in_mm, within_mm(0.0, 1e-9));
    }
}

TEST_CASE("with all cuts off the last joint shows a wedge of 2N d w / cos S and every joint of a drawn-in ring 2 d w / cos S") {
    struct Ring {
        std::size_t n;
        double width_mm;
    };
    for (const Ring ring : {Ring{4, 70.0}, Ring{5, 90.0}, Ring{6, 90.0}, Ring{8, 64.0}, Ring{12, 48.0}}) {
        for (const double d : {-0.5, -0.25, -0.1, -0.05, 0.05, 0.1, 0.25, 0.5}) {
            const double side = 400.0;
            const double n = static_cast<double>(ring.n);
            const Frame frame = regular_frame(ring.n, side, ring.width_mm);
            const std::vector<JointContact> contacts = with_all_cuts_off(frame, d);
            const double each = 2.0 * radians(-d) * ring.width_mm / cos_deg(180.0 / n);
            const double to_inner_corner = 0.5 * side / sin_deg(180.0 / n);
            const JointMisfit last = stiff_at_a(contacts);
            const SpreadClosure spread = spread_of(contacts, frame);
            INFO(ring.n << " boards, cuts off by " << d);
            // First order in d: the next term is about N d of the figure.
            const double all = 2.0 * n * radians(-d);
            CHECK_THAT(last.gap_out_mm - last.gap_in_mm, within_mm(n * each, std::abs(all) * n * std::abs(each)));
            CHECK_THAT(last.gap_in_mm, within_mm(all * to_inner_corner, all * all * to_inner_corner));
            CHECK_THAT(last.angle_left_deg, within_deg(-2.0 * n * d, 1e-9));
            CHECK_THAT(spread.widest_mm, within_mm(std::abs(each), 3.0 * radians(std::abs(d)) * std::abs(each)));
        }
    }
}

TEST_CASE("boards all too short by one length close drawn in, but hold a ring of another size") {
    const Frame frame = regular_frame(6, 369.5, 38.0);
    std::vector<JointContact> contacts = with_all_cuts_off(frame, 0.0);
    for (JointContact& contact : contacts) {
        contact.other.inner_mm.x -= 2.0;
        contact.other.outer_mm.x -= 2.0;
    }
    CHECK_THAT(spread_of(contacts, frame).widest_mm, within_mm(0.0, 1e-9));
    CHECK_THAT(stiff_at_a(contacts).gap_in_mm, within_mm(0.0, 1e-9));
}

TEST_CASE("one board too long by 1 mm leaves 1 mm at the last joint of a stiff ring") {
    const Frame frame = regular_frame(6, 369.5, 38.0);
    std::vector<JointContact> contacts = with_all_cuts_off(frame, 0.0);
    contacts[3].other.inner_mm.x += 1.0;  // board 3, from C to D, lies across from joint A
    contacts[3].other.outer_mm.x += 1.0;
    const JointMisfit last = stiff_at_a(contacts);
    CHECK_THAT(std::hypot(last.gap_in_mm, last.lip_in_mm), within_mm(1.0, 1e-9));
    CHECK_THAT(last.angle_left_deg, within_deg(0.0, 1e-9));
    // Board 3 points along 120 degrees; the face at A from inside to outside along -120: m is 150.
    CHECK_THAT(last.lip_in_mm, within_mm(cos_deg(240.0), 1e-9));
    CHECK_THAT(last.gap_in_mm, within_mm(cos_deg(30.0), 1e-9));
}

TEST_CASE("perfect boards leave nothing, marks and settings leave what rounding makes of them") {
    const Outline outline = regular_ring(6, 640.0 * tan_deg(30.0));
    const Project project = project_for(outline, {38.0, 38.0, 38.0, 28.0, 38.0, 38.0});
    const Closure closure = close_frame(project, framed(project, outline));
    CHECK(closure.exact.stiff->one_in == 0.0);
    CHECK(std::abs(closure.exact.stiff->last.gap_in_mm) < 1e-9);
    CHECK(closure.exact.spread->widest_mm < 1e-9);
    CHECK(closure.exact.spread->settled);
    for (const ClosureReport* report : {&closure.marked, &closure.set}) {
        REQUIRE(report->stiff);
        REQUIRE(report->spread);
        CHECK(report->spread->settled);
        CHECK(report->spread->joints.size() == 6);
        // Half a step on 38 mm is 0.4 degrees a cut at worst: far less than 2 d w / cos S of it, drawn in.
        CHECK(report->spread->widest_mm < 0.6);
        CHECK(report->spread->widest_mm > 1e-3);
        const JointMisfit& last = report->stiff->last;
        const double perimeter = 6.0 * 640.0 * tan_deg(30.0);
        CHECK_THAT(report->stiff->one_in, WithinAbs(perimeter / std::hypot(last.gap_in_mm, last.lip_in_mm), 1e-6));
        CHECK_FALSE(report->span_off_mm);
    }
    // Slopes set from a base of 300 are better than slopes from two marks 38 apart.
    CHECK(closure.set.spread->widest_mm < closure.marked.spread->widest_mm);
}

TEST_CASE("a ring that stands on the rule's and the saw's steps needs no rounding") {
    const Outline outline = outline_through({{0, 0}, {1200, 0}, {1200, 600}, {0, 600}});
    const Project project = project_for(outline, {38.0});
    const Closure closure = close_frame(project, framed(project, outline));
    CHECK(closure.set.spread->widest_mm < 1e-9);
    CHECK(closure.marked.stiff->one_in == 0.0);
    CHECK_FALSE(closure.worst_marked);
    CHECK_FALSE(closure.worst_set);
}

TEST_CASE("the worst rounding is the one that a full walk for each rounding finds") {
    const Outline outline = outline_through({{0, 0}, {700, -100}, {1100, 333}, {600, 420}, {640, 900}, {-77, 650}});
    for (const JointKind kind : {JointKind::mitre, JointKind::butt, JointKind::half_lap}) {
        for (const SlopeBy slope_by : {SlopeBy::bevel, SlopeBy::saw, SlopeBy::marks}) {
            Project project = project_for(outline, {38.0, 55.0, 28.0});
            project.tools.slope_by = slope_by;
            for (JointAsked& joint : project.joints) joint.kind = kind;
            const Frame frame = framed(project, outline);
            const Closure closure = close_frame(project, frame);
            const Bench bench = Bench::of(project.tools, frame);
            for (const bool marked : {true, false}) {
                const WorstRounding expected = worst_by_full_walks(frame, bench, marked);
                const std::optional<WorstRounding>& found = marked ? closure.worst_marked : closure.worst_set;
                REQUIRE(found);
                CHECK(found->board == expected.board);
                CHECK(found->end == expected.end);
                CHECK(found->what == expected.what);
                CHECK_THAT(found->stiff_gap_mm, within_mm(expected.stiff_gap_mm, 1e-9));
            }
        }
    }
}

TEST_CASE("a door casing's span is off by its head's rounding, its feet by the legs'") {
    // A right leg 2000.2, head 900.3, left leg 1980.4 on a floor out of level; mitres of 45 between boards of 60.
    const Outline outline = outline_through({{900.3, 0}, {900.3, 2000.2}, {0, 2000.2}, {0, 19.8}}, false);
    const Project project = project_for(outline, {60.0});
    const Frame frame = framed(project, outline);
    const Closure closure = close_frame(project, frame);
    CHECK_FALSE(closure.exact.stiff);
    CHECK_FALSE(closure.exact.spread);
    CHECK_THAT(*closure.exact.span_off_mm, within_mm(0.0, 1e-9));
    CHECK_THAT(*closure.exact.span_across_mm, within_mm(0.0, 1e-9));
    CHECK_THAT(*closure.exact.span_angle_deg, within_deg(0.0, 1e-9));
    // Marked: head 960.3 -> 960.5 and 1020.3 -> 1020.5, 0.2 too long; right leg 0.2 short, left leg 0.1 long. The line
    // between the feet falls by 19.8 in 900.3 towards the right foot: the last foot lies 0.2 further left and 0.3 lower.
    const Vec2 towards_last = (1.0 / std::hypot(900.3, 19.8)) * Vec2{-900.3, 19.8};
    const Vec2 miss{-0.2, -0.3};
    CHECK_THAT(*closure.marked.span_off_mm, within_mm(dot(miss, towards_last), 1e-9));
    CHECK_THAT(*closure.marked.span_across_mm, within_mm(dot(miss, left_of(towards_last)), 1e-9));
    CHECK(*closure.marked.span_across_mm > 0.0);
    CHECK_THAT(*closure.marked.span_angle_deg, within_deg(0.0, 1e-9));
    // One by one: the head's right-hand marks move 0.2 as a pair, but each alone turns the cut by 0.2 in 60 over two metres
    // of leg.
    REQUIRE(closure.worst_marked);
    CHECK(closure.worst_marked->stiff_gap_mm > 1980.0 * 0.2 / 60.0 * 0.4);
}

TEST_CASE("a single board between two walls is off by its own rounding") {
    for (const bool clockwise : {false, true}) {
        Outline outline = outline_through({{10, 5}, {1010.2, 5}}, false);
        outline.letters_clockwise = clockwise;
        const Project project = project_for(outline, {60.0});
        const Closure closure = close_frame(project, framed(project, outline));
        CHECK_THAT(*closure.marked.span_off_mm, within_mm(-0.2, 1e-9));
        CHECK_THAT(*closure.set.span_off_mm, within_mm(-0.2, 1e-9));
        CHECK_THAT(*closure.marked.span_across_mm, within_mm(0.0, 1e-9));
        REQUIRE(closure.worst_set);
        CHECK(closure.worst_set->what == "length");
        CHECK_THAT(closure.worst_set->moved, within_mm(-0.2, 1e-9));
        CHECK(closure.worst_set->end == (clockwise ? 0U : 1U));
        CHECK_THAT(closure.worst_set->stiff_gap_mm, within_mm(0.2, 1e-9));
    }
}

TEST_CASE("a wrong slope at the first foot leans the whole arch") {
    const Outline outline = outline_through({{900, 0}, {900, 2000}, {0, 2000}, {0, 0}}, false);
    Project project = project_for(outline, {60.0});
    project.first_end.saw_deg = 0.3;
    project.tools.slope_by = SlopeBy::saw;  // 0.3 becomes 0.5
    project.tools.rule_step_mm = 0.001;
    const Closure closure = close_frame(project, framed(project, outline));
    // The foot's face stands on the floor, so the chain leans 0.2 degrees about the right foot's inside mark: the outside is
    // 0.2 degrees too long, it leans inwards, counter-clockwise, and the far foot goes down by 900 sin 0.2. The outside mark
    // stays, so the leg stands on an inside mark 60 (tan 0.5 - tan 0.3) higher up: the frame sinks by that.
    CHECK_THAT(*closure.set.span_angle_deg, within_deg(0.2, 1e-9));
    CHECK_THAT(*closure.set.span_across_mm, within_mm(900.0 * sin_deg(0.2) + 60.0 * (tan_deg(0.5) - tan_deg(0.3)), 0.02));
    CHECK(closure.worst_set->what == "slope");
    CHECK(closure.worst_set->board == 0);
    CHECK_THAT(closure.worst_set->moved, within_deg(0.2, 1e-9));
}

TEST_CASE("a ring of a thousand boards that a coarse rule makes straight still gets its answer") {
    const Outline outline = regular_ring(1000, 300.0);
    const Project project = project_for(outline, {38.0});
    const Closure closure = close_frame(project, framed(project, outline));
    CHECK(std::abs(closure.exact.stiff->last.gap_in_mm) < 1e-12 * 300000.0);
    // Run 0.12 mm rounds to 0: square ends, a straight row that misses by its own length and a whole turn ...
    CHECK_THAT(closure.marked.stiff->last.angle_left_deg, within_deg(360.0, 1e-9));
    CHECK_THAT(closure.marked.stiff->one_in, WithinAbs(1.0, 1e-9));
    // ... but drawn in every joint opens by no more than 38 mm x 0.36 degrees.
    CHECK(closure.marked.spread->settled);
    CHECK_THAT(closure.marked.spread->widest_mm, within_mm(38.0 * sin_deg(0.36), 1e-6));
}

TEST_CASE("a triangle of square-cut boards cannot be drawn in, and that is said") {
    const Frame frame = regular_frame(3, 500.0, 38.0);
    const SpreadClosure spread = spread_of(with_all_cuts_off(frame, -60.0), frame);
    CHECK_FALSE(spread.settled);
    CHECK(std::isfinite(spread.widest_mm));
    CHECK(spread.joints.size() == 3);
    // With a third of the angle there it can: every joint then turns 40 degrees on a face of 38 / cos 40.
    const SpreadClosure wide = spread_of(with_all_cuts_off(frame, -20.0), frame);
    CHECK(wide.settled);
    CHECK_THAT(wide.widest_mm, within_mm(38.0 / cos_deg(40.0) * sin_deg(40.0), 1e-9));
}
