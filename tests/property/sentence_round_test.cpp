// Sentence -> file -> sentence: a project told in words and read again is the same project, and what has no words is named.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <fstream>
#include <functional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/names.hpp"
#include "io/read_project.hpp"
#include "io/write_plan.hpp"
#include "plan/plan.hpp"
#include "project/joint_kinds.hpp"
#include "spoken/same_project.hpp"
#include "spoken/sentence.hpp"
#include "spoken/tell_project.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"
#include "support/source_folder.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

std::vector<std::string> sentences_of_table() {
    std::ifstream file(source_folder() / "tests/golden/sentences/read.txt");
    std::vector<std::string> sentences;
    for (std::string line; std::getline(file, line);) {
        if (!line.empty() && line.front() != '#' && line.front() != ' ') sentences.push_back(line);
    }
    return sentences;
}

Project project_of(const std::string& text) {
    ProjectRead read = read_project(text);
    INFO(text);
    INFO((read.findings.empty() ? "" : read.findings.front().message));
    REQUIRE(read.project.has_value());
    return *std::move(read.project);
}

Project spoken(const std::string& sentence) {
    const SentenceRead read = read_sentence(sentence);
    INFO(sentence);
    INFO((read.findings.empty() ? "" : read.findings.front().message));
    REQUIRE(!read.project_text.empty());
    return project_of(read.project_text);
}

std::set<std::string> pointers_assumed(const Project& project) {
    std::set<std::string> pointers;
    for (const Assumption& assumption : project.assumed) pointers.insert(assumption.pointer);
    return pointers;
}

// Every number that plan.json has of the boards, in its order: a second opinion that knows nothing of how projects are compared. What
// is searched for (the best rounding, the cheapest boards) may be another of several as good, and is left out.
std::vector<double> numbers_of_plan(const Project& project) {
    const std::string whole = write_plan(make_plan(project));
    const std::size_t from = whole.find("\n  \"boards\": ");
    REQUIRE(from != std::string::npos);
    const std::string plan = whole.substr(from + 3, whole.find("\n  \"joints\": ", from) - from - 3);
    std::vector<double> numbers;
    bool quoted = false;
    for (std::size_t at = 0; at < plan.size(); ++at) {
        if (plan[at] == '"' && (at == 0 || plan[at - 1] != '\\')) quoted = !quoted;
        const bool starts = !quoted && (plan[at] == '-' || (plan[at] >= '0' && plan[at] <= '9'));
        if (!starts) continue;
        std::size_t length = 0;
        numbers.push_back(std::stod(plan.substr(at, 40), &length));
        at += length - 1;
    }
    return numbers;
}

void must_plan_alike(const Project& one, const Project& other) {
    const std::vector<double> a = numbers_of_plan(one), b = numbers_of_plan(other);
    REQUIRE(a.size() == b.size());
    for (std::size_t k = 0; k < a.size(); ++k) {
        if (std::abs(a[k] - b[k]) > 1e-7 * std::max(1.0, std::abs(a[k]))) CHECK(a[k] == b[k]);
    }
}

std::string pick(Random& random, const std::vector<std::string>& from) {
    return from[random.index(from.size())];
}

// Sizes in one unit, as people write them: in halves of a mm or sixteenths of an inch; a tenth of them with odd digits.
struct Rule {
    std::string unit;
    double mm = 1.0;    // one of the unit
    double step = 0.5;  // of the unit

    double size(Random& random, double low_mm, double high_mm) const {
        const double value = random.between(low_mm, high_mm) / mm;
        return random.chance(0.1) ? value : std::round(value / step) * step;
    }
    double near(double length_mm) const { return std::round(length_mm / mm / step) * step; }
};

const std::vector<Rule>& rules() {
    static const std::vector<Rule> all{{"mm", 1.0, 0.5}, {"cm", 10.0, 0.05}, {"m", 1000.0, 0.0005}, {"in", 25.4, 0.0625}, {"ft", 304.8, 1.0 / 192.0}};
    return all;
}

struct Shape {
    std::string json;
    std::size_t boards = 0;
    bool open = false;
};

