// Whatever the bytes are: never an exception, always either a sound project or at least one error with a place.
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <tuple>
#include <vector>

#include "io/read_project.hpp"
#include "support/catch.hpp"
#include "support/source_folder.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;
namespace fs = std::filesystem;

namespace {

// BOARDRING_FULL=1 asks for the long run.
const int kRounds = static_cast<int>(boardring_test::cases(20'000, 1'000'000));

std::vector<std::string> good_texts() {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(source_folder() / "tests" / "golden" / "projects_good"))
        files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    std::vector<std::string> texts;
    for (const fs::path& file : files) {
        std::ifstream in(file, std::ios::binary);
        std::stringstream text;
        text << in.rdbuf();
        texts.push_back(text.str());
    }
    return texts;
}

// Pieces of project files that single bytes would hardly ever make.
const std::vector<std::string> kPieces{"{",
                                       "}",
                                       "[",
                                       "]",
                                       ",",
                                       ":",
                                       "\"",
                                       "\\",
                                       "//",
                                       "/*",
                                       "*/",
                                       "null",
                                       "true",
                                       "-1",
                                       "1e400",
                                       "1e308",
                                       "0",
                                       "-0",
                                       "2.7",
                                       "\"all\"",
                                       "\"1\"",
                                       "\"A\"",
                                       "\"AA\"",
                                       "\"A-AA 5\"",
                                       "\"ZZZ 1\"",
                                       "\"AB ?\"",
                                       "inward",
                                       "+-",
                                       "\u00B1",
                                       "\u00BD",
                                       "\n",
                                       "\xEF\xBB\xBF",
                                       "\xFF",
                                       "\"open\": true,",
                                       "\"through\": [1,2],",
                                       "\"ends\": {\"A\": {\"rise\": 1, \"run\": 1}},",
                                       "\"corners\": 3,",
                                       "1000000000000000000000",
                                       "\"\"",
                                       "\\u0000",
                                       "\\ud83d\\ude00"};

void mutate(Random& random, std::string& text, const std::vector<std::string>& texts) {
    const std::size_t at = text.empty() ? 0 : random.index(text.size());
    const std::size_t length = std::min(text.size() - at, random.index(12) + 1);
    switch (random.index(7)) {
        case 0:
            if (!text.empty()) text[at] = static_cast<char>(random.index(256));
            break;
        case 1:
            text.erase(at, length);
            break;
        case 2:
            text.insert(at, kPieces[random.index(kPieces.size())]);
            break;
        case 3:
            text.replace(at, length, kPieces[random.index(kPieces.size())]);
            break;
        case 4:
            text.insert(random.index(text.size() + 1), text.substr(at, length * 8));
            break;
        case 5: {
            const std::string& other = texts[random.index(texts.size())];
            const std::size_t from = random.index(other.size());
            text.replace(at, length, other.substr(from, random.index(80)));
            break;
        }
        default:
            if (random.chance(0.2)) text.resize(at);
            break;
    }
}

bool positive(double mm) {
    return std::isfinite(mm) && mm > 0.0;
}

void check_sound(const Project& project) {
    const std::size_t boards = project.boards.size();
    REQUIRE((boards >= 1 || project.pieces_alone()));
    REQUIRE(boards <= 1000);
    if (!project.pieces_alone()) REQUIRE(project.joints.size() == boards + (project.outline.open ? 1 : 0));
    REQUIRE(project.outline.margin_mm.size() == boards);
    for (const double margin : project.outline.margin_mm) REQUIRE(std::isfinite(margin));
    for (const BoardAsked& board : project.boards) {
        REQUIRE(positive(board.width_mm));
        REQUIRE(positive(board.thickness_mm));
        REQUIRE((!board.stock || *board.stock < project.stock.size()));
    }
    for (const JointAsked& joint : project.joints) REQUIRE((!joint.through || *joint.through < boards));
    for (const PieceAsked& piece : project.pieces) {
        REQUIRE(piece.stock < project.stock.size());
        REQUIRE(positive(piece.length_mm));
        REQUIRE(std::abs(piece.left_saw_deg) < 90.0);
    }
    for (const EndAsked& end : {project.first_end, project.last_end}) REQUIRE(std::abs(end.saw_deg) < 90.0);
    REQUIRE((!project.wanted.fit_last || *project.wanted.fit_last < boards));
    REQUIRE(positive(project.tools.rule_step_mm));
    if (const auto* readings = std::get_if<ReadingsOutline>(&project.outline.form)) {
        std::size_t open_sides = 0, open_angles = 0;
        for (const Reading& reading : readings->readings) {
            if (!reading.value) ++(reading.kind == Reading::Kind::angle ? open_angles : open_sides);
            const bool worded = reading.kind == Reading::Kind::fall || reading.kind == Reading::Kind::right || reading.kind == Reading::Kind::bow ||
                                reading.kind == Reading::Kind::width;
            REQUIRE((!worded || (readings->found && (!reading.value || std::isfinite(*reading.value)))));
            REQUIRE((worded || !reading.value || positive(*reading.value)));
            REQUIRE((!reading.near || positive(*reading.near)));
            if (readings->found) continue;  // any, of corners and pegs
            REQUIRE((reading.value || (reading.kind != Reading::Kind::diagonal && !project.outline.open)));
            REQUIRE(std::max(reading.first, reading.second) < project.joints.size());
        }
        REQUIRE((readings->found || (open_sides <= 2 && open_sides + open_angles <= 3)));
        if (readings->found) REQUIRE(readings->corners == project.joints.size());
        REQUIRE((readings->found || !project.outline.hang));
    }
    if (project.outline.hang) REQUIRE(project.outline.hang->least_mm <= project.outline.hang->most_mm);
    if (project.outline.pegs) {
        REQUIRE(project.outline.pegs->readings.corners == project.joints.size());
        for (const std::size_t c : project.outline.pegs->stay) REQUIRE(c < project.joints.size());
    }
}

void check_findings(const ProjectRead& read) {
    for (std::size_t i = 0; i < read.findings.size(); ++i) {
        const Finding& finding = read.findings[i];
        REQUIRE_FALSE(finding.code.empty());
        REQUIRE_FALSE(finding.message.empty());
        REQUIRE(finding.line >= 1);
        REQUIRE(finding.column >= 1);
        REQUIRE((finding.pointer.empty() || finding.pointer.front() == '/'));
        if (i > 0) {
            const Finding& before = read.findings[i - 1];
            REQUIRE(std::tie(before.line, before.column) <= std::tie(finding.line, finding.column));
        }
    }
}

}  // namespace

TEST_CASE("Twenty thousand damaged project files give a sound project or an error, and never an exception") {
    const std::vector<std::string> texts = good_texts();
    Random random(2026);
    int projects = 0;
    int json = 0;
    for (int round = 0; round < kRounds; ++round) {
        std::string text = texts[random.index(texts.size())];
        for (std::size_t n = random.index(4) + 1; n > 0; --n) mutate(random, text, texts);
        INFO("round " << round << "\n" << text);
        ProjectRead read;
        REQUIRE_NOTHROW(read = read_project(text));
        REQUIRE(read.project.has_value() != has_error(read.findings));
        check_findings(read);
        if (read.project) check_sound(*read.project);
        projects += read.project ? 1 : 0;
        json += read.places.empty() ? 0 : 1;
    }
    // The damage must leave enough of each kind, or the test says little.
    CHECK(projects > kRounds / 50);
    CHECK(json - projects > kRounds / 50);
    CHECK(kRounds - json > kRounds / 50);
}

TEST_CASE("Bytes at random are never a project") {
    Random random(7);
    for (int round = 0; round < 2000; ++round) {
        std::string text;
        for (std::size_t n = random.index(200); n > 0; --n) text += static_cast<char>(random.index(256));
        const ProjectRead read = read_project(text);
        REQUIRE_FALSE(read.project);
        REQUIRE(has_error(read.findings));
    }
}
