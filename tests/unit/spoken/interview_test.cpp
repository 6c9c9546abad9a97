#include "spoken/interview.hpp"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "io/read_project.hpp"
#include "spoken/sentence.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

Interview asked(const std::vector<std::string>& lines) {
    Interview interview;
    for (const std::string& line : lines) {
        INFO(line);
        const Answered answered = interview.answer(line);
        for (const std::string& text : answered.says) UNSCOPED_INFO(text);
        REQUIRE(answered.taken);
    }
    return interview;
}

std::string all(const std::vector<std::string>& lines) {
    std::string text;
    for (const std::string& line : lines) text += line + "\n";
    return text;
}

}  // namespace

TEST_CASE("nine times Enter make a planter") {
    const Interview interview = asked(std::vector<std::string>(9, ""));
    REQUIRE(interview.done());
    const InterviewProject project = interview.project();
    REQUIRE_FALSE(project.text.empty());
    CHECK(project.name == "hexagon-640");
    CHECK(read_project(project.text).project);
}

TEST_CASE("an interview and the sentence of its answers give the same project, to the byte") {
    const std::vector<std::vector<std::string>> interviews{
        {"octagon", "", "24 in inside flats", "5 1/2 x 1 1/2", "on edge, two courses", "", "butt", "saw stops at 45, kerf 1/8", "fine"},
        {"rectangle", "wanted", "1200 by 600 outside", "145x38, one 28", "", "show face", "butt at B, 2 through", "", "joinery"},
        {"L", "", "1800 by 1200 outside, notch 700 by 500", "195x45, boards 2 and 3 are 38", "", "both alike", "butt", "saw reads 90", ""},
        {"arch", "", "", "120x30", "", "", "", "saw swings to 50", ""},
        {"door", "", "762 by 1981, margin 6", "95x20", "", "moulded", "", "", ""},
        {"7", "", "side 400 inside", "145x38", "", "", "half-laps", "", "garden"},
        {"half ring", "", "", "", "", "", "", "", ""}};
    for (const std::vector<std::string>& lines : interviews) {
        INFO(all(lines));
        const Interview interview = asked(lines);
        REQUIRE(interview.done());
        const InterviewProject project = interview.project();
        REQUIRE_FALSE(project.text.empty());
        CHECK(project.text == read_sentence(project.sentence).project_text);
        CHECK(read_project(project.text).project);
    }
}

TEST_CASE("answers are said back in words, and what they mean for the cuts") {
    Interview interview;
    CHECK_THAT(all(interview.answer("octagon").says), ContainsSubstring("corners of 135: blunt corner, boards turn by 45"));
    CHECK_THAT(all(interview.answer("").says), ContainsSubstring("wanted"));
    CHECK_THAT(all(interview.answer("500 inside flats").says), ContainsSubstring("500 mm"));
    CHECK(interview.number() == 4);
}

TEST_CASE("a question says why it is asked, and one step back asks it again") {
    Interview interview = asked({"octagon", "", "500 inside flats"});
    const Answered why = interview.answer("?");
    CHECK_FALSE(why.taken);
    CHECK_THAT(all(why.says), ContainsSubstring("thick board meets a thin one"));
    CHECK(interview.number() == 4);
    interview.answer("<");
    CHECK(interview.number() == 3);
    CHECK(interview.lines() == std::vector<std::string>{"octagon", ""});
    REQUIRE(interview.answer("600 outside flats").taken);
    interview.answer("<");
    interview.answer("<");
    interview.answer("<");
    CHECK(interview.number() == 1);
    CHECK_FALSE(interview.answer("<").says.empty());
    CHECK(interview.number() == 1);
}

