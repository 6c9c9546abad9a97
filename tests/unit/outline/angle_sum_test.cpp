#include "outline/outline.hpp"

#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/outline_project.hpp"

using namespace boardring;
using boardring_test::project_of;

namespace {

Finding only_finding(const std::vector<std::string>& lines) {
    const Findings findings = locate_outline(project_of(lines)).findings();
    REQUIRE(findings.size() == 1);
    CHECK(findings.front().code == "outline.angle-sum");
    return findings.front();
}

}  // namespace

TEST_CASE("two corners of a niche written as the angle outside are named, with what to write") {
    std::vector<std::string> niche = {"A 90", "B 90", "C 90", "D 90", "E 90", "F 90", "G 90", "H 90",
                                      "AB 1300", "BC 800", "CD 300", "DE 500", "EF 600", "FG 450", "GH 400", "HA 750"};
    const Finding error = only_finding(niche);
    CHECK_THAT(error.message, ContainsSubstring("Eight corners must add up to 1080. Yours add up to 720: 360 short."));
    CHECK_THAT(error.message, ContainsSubstring("very likely E and F: both stand there as the angle outside the ring. With E at 270 and F at 270 the sides you gave meet"));
    CHECK(error.fix == "Put \"inward\" behind E and F, or write 360 less what stands there.");
    REQUIRE(error.changes == std::vector<std::string>{"E is 270", "F is 270"});
    niche[4] = "E 270";
    niche[5] = "F 270";
    CHECK(locate_outline(project_of(niche)).findings().empty());
}

TEST_CASE("half corners, turns, and angles outside the ring are each told by their sum, with what to write") {
    struct Case {
        double written_deg;
        const char* says;
        const char* fix;
    };
    // A regular hexagon: corners 120, turns 60, halves 60 too, settings 30, outside 240.
    for (const Case& c : {Case{240, "These are the angles outside the ring.", "Write each corner as 360 less what stands there now."},
                          Case{30, "is what the saw settings of equal boards add up to", "Write each corner as 180 less twice what stands there now."}}) {
        std::vector<std::string> lines;
        for (const char letter : std::string("ABCDEF")) lines.push_back(std::string(1, letter) + " " + std::to_string(static_cast<int>(c.written_deg)));
        for (const std::string side : {"AB", "BC", "CD", "DE", "EF", "FA"}) lines.push_back(side + " 400");
        const Finding error = only_finding(lines);
        CHECK_THAT(error.message, ContainsSubstring(c.says));
        CHECK(error.fix == c.fix);
        CHECK(error.changes.size() == 6);
    }
    // Unequal corners, so that halves and turns part: 70 110 80 100 halved, and as turns of a five-sided ring.
    const Finding halves = only_finding({"A 40", "B 50", "C 40", "D 50", "AB 700", "BC 500", "CD 700", "DA 500"});
    CHECK_THAT(halves.message, ContainsSubstring("That is half of it: these are half the corners."));
    CHECK(halves.fix == "Write each corner as twice what stands there now.");
    const Finding turns = only_finding({"A 72", "B 65", "C 83", "D 58", "E 82", "AB 900", "BC 820", "CD 760", "DE 936", "EA 774"});
    CHECK_THAT(turns.message, ContainsSubstring("360 is what the turns of any ring add up to"));
    CHECK(turns.fix == "Write each corner as 180 less what stands there now.");
}
