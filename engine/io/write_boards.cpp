#include "io/plan_json.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <nlohmann/json.hpp>
#include <string_view>
#include <vector>

#include "base/ensure.hpp"
#include "base/names.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

std::string_view longer_side(double saw_deg) {
    if (std::abs(saw_deg) <= kSquareCutDeg) return "neither";
    return saw_deg > 0.0 ? "outside" : "inside";
}

Json ways_of(const std::vector<SawWay>& ways) {
    Json list = Json::array();
    for (const SawWay& way : ways) {
        Json j;
        j["motion"] = way.motion == SawWay::Motion::swing ? "swing" : "tilt";
        j["lies_flat"] = way.lies_flat;
        j["setting_deg"] = number(way.setting_deg);
        j["within_saw"] = way.within_saw;
        list.push_back(std::move(j));
    }
    return list;
}

Json lap_of(const BoardEnd& end, const ShownEnd& shown) {
    if (!end.lap) return nullptr;
    Json j;
    j["depth_mm"] = number(end.lap->depth_mm);
    j["keeps"] = end.lap->keeps_upper ? "upper" : "lower";
    j["shoulder_inside_mm"] = number(shown.shoulder_inside_mm);
    j["shoulder_outside_mm"] = number(shown.shoulder_outside_mm);
    return j;
}

Json end_of(const Board& board, std::size_t e, const ShownEnd& shown) {
    const BoardEnd& end = board.ends[e];
    Json j;
    j["corner"] = corner_letter(end.corner);
    j["width_mm"] = number(board.width_at(e));
    j["inside_mark_mm"] = number(shown.inside_mark_mm);
    j["outside_mark_mm"] = number(shown.outside_mark_mm);
    j["run_mm"] = number(end.run_mm);
    j["saw_deg"] = number(end.saw_deg);
    j["edge_deg"] = number(shown.edge_deg);
    j["longer"] = longer_side(end.saw_deg);
    j["face_mm"] = number(end.face_mm);
    j["bevel"]["base_mm"] = number(shown.bevel_base_mm);
    j["bevel"]["rise_mm"] = number(shown.bevel_rise_mm);
    j["ways"] = ways_of(shown.ways);
    j["square_line"]["at_mm"] = number(shown.square_at_mm);
    j["square_line"]["first_mm"] = number(end.square_first_mm);
    j["square_line"]["second_mm"] = number(end.square_second_mm);
    j["lap"] = lap_of(end, shown);
    j["runs_through"] = end.runs_through;
    j["mate"] = end.mate ? Json(board_number(*end.mate) + corner_letter(end.corner)) : Json(nullptr);
    return j;
}

}  // namespace

Json boards_of(const Plan& plan) {
    if (!plan.frame || plan.shown.empty()) return nullptr;
    const Frame& frame = plan.exact_frame();
    const std::vector<ShownBoard>& exact = plan.exact_shown();
    ENSURE(exact.size() == frame.boards.size());
    Json list = Json::array();
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const Board& board = frame.boards[k];
        const ShownBoard& shown = exact[k];
        const std::array<Vec2, 4> quadrilateral = board.plan_mm();
        Json j;
        j["number"] = board_name(k);
        j["stock"] = stock_name(plan.project, plan.project.boards[k].stock);
        j["width_in_joint_mm"] = number(std::max(board.width_at(0), board.width_at(1)));
        j["height_mm"] = number(board.height_mm);
        j["inside_length_mm"] = number(shown.inside_length_mm);
        j["outside_length_mm"] = number(shown.outside_length_mm);
        j["long_point_mm"] = number(shown.long_point_mm);
        j["short_point_mm"] = number(shown.short_point_mm);
        j["rough_length_mm"] = number(shown.rough_length_mm);
        j["left_end"] = corner_letter(board.ends[shown.left_end].corner);
        j["plan_mm"] = points({quadrilateral.begin(), quadrilateral.end()}, plan.outline->letters_clockwise);
        j["ends"] = Json::array({end_of(board, 0, shown.ends[0]), end_of(board, 1, shown.ends[1])});
        list.push_back(std::move(j));
    }
    return list;
}

Json joints_of(const Plan& plan) {
    if (!plan.frame) return nullptr;
    const bool clockwise = plan.outline->letters_clockwise;
    Json list = Json::array();
    for (const Joint& joint : plan.frame->joints) {
        Json j;
        j["corner"] = corner_letter(joint.corner);
        j["kind"] = joint_word(joint.kind);
        j["boards"] = Json::array({board_name(joint.before), board_name(joint.after)});
        j["through"] = board_name(joint.through);
        j["interior_deg"] = number(joint.interior_deg);
        j["inner_mm"] = points({joint.inner_mm}, clockwise).front();
        j["outer_mm"] = points({joint.outer_mm}, clockwise).front();
        j["face_mm"] = number(joint.face_mm);
        list.push_back(std::move(j));
    }
    return list;
}

}  // namespace boardring
