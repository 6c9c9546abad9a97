#include "cutlist/cut_list.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "cutlist/grouping.hpp"
#include "cutlist/ranks.hpp"
#include "cutlist/settings.hpp"

namespace boardring {
namespace {

// Length of board that one saw cut takes: the kerf lies along the slope.
double cut_mm(const Tools& tools, double saw_deg) { return tools.kerf_mm / cos_deg(saw_deg); }

double steeper_deg(double first_deg, double second_deg) { return std::max(std::abs(first_deg), std::abs(second_deg)); }

double rough_piece_mm(const Project& project, const PieceAsked& piece) {
    return piece.length_mm + cut_mm(project.tools, steeper_deg(piece.left_saw_deg, piece.right_saw_deg));
}

void add_lengths(const Frame& frame, const std::vector<double>& rough, PieceGroup& group) {
    group.long_point_mm = long_point_mm(frame.boards[group.members.front().board]);
    for (const GroupMember& member : group.members) group.rough_length_mm = std::max(group.rough_length_mm, rough[member.board]);
}

PieceGroup group_of_extra(const Project& project, std::size_t p) {
    PieceGroup group;
    group.extra = p;
    group.count = project.of_piece(project.pieces[p]);
    group.long_point_mm = project.pieces[p].length_mm;
    group.rough_length_mm = rough_piece_mm(project, project.pieces[p]);
    return group;
}

// Which section every board and extra piece is cut from, sections counted in the order of their first appearance.
struct Sections {
    std::vector<SectionTotal> totals;
    std::vector<std::size_t> of_board;
    std::vector<std::size_t> of_piece;
};

Sections sections_of(const Project& project) {
    std::vector<double> sizes;
    for (const BoardAsked& board : project.boards) sizes.insert(sizes.end(), {board.width_mm, board.thickness_mm});
    for (const Stock& stock : project.stock) sizes.insert(sizes.end(), {stock.width_mm, stock.thickness_mm});
    const Ranks ranks(std::move(sizes), kSamePieceMm);

    Sections sections;
    std::map<std::tuple<std::optional<std::size_t>, std::size_t, std::size_t>, std::size_t> known;  // only looked up
    const auto section = [&](std::optional<std::size_t> stock, double width_mm, double thickness_mm) {
        const auto [place, is_new] = known.try_emplace({stock, ranks.of(width_mm), ranks.of(thickness_mm)}, sections.totals.size());
        if (is_new) {
            SectionTotal total;
            total.stock = stock;
            total.width_mm = width_mm;
            total.thickness_mm = thickness_mm;
            sections.totals.push_back(total);
        }
        return place->second;
    };
    for (const BoardAsked& board : project.boards) {
        sections.of_board.push_back(section(board.stock, board.width_mm, board.thickness_mm));
    }
    for (const PieceAsked& piece : project.pieces) {
        const Stock& stock = project.stock[piece.stock];
        sections.of_piece.push_back(section(piece.stock, stock.width_mm, stock.thickness_mm));
    }
    return sections;
}

void add_pieces(std::size_t count, double finished_mm, double rough_mm, SectionTotal& to) {
    to.pieces += count;
    to.finished_mm += static_cast<double>(count) * finished_mm;
    to.rough_mm += static_cast<double>(count) * rough_mm;
    to.longest_mm = std::max(to.longest_mm, rough_mm);
}

void add_spares(const Project& project, const std::vector<PieceGroup>& groups, Sections& sections) {
    const PieceGroup* const commonest = group_to_spare(groups);
    if (commonest == nullptr) return;
    sections.totals[sections.of_board[commonest->members.front().board]].rough_mm +=
        static_cast<double>(project.wanted.spares) * commonest->rough_length_mm;
}

// The section most cuts of this setting are made in; the first of equals.
std::size_t section_of_setting(const Project& project, const SettingGroup& setting, const Sections& sections) {
    std::map<std::size_t, std::size_t> cuts;
    for (const CutRef& cut : setting.cuts) cuts[sections.of_board[cut.board]] += project.of_each_board();
    for (const PieceCutRef& cut : setting.piece_cuts) cuts[sections.of_piece[cut.piece]] += project.of_piece(project.pieces[cut.piece]);
    ENSURE(!cuts.empty());
    const auto fewer = [](const auto& a, const auto& b) { return a.second < b.second; };
    return std::max_element(cuts.begin(), cuts.end(), fewer)->first;
}

void add_test_pieces(const Project& project, const std::vector<SettingGroup>& settings, Sections& sections) {
    for (const SettingGroup& setting : settings) {
        if (setting.setting_deg <= kSquareCutDeg) continue;
        SectionTotal& total = sections.totals[section_of_setting(project, setting, sections)];
        const std::size_t pieces = setting.test_pair_deg ? 2 : 1;
        const double width_mm = project.lie == Lie::flat ? total.width_mm : total.thickness_mm;
        total.test_pieces += pieces;
        total.test_mm += static_cast<double>(pieces) * test_piece_mm(project.tools, width_mm, setting.setting_deg);
    }
    for (SectionTotal& total : sections.totals) total.rough_mm += total.test_mm;
}

std::vector<SectionTotal> total_sections(const Project& project, const Frame& frame, const CutList& list) {
    Sections sections = sections_of(project);
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        add_pieces(project.of_each_board(), long_point_mm(frame.boards[k]), list.rough_length_mm[k], sections.totals[sections.of_board[k]]);
    }
    for (std::size_t p = 0; p < project.pieces.size(); ++p) {
        const PieceAsked& piece = project.pieces[p];
        add_pieces(project.of_piece(piece), piece.length_mm, rough_piece_mm(project, piece), sections.totals[sections.of_piece[p]]);
    }
    add_spares(project, list.groups, sections);
    add_test_pieces(project, list.settings, sections);
    return sections.totals;
}

}  // namespace

