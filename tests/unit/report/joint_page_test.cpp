#include "report/joint_page.hpp"

#include <algorithm>
#include <string>

#include "plan/one_joint.hpp"
#include "report/wording.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

JointAskedAlone asked(double interior_deg, double first_mm, double second_mm, JointKind kind = JointKind::mitre,
                      Unit unit = Unit::mm) {
    JointAskedAlone joint;
    joint.interior_deg = interior_deg;
    joint.width_mm = {first_mm, second_mm};
    joint.kind = kind;
    joint.unit = unit;
    if (unit == Unit::inch) {
        joint.tools.rule_step_mm = 25.4 / 16.0;
        joint.tools.bevel_base_mm = 304.8;
    }
    const Result<JointCuts> cuts = cut_one_joint(kind, interior_deg, joint.width_mm, true);
    REQUIRE(cuts.ok());
    joint.cuts = cuts.value();
    return joint;
}

std::string flowing(const std::string& page) {
    return clean_text(page, page.size());
}

}  // namespace

TEST_CASE("the hand joint at 108 of 90 beside 45 is told step by step") {
    // 90 tan 18 = 29.243, 45 / cos 18 = 47.316; 45 tan 18 = 14.621, 90 / cos 18 = 94.632; S 11.355 and 60.645.
    const std::string text = flowing(joint_page(asked(108.0, 90.0, 45.0)));
    CHECK_THAT(text, ContainsSubstring("The 90 board: along the outside edge 29.2 into the board, to where the inside line of "
                                       "the 45 board crosses; then 47.3 back towards the corner."));
    CHECK_THAT(text, ContainsSubstring("The 45 board: along the outside edge 14.6 into the board, to where the inside line of "
                                       "the 90 board crosses; then 94.6 back towards the corner."));
    CHECK_THAT(text, ContainsSubstring("set the saw to 11.4 60.6 0 is a square cut"));
    CHECK_THAT(text, ContainsSubstring(
                         "60.6 + 11.4 = 72, what the boards turn; 180 - 72 = 108. Two test cuts put together must make 108."));
    CHECK_THAT(text, ContainsSubstring("saw at 29.4"));
}

TEST_CASE("at an inward corner the steps turn round and the inside is longer") {
    const std::string text = flowing(joint_page(asked(250.0, 90.0, 45.0)));
    CHECK_THAT(text, ContainsSubstring("(IN-CORNER)"));
    CHECK_THAT(text, ContainsSubstring("longer side inside inside IN-CORNER: look twice"));
    CHECK_THAT(text, ContainsSubstring("towards the corner, to where"));
    CHECK_THAT(text, ContainsSubstring("further into the board"));
    CHECK_THAT(text, ContainsSubstring("must make 110"));
}

TEST_CASE("an undercut names the side that is longer and subtracts") {
    const std::string text = flowing(joint_page(asked(120.0, 38.0, 18.0)));
    CHECK_THAT(text, ContainsSubstring("longer side inside outside"));
    CHECK_THAT(text, ContainsSubstring("61.7 - 1.7 = 60"));
}

TEST_CASE("butts and laps are measured from the corner") {
    const std::string butt = flowing(joint_page(asked(90.0, 70.0, 40.0, JointKind::butt)));
    CHECK_THAT(butt, ContainsSubstring("The 70 board, which runs on: ends with both edges 40 past the corner."));
    CHECK_THAT(butt, ContainsSubstring("The 40 board, which stops: ends with both edges at the corner."));
    const std::string lap = flowing(joint_page(asked(90.0, 70.0, 70.0, JointKind::half_lap)));
    CHECK_THAT(lap, ContainsSubstring(
                        "The first board: ends with both edges 70 past the corner; shoulder with both edges at the corner."));
}

TEST_CASE("inches are read as inches and the bevel from twelve of them") {
    const std::string text = flowing(joint_page(asked(120.0, 88.9, 88.9, JointKind::mitre, Unit::inch)));
    CHECK_THAT(text, ContainsSubstring("boards 3-1/2 and 3-1/2 wide"));
    CHECK_THAT(text, ContainsSubstring("6-15/16 in 12"));  // steel-square figure for the hexagon, common practice
}

TEST_CASE("every joint fits its page") {
    boardring_test::Random random(5);
    for (int i = 0; i < 3000; ++i) {
        const double interior = random.chance(0.7) ? random.between(15.0, 175.0) : random.between(185.0, 345.0);
        const JointKind kind = kJointKinds[random.index(kJointKinds.size())];
        JointAskedAlone joint = asked(interior, random.log_between(5.0, 2000.0), random.log_between(5.0, 2000.0), kind,
                                      static_cast<Unit>(random.index(5)));
        joint.tools.scale_at_square_deg = random.chance(0.3) ? 90.0 : 0.0;
        const std::string page = joint_page(joint);
        CHECK(std::count(page.begin(), page.end(), '\n') < 25);
        std::size_t start = 0;
        for (std::size_t end = page.find('\n'); end != std::string::npos; end = page.find('\n', start)) {
            CHECK(columns_of(page.substr(start, end - start)) <= kPageColumns);
            start = end + 1;
        }
        CHECK(page.find("nan") == std::string::npos);
    }
}