Shape random_shape(Random& random, const Rule& rule) {
    const double s = rule.size(random, 900.0, 2000.0);
    switch (random.index(6)) {
        case 0: {
            const std::size_t n = 3 + random.index(12);
            const std::string of = n % 2 == 1 ? pick(random, {"side", "inscribed_diameter", "circumscribed_diameter"})
                                              : pick(random, {"side", "over_flats", "over_points", "inscribed_diameter", "circumscribed_diameter"});
            return {fmt::format(R"("regular": {{ "corners": {}, "{}": {} }})", n, of, s), n, false};
        }
        case 1: return {fmt::format(R"("rectangle": {{ "length": {}, "width": {} }})", s, random.chance(0.2) ? s : rule.size(random, 900.0, 2000.0)), 4, false};
        case 2: {
            const std::size_t n = 3 + random.index(6);
            const std::string span = pick(random, {"180", "90", "120", "147.25"});
            return {fmt::format(R"("arc": {{ "radius": {}, "span_deg": {}, "pieces": {}, "fits": "{}" }})", s, span, n, pick(random, {"flats", "corners"})), n, true};
        }
        case 3: {
            const std::size_t n = 3 + random.index(6);
            return {fmt::format(R"("arc": {{ "chord": {}, "rise": {}, "pieces": {}, "fits": "{}" }})", s, rule.size(random, 300.0, 440.0), n, pick(random, {"flats", "corners"})), n, true};
        }
        case 4: {
            const double w = rule.size(random, 900.0, 2000.0), a = rule.size(random, 200.0, 400.0), c = rule.size(random, 200.0, 600.0);
            const std::size_t which = random.index(3);
            if (which == 0) return {fmt::format(R"("points": [ [0, 0], [{0}, 0], [{0}, {2}], [{1}, {2}], [{1}, {3}], [0, {3}] ])", s, s - a, w - c, w), 6, false};
            if (which == 1) {
                return {fmt::format(R"("points": [ [{0}, 0], [{1}, 0], [{1}, {2}], [{3}, {2}], [{3}, {4}], [0, {4}], [0, {2}], [{0}, {2}] ])", a, s - a, c, s, w), 8, false};
            }
            return {fmt::format(R"("points": [ [0, 0], [{0}, 0], [{0}, {1}], [{2}, {1}], [{2}, {3}], [{4}, {3}], [{4}, {1}], [0, {1}] ])", s, w, rule.near(250.0) + a, w - c, rule.near(250.0)), 8, false};
        }
        default: {
            const double right = rule.size(random, 900.0, 2000.0), left = random.chance(0.5) ? right : right + rule.size(random, 1.0, 9.0);
            return {fmt::format(R"("open": true, "basis": "wanted", "seen": "from the room", "readings": [ "AB {}", "BC {}", "CD {}", "B 90", "C 90" ])", right, s, left), 3, true};
        }
    }
}

std::string joined(const std::vector<std::string>& parts) {
    std::string text;
    for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
    return text;
}

