#include "io/read_project.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <variant>

#include "support/catch.hpp"

using namespace boardring;

namespace {

const std::string kHead = R"({"format": "boardring-project-1", )";
const std::string kRing = R"("outline": {"line": "inside", "regular": {"corners": 6, "side": 400}}, )";
const std::string kChain = R"("outline": {"line": "inside", "open": true, "points": [[0, 0], [500, 0], [500, 400], [0, 400]]}, )";
const std::string kBoards = R"("boards": {"lie": "flat", "all": {"width": 90, "thickness": 20}})";

// A project of these parts in millimetres.
std::string job(const std::string& outline, const std::string& boards, const std::string& more = "") {
    return kHead + R"("units": "mm", )" + outline + boards + (more.empty() ? "" : ", " + more) + "}";
}

Project project_of(const std::string& text) {
    ProjectRead read = read_project(text);
    INFO(text);
    for (const Finding& f : read.findings) UNSCOPED_INFO(f.code << " " << f.message);
    REQUIRE(read.project);
    return *std::move(read.project);
}

Finding finding_of(const std::string& text, const std::string& code) {
    const ProjectRead read = read_project(text);
    INFO(text);
    for (const Finding& f : read.findings) {
        if (f.code == code) return f;
    }
    FAIL("no finding " << code);
    return {};
}

std::map<std::string, std::string> assumed(const Project& project) {
    std::map<std::string, std::string> by_pointer;
    for (const Assumption& a : project.assumed) {
        CHECK(by_pointer.emplace(a.pointer, a.value).second);
    }
    return by_pointer;
}

}  // namespace

