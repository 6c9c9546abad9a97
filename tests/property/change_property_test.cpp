// Changing a project in words and changing it back: the same bytes, whatever file and whatever change.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/names.hpp"
#include "io/edit_json.hpp"
#include "io/read_project.hpp"
#include "spoken/change.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"
#include "support/source_folder.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

std::string text_of(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::vector<std::string> demos() {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(source_folder() / "projects")) {
        if (entry.path().extension() == ".json") paths.push_back(entry.path());
    }
    std::sort(paths.begin(), paths.end());
    std::vector<std::string> texts;
    for (const auto& path : paths) texts.push_back(text_of(path));
    return texts;
}

std::string random_phrase(Random& random, const Project& project) {
    const std::size_t boards = project.boards.size();
    const std::string corner = corner_letter(random.index(boards));
    const std::string next = corner_letter((random.index(boards) + 1) % boards);
    const std::string board = std::to_string(1 + random.index(boards));
    const std::string stock = project.stock.empty() ? "rail" : project.stock[random.index(project.stock.size())].name;
    const std::string size = fmt::format("{}", static_cast<double>(10 + random.index(2000)) / 2.0);
    const std::string small = fmt::format("{}", static_cast<double>(2 + random.index(80)) / 2.0);
    const std::vector<std::string> known{
        corner + " is " + small, corner + next + " is " + size, corner + " is " + small + " inward", corner + next + " is " + size + " +-2",
        "over flats is " + size, "over points is " + size, "side is " + size, "length is " + size, "rise is " + size,
        corner + " is at " + size + ", " + small, "margin is " + small, "margin of board " + board + " is " + small,
        "board " + board + " is " + small, "board " + board + " is " + size + " x " + small, "board " + board + " is " + stock,
        "boards are " + stock, "boards are " + small + " thick", "joint " + corner + " butt", "joint " + corner + " mitre",
        "joint " + corner + " half-lap", "joint " + corner + " butt, " + board + " through", "joints butt", "end A square", "end A along 88",
        stock + " is " + small + " thick", stock + " is " + size + "x" + small, stock + " also " + size + " costs 12.50", stock + " species is oak",
        stock + " 2400 costs 11", stock + " trim is " + small, "kerf is " + small, "kerf is 1/8 in", "saw stops at 47", "saw swings to 49", "rule step is 1",
        "saw step is 0.1", "scale at square is 90", "slopes by saw", "accuracy is fine", "gap is " + small, "fit " + board + " last", "leave " + small + " long",
        "spares is 2", "title is Over the \"hill\" \\ 24", "title is 24", "courses is 3", "boards lie flat", "line is middle", "seen from the room",
        "letters clockwise", "/wanted/gap is \"2\"", "open is true"};
    return known[random.index(known.size())];
}

// Files that demos name: price lists.
BesideText beside_the_demos(const std::string& name) {
    std::ifstream file(source_folder() / "projects" / name);
    std::ostringstream text;
    text << file.rdbuf();
    return {text.str(), ""};
}

// Line ends of another system; all on one line; comments where they hurt.
std::string laid_out_anew(Random& random, const std::string& text) {
    std::string out;
    const std::size_t way = random.index(4);
    for (const char c : text) {
        if (c == '\n' && way == 1) out += '\r';
        out += c;
        if (c == '\n' && way == 2) out += "\t";
        if (c == ',' && way == 3 && random.index(20) == 0) out += " ";
    }
    return out;
}

}  // namespace

TEST_CASE("a change and its way back leave every demo byte for byte") {
    Random random(20261125);
    const std::vector<std::string> texts = demos();
    const std::size_t rounds = boardring_test::cases(1'500, 20'000);
    std::size_t changed_some = 0, refused = 0;
    for (std::size_t round = 0; round < rounds; ++round) {
        const std::string text = laid_out_anew(random, texts[random.index(texts.size())]);
        const ProjectRead read = read_project(text, beside_the_demos);
        REQUIRE(read.project);
        std::vector<std::string> phrases;
        for (std::size_t i = 0; i <= random.index(3); ++i) phrases.push_back(random_phrase(random, *read.project));
        INFO(fmt::format("{}", fmt::join(phrases, "; ")));
        const ChangedProject changed = change_project(text, phrases);
        if (!changed.ok()) {
            REQUIRE(changed.text == text);
            ++refused;
            continue;
        }
        REQUIRE(read_project(changed.text, beside_the_demos).project);
        if (changed.text == text) continue;
        ++changed_some;
        INFO(changed.text);
        REQUIRE_FALSE(changed.back.empty());
        const ChangedProject back = change_project(changed.text, changed.back);
        INFO(fmt::format("back: {}", fmt::join(changed.back, "; ")));
        REQUIRE(back.ok());
        REQUIRE(back.text == text);
    }
    CHECK(changed_some > rounds / 4);
    CHECK(refused > rounds / 20);
}
