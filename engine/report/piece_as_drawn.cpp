#include "report/piece_as_drawn.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/ensure.hpp"
#include "base/names.hpp"
#include "cutlist/settings.hpp"
#include "report/drawing_parts.hpp"
#include "report/sawing_order.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

std::string longer_words(double run_mm, double saw_deg, const Project& project) {
    if (std::abs(saw_deg) < kSquareDeg) return "Square: both edges end alike.";
    const std::string by = shown(std::abs(run_mm), project);
    const std::string step = shown(project.tools.rule_step_mm, project);
    return fmt::format("{} longer by {}.", saw_deg > 0.0 ? "Outside" : "INSIDE",
                       by == shown(0.0, project) ? "less than " + step : by);
}

bool swaps_ends(Turning turning) {
    return turning == Turning::top_to_bottom || turning == Turning::end_for_end;
}

// "1A, 2B and 6F": names, the first six where there are many.
std::string names_list(std::vector<std::string> names) {
    constexpr std::size_t kMost = 7;
    if (names.size() > kMost) {
        const std::size_t more = names.size() - (kMost - 1);
        names.resize(kMost - 1);
        names.push_back(fmt::format("{} more", more));
    }
    return and_list(names);
}

const Joint* joint_at(const Frame& frame, std::size_t corner) {
    const auto found = std::find_if(frame.joints.begin(), frame.joints.end(), [&](const Joint& j) { return j.corner == corner; });
    return found == frame.joints.end() ? nullptr : &*found;
}

std::string meeting_words(const Plan& plan, std::size_t board, const BoardEnd& end) {
    const Joint* joint = joint_at(*plan.frame, end.corner);
    if (joint == nullptr || !end.mate) return "free end";
    const std::string mate = board_number(*end.mate) + corner_letter(end.corner);
    switch (joint->kind) {
        case JointKind::mitre:
            return "meets " + mate + ", mitre";
        case JointKind::butt:
            return joint->through == board ? "runs through past " + mate : "stops against " + mate;
        case JointKind::half_lap:
            return "half-lap with " + mate;
    }
    return "";
}

const BoardEnd& end_of_member(const Plan& plan, const GroupMember& member, std::size_t drawn_end) {
    return plan.frame->boards[member.board].ends[swaps_ends(member.turning) ? 1 - drawn_end : drawn_end];
}

std::vector<std::string> end_names(const Plan& plan, const PieceGroup& group, std::size_t drawn_end) {
    std::vector<std::string> names;
    for (const GroupMember& member : group.members)
        names.push_back(board_number(member.board) + corner_letter(end_of_member(plan, member, drawn_end).corner));
    return names;
}

// This end on every board of the group, and what it meets.
std::string end_words(const Plan& plan, const PieceGroup& group, std::size_t drawn_end) {
    const std::vector<std::string> all = end_names(plan, group, drawn_end);
    std::vector<std::string> free;
    for (std::size_t m = 0; m < all.size(); ++m) {
        if (!end_of_member(plan, group.members[m], drawn_end).mate) free.push_back(all[m]);
    }
    if (all.size() == 1) {
        const std::size_t k = group.members.front().board;
        return fmt::format("{}: {}.", all.front(), meeting_words(plan, k, plan.frame->boards[k].ends[drawn_end]));
    }
    if (free.size() == all.size()) return names_list(all) + ": free ends.";
    return names_list(all) + ": same letters meet" + (free.empty() ? "." : fmt::format("; {} free.", names_list(free)));
}

std::string lap_words(const LapAsDrawn& lap, double height_mm, const Project& project) {
    return fmt::format("Half-lap: cut away {} of {} from {}; the {} half stays.", shown(lap.depth_mm, project),
                       shown(height_mm, project), lap.keeps_upper ? "below" : "above", lap.keeps_upper ? "upper" : "lower");
}

// --- from the plan ----------------------------------------------------------------------------------------------------