TEST_CASE("A hexagon planter is read with every value in its place") {
    const Project project = project_of(R"({
  "format": "boardring-project-1", "title": "Courtyard planter", "units": "mm",
  "outline": {"line": "inside", "margin": {"all": 6, "3": 0}, "letters": "clockwise", "seen": "from the room",
              "regular": {"corners": 6, "over_flats": 640}},
  "stock": {
    "rail": {"width": 145, "thickness": 38, "surface": "show-face", "species": "Scots pine", "end_trim": 25,
             "lengths": [{"length": 3600, "price": 14.20}, {"length": "1180 mm", "count": 1, "offcut": true}]},
    "slim": {"width": 145, "thickness": 28}},
  "boards": {"lie": "on edge", "courses": 2, "all": {"stock": "rail"}, "4": {"stock": "slim", "thickness": "27.5"}},
  "joints": {"all": {"kind": "mitre"}, "C": {"kind": "butt", "through": 3}, "e": {"kind": "half-lap"}},
  "pieces": [{"name": "foot", "stock": "slim", "length": 80, "count": 6, "left": {"saw_deg": 0}, "right": {"saw_deg": -15}}],
  "tools": {"rule_step": 1, "saw_step": 0.1, "scale_at_square": 90, "swing_limit": 60, "tilt_limit": 48,
            "fence_height": 120, "kerf": 2.4, "hold_length": 250, "slope_by": "saw", "bevel_base": 200},
  "accuracy": {"preset": "garden", "mark": 0.8},
  "wanted": {"gap": 1.5, "fit_last": 6, "leave_long": 6, "spares": 1}})");
    CHECK(project.title == "Courtyard planter");
    CHECK(project.unit == Unit::mm);
    CHECK(project.outline.line == OutlineLine::inside);
    CHECK(project.outline.margin_mm == std::vector<double>{6, 6, 0, 6, 6, 6});
    CHECK(project.outline.letters_clockwise);
    CHECK(project.outline.seen_from_room);
    CHECK_FALSE(project.outline.open);
    CHECK(project.outline.form_pointer == "/outline/regular");
    const auto& regular = std::get<RegularOutline>(project.outline.form);
    CHECK(regular.corners == 6);
    CHECK(regular.of == RegularOutline::Of::over_flats);
    CHECK(regular.size_mm == 640.0);
    REQUIRE(project.stock.size() == 2);
    const Stock& rail = project.stock[0];
    CHECK(rail.name == "rail");
    CHECK(rail.surface == Surface::show_face);
    CHECK(rail.species == "Scots pine");
    CHECK(rail.end_trim_mm == 25.0);
    REQUIRE(rail.lengths.size() == 2);
    CHECK(rail.lengths[0].price == 14.20);
    CHECK_FALSE(rail.lengths[0].count);
    CHECK(rail.lengths[1].length_mm == 1180.0);
    CHECK(rail.lengths[1].count == std::size_t{1});
    CHECK(rail.lengths[1].offcut);
    CHECK_FALSE(rail.lengths[1].price);
    CHECK(project.lie == Lie::on_edge);
    CHECK(project.courses == 2);
    REQUIRE(project.boards.size() == 6);
    CHECK(project.boards[0].stock == std::size_t{0});
    CHECK(project.boards[0].thickness_mm == 38.0);
    CHECK(project.boards[0].pointer == "/boards/all");
    CHECK(project.boards[3].stock == std::size_t{1});
    CHECK(project.boards[3].width_mm == 145.0);
    CHECK(project.boards[3].thickness_mm == 27.5);
    CHECK(project.boards[3].pointer == "/boards/4");
    REQUIRE(project.joints.size() == 6);
    CHECK(project.joints[0].kind == JointKind::mitre);
    CHECK(project.joints[0].pointer == "/joints/all");
    CHECK(project.joints[2].kind == JointKind::butt);
    CHECK(project.joints[2].through == std::size_t{2});
    CHECK(project.joints[2].pointer == "/joints/C");
    CHECK(project.joints[4].kind == JointKind::half_lap);
    REQUIRE(project.pieces.size() == 1);
    CHECK(project.pieces[0].stock == 1);
    CHECK(project.pieces[0].count == 6);
    CHECK(project.pieces[0].right_saw_deg == -15.0);
    CHECK(project.pieces[0].pointer == "/pieces/0");
    CHECK(project.tools.rule_step_mm == 1.0);
    CHECK(project.tools.saw_step_deg == 0.1);
    CHECK(project.tools.scale_at_square_deg == 90.0);
    CHECK(project.tools.swing_limit_deg == 60.0);
    CHECK(project.tools.tilt_limit_deg == 48.0);
    CHECK(project.tools.fence_height_mm == 120.0);
    CHECK(project.tools.kerf_mm == 2.4);
    CHECK(project.tools.hold_length_mm == 250.0);
    CHECK(project.tools.slope_by == SlopeBy::saw);
    CHECK(project.tools.bevel_base_mm == 200.0);
    CHECK(project.accuracy.preset == Preset::garden);
    CHECK(project.accuracy.mark_mm == 0.8);
    CHECK(project.accuracy.cut_angle_deg == 0.5);
    CHECK(project.wanted.gap_mm == 1.5);
    CHECK(project.wanted.fit_last == std::size_t{5});
    CHECK(project.wanted.leave_long_mm == 6.0);
    CHECK(project.wanted.spares == 1);
    CHECK(assumed(project) == std::map<std::string, std::string>{
                                  {"/stock/slim/surface", "slim: plain boards, either face may show"},
                                  {"/stock/slim/end_trim", "slim: 20 mm trimmed off each bought board"},
                              });
}

TEST_CASE("What is not said is assumed and listed, in millimetres") {
    const Project project = project_of(job(kRing, kBoards));
    const auto told = assumed(project);
    CHECK(told.at("/tools/kerf") == "saw cut 3 mm");
    CHECK(told.at("/tools/rule_step") == "rule read to 0.5 mm");
    CHECK(told.at("/tools/bevel_base") == "the bevel is set over 300 mm");
    CHECK(told.at("/joints/all/kind") == "mitres");
    CHECK(told.at("/accuracy/preset") == "joinery work");
    CHECK(told.at("/wanted/gap") == "a joint gap of 1 mm is good enough");
    CHECK(told.at("/wanted/fit_last") == "board 6 is fitted last");
    CHECK(told.size() == 19);
    CHECK(project.tools.kerf_mm == 3.0);
    CHECK(project.tools.fence_height_mm == 90.0);
    CHECK(project.tools.hold_length_mm == 300.0);
    CHECK_FALSE(project.wanted.fit_last);
}

