#include "outline/outline.hpp"
#include "outline/speaker.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <regex>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "outline/build.hpp"
#include "outline/check.hpp"
#include "support/catch.hpp"
#include "support/outline_project.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::find;
using boardring_test::points_project;
using boardring_test::project_of;
using boardring_test::Random;

namespace {

// An invented five-sided bed whose angles add up and whose sides miss by half a millimetre.
std::vector<std::string> bed() {
    return {"A 108", "B 115", "C 97", "D 122", "E 98", "AB 900", "BC 820", "CD 760", "DE 936", "EA 774"};
}

std::vector<std::string> bed_with(std::size_t line, const std::string& reading) {
    std::vector<std::string> lines = bed();
    lines[line] = reading;
    return lines;
}

std::vector<std::string> rectangle_with(const std::vector<std::string>& more) {
    std::vector<std::string> lines = {"A 90", "B 90", "C 90", "D 90", "AB 1200", "BC 600", "CD 1200", "DA 600"};
    lines.insert(lines.end(), more.begin(), more.end());
    return lines;
}

const Finding& only_finding(const Result<Outline>& located, const char* code) {
    REQUIRE(located.findings().size() == 1);
    const Finding& finding = located.findings().front();
    REQUIRE(finding.code == code);
    return finding;
}

}  // namespace

TEST_CASE("a bed that misses by half a millimetre is accepted, closed and told") {
    const Result<Outline> located = locate_outline(project_of(bed()));
    REQUIRE(located.ok());
    const Finding& note = only_finding(located, "outline.misclosure-spread");
    CHECK(note.severity == Severity::note);
    CHECK(note.message ==
          "The sides are 0.53 mm from meeting (one in 7970): within the digits you gave; I changed no side by more than 0.22 mm "
          "(BC).");
    const Outline& o = located.value();
    CHECK(o.misclosure.angle_deg == 0.0);
    CHECK_THAT(o.misclosure.length_mm, within_mm(0.5258, 5e-4));
    CHECK_THAT(o.misclosure.one_in, WithinAbs(4190.0 / 0.5258, 10.0));
    CHECK(o.corners_mm[0] == Vec2{0.0, 0.0});
    CHECK(o.corners_mm[1].y == 0.0);
    for (std::size_t k = 0; k < 5; ++k) {
        CHECK_THAT(length(o.corners_mm[(k + 1) % 5] - o.corners_mm[k]), within_mm(o.sides_mm[k], 4190.0 * 1e-12));
    }
    REQUIRE(o.readings.size() == 10);
    CHECK(o.readings[6].text == "BC 820");
    CHECK(o.readings[6].given == 820.0);
    CHECK(o.readings[6].used == o.sides_mm[1]);
}

TEST_CASE("with C typed 102 it is very likely C, and one length straight across decides") {
    const Result<Outline> located = locate_outline(project_of(bed_with(2, "C 102")));
    REQUIRE_FALSE(located.ok());
    const Finding& error = only_finding(located, "outline.angle-sum");
    CHECK(error.severity == Severity::error);
    CHECK(error.pointer == "/outline/readings/2");
    CHECK(error.message ==
          "Five corners must add up to 540. Yours add up to 545: 5 too much. They are A 108, B 115, C 102, D 122 and E 98. It is "
          "very likely C. "
          "With C at 97 the sides you gave meet within 0.53 mm; no other single corner brings them nearer than 66 mm (D at 117). "
          "It is not a matter "
          "of careful reading: five corners read to half a degree are together out by about 1, hardly ever by 4.");
    CHECK(error.fix ==
          "To be sure, measure straight across from B to D: 1184 mm means C is 97, 1228.5 mm means C is 102. Then set C to 97.");
}

TEST_CASE("a length straight across that is already in the notebook is heard") {
    std::vector<std::string> lines = bed_with(2, "C 102");
    lines.push_back("BD 1184");
    const Result<Outline> located = locate_outline(project_of(lines));
    const Finding& error = only_finding(located, "outline.angle-sum");
    CHECK_THAT(error.message, ContainsSubstring("BD, which you gave as 1184 mm, then comes to 1184 mm instead of 1228.5 mm."));
    CHECK(error.fix == "Set C to 97.");
}

