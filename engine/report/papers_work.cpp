#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "plan/refit_plan.hpp"
#include "project/joint_kinds.hpp"
#include "report/command_text.hpp"
#include "report/page_parts.hpp"
#include "report/papers.hpp"
#include "report/sawing_drawing.hpp"
#include "report/sawing_order.hpp"
#include "report/shopping_list.hpp"
#include "report/wording.hpp"

// The papers of the work itself, in its order: saw, long boards, assembly, log.

namespace boardring {
namespace {

using Column = PaperTable::Column;

// --- saw ------------------------------------------------------------------------------------------------------------------

// What a cut is held against before wood is spent: two alike that make a corner, or this one with its mate's.
std::string test_words(const Plan& plan, const SettingGroup& group) {
    if (shown_away_deg(group.setting_deg, plan.project) == 0.0) return "square against the edge";
    if (group.test_pair_deg) return fmt::format("two test pieces together must make {}", show_angle(*group.test_pair_deg, 1));
    for (const CutRef& cut : group.cuts) {
        const BoardEnd& end = plan.frame->boards[cut.board].ends[cut.end];
        for (const Joint& joint : plan.frame->joints) {
            if (joint.corner != end.corner || !is_mitred(joint.kind) || !end.mate) continue;
            const Board& mate = plan.frame->boards[*end.mate];
            const BoardEnd& other = mate.ends[mate.ends[0].corner == end.corner ? 0 : 1];
            return fmt::format("with one at {} it must make {}, as at {}", show_setting(other.saw_deg, plan.project),
                               show_angle(180.0 - std::abs(180.0 - joint.interior_deg), 1), corner_letter(joint.corner));
        }
    }
    return "a test piece against the wedge or the bevel";
}

std::vector<std::string> end_names(const Plan& plan, const SettingGroup& group) {
    std::vector<std::string> ends;
    for (const CutRef& cut : group.cuts) ends.push_back(board_number(cut.board) + corner_letter(plan.frame->boards[cut.board].ends[cut.end].corner));
    for (const PieceCutRef& cut : group.piece_cuts) ends.push_back(clean_text(plan.project.pieces[cut.piece].name, 60) + (cut.end == 0 ? " left" : " right"));
    return ends;
}

PaperTable settings_table(const Plan& plan) {
    PaperTable table{"Cuts by setting, from square up",
                     {"set the saw to", "test first", "found", "ends", "cuts", "left", "right", "rise from " + shown(plan.project.tools.bevel_base_mm, plan.project)},
                     {Column::big, Column::words, Column::room, Column::words, Column::number, Column::number, Column::number, Column::number}, {}};
    for (const SettingGroup& group : plan.cut_list->settings) {
        const bool square = shown_away_deg(group.setting_deg, plan.project) == 0.0;
        std::string test = test_words(plan, group);
        if (!group.within_saw) test = "past your saw's stop; " + test;
        const double rise_mm = group.cuts.empty() ? plan.project.tools.bevel_base_mm * tan_deg(group.setting_deg)
                                                  : plan.shown[group.cuts.front().board].ends[group.cuts.front().end].bevel_rise_mm;
        table.rows.push_back({show_setting(group.setting_deg, plan.project), test, "", and_list(end_names(plan, group)), fmt::format("{}", group.count),
                              square ? "" : fmt::format("{}", group.left), square ? "" : fmt::format("{}", group.right),
                              square ? "" : bevel_cell(rise_mm, plan.project.tools.bevel_base_mm, plan.project)});
    }
    return table;
}

// --- long boards ------------------------------------------------------------------------------------------------------------

PaperTable shopping_table(const Buying& buying, const Project& project) {
    PaperTable table{"What to buy", {"how many", "section", "length", "price each", "left over of each"},
                     {Column::number, Column::number, Column::number, Column::number, Column::words}, {}};
    for (const ShoppingRow& row : shopping_rows(buying)) {
        const BarOffer& offer = row.purchase->section.offers[row.offer];
        std::vector<std::string> left;
        for (const double mm : row.left_over_mm) left.push_back(shown(mm, project));
        left.erase(std::unique(left.begin(), left.end()), left.end());
        table.rows.push_back({fmt::format("{}", row.count), section_words(*row.purchase, project),
                              fmt::format("{}{}", offer.offcut ? "your own " : "", board_length(offer.length_mm, project)),
                              offer.price ? money(*offer.price) : offer.offcut ? "" : "?", and_list(left)});
    }
    return table;
}

PaperCard long_board_card(const SawnBoards& boards, const std::vector<const Project*>& projects) {
    const Project& project = *projects.front();
    PaperTable marks{"Marks from the left end", {"", "piece", "from: far", "near", "saw", "to: far", "near", "saw", "turned"},
                     {Column::number, Column::words, Column::number, Column::number, Column::number, Column::number, Column::number, Column::number,
                      Column::words},
                     {}};
    std::size_t number = 0;
    for (const SawnPiece& p : sawn_pieces(boards, projects))
        marks.rows.push_back({fmt::format("{}", ++number), p.name, p.left_far, p.left_near, p.left_saw, p.right_far, p.right_near, p.right_saw, p.turned});
    std::string heading = sawn_heading(boards);
    const std::size_t note = heading.find('(');
    heading = fmt::format("Long board{} {}{}", boards.numbers.size() == 1 ? "" : "s", board_list(boards.numbers),
                          note == std::string::npos ? "" : " " + heading.substr(note));
    return {heading, draw_sawing(boards, projects), {std::move(marks)}, {sawn_subject(boards, project)}};
}

// --- assembly ---------------------------------------------------------------------------------------------------------------

// Boards from one corner on to another.
std::string boards_between(const Plan& plan, std::size_t from, std::size_t to) {
    std::vector<std::size_t> boards;
    for (std::size_t corner = from; corner != to; corner = plan.outline->corner_after(boards.back())) boards.push_back(plan.outline->board_after(corner));
    return board_list(std::move(boards));
}

std::vector<PaperPart> halves_parts(const Plan& plan) {
    if (!plan.outline->closed || plan.shown.size() < 4) return {};
    std::vector<PaperPart> parts{PaperHeading{"In two halves"}};
    if (!plan.assembly->halves) {
        parts.emplace_back(PaperText{"No two halves of this ring have end faces that lie in one line: put it together board by board, and keep every corner "
                                     "against its block."});
        return parts;
    }
    const Halves& halves = *plan.assembly->halves;
    const std::size_t a = halves.first_corner, b = halves.second_corner;
    const std::string less = plan.project.lie == Lie::on_edge ? "tilt" : "swing";
    parts.emplace_back(PaperList{
        {fmt::format("One half is {}, the other {}. Put each together dry, in a band or with tape.", boards_between(plan, a, b), boards_between(plan, b, a)),
         fmt::format("Stand a half with both end faces, {} and {}, against a straight edge. They must touch from the inside to the outside, {} apart at the "
                     "inner points and {} at the outer.",
                     corner_letter(a), corner_letter(b), shown(halves.inside_mm, plan.project), shown(halves.outside_mm, plan.project)),
         fmt::format("Open at the inside: the slopes are too steep, {} less for what is still to cut. Open at the outside: {} more.", less, less),
         "Glue the halves, plane their end faces true to the straight edge, and join them last."},
        true});
    return parts;
}

// One row for all corners of one angle.
PaperTable blocks_table(const Plan& plan) {
    PaperTable blocks{"Blocks that hold the corners while the glue sets", {"angle", "at", "where"}, {Column::big, Column::words, Column::words}, {}};
    std::vector<std::vector<std::string>> corners;
    for (const Joint& joint : plan.frame->joints) {
        const bool inward = joint.interior_deg > 180.0;
        const std::string angle = show_angle(inward ? 360.0 - joint.interior_deg : joint.interior_deg, 1);
        const std::string where = inward ? "outside the ring: IN-CORNER" : "inside the ring";
        const auto alike = std::find_if(blocks.rows.begin(), blocks.rows.end(),
                                        [&](const std::vector<std::string>& row) { return row[0] == angle && row[2] == where; });
        const std::size_t at = static_cast<std::size_t>(alike - blocks.rows.begin());
        if (alike == blocks.rows.end()) {
            blocks.rows.push_back({angle, "", where});
            corners.emplace_back();
        }
        corners[at].push_back(corner_letter(joint.corner));
    }
    for (std::size_t i = 0; i < blocks.rows.size(); ++i) blocks.rows[i][1] = and_list(corners[i]);
    return blocks;
}

std::string pair_name(std::size_t first, std::size_t second) {
    const std::string a = corner_letter(first), b = corner_letter(second);
    return fmt::format("{}{}{}", a, a.size() + b.size() > 2 ? "-" : "", b);
}

PaperTable diagonals_table(const Plan& plan) {
    PaperTable table{"Straight across, point to point", {"from, to", "inside", "found", "outside", "found"},
                     {Column::words, Column::big, Column::room, Column::big, Column::room}, {}};
    for (const Diagonal& d : plan.assembly->diagonals)
        table.rows.push_back({pair_name(d.first, d.second), shown(d.inside_mm, plan.project), "", shown(d.outside_mm, plan.project), ""});
    return table;
}

// --- log --------------------------------------------------------------------------------------------------------------------

constexpr std::size_t kMostLogs = 4;          // tables, one for each course of each copy
constexpr std::size_t kMostInCommand = 12;    // boards named in the command to fill in
constexpr const char* kBlank = "________";

PaperTable log_table(const Plan& plan, const std::string& caption) {
    PaperTable log{caption, {"board", "long point", "found", "short point", "found", "made"},
                   {Column::words, Column::big, Column::room, Column::big, Column::room, Column::tick}, {}};
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        log.rows.push_back({board_number(k), shown(plan.shown[k].long_point_mm, plan.project), "", shown(plan.shown[k].short_point_mm, plan.project), "", ""});
    }
    return log;
}

std::string as_cut_command(const Plan& plan, const PageOptions& options, const std::string& more) {
    std::string line = "boardring refit " + shell_word(clean_text(options.project_name, 60));
    for (std::size_t k = 0; k < std::min(plan.shown.size(), kMostInCommand); ++k) line += fmt::format(" {}={}/{}", board_number(k), kBlank, kBlank);
    if (plan.shown.size() > kMostInCommand) line += " ...";
    return line + more;
}

}  // namespace

