// Lines of the notebook with words: against level and plumb, taped corners, bows; margins with a least and a most; pegs.
#include <string>
#include <variant>
#include <vector>

#include "io/read_project.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

std::string job(const std::string& readings, const std::string& more = "", const std::string& seen = "from the room",
                const std::string& basis = "found") {
    return R"({"format": "boardring-project-1", "units": "mm", "outline": {"line": "inside", "basis": ")" + basis + R"(", "seen": ")" + seen +
           "\", \"readings\": [" + readings + "]" + more + R"(}, "boards": {"lie": "flat", "all": {"width": 90, "thickness": 20}}})";
}

const std::string kSquare = R"("AB 900", "BC 900", "CD 900", "DA 900", "AC 1273", "BD 1273")";

Reading last_of(const std::string& text) {
    const ProjectRead read = read_project(job(kSquare + ", \"" + text + "\""));
    for (const Finding& f : read.findings) UNSCOPED_INFO(f.code << " " << f.message);
    REQUIRE(read.project);
    return std::get<ReadingsOutline>(read.project->outline.form).readings.back();
}

std::string code_of(const std::string& text) {
    const ProjectRead read = read_project(text);
    return read.findings.empty() ? std::string() : read.findings.front().code;
}

}  // namespace

TEST_CASE("A fall against level and a lean against plumb say how far, and from which corner to which") {
    CHECK(last_of("AB fall 5").kind == Reading::Kind::fall);
    CHECK(last_of("AB fall 5").value == 5.0);
    CHECK(last_of("AB fall 5").first == 0);
    CHECK(last_of("AB rise 5").first == 1);  // the same as BA fall 5
    CHECK(last_of("AB falls 5 +-2").accuracy == 2.0);
    CHECK(last_of("AB level").value == 0.0);
    CHECK(last_of("AC fall: 5").second == 2);
    CHECK(last_of("BC right 4").kind == Reading::Kind::right);
    CHECK(last_of("BC right 4").second == 2);
    CHECK(last_of("BC left 4").second == 1);
    CHECK(last_of("BC plumb").value == 0.0);
    const Reading sill = last_of("AB sill"), head = last_of("BA top"), other = last_of("CD head");
    CHECK((sill.kind == Reading::Kind::sill && sill.first == 0 && sill.second == 1));
    CHECK((head.kind == Reading::Kind::sill && head.first == 1 && head.second == 0));
    CHECK((other.kind == Reading::Kind::sill && other.first == 3 && other.second == 2));
}

TEST_CASE("A taped corner is an angle with the tape's accuracy, and inward turns it round") {
    const Reading tie = last_of("B tie 900 1200 1500");
    CHECK(tie.kind == Reading::Kind::angle);
    CHECK(*tie.value == Approx(90.0));
    CHECK(*tie.deg_per_mm == Approx(0.1124).epsilon(0.01));
    CHECK(*last_of("B tie 900 1200 1500 +-2").accuracy == Approx(2.0 * *tie.deg_per_mm));
    CHECK(last_of("B tie 900 1200 1500 inward").inward);
    CHECK(code_of(job(kSquare + R"(, "B tie 900 1200 2200")")) == "reading.no-triangle");
    CHECK(code_of(job(kSquare + R"(, "B tie 900 1200")")) == "reading.not-understood");
    CHECK(code_of(job(kSquare + R"(, "AB tie 900 1200 1500")")) == "reading.not-understood");
    // A wanted outline takes it as the angle of that corner.
    const ProjectRead wanted = read_project(job(R"("AB 900", "BC 1200", "CA 1500", "A 53.13", "B tie 900 1200 1500", "C 36.87")", "", "from above", "wanted"));
    REQUIRE(wanted.project);
}

TEST_CASE("A bow is the middle of a side, outward or inward") {
    CHECK(last_of("AB bow 6 outward").value == 6.0);
    CHECK(last_of("AB bow 6 inward").value == -6.0);
    CHECK(last_of("AD bow 6 inward").first == 3);
    CHECK(last_of("BC to DA 898").kind == Reading::Kind::width);  // a middle width: from side 1 to side 3
    CHECK(last_of("CB to AD 898").first == 1);
    CHECK(last_of("BC to DA 898").second == 3);
    CHECK(last_of("BC to DA 898").value == 898.0);
    CHECK(code_of(job(kSquare + R"(, "BC to AC 898")")) == "reading.not-understood");
    CHECK(code_of(job(kSquare + R"(, "BC to 898")")) == "reading.not-understood");
    CHECK(code_of(job(kSquare + R"(, "AB bow 6")")) == "reading.not-understood");
    CHECK(code_of(job(kSquare + R"(, "AC bow 6 inward")")) == "reading.not-understood");
}