// A project of nothing but what a sentence can say.
std::string random_project(Random& random) {
    const Rule& rule = rules()[random.index(rules().size())];
    const Shape shape = random_shape(random, rule);
    const bool door = shape.json.find("readings") != std::string::npos;
    std::vector<std::string> outline{R"("line": ")" + pick(random, {"inside", "outside", "middle"}) + '"'};
    if (random.chance(0.2)) outline.push_back(fmt::format(R"("margin": {})", rule.size(random, 1.0, 12.0)));
    if (random.chance(0.2)) outline.emplace_back(R"("letters": "clockwise")");
    if (!door && random.chance(0.2)) outline.emplace_back(R"("seen": "from the room")");
    outline.push_back(shape.json);

    const double width = rule.size(random, 70.0, 160.0), thickness = rule.size(random, 16.0, 40.0);
    std::vector<std::string> board{fmt::format(R"("width": {}, "thickness": {})", width, thickness)};
    std::string shared;
    if (random.chance(0.3)) shared += R"(, "species": ")" + pick(random, {"larch", "oak", "western red cedar", "Scots pine"}) + '"';
    if (random.chance(0.3)) shared += R"(, "surface": ")" + pick(random, {"show-face", "moulded"}) + '"';
    board.front() += shared;
    if (random.chance(0.3)) board.push_back(fmt::format(R"("lengths": [ {{ "length": {}, "price": {} }}, {{ "length": {} }}, {{ "length": {}, "count": 2, "offcut": true }} ])", rule.near(2400.0),
                                    std::round(random.between(500.0, 2000.0)) / 100.0, rule.near(3600.0), rule.near(1180.0)));
    std::string stock = fmt::format(R"("board": {{ {} }})", joined(board));

    std::vector<std::string> boards{R"("lie": ")" + pick(random, {"flat", "on edge"}) + '"', R"("all": { "stock": "board" })"};
    if (random.chance(0.4)) boards.push_back(fmt::format(R"("courses": {})", 1 + random.index(3)));
    const double slim = thickness - rule.near(5.0);
    if (random.chance(0.3)) {
        const std::string own = fmt::format(R"({{ "count": 2, "width": {}, "thickness": {} }})", width - rule.near(10.0), slim);
        const std::size_t others = 2 + (shape.boards > 4 ? 1 : 0), more = random.chance(0.3) ? 2 : 0;
        std::string pile = fmt::format(R"({{ "count": {} }}, {})", shape.boards - others + more, own);
        if (others == 3) pile += fmt::format(R"(, {{ "count": 1, "thickness": {} }})", slim);
        boards.push_back(fmt::format(R"("pile": [ {} ])", pile));
    } else {
        if (random.chance(0.4)) boards.push_back(fmt::format(R"("{}": {{ "thickness": {} }})", 1 + random.index(shape.boards), slim));
        if (random.chance(0.2) && boards.back().find("\"1\"") == std::string::npos) {
            stock += fmt::format(R"(, "slim": {{ "width": {}, "thickness": {}{}, "lengths": [ {{ "length": {}, "count": 1, "offcut": true }} ] }})", width, slim + rule.near(2.0), shared, rule.near(1200.0));
            boards.push_back(R"("1": { "stock": "slim" })");
        }
    }

    std::vector<std::string> joints;
    if (random.chance(0.4)) joints.push_back(R"("all": { "kind": ")" + std::string(kJointWords[random.index(kJointWords.size())]) + "\" }");
    const std::size_t c = shape.open ? 1 + random.index(shape.boards - 1) : random.index(shape.boards);
    const std::string letter = corner_letter(c);
    if (random.chance(0.3)) joints.push_back(fmt::format(R"("{}": {{ "kind": "butt", "through": {} }})", letter, random.chance(0.5) ? c + 1 : c == 0 ? shape.boards : c));

    std::vector<std::string> tools, wanted;
    if (random.chance(0.3)) tools.push_back(fmt::format(R"("kerf": {})", rule.size(random, 2.0, 4.0)));
    if (random.chance(0.3)) tools.push_back(fmt::format(R"("tilt_limit": {})", std::round(random.between(400.0, 500.0)) / 10.0));
    if (random.chance(0.3)) tools.push_back(fmt::format(R"("swing_limit": {})", std::round(random.between(40.0, 60.0))));
    if (random.chance(0.3)) tools.emplace_back(R"("saw_step": 0.25)");
    if (random.chance(0.3)) tools.emplace_back(R"("scale_at_square": )" + pick(random, {"0", "90"}));
    if (random.chance(0.3)) wanted.push_back(fmt::format(R"("gap": {})", rule.size(random, 0.5, 3.0)));
    if (random.chance(0.3)) wanted.push_back(fmt::format(R"("fit_last": {})", 1 + random.index(shape.boards)));
    if (random.chance(0.3)) wanted.push_back(fmt::format(R"("leave_long": {})", rule.size(random, 0.0, 12.0)));
    if (random.chance(0.3)) wanted.push_back(fmt::format(R"("spares": {})", 1 + random.index(2)));
    const std::string title = pick(random, {"Bed", "Bed, 3 in a row", "The \\\"old\\\" one", "Hexagon 640", " (by the door)", "2x4", "Kräuter", "Butt at B, 2 through"});

    std::string text = fmt::format(R"({{ "format": "boardring-project-1", "title": "{}", "units": "{}")", title, rule.unit);
    text += fmt::format(R"(, "outline": {{ {} }}, "stock": {{ {} }}, "boards": {{ {} }})", joined(outline), stock, joined(boards));
    if (!joints.empty()) text += fmt::format(R"(, "joints": {{ {} }})", joined(joints));
    if (shape.json.find("arc") != std::string::npos && random.chance(0.3)) {
        text += fmt::format(R"(, "ends": {{ "A": {{ "square": true }}, "{}": {{ "square": true }} }})", corner_letter(shape.boards));
    }
    if (!tools.empty()) text += fmt::format(R"(, "tools": {{ {} }})", joined(tools));
    if (random.chance(0.3)) text += R"(, "accuracy": { "preset": ")" + pick(random, {"garden", "joinery", "fine"}) + "\" }";
    if (!wanted.empty()) text += fmt::format(R"(, "wanted": {{ {} }})", joined(wanted));
    return text + " }";
}

}  // namespace

