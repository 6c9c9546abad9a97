#include <map>
#include <string>
#include <vector>

#include "io/read_project.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

std::string project(const std::string& stock_file, const std::string& own_stock) {
    return R"({"format": "boardring-project-1", "units": "mm", "stock_file": )" + stock_file + R"(, "stock": )" + own_stock +
           R"(, "pieces": [{"name": "foot", "stock": "rail", "length": 80}]})";
}

std::string stock_file(const std::string& units, const std::string& stock) {
    return R"({"format": "boardring-stock-1", "units": ")" + units + R"(", "stock": )" + stock + "}";
}

ReadBeside files(std::map<std::string, std::string> texts, std::vector<std::string>* asked = nullptr) {
    return [texts = std::move(texts), asked](const std::string& name) -> BesideText {
        if (asked != nullptr) asked->push_back(name);
        const auto at = texts.find(name);
        if (at == texts.end()) return {std::nullopt, "there is no such file"};
        return {at->second, ""};
    };
}

std::vector<std::string> errors_of(const ProjectRead& read) {
    std::vector<std::string> codes;
    for (const Finding& finding : read.findings) {
        if (finding.severity == Severity::error) codes.push_back(finding.code);
    }
    return codes;
}

}  // namespace

TEST_CASE("A stock file brings boards the project does not name, in its own unit") {
    const auto beside = files({{"yard.json", stock_file("in", R"({"rail": {"width": 5.5, "thickness": 1.5, "lengths": [{"length": "8 ft"}]}})")}});
    const ProjectRead read = read_project(project(R"("yard.json")", "{}"), beside);
    REQUIRE(read.project);
    REQUIRE(read.project->stock.size() == 1);
    CHECK(read.project->stock[0].width_mm == Approx(139.7));
    CHECK(read.project->stock[0].lengths.at(0).length_mm == Approx(2438.4));
    CHECK(read.project->stock[0].end_trim_mm == Approx(19.05));
}

TEST_CASE("Of a stock both name the file's lengths are added: an offer once, boards at home as often as lists have them") {
    const std::string rail = R"({"rail": {"width": 145, "thickness": 38, "lengths": [)"
                             R"({"length": 2400, "price": 9.6}, {"length": 1200, "count": 1, "offcut": true}]}})";
    const auto beside = files({{"yard.json", stock_file("mm", rail)}, {"lists/left.json", stock_file("mm", rail)}});
    const ProjectRead read = read_project(project(R"(["yard.json", "lists/left.json"])", rail), beside);
    REQUIRE(read.project);
    REQUIRE(read.project->stock.size() == 1);
    CHECK(read.project->stock[0].lengths.size() == 4);
}

TEST_CASE("Stock that the project lists and nothing is made of is told; of what a stock file holds nothing is said") {
    const auto told = [](const std::string& own_stock) {
        const auto beside = files({{"yard.json", stock_file("mm", R"({"rail": {"width": 145, "thickness": 38}, "deal": {"width": 95, "thickness": 20}})")}});
        const ProjectRead read = read_project(project(R"("yard.json")", own_stock), beside);
        REQUIRE(read.project);
        std::vector<std::string> notes;
        for (const Finding& finding : read.findings) {
            if (finding.code == "stock.not-used") notes.push_back(finding.pointer + ": " + finding.message);
        }
        return notes;
    };
    CHECK(told("{}").empty());
    CHECK(told(R"({"rail": {"width": 145, "thickness": 38}})").empty());
    CHECK(told(R"({"slim": {"width": 145, "thickness": 28}})") == std::vector<std::string>{R"(/stock/slim: You list "slim", but no piece is of it.)"});
    CHECK(told(R"({"a/b": {"width": 145, "thickness": 28}, "c": {"width": 20, "thickness": 8}})") ==
          std::vector<std::string>{R"(/stock/a~1b: You list "a/b" and "c", but no piece is of them.)"});
}

TEST_CASE("Nothing outside the project's folder is ever asked for") {
    for (const std::string name : {"../yard.json", "a/../../yard.json", "/etc/yard.json", "..", "a//b.json", "a/", "C:yard.json",
                                   R"(..\\yard.json)", R"(a\\..\\yard.json)", "./../yard.json"}) {
        INFO(name);
        std::vector<std::string> asked;
        const ProjectRead read = read_project(project("\"" + name + "\"", "{}"), files({}, &asked));
        CHECK(asked.empty());
        CHECK(errors_of(read) == std::vector<std::string>{"stock.file-place"});
    }
}

TEST_CASE("What is wrong with a stock file is told at the project's key, and names it cannot give are not called unknown") {
    const auto at_key = [](const ProjectRead& read) {
        for (const Finding& finding : read.findings) {
            if (finding.pointer != "/stock_file") return false;
        }
        return !read.project && !read.findings.empty();
    };
    const ProjectRead missing = read_project(project(R"("yard.json")", "{}"), files({}));
    CHECK(errors_of(missing) == std::vector<std::string>{"stock.file-unreadable"});
    CHECK(at_key(missing));
    const ProjectRead nowhere = read_project(project(R"("yard.json")", "{}"));
    CHECK(errors_of(nowhere) == std::vector<std::string>{"stock.file-unreadable"});
    for (const std::string text : {"", "{", "[]", R"({"format": "boardring-project-1"})", R"({"stock": 3})", "\xff"}) {
        INFO(text);
        const ProjectRead broken = read_project(project(R"("yard.json")", "{}"), files({{"yard.json", text}}));
        REQUIRE_FALSE(errors_of(broken).empty());
        for (const std::string& code : errors_of(broken)) CHECK(code == "stock.file-fault");
        CHECK(at_key(broken));
    }
    const ProjectRead thin = read_project(project(R"("yard.json")", R"({"rail": {"width": 145, "thickness": 38}})"),
                                          files({{"yard.json", stock_file("mm", R"({"rail": {"width": 145, "thickness": 28}})")}}));
    CHECK(errors_of(thin) == std::vector<std::string>{"stock.two-sizes"});
}

TEST_CASE("Copies count every piece and every board") {
    const std::string one = R"({"format": "boardring-project-1", "units": "mm", "copies": 3, "stock": {"rail": {"width": 145, "thickness": 38}},)"
                            R"( "pieces": [{"name": "foot", "stock": "rail", "length": 80, "count": 4}]})";
    const ProjectRead read = read_project(one);
    REQUIRE(read.project);
    CHECK(read.project->pieces_alone());
    CHECK(read.project->of_piece(read.project->pieces[0]) == 12);
    CHECK(read.project->lie == Lie::flat);
}