TEST_CASE("Inch and foot jobs get the defaults of an inch rule") {
    for (const std::string unit : {"in", "ft"}) {
        const std::string side = unit == "in" ? "16" : "1.5";
        const Project project =
            project_of(kHead + R"("units": ")" + unit + R"(", "outline": {"line": "inside", "regular": {"corners": 6, "side": )" +
                       side + R"(}}, "boards": {"lie": "flat", "all": {"width": "3 1/2 in", "thickness": "3/4 in"}}, )" +
                       R"("accuracy": {"preset": "garden"}})");
        CHECK(project.tools.rule_step_mm == 25.4 / 16);
        CHECK(project.tools.kerf_mm == 25.4 / 8);
        CHECK(project.tools.bevel_base_mm == 12 * 25.4);
        CHECK(project.tools.fence_height_mm == 3.5 * 25.4);
        CHECK(project.tools.hold_length_mm == 12 * 25.4);
        CHECK(project.wanted.gap_mm == 25.4 / 8);
        const auto told = assumed(project);
        CHECK(told.at("/wanted/gap") == "a joint gap of 1/8 in is good enough");
        if (unit == "in") CHECK(told.at("/tools/kerf") == "saw cut 1/8 in");
    }
}

TEST_CASE("A plain number takes the job's unit, text may name its own") {
    const std::map<std::string, double> mm{{"mm", 1.0}, {"cm", 10.0}, {"m", 1000.0}, {"in", 25.4}, {"ft", 304.8}};
    for (const auto& [unit, factor] : mm) {
        const Project project =
            project_of(kHead + R"("units": ")" + unit +
                       R"(", "outline": {"line": "inside", "rectangle": {"length": 3, "width": "5 1/2 in"}}, )" +
                       R"("boards": {"lie": "flat", "all": {"width": "90 mm", "thickness": "2"}}})");
        const auto& rectangle = std::get<RectangleOutline>(project.outline.form);
        CHECK_THAT(rectangle.length_mm, within_mm(3 * factor, 1e-12));
        CHECK_THAT(rectangle.width_mm, within_mm(139.7, 1e-12));
        CHECK_THAT(project.boards[0].width_mm, within_mm(90, 1e-12));
        CHECK_THAT(project.boards[0].thickness_mm, within_mm(2 * factor, 1e-12));
    }
}

TEST_CASE("The same figures mean the same length in quotes and without, to the last bit") {
    // 5.3 x 25.4 rounds the 5.3 and then the product: a twelfth of all such numbers would differ in their last bit.
    for (const char* const unit : {"mm", "cm", "m", "in", "ft"}) {
        std::string points = "[0, 0]", quoted = "[0, 0]";
        for (int k = 1; k <= 200; ++k) {
            const std::string x = std::to_string(k / 7) + "." + std::to_string(k * 37 % 1000), y = k % 2 == 0 ? "0" : "1.7";
            points += ", [" + x + ", " + y + "]";
            quoted += ", [\"" + x + "\", \"" + y + "\"]";
        }
        const auto corners = [&](const std::string& list) {
            const Project project = project_of(kHead + R"("units": ")" + unit + R"(", "outline": {"line": "inside", "open": true, "points": [)" + list +
                                               R"(]}, "boards": {"lie": "flat", "all": {"width": "90 mm", "thickness": "20 mm"}}})");
            return std::get<PointsOutline>(project.outline.form).points_mm;
        };
        const auto plain = corners(points), in_quotes = corners(quoted);
        REQUIRE(plain.size() == 201);
        for (std::size_t k = 0; k < plain.size(); ++k) {
            CHECK(plain[k].x == in_quotes[k].x);
            CHECK(plain[k].y == in_quotes[k].y);
        }
    }
    // What texts do not know stays what JSON says it is.
    CHECK(std::get<RegularOutline>(project_of(kHead + R"("units": "in", "outline": {"line": "inside", "regular": {"corners": 6, "side": 1.6e1}}, "boards": {"lie": "flat", "all": {"width": 3, "thickness": 1}}})")
                                       .outline.form)
              .size_mm == 16.0 * 25.4);
}