std::vector<SawWay> ways_to_saw(const Project& project, const Board& board, double saw_deg) {
    const Tools& tools = project.tools;
    const double setting_deg = std::abs(saw_deg);
    const bool on_edge = project.lie == Lie::on_edge;
    const bool can_swing = setting_deg <= tools.swing_limit_deg + kStopPlayDeg;
    const bool can_tilt = setting_deg <= tools.tilt_limit_deg + kStopPlayDeg;
    // Standing at the fence as it will stand or lie in the ring, a board on edge is `height` high, a flat one `width`.
    const bool fence_holds = (on_edge ? board.height_mm : board.width_mm) <= tools.fence_height_mm + kSamePieceMm;
    const SawWay::Motion lying = on_edge ? SawWay::Motion::tilt : SawWay::Motion::swing;
    const SawWay::Motion standing = on_edge ? SawWay::Motion::swing : SawWay::Motion::tilt;
    return {SawWay{lying, true, setting_deg, on_edge ? can_tilt : can_swing},
            SawWay{standing, false, setting_deg, fence_holds && (on_edge ? can_swing : can_tilt)}};
}

double long_point_mm(const Board& board) {
    return std::max(board.ends[1].inside_mm, board.ends[1].outside_mm) - std::min(board.ends[0].inside_mm, board.ends[0].outside_mm);
}

double test_piece_mm(const Tools& tools, double width_mm, double setting_deg) {
    return kTestPieceMm + width_mm * tan_deg(setting_deg) + cut_mm(tools, setting_deg) + cut_mm(tools, 0.0);
}

double rough_length_mm(const Project& project, const Frame& frame, std::size_t board) {
    const Board& b = frame.boards[board];
    const double left_long_mm = board == project.wanted.fit_last.value_or(frame.boards.size() - 1) ? project.wanted.leave_long_mm : 0.0;
    return long_point_mm(b) + cut_mm(project.tools, steeper_deg(b.ends[0].saw_deg, b.ends[1].saw_deg)) + left_long_mm;
}

const PieceGroup* group_to_spare(const std::vector<PieceGroup>& groups) {
    const PieceGroup* commonest = nullptr;
    for (const PieceGroup& group : groups) {
        if (!group.extra && (commonest == nullptr || group.count > commonest->count)) commonest = &group;
    }
    return commonest;
}

CutList list_cuts(const Project& project, const Frame& frame) {
    CutList list;
    list.rough_length_mm.reserve(frame.boards.size());
    for (std::size_t k = 0; k < frame.boards.size(); ++k) list.rough_length_mm.push_back(rough_length_mm(project, frame, k));
    list.groups = group_boards(project, frame);
    for (PieceGroup& group : list.groups) add_lengths(frame, list.rough_length_mm, group);
    for (std::size_t p = 0; p < project.pieces.size(); ++p) list.groups.push_back(group_of_extra(project, p));
    list.settings = group_settings(project, frame);
    list.sections = total_sections(project, frame, list);
    return list;
}

}  // namespace boardring