TEST_CASE("the usual slips at a corner are named") {
    const auto said = [](std::size_t line, const std::string& reading) {
        return locate_outline(project_of(bed_with(line, reading))).findings().front();
    };
    CHECK_THAT(said(1, "B 65").message, ContainsSubstring("B 65 is what the boards turn; the corner itself would be 115."));
    CHECK_THAT(said(3, "D 61").message, ContainsSubstring("D 61 is half the corner; the whole corner would be 122."));
    CHECK_THAT(said(4, "E 41").message, ContainsSubstring("E 41 is what the saw is set to; the corner itself would be 98."));
    CHECK_THAT(said(2, "C 79").message, ContainsSubstring("C 79 has two digits in each other's place: 97 was meant."));
    CHECK(said(1, "B 65").pointer == "/outline/readings/1");

    const std::vector<std::string> ell = {"A 90",    "B 90",   "C 90",   "D 90",   "E 90",   "F 90",
                                          "AB 1200", "BC 400", "CD 500", "DE 600", "EF 700", "FA 1000"};
    const Result<Outline> inward = locate_outline(project_of(ell));
    const Finding& error = only_finding(inward, "outline.angle-sum");
    CHECK_THAT(error.message, ContainsSubstring("D 90 is the angle outside the ring; inside it is 270."));
    CHECK(error.fix == "Look at D: if it points into the ring, write \"D 90 inward\", or 270.");
    std::vector<std::string> mended = ell;
    mended[3] = "D 90 inward";
    CHECK(locate_outline(project_of(mended)).findings().empty());
}

TEST_CASE("a slip at every corner is named instead of one corner") {
    std::vector<std::string> lines;
    for (const char c : std::string("ABCDEF")) lines.push_back(std::string(1, c) + " 30");
    for (const std::string side : {"AB", "BC", "CD", "DE", "EF", "FA"}) lines.push_back(side + " 400");
    const Result<Outline> located = locate_outline(project_of(lines));
    const Finding& error = only_finding(located, "outline.angle-sum");
    CHECK_THAT(error.message, ContainsSubstring("these are settings, not corners"));
    CHECK(error.fix == "Write each corner as 180 less twice what stands there now.");
}

TEST_CASE("corners the sides cannot tell apart are both named, with what decides") {
    // B and C share a side of 4 mm: which of the two is wrong moves the end by no more than that side's little.
    const std::vector<std::string> ring = {"A 90",    "B 140", "C 135",  "D 90",      "E 90",
                                           "AB 1000", "BC 4",  "CD 800", "DE 1002.8", "EA 802.8"};
    const Result<Outline> located = locate_outline(project_of(ring));
    const Finding& error = only_finding(located, "outline.angle-sum");
    CHECK_THAT(error.message, ContainsSubstring("It could be B or C: the sides cannot tell."));
    CHECK_THAT(error.fix, ContainsSubstring("To be sure, measure straight across from"));
    CHECK(error.pointer == "/outline/readings");
}

TEST_CASE("readings out by no more than careful reading are told from slips") {
    const std::vector<std::string> fine = {"A 108.0", "B 115.0", "C 97.0", "D 122.5", "E 98.3",
                                           "AB 900",  "BC 820",  "CD 760", "DE 936",  "EA 774"};
    const Result<Outline> located = locate_outline(project_of(fine));
    const Finding& error = only_finding(located, "outline.angle-sum");
    CHECK_THAT(error.message, ContainsSubstring("no more than careful readings are out by"));
    CHECK_THAT(error.fix, ContainsSubstring("\"B 115 +-0.5\""));
    std::vector<std::string> owned = fine;
    for (std::size_t k = 0; k < 5; ++k) owned[k] += " +-0.5";
    CHECK(locate_outline(project_of(owned)).ok());
}

TEST_CASE("sides that do not meet: how far, which way, which side") {
    const Result<Outline> located = locate_outline(project_of(bed_with(5, "AB 1000")));
    const Finding& error = only_finding(located, "outline.misclosure");
    CHECK(error.pointer == "/outline/readings/5");
    CHECK(error.message ==
          "The corners add up, but the sides do not meet: walked round from A, the last one ends 100 mm from A, towards B (one "
          "in 43). It is very likely AB. "
          "With AB at 900 mm instead of 1000 mm they meet within 0.52 mm; no other single side brings them nearer than 44 mm (DE "
          "at 1025.5 mm). A tape held "
          "at 100 and the 100 not taken off does that.");
    CHECK(error.fix == "Measure AB again; 900 mm would close.");
}

