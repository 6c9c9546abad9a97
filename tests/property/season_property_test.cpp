// Laws of the year's movement on random rings, against a second construction: narrowed boards laid at their corner.
#include <algorithm>
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

}  // namespace

TEST_CASE("openings are the wedge between narrowed boards; drying and wetting open opposite sides; first order is near") {
    Random random(21);
    std::size_t judged = 0;
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
        for (std::size_t j = 0; j < frame.joints.size(); ++j) {
            const Joint& joint = frame.joints[j];
            const JointMovement& moved = season.joints[j];
            const BoardMovement &p = season.boards[joint.before], &o = season.boards[joint.after];
            CHECK(p.width_dry_mm > 0.0);
            CHECK(p.width_wet_mm < 0.0);
            if (joint.kind != JointKind::mitre || std::abs(moved.dry_first_order_mm) < 1e-6 * p.width_dry_mm) continue;
            const Board &before = frame.boards[joint.before], &after = frame.boards[joint.after];
            const double p_face = std::hypot(before.ends[1].run_mm, before.width_mm - p.width_dry_mm);
            const double o_face = std::hypot(after.ends[0].run_mm, after.width_mm - o.width_dry_mm);
            const double wedge_mm = std::min(p_face, o_face) * std::sin(wedge_rad(frame, joint, p.width_dry_mm, o.width_dry_mm));
            CHECK_THAT(moved.dry_mm, within_mm(wedge_mm, 1e-8 * std::max(1.0, p_face)));
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
    INFO("first order is off by this times dW / w / cos^2 S: " << worst);
    CHECK(worst < 3.0);
}