TEST_CASE("Worded readings that cannot be are refused with the reason") {
    CHECK(code_of(job(kSquare + R"(, "AB fall 5")", "", "from above")) == "reading.level-from-above");
    CHECK(code_of(job(kSquare + R"(, "AB fall")")) == "reading.not-understood");
    CHECK(code_of(job(kSquare + R"(, "AB level 5")")) == "reading.not-understood");
    CHECK(code_of(job(kSquare + R"(, "A fall 5")")) == "reading.not-understood");
    CHECK(code_of(job(kSquare + R"(, "AB fall -5")")) == "value.out-of-range");
    CHECK(code_of(job(R"("AB 900", "BC 1200", "CA 1500", "A 53.13", "B 90", "C 36.87", "AB fall 3")", "", "from the room", "wanted")) == "reading.only-found");
}

TEST_CASE("A margin with a least and a most asks how the frame hangs") {
    const ProjectRead read = read_project(job(kSquare, R"(, "margin": {"all": 8, "least": 3, "most": 16, "2": 6}, "hang": "true")"));
    REQUIRE(read.project);
    const HangAsked& hang = *read.project->outline.hang;
    CHECK(hang.true_to_level);
    CHECK(hang.least_mm == 3.0);
    CHECK(hang.most_mm == 16.0);
    CHECK(read.project->outline.margin_mm[0] == 8.0);
    CHECK(read.project->outline.margin_mm[1] == 6.0);
    const ProjectRead half = read_project(job(kSquare, R"(, "margin": {"least": 4, "most": 14})"));
    REQUIRE(half.project);
    CHECK(half.project->outline.margin_mm[0] == 9.0);
    CHECK_FALSE(half.project->outline.hang->true_to_level);
    CHECK(code_of(job(kSquare, R"(, "margin": {"least": 14, "most": 4})")) == "hang.least-over-most");
    CHECK(code_of(job(kSquare, R"(, "margin": {"least": 4})")) == "key.missing");
    CHECK(code_of(job(kSquare, R"(, "hang": "true")")) == "hang.no-margins");
    const std::string wanted = R"({"format": "boardring-project-1", "units": "mm", "outline": {"line": "inside", "rectangle": {"length": 900, "width": 600}, "margin": {"least": 4, "most": 9}}, "boards": {"lie": "flat", "all": {"width": 90, "thickness": 20}}})";
    CHECK(code_of(wanted) == "hang.not-found");
}

TEST_CASE("Pegs take readings by the letters of the outline, and some may have to stay") {
    const auto bed = [](const std::string& pegs) {
        return R"({"format": "boardring-project-1", "units": "mm", "outline": {"line": "inside", "rectangle": {"length": 900, "width": 600}, "pegs": )" + pegs +
               R"(}, "boards": {"lie": "flat", "all": {"width": 90, "thickness": 20}}})";
    };
    const std::string readings = R"(["AB 900", "BC 600", "CD 900", "DA 600", "AC 1082"])";
    const ProjectRead read = read_project(bed(readings));
    REQUIRE(read.project);
    CHECK(read.project->outline.pegs->readings.readings.size() == 5);
    const ProjectRead stay = read_project(bed(R"({"readings": )" + readings + R"(, "stay": ["A", "B"]})"));
    REQUIRE(stay.project);
    CHECK(stay.project->outline.pegs->stay == std::vector<std::size_t>{0, 1});
    CHECK(code_of(bed(R"({"readings": )" + readings + R"(, "stay": ["F"]})")) == "pegs.no-such-peg");
    CHECK(code_of(bed(R"(["AB 900", "BC 600", "CA 1082"])")) == "pegs.other-corners");
    CHECK(code_of(job(kSquare, R"(, "pegs": ["AB 900", "BC 900", "CD 900", "DA 900"])")) == "pegs.found-outline");
}