TEST_CASE("parallel sides tie, and the tie is said") {
    std::vector<std::string> lines = rectangle_with({});
    lines[6] = "CD 1150";
    const Result<Outline> located = locate_outline(project_of(lines));
    const Finding& error = only_finding(located, "outline.misclosure");
    CHECK_THAT(
        error.message,
        ContainsSubstring("It could be AB or CD: they run nearly the same way. With AB at 1150 mm instead of 1200 mm they meet; "
                          "with CD at 1200 mm they would do as well."));
    CHECK(error.fix == "Measure AB again first, then CD. Change the one that was misread: \"AB is 1150\", or \"CD is 1200\".");
    CHECK(error.changes.empty());  // neither is certain
}

TEST_CASE("two sides or corners in each other's place are found") {
    std::vector<std::string> lines = bed();
    lines[0] = "A 115";
    lines[1] = "B 108";
    CHECK_THAT(only_finding(locate_outline(project_of(lines)), "outline.misclosure").message,
               ContainsSubstring("No single side explains it, but with A and B exchanged the sides meet within 0.53 mm."));
}

TEST_CASE("what is said of single sides and of exchanged ones is what walking the mended ring shows") {
    // Random rings with one or two slips; every claim in the message is made again from the readings, by plain complex numbers.
    Random random(71);
    std::size_t even = 0, exchanges = 0, without = 0;
    for (int round = 0; round < 3000; ++round) {
        const std::size_t n = 5 + random.index(3);
        std::vector<std::complex<double>> corners;
        for (std::size_t c = 0; c < n; ++c) {
            const double deg = 360.0 / static_cast<double>(n) * (static_cast<double>(c) + random.between(-0.3, 0.3));
            corners.push_back(std::polar(random.between(500.0, 1000.0), radians(deg)));
        }
        std::vector<double> sides, angles;
        double sum = 0.0;
        for (std::size_t c = 0; c < n; ++c) {
            const std::complex<double> after = corners[(c + 1) % n] - corners[c], before = corners[(c + n - 1) % n] - corners[c];
            sides.push_back(std::round(std::abs(after)));
            double deg = degrees(std::arg(before / after));
            angles.push_back(std::round(10.0 * (deg < 0.0 ? deg + 360.0 : deg)) / 10.0);
            sum += angles.back();
        }
        angles.back() += 180.0 * static_cast<double>(n - 2) - sum;  // the sum is right: it is the sides that do not meet
        if (random.chance(0.5)) {
            std::swap(sides[0], sides[1 + random.index(n - 1)]);
        } else {
            for (const std::size_t k : {random.index(n), random.index(n)}) sides[k] += std::round(random.between(-60.0, 60.0));
        }
        const auto miss = [n](const std::vector<double>& mm, const std::vector<double>& deg) {
            std::complex<double> at, way = 1.0;
            for (std::size_t k = 0; k < n; ++k) {
                at += mm[k] * way;
                way *= std::polar(1.0, radians(180.0 - deg[(k + 1) % n]));
            }
            return std::abs(at);
        };
        Project project = project_of(sides, angles, 0.5, 0.05);
        if (random.chance(0.5)) {
            project.accuracy.side_mm = 0.5;
            project.accuracy.angle_deg = 0.05;
        }
        const Result<Outline> located = locate_outline(project);
        const Finding* finding = find(located.findings(), "outline.misclosure");
        if (finding == nullptr) continue;
        const std::string& said = finding->message;
        INFO(said);
        const auto side_named = [&](const std::string& letters) { return static_cast<std::size_t>(letters[0] - 'A'); };
        const auto mended_miss = [&](std::size_t k, double mm) {
            std::vector<double> mended = sides;
            mended[k] = mm;
            return miss(mended, angles);
        };
        std::smatch told;
        // Lengths are shown to half a millimetre, what is left to two digits.
        const auto near = [](double shown, double found) { return std::abs(shown - found) <= 0.3 + 0.06 * found; };
        if (std::regex_search(said, told, std::regex("even ([A-H]{2}) at ([0-9.]+) mm leaves ([0-9.]+) mm"))) {
            ++even;
            CHECK(near(std::stod(told[3]), mended_miss(side_named(told[1]), std::stod(told[2]))));
        }
        const bool exchanged = std::regex_search(said, told, std::regex(" With ([A-H]{1,2}) and ([A-H]{1,2}) exchanged they meet within ([0-9.]+) mm"));
        if (!exchanged) {
            ++without;
            continue;
        }
        ++exchanges;
        std::vector<double> mm = sides, deg = angles;
        std::vector<double>& of = told.str(1).size() == 2 ? mm : deg;
        std::swap(of[side_named(told[1])], of[side_named(told[2])]);
        CHECK(near(std::stod(told[3]), miss(mm, deg)));
        // Said only where it explains three times as well as the single side that is named first.
        const double by_exchange = miss(mm, deg);
        REQUIRE(std::regex_search(said, told, std::regex("With ([A-H]{2}) at ([0-9.]+) mm instead")));
        double by_side = 1e9;
        const std::size_t named = side_named(told[1]);
        for (int step = -2000; step <= 2000; ++step) by_side = std::min(by_side, mended_miss(named, std::stod(told[2]) + 0.001 * step));
        CHECK(by_exchange < by_side / 3.0 + 1e-3);
    }
    CAPTURE(even, exchanges, without);
    CHECK(even > 20);
    CHECK(exchanges > 20);
    CHECK(without > 100);
}