TEST_CASE("an answer that does not fit is told at once and asked again") {
    Interview interview;
    CHECK_THAT(all(interview.answer("hexagn").says), ContainsSubstring("hexagon"));
    CHECK(interview.number() == 1);
    REQUIRE(interview.answer("pentagon").taken);
    CHECK_FALSE(interview.answer("perhaps").taken);
    REQUIRE(interview.answer("wanted").taken);
    CHECK_FALSE(interview.answer("640 inside flats").taken);  // five corners have no opposite flats
    CHECK_FALSE(interview.answer("1,200 side inside").taken);
    CHECK_FALSE(interview.answer("400").taken);
    CHECK_FALSE(interview.answer(std::string(100'000, 'x')).taken);
    CHECK_FALSE(interview.answer("\x1b[31m").taken);
    CHECK(interview.number() == 3);
}

TEST_CASE("readings found with a tape are taken line by line and stand in the file as said") {
    const std::vector<std::string> notebook{"AB 1150", "BC 860", "CD 940", "DE 1027", "ea 737 +-2", "A 106", "B 112", "C 98", "D 117", "E 107"};
    Interview interview = asked({"pentagon", "found"});
    CHECK_FALSE(interview.answer("").taken);
    for (const std::string& line : notebook) REQUIRE(interview.answer(line).taken);
    CHECK_FALSE(interview.answer("AB 1140").taken);
    CHECK_FALSE(interview.answer("AC 1,200").taken);
    CHECK_FALSE(interview.answer("nonsense").taken);
    REQUIRE(interview.answer("").taken);
    CHECK(interview.number() == 4);
    for (std::size_t i = 0; i < 6; ++i) REQUIRE(interview.answer("").taken);
    const InterviewProject project = interview.project();
    INFO(project.text);
    for (const std::string& line : notebook) CHECK_THAT(project.text, ContainsSubstring("\"" + line + "\""));
    CHECK_THAT(project.text, ContainsSubstring("\"basis\": \"found\""));
    CHECK(project.text.find("regular") == std::string::npos);
    CHECK(project.name == "pentagon-found");
    CHECK(read_project(project.text).project);
    CHECK(project.text.find("\"side\"") == std::string::npos);
}

TEST_CASE("shapes with free ends are found too: a chain of one board less than corners") {
    Interview door = asked({"door", "found", "AB 1983", "BC 763", "CD 1979", "B 90", "C 90", "AD 763", "AC 2125"});
    REQUIRE(door.answer("").taken);
    REQUIRE(door.answer("95x20, board 2 is 120 wide").taken);
    for (std::size_t i = 0; i < 5; ++i) REQUIRE(door.answer("").taken);
    const InterviewProject project = door.project();
    INFO(project.text);
    const ProjectRead read = read_project(project.text);
    REQUIRE(read.project);
    CHECK(read.project->outline.open);
    CHECK(read.project->boards.size() == 3);
    CHECK(read.project->boards[1].width_mm == 120.0);
    CHECK(read.project->lie == Lie::flat);
    CHECK(read.project->outline.seen_from_room);
    CHECK(read.project->first_end.saw_deg == 0.0);
    CHECK(project.name == "door-found");
    CHECK(project.assumed.empty());
    CHECK(project.text.find("\"arc\"") == std::string::npos);
    CHECK_FALSE(asked({"door", "found", "AB 1983", "BC 763", "CD 1979", "DE 1", "B 90", "C 90"}).answer("").taken);
    CHECK(asked({"half hexagon", "found", "AB 603", "BC 1204", "CD 598", "B 135", "C 134.5"}).answer("").taken);
}

TEST_CASE("a notebook is held against the shape, and says its side and its unit") {
    Interview wrong = asked({"pentagon", "found", "AB 400", "BC 400", "CD 400", "DA 400", "A 90", "B 90", "C 90", "D 90"});
    CHECK_THAT(all(wrong.answer("").says), ContainsSubstring("names 4 corners, A to D; pentagon has 5"));
    CHECK(asked({"triangle", "found", "AB 400", "BC 400", "CA 400"}).answer("").taken);  // three sides hold a triangle
    Interview open = asked({"arch"});
    CHECK_THAT(all(open.answer("found").says), ContainsSubstring("its ends are open"));
    Interview window = asked({"window", "found", "AB 35 1/2 in", "BC 47", "CD 35 9/16", "DA 47 1/16", "A 90", "B 90", "C 90", "D 90", "outside", "margin 1/4"});
    REQUIRE(window.answer("").taken);
    CHECK(window.usual().find(" in") != std::string::npos);
    const std::string text = window.project().text;
    INFO(text);
    CHECK_THAT(text, ContainsSubstring("\"units\": \"in\"") && ContainsSubstring("\"line\": \"outside\"") && ContainsSubstring("\"margin\"") &&
                         ContainsSubstring("\"seen\": \"from the room\""));
    CHECK(read_project(text).project);
}

TEST_CASE("the lines taken lead a new interview to the same place") {
    const Interview first = asked({"pentagon", "found", "AB 400", "BC 400", "CA 400", "A 60"});
    const Interview second = asked(first.lines());
    CHECK(second.number() == first.number());
    CHECK(second.lines() == first.lines());
}

TEST_CASE("random interviews and what they answered, said in another order, give the same project") {
    using Choices = std::vector<std::string>;
    const std::vector<std::pair<std::string, std::string>> shapes{
        {"hexagon", "640 inside flats"}, {"octagon", "24 in inside flats"}, {"pentagon", "side 400 outside"}, {"rectangle", "1200 by 600 inside"},
        {"L", "1800 by 1200 outside, notch 700 by 500"}, {"arch", "1100 wide, rise 400 inside, 7 pieces"}, {"window", "900 by 1200, margin 6"}};
    const Choices lies{"", "on edge", "flat", "on edge, two courses"}, shows{"", "both alike", "show face", "moulded"}, joints{"", "mitred", "butt"},
        saws{"", "saw stops at 45", "saw reads 90, saw swings to 40"}, trues{"", "garden", "fine"};
    boardring_test::Random random(5);
    for (int i = 0; i < 200; ++i) {
        const auto& [shape, size] = shapes[random.index(shapes.size())];
        const std::string boards = size.find(" in ") != std::string::npos ? "5 1/2 in x 1 1/2 in" : random.chance(0.3) ? "145x38, one 28" : "145x38";
        const auto one_of = [&random](const Choices& choices) { return choices[random.index(choices.size())]; };
        const std::vector<std::string> lines{shape, "", size, boards, one_of(lies), one_of(shows), one_of(joints), one_of(saws), one_of(trues)};
        INFO(all(lines));
        const Interview interview = asked(lines);
        const InterviewProject project = interview.project();
        REQUIRE_FALSE(project.text.empty());
        REQUIRE(read_project(project.text).project);
        // Its sentence, turned round at a comma.
        const std::string& sentence = project.sentence;
        std::vector<std::size_t> commas;
        for (std::size_t at = sentence.find(", "); at != std::string::npos; at = sentence.find(", ", at + 1)) commas.push_back(at);
        const std::size_t cut = commas[random.index(commas.size())];
        const std::string turned_round = sentence.substr(cut + 2) + ", " + sentence.substr(0, cut);
        const auto below = [](const std::string& text) { return text.substr(text.find('\n')); };  // the first line says the words themselves
        REQUIRE(below(read_sentence(turned_round).project_text) == below(project.text));
    }
}
