#include "io/write_plan.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <limits>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/ensure.hpp"
#include "plan/show.hpp"
#include "support/catch.hpp"
#include "support/source_folder.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::outline_through;
using boardring_test::project_for;
using boardring_test::regular_ring;
using Json = nlohmann::ordered_json;

namespace {

// What make_plan does with an outline at hand; the closure is made up, here it is only carried.
Plan plan_for(const Project& project, const Outline& outline) {
    Plan plan;
    plan.project = project;
    plan.outline = outline;
    const Result<Frame> frame = build_frame(project, outline);
    REQUIRE(frame.ok());
    plan.frame = frame.value();
    plan.findings = frame.findings();
    plan.cut_list = list_cuts(project, *plan.frame);
    append(plan.findings, check_cuts(project, *plan.frame));
    plan.shown = show_boards(project, outline, *plan.frame, *plan.cut_list);
    plan.assembly = plan_assembly(project, *plan.frame);
    plan.totals = total_up(project, *plan.outline, *plan.frame);
    Closure closure;
    const JointMisfit misfit{0, 0.25, -0.125, 0.5, 0.0625, -0.1};
    if (outline.closed) {
        closure.marked.stiff = StiffClosure{misfit, 1234.5};
        closure.marked.spread = SpreadClosure{0.25, 1, 0.5, {misfit, misfit}, true};
    } else {
        closure.set.span_off_mm = 1.5;
        closure.set.span_across_mm = -2.25;
        closure.set.span_angle_deg = 0.2;
    }
    closure.worst_set = WorstRounding{1, 1, "slope", 0.2, 1.1};
    plan.closure = closure;
    return plan;
}

// Six boards, one thin, extra pieces, letters as asked, everything in the plan.
Plan odd_hexagon(bool clockwise = false) {
    Outline outline = regular_ring(6, 640.0 / std::sqrt(3.0));
    outline.letters_clockwise = clockwise;
    outline.readings.push_back({"AB 369.5", Reading::Kind::side, 369.5, 369.504});
    Project project = project_for(outline, {38.0, 38.0, 38.0, 28.0, 38.0, 38.0});
    project.title = "Courtyard planter";
    project.courses = 2;
    project.stock.emplace_back();
    project.stock[0].name = "rail";
    project.stock[0].width_mm = 145.0;
    project.stock[0].thickness_mm = 38.0;
    for (std::size_t k : {0U, 1U, 2U, 4U, 5U}) project.boards[k].stock = 0;
    project.pieces.push_back({"foot", 0, 80.0, 6, 0.0, 15.0, "/pieces/0"});
    project.assumed.push_back({"/tools/kerf", "saw cut 3 mm"});
    return plan_for(project, outline);
}

Plan half_lapped_square() {
    const Outline outline = regular_ring(4, 500.0);
    Project project = project_for(outline, {38.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::half_lap;
    return plan_for(project, outline);
}

Plan open_chain() {
    const Outline outline = outline_through({{0, 0}, {0, 2000}, {-800, 2000}, {-800, 0}}, false);
    Project project = project_for(outline, {38.0});
    project.joints[1].kind = JointKind::butt;
    project.unit = Unit::inch;
    return plan_for(project, outline);
}

Plan refused() {
    Plan plan;
    plan.project = project_for(regular_ring(5, 500.0), {38.0});
    plan.findings.push_back({Severity::error, "outline.angle-sum", "/outline/readings", "too much", "less", 3, 4});
    return plan;
}

const Json& schema() {
    static const Json read = [] {
        std::ifstream file(source_folder() / "schemas/boardring-plan-1.schema.json");
        return Json::parse(file);
    }();
    return read;
}

bool type_fits(const Json& value, const std::string& type) {
    if (type == "null") return value.is_null();
    if (type == "object") return value.is_object();
    if (type == "array") return value.is_array();
    if (type == "string") return value.is_string();
    if (type == "boolean") return value.is_boolean();
    if (type == "integer") return value.is_number_integer();
    return type == "number" && value.is_number();
}

// What an outside validator does not look at: keys in the schema's order, all of them. The rest is tests/schema's part.
void check_against(const Json& value, const Json& described, const std::string& where, std::vector<std::string>& wrong) {
    if (described.contains("$ref")) {
        const std::string name = described["$ref"].get<std::string>().substr(std::string("#/definitions/").size());
        check_against(value, schema()["definitions"][name], where, wrong);
        return;
    }
    if (described.contains("anyOf")) {
        if (!value.is_null()) check_against(value, described["anyOf"][0], where, wrong);
        return;
    }
    if (described.contains("type")) {
        const Json& type = described["type"];
        const std::vector<std::string> types = type.is_array() ? type.get<std::vector<std::string>>() : std::vector<std::string>{type.get<std::string>()};
        if (std::none_of(types.begin(), types.end(), [&](const std::string& t) { return type_fits(value, t); })) wrong.push_back(where + " has a wrong type");
    }
    if (described.contains("enum") && std::find(described["enum"].begin(), described["enum"].end(), value) == described["enum"].end()) {
        wrong.push_back(where + " has an unlisted value");
    }
    if (value.is_array() && described.contains("items")) {
        for (std::size_t i = 0; i < value.size(); ++i) check_against(value[i], described["items"], where + "/" + std::to_string(i), wrong);
    }
    if (!value.is_object()) return;
    std::vector<std::string> keys, known;
    for (const auto& item : value.items()) keys.push_back(item.key());
    for (const auto& item : described["properties"].items()) known.push_back(item.key());
    if (keys != known) wrong.push_back(where + " has other keys or another order than the schema");
    for (const auto& item : value.items()) {
        if (described["properties"].contains(item.key())) check_against(item.value(), described["properties"][item.key()], where + "/" + item.key(), wrong);
    }
}

void undescribed(const Json& described, const std::string& where, std::vector<std::string>& missing) {
    if (!described.is_object()) return;
    if (described.contains("properties")) {
        for (const auto& item : described["properties"].items()) {
            if (!item.value().contains("description")) missing.push_back(where + "/" + item.key());
            undescribed(item.value(), where + "/" + item.key(), missing);
        }
        if (!described.contains("additionalProperties") || described["additionalProperties"] != false) missing.push_back(where + " is open");
    }
    if (described.contains("items")) undescribed(described["items"], where + "[]", missing);
}

Json written(const Plan& plan) { return Json::parse(write_plan(plan)); }

}  // namespace

TEST_CASE("every kind of plan has the schema's keys in the schema's order", "[unit][io]") {
    for (const Plan& plan : {odd_hexagon(), odd_hexagon(true), half_lapped_square(), open_chain(), refused()}) {
        std::vector<std::string> wrong;
        check_against(written(plan), schema(), "", wrong);
        CHECK(wrong == std::vector<std::string>{});
    }
}

TEST_CASE("the schema describes every key and closes every object", "[unit][io]") {
    std::vector<std::string> missing;
    undescribed(schema(), "", missing);
    for (const auto& item : schema()["definitions"].items()) undescribed(item.value(), item.key(), missing);
    CHECK(missing == std::vector<std::string>{});
    CHECK(schema()["$id"] == "urn:boardring:plan-1");
}

TEST_CASE("a refused plan says what is wrong and has null from there on", "[unit][io]") {
    const Json j = written(refused());
    CHECK(j["findings"][0]["severity"] == "error");
    CHECK(j["findings"][0]["code"] == "outline.angle-sum");
    for (const char* key : {"outline", "boards", "joints", "assembly", "cut_list", "settings", "sections", "closure", "buying", "totals"}) {
        CHECK(j[key].is_null());
    }
}

TEST_CASE("boards, ends and joints carry their letters and numbers", "[unit][io]") {
    const Json j = written(odd_hexagon());
    CHECK(j["format"] == "boardring-plan-1");
    CHECK(j["lie"] == "on edge");
    CHECK(j["courses"] == 2);
    CHECK(j["assumed"][0]["value"] == "saw cut 3 mm");
    CHECK(j["boards"].size() == 6);
    const Json& second = j["boards"][1];
    CHECK(second["number"] == 2);
    CHECK(second["stock"] == "rail");
    CHECK(j["boards"][3]["stock"].is_null());
    CHECK(second["left_end"] == "B");
    CHECK(second["ends"][0]["corner"] == "B");
    CHECK(second["ends"][0]["mate"] == "1B");
    CHECK(second["ends"][1]["mate"] == "3C");
    CHECK(j["boards"][0]["ends"][0]["mate"] == "6A");
    CHECK(second["ends"][0]["longer"] == "outside");
    CHECK(second["ends"][0]["lap"].is_null());
    CHECK(j["joints"][0]["boards"] == Json::array({6, 1}));
    CHECK(j["cut_list"][1]["boards"][1] == Json({{"number", 5}, {"turned", "top-to-bottom"}}));
    CHECK(j["cut_list"][3]["piece"] == "foot");
    CHECK(j["cut_list"][3]["right_saw_deg"] == 15.0);
    CHECK(j["closure"]["marked"]["stiff"]["one_in"] == 1234.5);
    CHECK(j["closure"]["exact"]["stiff"].is_null());
    CHECK(j["closure"]["worst_set"]["end"] == "2C");
    CHECK(j["outline"]["readings"][0]["kind"] == "side");
}

TEST_CASE("numbers read back as the same doubles", "[unit][io]") {
    const Plan plan = odd_hexagon();
    const Json j = written(plan);
    for (std::size_t k = 0; k < 6; ++k) {
        for (std::size_t e = 0; e < 2; ++e) {
            const Json& end = j["boards"][k]["ends"][e];
            CHECK(end["inside_mark_mm"].get<double>() == plan.shown[k].ends[e].inside_mark_mm);
            CHECK(end["saw_deg"].get<double>() == plan.frame->boards[k].ends[e].saw_deg);
            CHECK(end["square_line"]["second_mm"].get<double>() == plan.frame->boards[k].ends[e].square_second_mm);
        }
        CHECK(j["outline"]["corners"][k]["y_mm"].get<double>() == plan.outline->corners_mm[k].y);
    }
    CHECK(j["totals"]["volume_l"].get<double>() == plan.totals->volume_l.value());
}

TEST_CASE("clockwise letters mirror the picture and nothing else", "[unit][io]") {
    const Plan plan = odd_hexagon(true);
    const Json seen = written(plan), inner = written(odd_hexagon());
    CHECK(seen["outline"]["letters"] == "clockwise");
    CHECK(seen["outline"]["corners"][2]["x_mm"] == inner["outline"]["corners"][2]["x_mm"]);
    CHECK(seen["outline"]["corners"][2]["y_mm"].get<double>() == -inner["outline"]["corners"][2]["y_mm"].get<double>());
    CHECK(seen["boards"][1]["plan_mm"][1][1].get<double>() == -inner["boards"][1]["plan_mm"][1][1].get<double>());
    CHECK(seen["joints"][2]["outer_mm"][1].get<double>() == -inner["joints"][2]["outer_mm"][1].get<double>());
    CHECK(seen["outline"]["outside_mm"][3][1].get<double>() == -inner["outline"]["outside_mm"][3][1].get<double>());
    CHECK(seen["boards"][1]["left_end"] == "C");
    CHECK(seen["boards"][1]["outside_length_mm"] == inner["boards"][1]["outside_length_mm"]);
    CHECK(seen["boards"][1]["ends"][0]["corner"] == "B");
    // Board 3: C is cut to 30, D to 15.3. Clockwise D lies at the left.
    CHECK(seen["cut_list"][1]["left_saw_deg"] == inner["cut_list"][1]["right_saw_deg"]);
}

TEST_CASE("the misclosure's direction is mirrored with its picture", "[unit][io]") {
    Plan plan = odd_hexagon(true);
    plan.outline->misclosure = {720.5, 720.0, 0.5, 3.0, 4.0, 5.0, 53.13, 400.0};
    const Json j = written(plan)["outline"];
    CHECK(j["misclosure"]["dy_mm"] == -4.0);
    CHECK(j["misclosure"]["direction_deg"] == -53.13);
    CHECK(j["misclosure"]["dx_mm"] == 3.0);
    CHECK(j["angle_misclosure_deg"] == 0.5);
}

TEST_CASE("open chains have free ends and no sum of angles", "[unit][io]") {
    const Json j = written(open_chain());
    CHECK(j["units"] == "in");
    CHECK(j["outline"]["corners"][0]["interior_deg"].is_null());
    CHECK(j["outline"]["angle_sum_deg"].is_null());
    CHECK(j["outline"]["misclosure"].is_null());
    CHECK(j["boards"][0]["ends"][0]["mate"].is_null());
    CHECK(j["boards"][0]["ends"][0]["longer"] == "neither");
    CHECK(j["joints"].size() == 2);
    CHECK(j["joints"][0]["through"].is_number());
    CHECK(j["closure"]["set"]["span"]["across_mm"] == -2.25);
    CHECK(j["closure"]["exact"]["span"].is_null());
    CHECK(j["totals"]["inside_area_mm2"].is_null());
}

TEST_CASE("half-laps say which half stays", "[unit][io]") {
    const Json j = written(half_lapped_square());
    const Json& lap = j["boards"][0]["ends"][0]["lap"];
    CHECK(lap["depth_mm"] == 72.5);
    CHECK(lap["keeps"] == "upper");
    CHECK(j["boards"][0]["ends"][1]["lap"]["keeps"] == "lower");
    CHECK_THAT(lap["shoulder_inside_mm"].get<double>(), within_mm(38.0, 1e-9));
}

TEST_CASE("no number is written as minus nought", "[unit][io]") {
    Plan plan = odd_hexagon();
    plan.outline->corners_mm[0] = {-0.0, -0.0};
    plan.closure->marked.stiff->last.gap_in_mm = -0.0;
    const std::string text = write_plan(plan);
    CHECK_THAT(text, !ContainsSubstring("-0.0,"));
    CHECK_THAT(text, !ContainsSubstring("-0.0}"));
    CHECK_THAT(text, !ContainsSubstring("-0.0\n"));
}

TEST_CASE("a number that is none is our bug", "[unit][io]") {
    Plan plan = odd_hexagon();
    plan.shown[2].ends[1].inside_mark_mm = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(write_plan(plan), BrokenInvariant);
    plan = odd_hexagon();
    plan.totals->volume_l = std::numeric_limits<double>::infinity();
    CHECK_THROWS_AS(write_plan(plan), BrokenInvariant);
}

TEST_CASE("texts are escaped, and broken bytes replaced", "[unit][io]") {
    Plan plan = odd_hexagon();
    plan.project.title = "a \"b\" \\ \n \xff z";
    const Json j = written(plan);
    CHECK(j["title"] == "a \"b\" \\ \n \xef\xbf\xbd z");
}

TEST_CASE("the same plan gives the same bytes, one final newline, no line without need over 100 characters", "[unit][io]") {
    const std::string text = write_plan(odd_hexagon());
    CHECK(text == write_plan(odd_hexagon()));
    CHECK(text.substr(text.size() - 2) == "}\n");
    CHECK_THAT(text, ContainsSubstring("\"bevel\": {\"base_mm\": 300.0, \"rise_mm\": "));
    CHECK_THAT(text, ContainsSubstring("\"scale_deg\": 15.3"));
}

TEST_CASE("a saw that reads 90 at square gets its own numbers", "[unit][io]") {
    Plan plan = odd_hexagon();
    plan.project.tools.scale_at_square_deg = 90.0;
    const Json j = written(plan);
    CHECK_THAT(j["settings"][2]["shown_deg"].get<double>(), WithinAbs(15.3, 1e-12));
    CHECK_THAT(j["settings"][2]["scale_deg"].get<double>(), WithinAbs(74.7, 1e-12));
}