TEST_CASE("of several corners the sides cannot tell apart, the likeliest two are to be measured again") {
    // A triangle of nearly equal sides roughly read, five degrees too much and spread over all corners: any of them may be wrong, in the order said.
    const Result<Outline> located = locate_outline(project_of({"A 62 +-1", "B 61 +-1", "C 62 +-1", "AB 600 +-20", "BC 600 +-20", "CA 595 +-20"}));
    const Finding& error = only_finding(located, "outline.angle-sum");
    INFO(error.message);
    std::smatch told;
    REQUIRE(std::regex_search(error.message, told, std::regex("With ([ABC]) at .*, with ([ABC]) at [0-9.]+ within .* and with ([ABC]) at")));
    CHECK(error.fix == "Measure " + told.str(1) + " and " + told.str(2) + " again.");
}

TEST_CASE("right angles bent to make sides meet are a warning, not a note") {
    std::vector<std::string> lines = rectangle_with({});
    lines[6] = "CD 1190";
    const Result<Outline> located = locate_outline(project_of(lines));
    REQUIRE(located.ok());
    const Finding& warning = only_finding(located, "outline.misclosure-spread");
    CHECK(warning.severity == Severity::warning);
    CHECK_THAT(warning.message,
               ContainsSubstring("If you mean the corners exactly as written, AB would be 1190 mm or CD would be 1200 mm."));
}

TEST_CASE("half a degree short is shared out and told") {
    // A regular pentagon of 500, its corners written 107.9: each gets the 0.1 back and the sides need nothing.
    const std::vector<std::string> lines = {"A 107.9", "B 107.9", "C 107.9", "D 107.9", "E 107.9",
                                            "AB 500",  "BC 500",  "CD 500",  "DE 500",  "EA 500"};
    CHECK_FALSE(locate_outline(project_of(lines)).ok());  // a tenth is more than the digits of 107.9 leave room for
    std::vector<std::string> owned = lines;
    for (std::size_t k = 0; k < 5; ++k) owned[k] += " +-0.5";
    const Result<Outline> located = locate_outline(project_of(owned));
    REQUIRE(located.ok());
    CHECK(only_finding(located, "outline.angle-sum-spread").message ==
          "The corners add up to 539.5, 0.5 short: within the digits you gave; I added 0.1 to each corner.");
    for (const double interior : located.value().interior_deg) CHECK_THAT(interior, within_deg(108.0, 1e-12));
    CHECK_THAT(located.value().misclosure.angle_deg, within_deg(-0.5, 1e-12));
}

TEST_CASE("an own +- counts instead of the digits") {
    std::vector<std::string> lines = rectangle_with({});
    lines[6] = "CD 1150 +-60";
    CHECK(locate_outline(project_of(lines)).ok());
    lines[6] = "CD 1199.9 +-0.01";
    lines[4] = "AB 1200 +-0.01";
    lines[0] = "A 90 +-0.001";
    lines[1] = "B 90 +-0.001";
    lines[2] = "C 90 +-0.001";
    lines[3] = "D 90 +-0.001";
    CHECK_FALSE(locate_outline(project_of(lines)).ok());
}