TEST_CASE("every sentence of the table is told and read again as the same project, with the same things left to be assumed") {
    std::size_t planned = 0;
    for (const std::string& sentence : sentences_of_table()) {
        if (sentence.find("as large") != std::string::npos) continue;  // a search for a size, and no words of its own: told as that size
        const Project project = spoken(sentence);
        const ProjectTold told = tell_project(project);
        INFO(sentence);
        INFO(told.sentence);
        INFO((told.left_out.empty() ? "" : told.left_out.front()));
        REQUIRE(!told.sentence.empty());
        CHECK(told.left_out.empty());
        const Project again = spoken(told.sentence);
        CHECK(what_differs(again, project).empty());
        CHECK(pointers_assumed(again) == pointers_assumed(project));
        CHECK(tell_project(again).sentence == told.sentence);
        if (++planned % 9 == 0) must_plan_alike(again, project);
    }
}

TEST_CASE("random projects that a sentence can say are told whole and planned alike") {
    const std::size_t rounds = boardring_test::cases(400, 20000);
    std::size_t told_of = 0;
    Random random(2026);
    for (std::size_t round = 0; round < rounds; ++round) {
        const std::string text = random_project(random);
        const ProjectRead read = read_project(text);
        if (!read.project) continue;
        ++told_of;
        const ProjectTold told = tell_project(*read.project);
        INFO(text);
        INFO(told.sentence);
        INFO((told.left_out.empty() ? "" : told.left_out.front()));
        REQUIRE(!told.sentence.empty());
        CHECK(told.left_out.empty());
        const Project again = spoken(told.sentence);
        CHECK(what_differs(again, *read.project).empty());
        if (round % 10 == 0 && again.pile.empty()) must_plan_alike(again, *read.project);  // of two orders as good, a pile written otherwise may take the other
    }
    CHECK(told_of > rounds * 9 / 10);
}

TEST_CASE("what has no words is named") {
    const std::string text = R"({ "format": "boardring-project-1", "title": "T", "units": "mm", "outline": { "line": "inside", "regular": { "corners": 6, "side": 400 } },
        "stock": { "rail": { "width": 145, "thickness": 38, "lengths": [ { "length": 2400 } ] } }, "boards": { "lie": "on edge", "all": { "stock": "rail" } } })";
    const Project plain = project_of(text);
    CHECK(tell_project(plain).left_out.empty());
    const std::vector<std::pair<std::function<void(Project&)>, std::string>> changes{
        {[](Project& p) { p.outline.margin_mm[2] = 4.0; }, "a margin that is not the same all round, or below 0"},
        {[](Project& p) { p.stock[0].end_trim_mm = 7.0; }, "what is trimmed off the ends of its boards"},
        {[](Project& p) { p.stock[0].grain = Grain::quarter_sawn; }, "the grain of its boards"},
        {[](Project& p) { p.stock[0].species = "bog oak"; }, "the wood of its boards"},
        {[](Project& p) { p.stock[0].lengths[0].count = 3; }, "what lengths there are of its boards"},
        {[](Project& p) { p.stock[0].lengths[0].offcut = true; }, "what lengths there are of its boards"},
        {[](Project& p) { p.boards[3].taper_mm = 1.5; }, "that board 4 tapers"},
        {[](Project& p) { p.copies = 2; }, "how often it is built"},
        {[](Project& p) { p.pieces.push_back({"foot", 0, 80.0, 6, 0.0, 0.0, ""}); }, "another piece: foot"},
        {[](Project& p) { p.tools.rule_step_mm = 1.0; }, "the rule's step"},
        {[](Project& p) { p.tools.fence_height_mm = 50.0; }, "how high the saw's fence is"},
        {[](Project& p) { p.tools.hold_length_mm = 150.0; }, "how short a piece can be held by hand"},
        {[](Project& p) { p.tools.slope_by = SlopeBy::marks; }, "how slopes are set"},
        {[](Project& p) { p.tools.rounding = Rounding::singly; }, "how numbers are rounded"},
        {[](Project& p) { p.tools.bevel_base_mm = 200.0; }, "how long the bevel is set over"},
        {[](Project& p) { p.accuracy.mark_mm = 0.7; }, "how true it is to be, in numbers"},
        {[](Project& p) { p.year = Year{8.0, 18.0, 12.0, true}; }, "its dry and wet months"},
    };
    for (const auto& [change, named] : changes) {
        Project project = plain;
        change(project);
        const ProjectTold told = tell_project(project);
        INFO(named);
        REQUIRE(!told.sentence.empty());
        CHECK(told.left_out == std::vector<std::string>{named});
    }
    Project found = plain;
    found.outline.form = ReadingsOutline{{}, true, 6};
    CHECK(tell_project(found).sentence.empty());
    CHECK(tell_project(found).left_out == std::vector<std::string>{"its outline, sizes found with a tape"});
}

