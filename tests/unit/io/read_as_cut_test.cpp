#include "io/read_as_cut.hpp"

#include <string>
#include <vector>

#include "io/read_project.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

Project hexagon(const std::string& units = "mm", const std::string& tools = "{}") {
    const ProjectRead read = read_project(R"({"format": "boardring-project-1", "units": ")" + units + R"(",
        "outline": {"line": "inside", "regular": {"corners": 6, "side": 400}}, "stock": {"rail": {"width": 145, "thickness": 38}},
        "boards": {"lie": "on edge", "all": {"stock": "rail"}}, "tools": )" + tools + "}");
    return read.project.value();
}

std::string trouble(const std::vector<std::string>& words, const Project& project = hexagon()) {
    const AsCutRead read = read_as_cut_words(words, project);
    return read.findings.empty() ? std::string() : read.findings.front().code + " " + read.findings.front().message;
}

}  // namespace

TEST_CASE("words of the command line are boards, diagonals and the gap of one joint") {
    const AsCutRead read = read_as_cut_words({"4=423.5/368", "3=400", "ac=812", "A=0/0.8"}, hexagon());
    REQUIRE(read.as_cut.has_value());
    REQUIRE(read.as_cut->boards.size() == 2);
    CHECK(read.as_cut->boards[0].board == 2);
    CHECK(read.as_cut->boards[0].long_mm == 400.0);
    CHECK_FALSE(read.as_cut->boards[0].short_mm.has_value());
    CHECK(read.as_cut->boards[1].short_mm == 368.0);
    CHECK(read.as_cut->diagonals.front().second == 2);
    CHECK(read.as_cut->gap->outside_mm == 0.8);
}

TEST_CASE("inch fractions beside a stroke are parted where both sides are lengths") {
    const Project inches = hexagon("in");
    const AsCutRead read = read_as_cut_words({"4=16-1/4/14-1/2", "3=15-3/4"}, inches);
    REQUIRE(read.as_cut.has_value());
    CHECK_THAT(*read.as_cut->boards[1].long_mm, WithinAbs(16.25 * 25.4, 1e-9));
    CHECK_THAT(*read.as_cut->boards[1].short_mm, WithinAbs(14.5 * 25.4, 1e-9));
    CHECK_THAT(*read.as_cut->boards[0].long_mm, WithinAbs(15.75 * 25.4, 1e-9));
}

TEST_CASE("words that say nothing are told, each once") {
    CHECK_THAT(trouble({"9=400"}), ContainsSubstring("refit.not-understood") && ContainsSubstring("6 boards"));
    CHECK_THAT(trouble({"3"}), ContainsSubstring("no ="));
    CHECK_THAT(trouble({"3=400", "3=401"}), ContainsSubstring("given twice"));
    CHECK_THAT(trouble({"AC=812", "ca=813"}), ContainsSubstring("given twice"));
    CHECK_THAT(trouble({"3=368/400"}), ContainsSubstring("farther apart"));
    CHECK_THAT(trouble({"3=-4"}), ContainsSubstring("more than 0"));
    CHECK_THAT(trouble({"H=0/1"}), ContainsSubstring("no such board"));
    CHECK_THAT(trouble({"A=0/1", "B=0/1"}), ContainsSubstring("one joint is enough"));
    CHECK_THAT(trouble({"AC=0"}), ContainsSubstring("no such board"));
    CHECK(read_as_cut_words({"3=x", "4=y"}, hexagon()).findings.size() == 2);
}

TEST_CASE("an as-cut file has slopes by corner on the maker's own scale, and its findings say where") {
    const std::string text = R"({"format": "boardring-as-cut-1", "boards": {"6": {"long": 440, "F": 60.5, "a": 59}, "1": {}}, "diagonals": {"AC": 690},
        "gap": {"A": {"outside": 0.5}}, "accuracy": {"length": 0.3}})";
    const AsCutRead read = read_as_cut(text, hexagon("mm", R"({"scale_at_square": 90})"));
    REQUIRE(read.as_cut.has_value());
    CHECK(read.as_cut->boards[0].board == 0);
    CHECK(read.as_cut->boards[1].saw_deg[0] == 29.5);
    CHECK(read.as_cut->boards[1].saw_deg[1] == 31.0);
    CHECK(read.as_cut->length_accuracy_mm == 0.3);
    CHECK_FALSE(read.as_cut->angle_accuracy_deg.has_value());
    const AsCutRead wrong = read_as_cut(R"({"format": "boardring-as-cut-1", "boards": {"7": {}, "3": {"A": 30}}})", hexagon());
    REQUIRE(wrong.findings.size() == 2);
    CHECK(wrong.findings[0].pointer == "/boards/7");
    CHECK_THAT(wrong.findings[1].message, ContainsSubstring("no end at \"A\""));
    CHECK(wrong.findings[1].line == 1);
}

TEST_CASE("what an as-cut file says twice, in whatever case, or the wrong way about, is told") {
    const auto told = [](const std::string& boards, const std::string& diagonals) {
        const AsCutRead read = read_as_cut(R"({"format": "boardring-as-cut-1", "boards": {)" + boards + R"(}, "diagonals": {)" + diagonals + "}}", hexagon());
        CHECK_FALSE(read.as_cut.has_value());
        return read.findings.size() == 1 ? read.findings[0].pointer + " " + read.findings[0].message : std::string("not one finding");
    };
    CHECK_THAT(told(R"("1": {"A": 30, "a": 29})", ""), ContainsSubstring("/boards/1/a") && ContainsSubstring("slope at A twice"));
    CHECK_THAT(told(R"("1": {})", R"("AC": 690, "ca": 691)"), ContainsSubstring("/diagonals/ca") && ContainsSubstring("given twice"));
    CHECK_THAT(told(R"("1": {"long": 368, "short": 400})", ""), ContainsSubstring("/boards/1/short"));
}

TEST_CASE("damaged as-cut texts and words never throw") {
    boardring_test::Random random(5);
    const Project project = hexagon();
    const std::string sound = R"({"format": "boardring-as-cut-1", "boards": {"6": {"long": 440, "F": 30}}, "diagonals": {"AC": 690}})";
    for (int round = 0; round < 3000; ++round) {
        std::string text = sound;
        for (std::size_t i = 0; i < 1 + random.index(4); ++i) text[random.index(text.size())] = static_cast<char>(32 + random.index(95));
        const AsCutRead read = read_as_cut(text, project);
        CHECK((read.as_cut.has_value() || !read.findings.empty()));
        std::string word = "4=423.5/368";
        word[random.index(word.size())] = static_cast<char>(random.index(256));
        const AsCutRead said = read_as_cut_words({word}, project);
        CHECK((said.as_cut.has_value() || !said.findings.empty()));
    }
}