TEST_CASE("a diagonal the outline does not hold is told, by how much") {
    CHECK(locate_outline(project_of(rectangle_with({"AC 1342"}))).findings().empty());
    const Result<Outline> near = locate_outline(project_of(rectangle_with({"AC 1343"})));
    CHECK(near.ok());
    CHECK(only_finding(near, "outline.diagonal").severity == Severity::note);
    const Result<Outline> far = locate_outline(project_of(rectangle_with({"AC 1360"})));
    CHECK_FALSE(far.ok());
    const Finding& error = only_finding(far, "outline.diagonal");
    CHECK(error.pointer == "/outline/readings/8");
    CHECK(error.message == "AC is given as 1360 mm; sides and corners make it 1341.5 mm, so it is 18 mm too long.");
    CHECK_THAT(error.fix, ContainsSubstring("B is 92 instead of 90"));
}

TEST_CASE("an open chain has no check but its diagonals") {
    const std::vector<std::string> casing = {"AB 2000", "B 91", "BC 900", "C 90.5", "CD 1990"};
    const Result<Outline> located = locate_outline(project_of(casing, true));
    REQUIRE(located.ok());
    CHECK(located.findings().empty());
    CHECK(located.value().corners_mm.size() == 4);
    CHECK(located.value().turn_deg.front() == 0.0);
    CHECK(located.value().misclosure.length_mm == 0.0);
    std::vector<std::string> spanned = casing;
    spanned.push_back("AD 800");
    const Result<Outline> wrong = locate_outline(project_of(spanned, true));
    CHECK_FALSE(wrong.ok());
    CHECK_THAT(only_finding(wrong, "outline.diagonal").message, ContainsSubstring("AD is given as 800 mm"));
}

TEST_CASE("points decide which way the letters run; a contradiction is told") {
    const std::vector<Vec2> ring = {{0, 0}, {900, 0}, {900, 700}};
    Project project = points_project(ring);
    project.outline.letters_clockwise = true;
    const Result<Outline> located = locate_outline(project);
    REQUIRE(located.ok());
    CHECK_FALSE(located.value().letters_clockwise);
    CHECK(only_finding(located, "outline.clockwise").severity == Severity::note);
    const Result<Outline> turned = locate_outline(points_project({ring[0], ring[2], ring[1]}));
    CHECK(turned.value().letters_clockwise);
    CHECK(turned.findings().empty());
}

TEST_CASE("letters of other forms run as the project says") {
    Project project;
    project.outline.form = RectangleOutline{1200.0, 600.0};
    project.outline.letters_clockwise = true;
    CHECK(locate_outline(project).value().letters_clockwise);
    project.outline.form = RegularOutline{6, RegularOutline::Of::over_flats, 640.0};
    CHECK(locate_outline(project).value().letters_clockwise);
    Project run = project_of({"AB 300", "B 90", "BC 400"}, true);
    run.outline.letters_clockwise = true;
    CHECK(locate_outline(run).value().letters_clockwise);
}

TEST_CASE("sides that cross are told with the place") {
    const Result<Outline> located = locate_outline(points_project({{0, 0}, {1000, 800}, {1000, 0}, {0, 600}}));
    REQUIRE_FALSE(located.ok());
    const Finding& error = only_finding(located, "outline.crosses");
    CHECK(error.pointer == "/outline/points/3");
    CHECK_THAT(error.message, ContainsSubstring("Side CD meets side AB"));
    CHECK_THAT(error.message, ContainsSubstring("at (428.5, 343 mm)"));
}

TEST_CASE("a crossing is shown where the maker drew it, not in the mirror") {
    // The large loop runs clockwise: the engine sees it mirrored.
    const Result<Outline> located = locate_outline(points_project({{0, 0}, {0, 1000}, {1000, 1000}, {1000, 400}, {-100, 500}}));
    REQUIRE_FALSE(located.ok());
    CHECK_THAT(located.findings().front().message, ContainsSubstring("(0, 491 mm)"));
}

