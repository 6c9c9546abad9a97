#include "cutlist/settings.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "base/length_text.hpp"
#include "cutlist/ranks.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

// Every cut once: of board ends, then of extra pieces' ends.
struct Cut {
    std::optional<CutRef> board;
    std::optional<PieceCutRef> piece;
    double saw_deg = 0.0;
    bool at_left = false;     // end of the board, outside edge towards the maker
    std::size_t times = 0;    // in all
    bool within_saw = false;
};

bool some_way_within(const Project& project, const Board& board, double saw_deg) {
    const std::vector<SawWay> ways = ways_to_saw(project, board, saw_deg);
    return std::any_of(ways.begin(), ways.end(), [](const SawWay& way) { return way.within_saw; });
}

std::vector<Cut> all_cuts(const Project& project, const Frame& frame) {
    std::vector<Cut> cuts;
    cuts.reserve(2 * (frame.boards.size() + project.pieces.size()));
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const Board& board = frame.boards[k];
        for (std::size_t e = 0; e < 2; ++e) {
            const double saw_deg = board.ends[e].saw_deg;
            const bool at_left = frame.letters_clockwise ? e == 1 : e == 0;
            cuts.push_back({CutRef{k, e}, std::nullopt, saw_deg, at_left, project.of_each_board(), some_way_within(project, board, saw_deg)});
        }
    }
    for (std::size_t p = 0; p < project.pieces.size(); ++p) {
        const PieceAsked& piece = project.pieces[p];
        const Board section = section_of(project, piece);
        for (std::size_t e = 0; e < 2; ++e) {
            const double saw_deg = e == 0 ? piece.left_saw_deg : piece.right_saw_deg;
            cuts.push_back({std::nullopt, PieceCutRef{p, e}, saw_deg, e == 0, project.of_piece(piece), some_way_within(project, section, saw_deg)});
        }
    }
    return cuts;
}

// How many of the saw's motions come to their stop before this setting.
int stops_passed(const Tools& tools, double setting_deg) {
    return (setting_deg > tools.tilt_limit_deg + kStopPlayDeg ? 1 : 0) + (setting_deg > tools.swing_limit_deg + kStopPlayDeg ? 1 : 0);
}

void add_cut(const Tools& tools, const Cut& cut, SettingGroup& group) {
    if (group.count == 0 && group.cuts.empty() && group.piece_cuts.empty()) {
        group.setting_deg = std::abs(cut.saw_deg);
        group.shown_deg = shown_setting_deg(tools, cut.saw_deg);
    }
    if (cut.board) group.cuts.push_back(*cut.board);
    if (cut.piece) group.piece_cuts.push_back(*cut.piece);
    group.count += cut.times;
    group.within_saw = group.within_saw && cut.within_saw;
    if (group.shown_deg > 0.0) {
        // Turning the board so that its longer edge lies towards the maker takes an inside-longer cut to the other end.
        const bool at_left = cut.at_left == (cut.saw_deg > 0.0);
        (at_left ? group.left : group.right) += cut.times;
    }
}

}  // namespace

std::vector<std::size_t> groups_of_settings(const Tools& tools, const std::vector<double>& ascending) {
    std::vector<std::size_t> group(ascending.size(), 0);
    std::size_t start = 0;
    for (std::size_t r = 1; r < ascending.size(); ++r) {
        const bool same = shown_setting_deg(tools, ascending[r]) == shown_setting_deg(tools, ascending[start]) &&
                          ascending[r] - ascending[start] < 0.25 * tools.saw_step_deg &&
                          stops_passed(tools, ascending[r]) == stops_passed(tools, ascending[start]);
        if (!same) start = r;
        group[r] = same ? group[r - 1] : group[r - 1] + 1;
    }
    return group;
}

double shown_setting_deg(const Tools& tools, double saw_deg) {
    const double step = tools.slope_by == SlopeBy::saw ? tools.saw_step_deg : kBevelStepDeg;
    return rounded_to_step(std::abs(saw_deg), step);
}

Board section_of(const Project& project, const PieceAsked& piece) {
    const Stock& stock = project.stock[piece.stock];
    Board board;
    board.width_mm = project.lie == Lie::flat ? stock.width_mm : stock.thickness_mm;
    board.height_mm = project.lie == Lie::flat ? stock.thickness_mm : stock.width_mm;
    return board;
}

std::vector<SettingGroup> group_settings(const Project& project, const Frame& frame) {
    const std::vector<Cut> cuts = all_cuts(project, frame);
    std::vector<double> sizes;
    sizes.reserve(cuts.size());
    for (const Cut& cut : cuts) sizes.push_back(std::abs(cut.saw_deg));
    const Ranks runs(std::move(sizes), kSquareCutDeg);
    const std::vector<std::size_t> group_of_run = groups_of_settings(project.tools, runs.lowest());
    const auto group_of = [&](double saw_deg) { return group_of_run[runs.of(std::abs(saw_deg))]; };

    std::vector<SettingGroup> groups(group_of_run.empty() ? 0 : group_of_run.back() + 1);
    for (const Cut& cut : cuts) add_cut(project.tools, cut, groups[group_of(cut.saw_deg)]);
    for (const Joint& joint : frame.joints) {
        if (!is_mitred(joint.kind)) continue;
        const std::size_t before = group_of(frame.boards[joint.before].ends[1].saw_deg);
        const std::size_t after = group_of(frame.boards[joint.after].ends[0].saw_deg);
        if (before != after || groups[before].test_pair_deg) continue;
        groups[before].test_pair_deg = 180.0 - std::abs(180.0 - joint.interior_deg);
        groups[before].test_corner = joint.corner;
    }
    return groups;
}

}  // namespace boardring