TEST_CASE("no single thing of a project is overlooked when two are compared") {
    const Project plain = spoken("arch radius 600, span 120, 5 pieces, sides touch, inside, 120x30 flat at 2.4 m for 9.6, butt, kerf 3, garden, gap 1, board 5 last");
    CHECK(what_differs(plain, plain).empty());
    const std::vector<std::function<void(Project&)>> changes{
        [](Project& p) { p.title += "!"; },
        [](Project& p) { p.unit = Unit::cm; },
        [](Project& p) { p.outline.line = OutlineLine::middle; },
        [](Project& p) { p.outline.letters_clockwise = true; },
        [](Project& p) { p.outline.seen_from_room = true; },
        [](Project& p) { std::get<ArcOutline>(p.outline.form).radius_mm += 1e-4; },
        [](Project& p) { std::get<ArcOutline>(p.outline.form).span_deg += 1e-5; },
        [](Project& p) { std::get<ArcOutline>(p.outline.form).fits = ArcOutline::Fits::corners; },
        [](Project& p) { p.outline.form = RegularOutline{5, RegularOutline::Of::side, 400.0}; },
        [](Project& p) { p.stock[0].surface = Surface::moulded; },
        [](Project& p) { p.stock[0].lengths[0].length_mm = 3600.0; },
        [](Project& p) { p.stock[0].lengths[0].price = 9.7; },
        [](Project& p) { p.lie = Lie::on_edge; },
        [](Project& p) { p.courses = 2; },
        [](Project& p) { p.boards[1].width_mm = 119.0; },
        [](Project& p) { p.boards[4].thickness_mm = 29.0; },
        [](Project& p) { p.joints[1].kind = JointKind::mitre; },
        [](Project& p) { p.joints[2].through = 1; },
        [](Project& p) { p.first_end.saw_deg = 0.0; },
        [](Project& p) { p.last_end.saw_deg = 1.0; },
        [](Project& p) { p.tools.saw_step_deg = 0.1; },
        [](Project& p) { p.tools.scale_at_square_deg = 90.0; },
        [](Project& p) { p.tools.swing_limit_deg = 44.0; },
        [](Project& p) { p.tools.tilt_limit_deg = 44.0; },
        [](Project& p) { p.tools.kerf_mm = 2.0; },
        [](Project& p) { p.accuracy.preset = Preset::fine; },
        [](Project& p) { p.wanted.gap_mm = 2.0; },
        [](Project& p) { p.wanted.fit_last = 2; },
        [](Project& p) { p.wanted.leave_long_mm = 2.0; },
        [](Project& p) { p.wanted.spares = 2; },
    };
    for (std::size_t k = 0; k < changes.size(); ++k) {
        Project other = plain;
        changes[k](other);
        INFO(k);
        CHECK(!what_differs(plain, other).empty());
        CHECK(!what_differs(other, plain).empty());
    }
}