TEST_CASE("repeated corners, folds and sides of no length are each told once") {
    CHECK(only_finding(locate_outline(points_project({{0, 0}, {500, 0}, {500, 0}, {500, 400}})), "outline.zero-side").pointer ==
          "/outline/points/2");
    const Result<Outline> closed_twice = locate_outline(points_project({{0, 0}, {500, 0}, {500, 400}, {0, 0}}));
    CHECK_THAT(only_finding(closed_twice, "outline.zero-side").fix, ContainsSubstring("the ring closes by itself"));
    const Result<Outline> eight =
        locate_outline(points_project({{0, 0}, {500, 0}, {500, 400}, {0, 0.0}, {-500, 0}, {-500, -400}}));
    CHECK_THAT(only_finding(eight, "outline.repeated-corner").message,
               ContainsSubstring("D lies where A already is, at (0, 0 mm)"));
    const Result<Outline> fold = locate_outline(points_project({{0, 0}, {900, 0}, {400, 0}, {400, 500}}));
    CHECK_THAT(only_finding(fold, "outline.spike").message, ContainsSubstring("At B side BC runs straight back along side AB"));
    const Result<Outline> bent_back = locate_outline(project_of({"AB 900", "B 360", "BC 500", "C 90", "CD 100"}, true));
    CHECK(find(bent_back.findings(), "outline.spike") != nullptr);
}

TEST_CASE("only a few of many crossings are written out, and the rest counted") {
    std::vector<Vec2> star;
    for (int k = 0; k < 11; ++k) star.push_back(1000.0 * unit_deg(360.0 * 5 * k / 11));
    const Result<Outline> located = locate_outline(points_project(star));
    REQUIRE(located.findings().size() == 5);
    CHECK_THAT(located.findings().back().message, ContainsSubstring(" more sides meet."));
}

TEST_CASE("a ring of 100,000 readings is located") {
    const std::size_t n = 100000;
    const double interior = 180.0 - 360.0 / static_cast<double>(n);
    const Result<Outline> located =
        locate_outline(project_of(std::vector<double>(n, 10.0), std::vector<double>(n, interior), 0.5, 0.5));
    REQUIRE(located.ok());
    CHECK(located.findings().empty());
    std::vector<double> angles(n, interior);
    angles[777] += 90.0;
    Project wrong = project_of(std::vector<double>(n, 10.0), angles, 1e-4, 1e-7);
    wrong.accuracy.side_mm = 1e-4;
    wrong.accuracy.angle_deg = 1e-7;
    CHECK(locate_outline(wrong).findings().front().pointer == "/outline/readings/100777");
}

TEST_CASE("regular outlines, rectangles and arcs never cross themselves: their shape needs no check") {
    // What locate_outline leaves out, done here: the sweep finds nothing on any of them.
    std::vector<Outline> made;
    for (std::size_t n = 3; n < 200; ++n) made.push_back(build_regular({n, RegularOutline::Of::side, 10.0}));
    made.push_back(build_rectangle({1200.0, 0.1}));
    for (const double span : {0.01, 30.0, 180.0, 359.99}) {
        for (std::size_t pieces = 2; pieces < 50; ++pieces) {
            for (const auto fits : {ArcOutline::Fits::flats, ArcOutline::Fits::corners}) {
                made.push_back(build_arc({500.0, span, pieces, fits}));
            }
        }
    }
    for (const Outline& o : made) CHECK(check_shape(o, Project{}).empty());
}

TEST_CASE("careful reading is only spoken of where it could be thought to be the cause") {
    const auto said = [](const std::string& c) { return locate_outline(project_of(bed_with(2, c))).findings().front().message; };
    CHECK_THAT(said("C 102"), ContainsSubstring("It is not a matter of careful reading"));
    CHECK_THAT(said("C 127"), !ContainsSubstring("careful reading"));
    CHECK_THAT(said("C 99.5"), !ContainsSubstring("It is not a matter of careful reading"));  // 2.5 is not beyond 4
}

TEST_CASE("an inch job reads inches") {
    std::vector<std::string> lines = bed_with(5, "AB 1000");
    Project project = project_of(lines);
    project.unit = Unit::inch;
    project.tools.rule_step_mm = 25.4 / 16.0;
    const Finding error = locate_outline(project).findings().front();
    CHECK_THAT(error.message, ContainsSubstring("With AB at 35-7/16 in instead of 39-3/8 in they meet within 1/64 in"));
    CHECK_THAT(error.message, !ContainsSubstring("mm"));
}

TEST_CASE("Of four suspects three are named, and the last is another") {
    std::vector<std::string> lines = bed_with(6, "BC 871");
    lines[8] = "DE 983";
    const Result<Outline> located = locate_outline(project_of(lines));
    REQUIRE_FALSE(located.ok());
    CHECK_THAT(only_finding(located, "outline.misclosure").message, ContainsSubstring("CD, AB, DE or another:"));
    CHECK(one_of_others(1) == "another");
    CHECK(one_of_others(3) == "one of 3 others");
}