TEST_CASE("Presets fill accuracy and the wanted gap, each finer than the one before") {
    const auto with = [](const std::string& preset) {
        return project_of(job(kRing, kBoards, R"("accuracy": {"preset": ")" + preset + "\"}"));
    };
    const Project garden = with("garden");
    const Project joinery = with("joinery");
    const Project fine = with("fine");
    CHECK(garden.wanted.gap_mm == 3.0);
    CHECK(joinery.wanted.gap_mm == 1.0);
    CHECK(fine.wanted.gap_mm == 0.3);
    CHECK(garden.accuracy.mark_mm > joinery.accuracy.mark_mm);
    CHECK(joinery.accuracy.mark_mm > fine.accuracy.mark_mm);
    CHECK(garden.accuracy.angle_deg > joinery.accuracy.angle_deg);
    CHECK(joinery.accuracy.diagonal_mm > fine.accuracy.diagonal_mm);
    const Accuracy plain = project_of(job(kRing, kBoards)).accuracy;
    CHECK(plain.mark_mm == Accuracy{}.mark_mm);
    CHECK(plain.diagonal_mm == Accuracy{}.diagonal_mm);
}

TEST_CASE("The board that runs on can be named for all corners at once") {
    const Project project =
        project_of(job(kRing, kBoards, R"("joints": {"all": {"kind": "butt", "through": [1, 3, 5]}, "C": {"through": 2}})"));
    const std::size_t expected[] = {0, 0, 1, 2, 4, 4};
    for (std::size_t corner = 0; corner < 6; ++corner) CHECK(project.joints[corner].through == expected[corner]);
    const Project some = project_of(job(kRing, kBoards, R"("joints": {"all": {"kind": "butt", "through": 1}})"));
    CHECK(some.joints[0].through == std::size_t{0});
    CHECK(some.joints[1].through == std::size_t{0});
    CHECK_FALSE(some.joints[2].through);
    CHECK(assumed(some).at("/joints/all/through") == "where boards butt, the one on the longer side runs on");
}

TEST_CASE("Ends of an open chain: + is outside longer, along a wall is measured on the inside") {
    const auto end = [](const std::string& a) { return project_of(job(kChain, kBoards, R"("ends": {"a": )" + a + "}")); };
    CHECK(end(R"({"square": true})").first_end.saw_deg == 0.0);
    CHECK(end(R"({"along_deg": 92})").first_end.saw_deg == -2.0);
    CHECK(end(R"({"along_deg": "88 1/2"})").first_end.saw_deg == 1.5);
    CHECK_THAT(end(R"({"rise": 300, "run": 300})").first_end.saw_deg, within_deg(45, 1e-12));
    CHECK_THAT(end(R"({"rise": -5, "run": 300})").first_end.saw_deg, within_deg(-0.954841253872, 1e-9));
    const Project project = end(R"({"along_deg": 92})");
    CHECK(project.first_end.pointer == "/ends/a");
    CHECK(project.last_end.saw_deg == 0.0);
    CHECK(project.boards.size() == 3);
    CHECK(project.joints.size() == 4);
    CHECK(assumed(project).at("/ends/D") == "end D is cut square");
}

TEST_CASE("Ends of an arc point to its middle unless said otherwise") {
    const std::string arc =
        R"("outline": {"line": "inside", "arc": {"radius": 500, "span_deg": 180, "pieces": 7, "fits": "flats"}}, )";
    const Project project = project_of(job(arc, kBoards, R"("ends": {"H": {"square": true}})"));
    CHECK(project.outline.open);
    CHECK_THAT(project.first_end.saw_deg, within_deg(180.0 / 14.0, 1e-12));
    CHECK(project.last_end.saw_deg == 0.0);
    CHECK(assumed(project).at("/ends/A") == "end A points to the middle of the arc");
}

TEST_CASE("Chord and rise give the circle through three points") {
    const auto arc = [](const std::string& chord, const std::string& rise) {
        const Project project = project_of(job(R"("outline": {"line": "middle", "arc": {"chord": )" + chord + R"(, "rise": )" +
                                                   rise + R"(, "pieces": 5, "fits": "corners"}}, )",
                                               kBoards));
        return std::get<ArcOutline>(project.outline.form);
    };
    const ArcOutline half = arc("1000", "500");
    CHECK_THAT(half.radius_mm, within_mm(500, 1e-9));
    CHECK_THAT(half.span_deg, within_deg(180, 1e-9));
    // 3-4-5 triangles: half chord 400, centre 300 below the chord; and the larger part of the same circle.
    const ArcOutline flat = arc("800", "200");
    CHECK_THAT(flat.radius_mm, within_mm(500, 1e-9));
    CHECK_THAT(flat.span_deg, within_deg(2 * 53.130102354156, 1e-9));
    const ArcOutline tall = arc("800", "800");
    CHECK_THAT(tall.radius_mm, within_mm(500, 1e-9));
    CHECK_THAT(tall.span_deg, within_deg(360 - 2 * 53.130102354156, 1e-9));
}