Paper saw_paper(const Plan& plan) {
    PaperList how{{"Cut the test pieces first, on scrap of the same section, and write down what they make. If less than they must, "
                       + slope_less_words(plan.project) + ".",
                   "Finish one setting before you turn the saw to the next.",
                   "Left and right: at which end the cut lies with the longer edge towards you.",
                   "Draw one triangle in chalk across all boards as they lie ready: a board that has been turned then shows at once."}};
    return {"saw", "At the saw", {settings_table(plan), std::move(how), terms_of(by_hand_lines(plan, Words::all), kLabelColumns)}};
}

Paper sawing_paper(const Plan& plan) {
    Paper paper{"boards", "Long boards, and how to saw them", {}};
    if (!plan.buying || !plan.buying->has_offers()) return paper;
    const std::vector<const Project*> projects{&plan.project};
    const std::vector<SawnBoards> boards = sawn_boards(*plan.buying);
    if (boards.empty()) return paper;
    paper.parts.emplace_back(shopping_table(*plan.buying, plan.project));
    paper.parts.emplace_back(PaperText{how_to_saw(boards, projects)});
    for (const SawnBoards& some : boards) paper.parts.emplace_back(long_board_card(some, projects));
    return paper;
}

Paper assembly_paper(const Plan& plan) {
    Paper paper{"assembly", "Putting it together", {PaperHeading{"Order"}, PaperList{order_steps(plan, false), true}}};
    Lines work = last_joint_lines(plan, Words::all);
    append_lines(work, year_lines(plan));
    append_lines(work, check_lines(plan));
    if (!work.empty()) paper.parts.emplace_back(terms_of(work, kLabelColumns));
    for (PaperPart& part : halves_parts(plan)) paper.parts.push_back(std::move(part));
    if (!plan.assembly->diagonals.empty()) paper.parts.emplace_back(diagonals_table(plan));
    if (!plan.frame->joints.empty()) {
        paper.parts.emplace_back(blocks_table(plan));
        paper.parts.emplace_back(PaperText{"full-size.pdf has every block at full size."});
    }
    return paper;
}

