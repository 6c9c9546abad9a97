// The page of a project of pieces alone: no ring, so no corners, no closing and no order of assembly.
#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "report/command_text.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostPieces = 16;  // rows of the table; the files tell them all
constexpr std::size_t kNameColumns = 24;
constexpr std::size_t kStockColumns = 16;
constexpr std::size_t kTitleColumns = 91;

Lines piece_table(const Plan& plan) {
    const Project& project = plan.project;
    Lines lines{padded("PIECES", 9) + (project.lie == Lie::flat ? "Flat, show face up, outside edge to you."
                                                                : "On edge: top edge up, outside face to you.")};
    lines.push_back(fmt::format("  {}{}{}{}{}  {}", padded_before("make", 6), padded_before("long", 12), padded_before("left", 8),
                                padded_before("right", 8), padded("  name", kNameColumns + 2), "of"));
    const auto end = [&](double saw) { return show_setting(saw, project) + (shown_away_deg(saw, project) > 0.0 && saw < 0.0 ? "*" : ""); };
    bool inside_longer = false;
    for (std::size_t p = 0; p < std::min(kMostPieces, project.pieces.size()); ++p) {
        const PieceAsked& piece = project.pieces[p];
        const std::string left = end(piece.left_saw_deg), right = end(piece.right_saw_deg);
        inside_longer = inside_longer || left.ends_with('*') || right.ends_with('*');
        lines.push_back(fmt::format("  {}{}{}{}  {}  {}", padded_before(std::to_string(project.of_piece(piece)), 6),
                                    padded_before(shown(piece.length_mm, project), 12), padded_before(left, 8),
                                    padded_before(right, 8), padded(clean_text(piece.name, kNameColumns), kNameColumns),
                                    clean_text(project.stock[piece.stock].name, kStockColumns)));
    }
    if (project.pieces.size() > kMostPieces) {
        lines.push_back(fmt::format("  and {} more kinds of piece: plan.json, with --out.", project.pieces.size() - kMostPieces));
    }
    if (inside_longer) lines.emplace_back("  * the inside is the longer side there.");
    return lines;
}

std::string shape_words(const Project& project) {
    const std::string words = project.pieces.size() == 1 ? "pieces alone, all alike"
                                                         : fmt::format("pieces alone, {} kinds", count_word(project.pieces.size()));
    return project.copies > 1 ? fmt::format("{}, {} times over", words, count_word(project.copies)) : words;
}

}  // namespace

Lines no_ring_lines() {
    return labelled("NO RING.", "Pieces only, so nothing has to close; \"outline\" and \"boards\" would make it a frame.", kVerdictColumns);
}

Lines pieces_title_lines(const Plan& plan) {
    const std::string title = headline(clean_text(plan.project.title, 60));
    const std::string unit = unit_words(plan.project.unit);
    const std::string shape = shape_words(plan.project);
    const std::string whole = title.empty() ? capital(shape) : fmt::format("{} - {}", title, shape);
    return {padded(clean_text(whole, kTitleColumns - 2 - unit.size()), kTitleColumns - unit.size()) + unit};
}

Lines pieces_sawing_lines(const Plan& plan) {
    std::vector<std::string> within, beyond;
    for (const SettingGroup& group : plan.cut_list->settings) {
        if (shown_away_deg(group.setting_deg, plan.project) == 0.0) continue;
        (group.within_saw ? within : beyond).push_back(show_setting(group.setting_deg, plan.project));
    }
    if (within.empty() && beyond.empty()) return labelled("CAN BE SAWN.", "Every cut is square.", kVerdictColumns);
    if (beyond.empty()) return labelled("CAN BE SAWN.", fmt::format("Set the saw to {}.", and_list(within)), kVerdictColumns);
    return labelled("SAW STOPS.", fmt::format("Beyond it: {}.{}", and_list(beyond), within.empty() ? "" : " Within it: " + and_list(within) + "."),
                    kVerdictColumns);
}

std::string pieces_page(const Plan& plan, const PageOptions& options) {
    Lines page = pieces_title_lines(plan);
    page.emplace_back();
    append_lines(page, no_ring_lines());
    append_lines(page, pieces_sawing_lines(plan));
    append_lines(page, buying_lines(plan));
    append_lines(page, decide_lines(plan, options, 8));
    page.emplace_back();
    append_lines(page, piece_table(plan));
    page.emplace_back();
    append_lines(page, care_lines(plan, options, 5));
    append_lines(page, noted_lines(plan, options, 3));
    append_lines(page, assumed_lines(plan, options, 3));
    append_lines(page, next_line("boardring buy " + (options.project_name.empty() ? "FILE" : shell_word(clean_text(options.project_name, 40))),
                                 "every long board and its marks; --out DIR writes them"));
    return text_of(page);
}

}  // namespace boardring