TEST_CASE("A nominal name gives the dressed size and a note to measure; measured sizes win and silence it") {
    const auto with = [](const std::string& rail) {
        return kHead +
               R"("units": "in", "outline": {"line": "inside", "regular": {"corners": 6, "side": 16}}, "stock": {"rail": )" +
               rail + R"(}, "boards": {"lie": "on edge", "all": {"stock": "rail"}}})";
    };
    // PS 20: a 2x6 is dressed to 1-1/2 by 5-1/2 in when dry.
    const Project named = project_of(with(R"({"nominal": "2x6"})"));
    CHECK_THAT(named.boards[0].thickness_mm, within_mm(1.5 * 25.4, 1e-9));
    CHECK_THAT(named.boards[0].width_mm, within_mm(5.5 * 25.4, 1e-9));
    const Finding note = finding_of(with(R"({"nominal": "2x6"})"), "stock.nominal");
    CHECK(note.severity == Severity::note);
    CHECK(note.pointer == "/stock/rail/nominal");
    CHECK_THAT(note.message, ContainsSubstring("1-1/2 by 5-1/2"));
    const ProjectRead measured = read_project(with(R"({"nominal": "2x6", "width": 5.4, "thickness": 1.45})"));
    REQUIRE(measured.project);
    CHECK(measured.findings.empty());
    CHECK(measured.project->stock[0].nominal == "2x6");
    CHECK_THAT(measured.project->boards[0].thickness_mm, within_mm(1.45 * 25.4, 1e-9));
}

TEST_CASE("Plain numbers of another unit's scale are asked about, a whole job of them once") {
    const auto warned = [](const std::string& unit, const std::string& side, const std::string& width,
                           const std::string& thickness) {
        const ProjectRead read = read_project(
            kHead + R"("units": ")" + unit + R"(", "outline": {"line": "inside", "regular": {"corners": 6, "side": )" + side +
            R"(}}, "boards": {"lie": "flat", "all": {"width": )" + width + R"(, "thickness": )" + thickness + "}}}");
        std::string pointers;
        REQUIRE(read.project);
        for (const Finding& f : read.findings) {
            CHECK(f.code == "value.odd-scale");
            CHECK(f.severity == Severity::warning);
            pointers += f.pointer + " ";
        }
        return pointers;
    };
    CHECK(warned("mm", "640", "145", "1.5") == "/boards/all/thickness ");
    CHECK(warned("in", "640", "5.5", "1.5") == "/outline/regular/side ");
    CHECK(warned("in", "25", "145", "38") == "/boards/all/width /boards/all/thickness ");
    CHECK(warned("cm", "64", "14.5", "38") == "/boards/all/thickness ");
    CHECK(warned("mm", "25", "145", "38") == "/outline/regular/side ");
    CHECK(warned("mm", "640", "145", "38").empty());
    CHECK(warned("in", "25", "5.5", "1.5").empty());
    CHECK(warned("mm", "640", "145", "\"1.5 mm\"").empty());
    CHECK(warned("mm", "14", "5.5", "0.75") == "/outline/regular/side ");  // inches throughout
    CHECK(warned("mm", "20", "6", "2") == "/outline/regular/side ");
    CHECK(warned("mm", "\"14 mm\"", "\"5.5 mm\"", "\"0.75 mm\"").empty());
    CHECK(warned("mm", "2", "3000", "0.6").empty());  // no unit makes a frame of it
    const std::string points = R"("outline": {"line": "inside", "points": [[0, 0], [3, 0], [3, 2], [0, 2]]}, )";
    CHECK(finding_of(job(points, kBoards), "value.odd-scale").pointer == "/outline/points");
    const Finding finding = finding_of(job(R"("outline": {"line": "inside", "regular": {"corners": 6, "side": 640}}, )",
                                           R"("boards": {"lie": "flat", "all": {"width": 90, "thickness": 1.5}})"),
                                       "value.odd-scale");
    CHECK_THAT(finding.message, ContainsSubstring("1.5 mm") && ContainsSubstring("1.5 cm or 1.5 in"));
    CHECK_THAT(finding.fix, ContainsSubstring("\"1.5 mm\""));
}