EndAsDrawn end_of_board(const Plan& plan, const PieceGroup& group, std::size_t e) {
    const std::size_t k = group.members.front().board;
    const Board& board = plan.frame->boards[k];
    const BoardEnd& end = board.ends[e];
    const ShownEnd& shown_end = plan.shown[k].ends[e];
    EndAsDrawn drawn;
    drawn.inside_mm = shown_end.inside_mark_mm;
    drawn.outside_mm = shown_end.outside_mark_mm;
    drawn.saw_deg = end.saw_deg;
    drawn.width_mm = board.width_at(e);
    const double outermost = std::max(board.outer_at(0), board.outer_at(1));
    drawn.outside_at_mm = outermost - board.outer_at(e);
    drawn.inside_at_mm = outermost - board.offset_at(e);
    drawn.letter = corner_letter(end.corner);
    drawn.inward = plan.outline->is_joint(end.corner) && plan.outline->turn_deg[end.corner] < 0.0;
    drawn.within_saw = shown_end.ways.empty() || std::any_of(shown_end.ways.begin(), shown_end.ways.end(),
                                                             [](const SawWay& way) { return way.within_saw; });
    drawn.names = end_names(plan, group, e);
    drawn.lines.push_back(end_words(plan, group, e));
    drawn.lines.push_back(longer_words(end.run_mm, end.saw_deg, plan.project));
    if (std::abs(end.saw_deg) >= kSquareDeg) {
        drawn.lines.push_back(
            fmt::format("S {}, E {} on the edge.", show_angle(std::abs(end.saw_deg)), show_angle(shown_end.edge_deg)));
        drawn.lines.push_back(fmt::format("Bevel: {}.", bevel_words(shown_end.bevel_rise_mm, shown_end.bevel_base_mm, plan.project)));
    }
    if (end.lap && shown_end.shoulder_inside_mm && shown_end.shoulder_outside_mm) {
        drawn.lap =
            LapAsDrawn{end.lap->depth_mm, end.lap->keeps_upper, *shown_end.shoulder_inside_mm, *shown_end.shoulder_outside_mm};
        drawn.lines.push_back(lap_words(*drawn.lap, board.height_mm, plan.project));
    }
    return drawn;
}

// " (6 for each of 2 courses, 3 copies)"
std::string share_words(const Project& project, std::size_t of_a_course) {
    if (project.of_each_board() == 1) return "";
    const std::string copies = project.copies > 1 ? fmt::format("{} copies", project.copies) : "";
    if (project.courses == 1) return fmt::format(" ({} for each of {})", of_a_course, copies);
    return fmt::format(" ({} for each of {} courses{}{})", of_a_course, project.courses, copies.empty() ? "" : ", ", copies);
}

// " 1 and 3": the long boards these are sawn from; "" where nothing is bought.
std::string sawn_from(const Plan& plan, const std::vector<std::size_t>& boards) {
    if (!plan.buying) return "";
    std::vector<std::size_t> numbers;
    for (const SawnBoards& some : sawn_boards(*plan.buying)) {
        const SectionPurchase& purchase = *some.purchase;
        const std::vector<PlacedPiece>& placed = purchase.buy.bars[some.bar].pieces;
        const bool holds = std::any_of(placed.begin(), placed.end(), [&](const PlacedPiece& p) {
            const BoughtPiece& name = purchase.names[p.kind];
            return name.what == BoughtPiece::What::board && std::find_first_of(name.boards.begin(), name.boards.end(), boards.begin(), boards.end()) != name.boards.end();
        });
        if (holds) numbers.insert(numbers.end(), some.numbers.begin(), some.numbers.end());
    }
    return numbers.empty() ? "" : fmt::format(" From long board{} {}.", numbers.size() == 1 ? "" : "s", board_list(numbers));
}

void add_cautions(PieceAsDrawn& piece, double long_point_mm, const Project& project) {
    if (long_point_mm < project.tools.hold_length_mm)
        piece.cautions.push_back(fmt::format("Short: under {} no hand holds it beside a blade. Clamp, jig or hand saw.", shown(project.tools.hold_length_mm, project)));
    const bool thin = std::any_of(piece.ends.begin(), piece.ends.end(), [](const EndAsDrawn& end) { return has_fragile_tip(end.saw_deg); });
    if (thin) piece.cautions.emplace_back("Thin tip: back it with scrap, and let the blade stop before you lift it.");
}

// From which face a board that tapers is marked.
const char* taper_words(OutlineLine line) {
    switch (line) {
        case OutlineLine::inside: return "mark, set and saw from the inside face";
        case OutlineLine::outside: return "mark, set and saw from the outside face";
        case OutlineLine::middle: return "mark, set and saw from a line down the middle";
    }
    return "";
}

