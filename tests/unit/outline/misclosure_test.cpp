#include "outline/outline.hpp"

#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/outline_project.hpp"

using namespace boardring;
using boardring_test::project_of;

namespace {

// An invented ring whose sides all run their own ways.
std::vector<std::string> recess_with(std::size_t line, const std::string& reading) {
    std::vector<std::string> lines = {"A 90.00", "B 100.00", "C 90.00", "D 130.00", "E 130.00", "AB 1500", "BC 640", "CD 1114.8", "DE 670", "EA 393.2"};
    lines[line] = reading;
    return lines;
}

std::string said(const Project& project) {
    const Findings findings = locate_outline(project).findings();
    REQUIRE_FALSE(findings.empty());
    CHECK(findings.front().code == "outline.misclosure");
    return findings.front().message;
}

}  // namespace

TEST_CASE("the usual slips at a side are named by how far, or how many times, it is out") {
    const Result<Outline> right = locate_outline(project_of(recess_with(0, "A 90.00")));
    REQUIRE(right.ok());
    const auto with = [](const std::string& ab) {
        Project project = project_of(recess_with(5, "AB " + ab));
        project.accuracy.angle_deg = 0.05;  // corners read to half a degree would hide 10 mm
        return said(project);
    };
    CHECK_THAT(with("1510"), ContainsSubstring("A tape held at 10 and the 10 not taken off does that."));
    CHECK_THAT(with("1490"), ContainsSubstring("A tape held at 10 and the 10 taken off twice does that."));
    CHECK_THAT(with("1400"), ContainsSubstring("A tape held at 100 and the 100 taken off twice does that."));
    CHECK_THAT(with("5100"), ContainsSubstring("Two digits may stand in each other's place."));
    CHECK_THAT(with("150"), ContainsSubstring("a nought too many or too few, or cm for mm"));
    CHECK_THAT(with("15000"), ContainsSubstring("a nought too many or too few, or cm for mm"));
    CHECK_THAT(with("59"), ContainsSubstring("Inches may have been taken for millimetres"));
}

TEST_CASE("feet taken for inches are a slip of inch jobs alone") {
    const auto with = [](Unit unit) {
        Project project = project_of(recess_with(5, "AB 125"));
        project.unit = unit;
        project.tools.rule_step_mm = unit == Unit::inch ? 25.4 / 16.0 : 0.5;
        return said(project);
    };
    CHECK_THAT(with(Unit::inch), ContainsSubstring("Inches may have been taken for feet, or the other way."));
    CHECK_THAT(with(Unit::mm), !ContainsSubstring("feet"));
}