// Found: 0.0000001 over the flats was planned, and shown as "0 over the flats".
TEST_CASE("A size that nobody saws is refused with what is allowed") {
    const auto refused = [](const std::string& outline, const std::string& boards = kBoards, const std::string& more = "") {
        const Finding finding = finding_of(job(outline, boards, more), "value.out-of-range");
        CHECK(finding.severity == Severity::error);
        CHECK_THAT(finding.message + finding.fix, ContainsSubstring("1 mm") || ContainsSubstring("0.5 mm"));
        return finding.pointer;
    };
    CHECK(refused(R"("outline": {"line": "inside", "regular": {"corners": 6, "over_flats": 0.0000001}}, )") == "/outline/regular/over_flats");
    CHECK(refused(R"("outline": {"line": "inside", "rectangle": {"length": 900, "width": "0.9 mm"}}, )") == "/outline/rectangle/width");
    CHECK(refused(kRing, R"("boards": {"lie": "flat", "all": {"width": 0.001, "thickness": 20}})") == "/boards/all/width");
    CHECK(refused(kRing, R"("boards": {"lie": "flat", "all": {"width": 90, "thickness": 0.4}})") == "/boards/all/thickness");
    CHECK(refused(R"("outline": {"line": "inside", "readings": ["AB 0.001", "BC 900", "CA 900"]}, )") == "/outline/readings/0");
    CHECK(refused(R"("outline": {"line": "inside", "points": [[0, 0], [0.0001, 0], [0.0001, 0.0001]]}, )") == "/outline/points");
    const ProjectRead least = read_project(job(R"("outline": {"line": "inside", "regular": {"corners": 6, "side": 1}}, )",
                                               R"("boards": {"lie": "flat", "all": {"width": 0.5, "thickness": "0.5 mm"}})"));
    CHECK(least.project);
}

// Found: a margin of 800 beside 8s was planned without a word.
TEST_CASE("A margin ten or a hundred times the others is asked about, and one outside its least and most") {
    const auto told = [](const std::string& margin, const std::string& more = "") {
        std::string codes;
        const ProjectRead read = read_project(job(R"("outline": {"line": "inside", "rectangle": {"length": 900, "width": 1200}, "margin": )" + margin + more + "}, ", kBoards));
        for (const Finding& f : read.findings) codes += f.code + " " + f.pointer + " ";
        return codes;
    };
    CHECK(told(R"({"all": 8, "3": 800})") == "value.odd-scale /outline/margin/3 ");
    CHECK(told(R"({"all": 8, "3": 75})") == "value.odd-scale /outline/margin/3 ");
    CHECK(told(R"({"all": -8, "3": -80})") == "value.odd-scale /outline/margin/3 ");
    CHECK(told(R"({"all": 8, "3": "800 mm"})").empty());  // its unit was written: it is meant
    CHECK(told(R"({"all": 8, "3": 60})").empty());
    CHECK(told(R"({"all": 0, "3": 60})").empty());
    CHECK(told(R"({"3": 800})").empty());
    const Finding odd = finding_of(job(R"("outline": {"line": "inside", "rectangle": {"length": 900, "width": 1200}, "margin": {"all": 8, "3": 800}}, )", kBoards), "value.odd-scale");
    CHECK(odd.severity == Severity::warning);
    CHECK_THAT(odd.message, ContainsSubstring("The margin of board 3 is 800 mm; no other is over 8 mm"));
    CHECK_THAT(odd.fix, ContainsSubstring("Write 8 if"));

    const std::string found = R"(, "basis": "found", "readings": [ "AB 903", "BC 1194", "CD 909", "DA 1201", "AC 1496", "BD 1507", "AB fall 3" ]}, )";
    const auto outside = [&](const std::string& margin) {
        std::string pointers;
        for (const Finding& f : read_project(job(R"("outline": {"line": "inside", "seen": "from the room", "margin": )" + margin + found, kBoards)).findings) {
            if (f.code == "hang.margin-outside") pointers += f.pointer + " ";
        }
        return pointers;
    };
    CHECK(outside(R"({"all": 8, "least": 4, "most": 14})").empty());
    CHECK(outside(R"({"least": 4, "most": 14})").empty());
    CHECK(outside(R"({"all": 8, "least": 4, "most": 14, "2": 20, "3": 14})") == "/outline/margin/2 ");
    CHECK(outside(R"({"all": 2, "least": 4, "most": 14})") == "/outline/margin/all ");
}