PieceAsDrawn piece_of_boards(const Plan& plan, const PieceGroup& group) {
    const std::size_t k = group.members.front().board;
    const Project& project = plan.project;
    const ShownBoard& board = plan.shown[k];
    PieceAsDrawn piece;
    std::vector<std::size_t> as_drawn;
    std::vector<std::pair<Turning, std::vector<std::size_t>>> turned{
        {Turning::top_to_bottom, {}}, {Turning::edge_for_edge, {}}, {Turning::end_for_end, {}}};
    std::vector<std::size_t> all;
    for (const GroupMember& member : group.members) {
        all.push_back(member.board);
        for (auto& [turning, boards] : turned) {
            if (member.turning == turning) boards.push_back(member.board);
        }
    }
    piece.heading = fmt::format("Board{} {}", all.size() == 1 ? "" : "s", board_list(all));
    piece.number = board_number(k);
    piece.count = group.count;
    const Board& built = plan.frame->boards[k];
    piece.width_mm = std::max(built.width_at(0), built.width_at(1));
    piece.lines.push_back(
        fmt::format("Make {}{}, of {}.{}{}", group.count,
                    share_words(project, all.size()),
                    shown_section(project.boards[k].width_mm, project.boards[k].thickness_mm, project), length_words(project), sawn_from(plan, all)));
    if (built.taper_mm != 0.0) {
        piece.lines.push_back(fmt::format("It tapers, {} from left to right: {}.", shown_width(built, board.left_end == 1, project),
                                          taper_words(project.outline.line)));
    }
    for (const auto& [turning, boards] : turned) {
        if (boards.empty()) continue;
        piece.lines.push_back(fmt::format("{} {} {} {}.", board_list(boards), boards.size() == 1 ? "is" : "are", board_number(k),
                                          turning_words(turning, project.lie)));
    }
    if (group.mirror_of && !plan.cut_list->groups[*group.mirror_of].members.empty()) {
        piece.lines.push_back(fmt::format("This is {} in the mirror: keep the two apart.",
                                          board_number(plan.cut_list->groups[*group.mirror_of].members.front().board)));
    }
    piece.lines.push_back(fmt::format("Long {}, short {}, point to point; rough length {}.", shown(board.long_point_mm, project),
                                      shown(board.short_point_mm, project), shown(stepped_up_mm(group.rough_length_mm, project), project)));
    if (plan.assembly && plan.assembly->leave_long_mm > 0.0 &&
        std::find(all.begin(), all.end(), plan.assembly->fit_last) != all.end()) {
        piece.lines.push_back(fmt::format("{} is fitted last: leave it {} long until the others stand.",
                                          board_number(plan.assembly->fit_last), shown(plan.assembly->leave_long_mm, project)));
    }
    piece.ends = {end_of_board(plan, group, board.left_end), end_of_board(plan, group, 1 - board.left_end)};
    add_cautions(piece, board.long_point_mm, project);
    return piece;
}

PieceAsDrawn piece_of_extra(const Plan& plan, const PieceGroup& group) {
    const Project& project = plan.project;
    const PieceAsked& asked = project.pieces[*group.extra];
    const Stock& stock = project.stock[asked.stock];
    PieceAsDrawn piece;
    piece.heading = clean_text(asked.name, 60);
    piece.count = group.count;
    piece.width_mm = project.lie == Lie::flat ? stock.width_mm : stock.thickness_mm;
    piece.lines.push_back(fmt::format("Make {}, of {}.{}", group.count,
                                      shown_section(stock.width_mm, stock.thickness_mm, project), length_words(project)));
    piece.lines.push_back(fmt::format("Long point to long point {}.", shown(asked.length_mm, project)));
    const std::array<double, 2> saw{asked.left_saw_deg, asked.right_saw_deg};
    for (std::size_t e = 0; e < 2; ++e) {
        EndAsDrawn& end = piece.ends[e];
        const double run = piece.width_mm * tan_deg(saw[e]);
        const double from = e == 0 ? 0.0 : asked.length_mm;
        const double inward = e == 0 ? std::abs(run) : -std::abs(run);
        end.outside_mm = run >= 0.0 ? from : from + inward;
        end.inside_mm = run >= 0.0 ? from + inward : from;
        end.saw_deg = saw[e];
        end.width_mm = end.inside_at_mm = piece.width_mm;
        end.lines.push_back(longer_words(run, saw[e], project));
        if (std::abs(saw[e]) >= kSquareDeg) {
            end.lines.push_back(
                fmt::format("S {}, E {} on the edge.", show_angle(std::abs(saw[e])), show_angle(90.0 - std::abs(saw[e]))));
            const double base = project.tools.bevel_base_mm;
            end.lines.push_back(fmt::format("Bevel: {}.", bevel_words(base * std::abs(run) / piece.width_mm, base, project)));
        }
    }
    return piece;
}

}  // namespace

const char* posture_words(Lie lie) {
    return lie == Lie::on_edge ? "Lay it: top edge up, outside face to you." : "Lay it: show face up, outside edge to you.";
}

PieceAsDrawn piece_as_drawn(const Plan& plan, std::size_t group) {
    ENSURE(plan.outline && plan.frame && plan.cut_list && group < plan.cut_list->groups.size());
    const PieceGroup& pieces = plan.cut_list->groups[group];
    ENSURE(pieces.extra || !pieces.members.empty());
    return pieces.members.empty() ? piece_of_extra(plan, pieces) : piece_of_boards(plan, pieces);
}

}  // namespace boardring
