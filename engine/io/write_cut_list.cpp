#include "io/plan_json.hpp"

#include <cmath>
#include <cstddef>
#include <nlohmann/json.hpp>
#include <optional>

#include "base/names.hpp"

namespace boardring {
namespace {

// Section and slopes of a group, as its first member lies.
struct GroupPiece {
    std::optional<std::size_t> stock;
    double width_mm = 0.0, thickness_mm = 0.0;
    double left_saw_deg = 0.0, right_saw_deg = 0.0;
};

GroupPiece piece_of(const Plan& plan, const PieceGroup& group) {
    const Project& project = plan.project;
    if (group.extra) {
        const PieceAsked& extra = project.pieces[*group.extra];
        const Stock& stock = project.stock[extra.stock];
        return {extra.stock, stock.width_mm, stock.thickness_mm, extra.left_saw_deg, extra.right_saw_deg};
    }
    const std::size_t k = group.members.front().board;
    const std::size_t left = plan.outline->letters_clockwise ? 1 : 0;
    const BoardAsked& asked = project.boards[k];
    const Board& board = plan.frame->boards[k];
    return {asked.stock, asked.width_mm, asked.thickness_mm, board.ends[left].saw_deg, board.ends[1 - left].saw_deg};
}

}  // namespace

Json cut_list_of(const Plan& plan) {
    if (!plan.cut_list) return nullptr;
    Json list = Json::array();
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
        const PieceGroup& group = plan.cut_list->groups[g];
        const GroupPiece piece = piece_of(plan, group);
        Json j;
        j["group"] = g + 1;
        j["piece"] = group.extra ? Json(plan.project.pieces[*group.extra].name) : Json(nullptr);
        j["boards"] = Json::array();
        for (const GroupMember& member : group.members) {
            Json m;
            m["number"] = board_name(member.board);
            m["turned"] = name_of(member.turning);
            j["boards"].push_back(std::move(m));
        }
        j["count"] = group.count;
        j["mirror_of"] = board_name(group.mirror_of);  // groups count from 1 like boards
        j["stock"] = stock_name(plan.project, piece.stock);
        j["width_mm"] = number(piece.width_mm);
        j["thickness_mm"] = number(piece.thickness_mm);
        j["long_point_mm"] = number(group.long_point_mm);
        j["rough_length_mm"] = number(group.rough_length_mm);
        j["left_saw_deg"] = number(piece.left_saw_deg);
        j["right_saw_deg"] = number(piece.right_saw_deg);
        list.push_back(std::move(j));
    }
    return list;
}

Json settings_of(const Plan& plan) {
    if (!plan.cut_list) return nullptr;
    Json list = Json::array();
    for (const SettingGroup& setting : plan.cut_list->settings) {
        Json j;
        j["setting_deg"] = number(setting.setting_deg);
        j["shown_deg"] = number(setting.shown_deg);
        j["scale_deg"] = number(std::abs(plan.project.tools.scale_at_square_deg - setting.shown_deg));
        j["ends"] = Json::array();
        for (const CutRef& cut : setting.cuts) j["ends"].push_back(end_name(*plan.frame, cut.board, cut.end));
        j["pieces"] = Json::array();
        for (const PieceCutRef& cut : setting.piece_cuts) {
            Json p;
            p["piece"] = plan.project.pieces[cut.piece].name;
            p["end"] = cut.end == 0 ? "left" : "right";
            j["pieces"].push_back(std::move(p));
        }
        j["count"] = setting.count;
        j["left"] = setting.left;
        j["right"] = setting.right;
        j["test_pair_deg"] = number(setting.test_pair_deg);
        j["test_corner"] = setting.test_pair_deg ? Json(corner_letter(setting.test_corner)) : Json(nullptr);
        j["within_saw"] = setting.within_saw;
        list.push_back(std::move(j));
    }
    return list;
}

Json sections_of(const Plan& plan) {
    if (!plan.cut_list) return nullptr;
    Json list = Json::array();
    for (const SectionTotal& section : plan.cut_list->sections) {
        Json j;
        j["stock"] = stock_name(plan.project, section.stock);
        j["width_mm"] = number(section.width_mm);
        j["thickness_mm"] = number(section.thickness_mm);
        j["pieces"] = section.pieces;
        j["finished_mm"] = number(section.finished_mm);
        j["rough_mm"] = number(section.rough_mm);
        j["test_pieces"] = section.test_pieces;
        j["test_mm"] = number(section.test_mm);
        j["longest_mm"] = number(section.longest_mm);
        list.push_back(std::move(j));
    }
    return list;
}

}  // namespace boardring