TEST_CASE("All findings come at once, in file order, each at its line") {
    const ProjectRead read = read_project(
        "{\n \"format\": \"boardring-project-2\",\n \"units\": \"mm\",\n \"wanted\": {\"gap\": -1},\n"
        " \"boards\": {\"lie\": \"flat\", \"al\": {}, \"9\": {\"width\": 90, \"thickness\": true}},\n"
        " \"outline\": {\"line\": \"insid\", \"regular\": {\"corners\": 5, \"over_flats\": 640}}\n}\n");
    CHECK_FALSE(read.project);
    const std::vector<std::tuple<std::string, std::string, int>> expected{
        {"value.not-allowed", "/format", 2},       {"value.out-of-range", "/wanted/gap", 4},
        {"board.no-size", "/boards", 5},           {"key.unknown", "/boards/al", 5},
        {"board.no-such-board", "/boards/9", 5},   {"value.wrong-type", "/boards/9/thickness", 5},
        {"value.not-allowed", "/outline/line", 6}, {"outline.odd-corners", "/outline/regular/over_flats", 6},
    };
    std::vector<std::tuple<std::string, std::string, int>> told;
    for (const Finding& f : read.findings) told.emplace_back(f.code, f.pointer, f.line);
    CHECK(told == expected);
}

TEST_CASE("One fault is told once, not again by what depends on it") {
    const auto codes = [](const std::string& text) {
        std::string told;
        for (const Finding& f : read_project(text).findings) told += f.code + " ";
        return told;
    };
    const std::string on_rail = R"("boards": {"lie": "flat", "all": {"stock": "rail"}})";
    CHECK(codes(job(kRing, on_rail, R"("stock": [])")) == "value.wrong-type ");
    CHECK(codes(job(kRing, on_rail, R"("stock": {"rail": 5})")) == "value.wrong-type ");
    CHECK(codes(job(kRing, on_rail, R"("stock": {"rail": {"width": 90, "thickness": "thin"}})")) == "length.not-understood ");
    CHECK(codes(job(kRing, R"("boards": {"lie": "flat", "all": 5})")) == "value.wrong-type ");
    CHECK(
        codes(job(
            R"("outline": {"line": "inside", "regular": {"corners": 2, "side": 400}}, )", kBoards,
            R"("joints": {"G": {"kind": "butt", "through": 9}}, "ends": {"A": {"square": true}}, "wanted": {"fit_last": 9})")) ==
        "value.out-of-range ");
    CHECK(codes(kHead + R"("units": "furlong", "outline": {"line": "inside", "rectangle": {"length": 900, "width": 1.5}}, )" +
                kBoards + "}") == "value.not-allowed ");
}

TEST_CASE("A mistyped key is answered with the one that was meant") {
    const auto fix_for = [](const std::string& more) { return finding_of(job(kRing, kBoards, more), "key.unknown").fix; };
    CHECK_THAT(fix_for(R"("tools": {"kref": 3})"),
               ContainsSubstring("Did you mean \"kerf\"?") && ContainsSubstring("bevel_base"));
    CHECK_THAT(fix_for(R"("wnated": {})"), ContainsSubstring("Did you mean \"wanted\"?"));
    CHECK_THAT(fix_for(R"("tools": {"saw_cut": 3})"), ContainsSubstring("Did you mean \"kerf\"?"));
    CHECK_THAT(fix_for(R"("joints": {"A1": {}})"), ContainsSubstring("corner letters"));
    CHECK_THAT(fix_for(R"("tools": {"zzzzzz": 3})"), !ContainsSubstring("Did you mean"));
}

