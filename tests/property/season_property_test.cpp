// Laws of the year's movement on random rings, against a second construction: narrowed boards laid at their corner.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "base/angle.hpp"
#include "base/vec2.hpp"
#include "frame/frame.hpp"
#include "season/season.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"
#include "support/random_frame.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

Project with_wood(Project project, Random& random) {
    Stock stock;
    stock.name = "rail";
    stock.species = "white oak";
    stock.grain = random.chance(0.5) ? Grain::flat_sawn : Grain::quarter_sawn;
    project.stock = {stock};
    for (BoardAsked& board : project.boards) board.stock = 0;
    project.year = Year{6.0, 13.0, random.between(6.5, 12.5), true};
    return project;
}

// Both boards of a mitre narrowed towards their inside lines and laid with these along the corner's sides: the angle between the two cut
// faces, from the marks alone. + the faces part towards the inside.
double wedge_rad(const Frame& frame, const Joint& joint, double p_narrower_mm, double o_narrower_mm) {
    const Board &p = frame.boards[joint.before], &o = frame.boards[joint.after];
    const double turn = radians(180.0 - joint.interior_deg);
    const Vec2 p_face{p.ends[1].outside_mm - p.ends[1].inside_mm, -(p.width_mm - p_narrower_mm)};
    const Vec2 own{o.ends[0].outside_mm - o.ends[0].inside_mm, -(o.width_mm - o_narrower_mm)};
    const Vec2 o_face = turned(own, std::cos(turn), std::sin(turn));
    return std::atan2(cross(o_face, p_face), dot(o_face, p_face));
}

// A board that stops at its neighbour's edge, narrowed and laid with its inside line along its side of the corner: the angle between its cut
// face and that edge, which stays where it is. + the face parts from the edge towards the inside.
double stop_rad(const Frame& frame, const Joint& joint, bool before_stops, double narrower_mm) {
    const double turn = radians(180.0 - joint.interior_deg), cosine = std::cos(turn), sine = std::sin(turn);
    const Board& stops = frame.boards[before_stops ? joint.before : joint.after];
    const BoardEnd& end = stops.ends[before_stops ? 1 : 0];
    const Vec2 own{end.outside_mm - end.inside_mm, -(stops.width_mm - narrower_mm)};
    const Vec2 face = before_stops ? own : turned(own, cosine, sine);
    // The edge from inside to outside of the board that stops: back along the next board at an ordinary corner, along it at an inward one.
    const double way = (turn > 0.0) == before_stops ? -1.0 : 1.0;
    const Vec2 edge = way * (before_stops ? Vec2{cosine, sine} : Vec2{1.0, 0.0});
    const double wedge = std::atan2(cross(edge, face), dot(edge, face));
    return before_stops ? wedge : -wedge;
}

}  // namespace

TEST_CASE("openings are the wedge between narrowed boards; drying and wetting open opposite sides; first order is near") {
    Random random(21);
    std::size_t judged = 0;
    std::array<std::size_t, 3> of_kind{};
    std::size_t dry_widest = 0, wet_widest = 0;
    double worst = 0.0;
    for (std::size_t i = 0; i < cases(300, 3000); ++i) {
        FrameCase made = random_frame_case(5000 + i, 2);
        const Project project = with_wood(made.project, random);
        const Result<Frame> built = build_frame(project, made.outline);
        if (!built.ok()) continue;
        const Frame& frame = built.value();
        const SeasonResult result = move_with_the_year(project, frame);
        REQUIRE(result.season);
        const Season& season = *result.season;
        double widest = 0.0, height = 0.0;
        for (const JointMovement& moved : season.joints) widest = std::max({widest, std::abs(moved.dry_mm), std::abs(moved.wet_mm)});
        for (const BoardMovement& moved : season.boards) height = std::max(height, moved.height_dry_mm - moved.height_wet_mm);
        CHECK_THAT(season.widest_mm, within_mm(widest, 1e-8 * widest));
        CHECK_THAT(season.height_mm, within_mm(height, 1e-12 * height));
        const auto there = std::find_if(season.joints.begin(), season.joints.end(), [&](const JointMovement& m) { return m.corner == season.corner; });
        if (widest > 0.0) {
            REQUIRE(there != season.joints.end());
            const double opening_mm = season.when_dry ? there->dry_mm : there->wet_mm;
            CHECK_THAT(std::abs(opening_mm), within_mm(widest, 1e-8 * widest));
            CHECK(season.inside == (opening_mm > 0.0));
            (season.when_dry ? dry_widest : wet_widest) += 1U;
        }
        for (std::size_t j = 0; j < frame.joints.size(); ++j) {
            const Joint& joint = frame.joints[j];
            const JointMovement& moved = season.joints[j];
            const BoardMovement &p = season.boards[joint.before], &o = season.boards[joint.after];
            CHECK(p.width_dry_mm > 0.0);
            CHECK(p.width_wet_mm < 0.0);
            if (std::abs(moved.dry_first_order_mm) < 1e-6 * p.width_dry_mm) continue;
            const Board &before = frame.boards[joint.before], &after = frame.boards[joint.after];
            const double p_face = std::hypot(before.ends[1].run_mm, before.width_mm - p.width_dry_mm);
            const double o_face = std::hypot(after.ends[0].run_mm, after.width_mm - o.width_dry_mm);
            double face = std::min(p_face, o_face), wedge = 0.0;
            switch (joint.kind) {
                case JointKind::mitre: wedge = wedge_rad(frame, joint, p.width_dry_mm, o.width_dry_mm); break;
                case JointKind::butt: {
                    const bool before_stops = joint.through == joint.after;
                    face = before_stops ? p_face : o_face;
                    wedge = stop_rad(frame, joint, before_stops, before_stops ? p.width_dry_mm : o.width_dry_mm);
                    break;
                }
                case JointKind::half_lap:  // the mean of both shoulders
                    wedge = 0.5 * (stop_rad(frame, joint, true, p.width_dry_mm) + stop_rad(frame, joint, false, o.width_dry_mm));
                    break;
            }
            CHECK_THAT(moved.dry_mm, within_mm(face * std::sin(wedge), 1e-8 * std::max(1.0, p_face)));
            ++of_kind[static_cast<std::size_t>(joint.kind)];
            if (joint.kind != JointKind::mitre) continue;
            const bool same_sense = before.ends[1].saw_deg * after.ends[0].saw_deg > 0.0;
            if (same_sense) {
                CHECK(moved.dry_mm * moved.wet_mm < 0.0);
                CHECK((moved.dry_mm > 0.0) == (joint.interior_deg < 180.0));
                const double steep = std::max({1.0, std::abs(before.ends[1].saw_deg), std::abs(after.ends[0].saw_deg)});
                const double cos2 = cos_deg(steep) * cos_deg(steep);
                const double part = std::max(p.width_dry_mm / before.width_mm, o.width_dry_mm / after.width_mm);
                const double off = std::abs(moved.dry_mm - moved.dry_first_order_mm) / std::abs(moved.dry_first_order_mm);
                worst = std::max(worst, off * cos2 / part);
            }
            ++judged;
        }
    }
    CHECK(judged > 500);
    for (const std::size_t joints : of_kind) CHECK(joints > 300);
    CHECK(dry_widest > 50);
    CHECK(wet_widest > 50);
    INFO("first order is off by this times dW / w / cos^2 S: " << worst);
    CHECK(worst < 3.0);
}