Paper log_paper(const Plan& plan, const PageOptions& options) {
    const Project& project = plan.project;
    Paper paper{"log", "What was cut", {PaperText{fmt::format("Write what the boards really measure, in {}, before anything is glued: the last boards can still "
                                                              "make up for the first.",
                                                              unit_words(project.unit))}}};
    const std::size_t rings = project.of_each_board();
    for (std::size_t i = 0; i < std::min(rings, kMostLogs); ++i) {
        const std::size_t course = i % project.courses + 1, copy = i / project.courses + 1;
        std::string caption = "Every board, point to point";
        if (project.courses > 1) caption += fmt::format(", course {}", course);
        if (project.copies > 1) caption += fmt::format(", copy {}", copy);
        paper.parts.emplace_back(log_table(plan, caption));
    }
    if (rings > kMostLogs) paper.parts.emplace_back(PaperText{fmt::format("There are {} of these in all: copy this page.", rings)});
    if (!can_be_refitted(project)) {
        if (plan.outline->closed)
            paper.parts.emplace_back(PaperText{"A board came out otherwise: at a butt joint cut the board that stops there last, to the gap you find; at a half-lap "
                                               "mark its shoulders from the board it lies over."});
        return paper;
    }
    paper.parts.emplace_back(PaperHeading{"A board came out otherwise, and another is still to cut"});
    paper.parts.emplace_back(PaperText{"Type the boards that are cut, long point/short point, and leave out the others: they are worked out anew, so that the ring "
                                       "closes. Straight across between two corners, put together dry, helps: AC=" + std::string(kBlank) + "."});
    paper.parts.emplace_back(PaperCommand{as_cut_command(plan, options, "")});
    paper.parts.emplace_back(PaperHeading{"All are cut, and the last joint stands open"});
    const std::string last = corner_letter(plan.outline->corner_after(plan.assembly->fit_last));
    paper.parts.emplace_back(PaperText{fmt::format("Hold every other joint tight, measure the gap at {}, inside/outside, and put it behind all the boards: you are told "
                                                   "what to plane off, or what to trim.",
                                                   last)});
    paper.parts.emplace_back(PaperCommand{as_cut_command(plan, options, fmt::format(" {}={}/{}", last, kBlank, kBlank))});
    return paper;
}

}  // namespace boardring