TEST_CASE("Places name the line of every value, and of the nearest ancestor of what is not there") {
    const ProjectRead read = read_project("{\n \"a\": {\n  \"b\": [1,\n 2]}}");
    CHECK(place_of(read.places, "/a/b/1") == Place{4, 2});
    CHECK(place_of(read.places, "/a/b/7") == Place{3, 8});
    CHECK(place_of(read.places, "/a/c/d") == Place{2, 7});
    CHECK(place_of(read.places, "/x") == Place{1, 1});
    CHECK(place_of({}, "/x") == Place{0, 0});
}

TEST_CASE("A name that would turn a line of the terminal round is refused, and stands in no pointer") {
    const Finding finding = finding_of(job(kRing, kBoards, "\"stock\": {\"a\xE2\x80\xAE\": {\"width\": 9, \"thickness\": 9}}"),
                                       "value.control-character");
    CHECK(finding.pointer == "/stock");
    CHECK(finding.message.find("\xE2\x80\xAE") == std::string::npos);
}

TEST_CASE("A size of the outline's form that stands beside it is sent inside it") {
    const auto fix_for = [](const std::string& sizes) {
        return finding_of(R"({"format": "boardring-project-1", "units": "mm", "outline": {"line": "inside", )" + sizes +
                              R"(}, "boards": {"lie": "flat", "all": {"width": 90, "thickness": 20}}})",
                          "key.unknown")
            .fix;
    };
    CHECK_THAT(fix_for(R"("corners": 6)"), ContainsSubstring(R"(Write it inside "regular": "regular": { "corners": 6)"));
    CHECK_THAT(fix_for(R"("sides": 6)"), ContainsSubstring(R"(Write it inside "regular")"));
    CHECK_THAT(fix_for(R"("radius": 500)"), ContainsSubstring(R"(Write it inside "arc")"));
    CHECK_THAT(fix_for(R"("corners": [[0, 0], [900, 0], [900, 700]])"), ContainsSubstring(R"(Did you mean "points"?)"));
    CHECK_THAT(fix_for(R"("sides": ["AB 900"])"), ContainsSubstring(R"(Did you mean "readings"?)"));
}

TEST_CASE("Two sizes of a board are those of its two ends, in the order of its letters") {
    const auto boards = [](const std::string& text) {
        return project_of(R"({"format": "boardring-project-1", "units": "mm", "outline": {"line": "inside", "regular": {"corners": 3, "side": 700}}, "boards": )" +
                          text + "}");
    };
    const Project on_edge = boards(R"({"lie": "on edge", "all": {"width": 145, "thickness": [38, 36.6]}, "2": {"thickness": ["36 mm", 38]}, "3": {"thickness": 30}})");
    CHECK(on_edge.boards[0].thickness_mm == 38.0);
    CHECK(on_edge.width_in_joint_mm(0, 0) == 38.0);
    CHECK_THAT(on_edge.width_in_joint_mm(0, 1), WithinAbs(36.6, 1e-12));
    CHECK(on_edge.width_in_joint_mm(1, 0) == 36.0);
    CHECK(on_edge.width_in_joint_mm(1, 1) == 38.0);
    CHECK(on_edge.boards[2].taper_mm == 0.0);
    const Project flat = boards(R"({"lie": "flat", "all": {"width": [90, 92], "thickness": 20}, "3": {"width": 70}})");
    CHECK(flat.boards[0].width_mm == 92.0);
    CHECK(flat.width_in_joint_mm(0, 0) == 90.0);
    CHECK(flat.boards[2].taper_mm == 0.0);
    for (const char* wrong : {R"({"lie": "on edge", "all": {"width": 145, "thickness": [38]}})", R"({"lie": "on edge", "all": {"width": 145, "thickness": [38, 37, 36]}})",
                              R"({"lie": "on edge", "all": {"width": 145, "thickness": [38, -1]}})", R"({"lie": "on edge", "all": {"width": 145, "thickness": [38, "thin"]}})",
                              R"({"lie": "on edge", "all": {"width": [145, 144], "thickness": 38}})"}) {
        const std::string text = R"({"format": "boardring-project-1", "units": "mm", "outline": {"line": "inside", "regular": {"corners": 3, "side": 700}}, "boards": )" +
                                 std::string(wrong) + "}";
        INFO(wrong);
        CHECK(has_error(read_project(text).findings));
    }
}
