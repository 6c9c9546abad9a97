#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kSame = 1e-9;
constexpr std::size_t kColumnGap = 2;
constexpr std::size_t kNarrowestNote = 24;  // a remark that has less room beside its row stands below it
constexpr std::size_t kNoteIndent = 6;
constexpr std::size_t kMostNumbers = 24;  // columns of a list of board numbers in the table

// Which edge is the longer one, for the whole table.
enum class Longer { equal, outside, inside, mixed };

Longer longer_edge(const Plan& plan) {
    bool outside = false, inside = false;
    for (const Board& board : plan.frame->boards) {
        for (const BoardEnd& end : board.ends) {
            if (shown_away_deg(end.saw_deg, plan.project) == 0.0) continue;
            (end.saw_deg > 0.0 ? outside : inside) = true;
        }
    }
    if (outside && inside) return Longer::mixed;
    return outside ? Longer::outside : inside ? Longer::inside : Longer::equal;
}

// A board whose ends lean the same way is longer over all than along either edge.
bool is_skewed(const Plan& plan, std::size_t k) {
    const ShownBoard& board = plan.shown[k];
    return rounded_to_step(board.long_point_mm, plan.project.tools.rule_step_mm) >
           rounded_to_step(std::max(board.inside_length_mm, board.outside_length_mm), plan.project.tools.rule_step_mm);
}

bool is_beyond_saw(const Plan& plan, std::size_t board, std::size_t end) {
    const std::vector<SawWay>& ways = plan.shown[board].ends[end].ways;
    return std::none_of(ways.begin(), ways.end(), [](const SawWay& way) { return way.within_saw; });
}

// Setting and what is out of the common about it; * is past the saw's stop, whoever reads the row must not miss it.
std::string end_cell(const Plan& plan, std::size_t board, std::size_t end_index, bool mixed, bool with_letter) {
    const BoardEnd& end = plan.frame->boards[board].ends[end_index];
    const bool square = shown_away_deg(end.saw_deg, plan.project) == 0.0;
    std::string cell = with_letter ? corner_letter(end.corner) + " " : std::string();
    cell += square ? std::string("square") : show_setting(end.saw_deg, plan.project);
    if (is_beyond_saw(plan, board, end_index)) cell += "*";
    if (mixed && !square && end.saw_deg < 0.0) cell += " in";
    if (end.lap) cell += " lap";
    return cell;
}

std::size_t last_corner(const Plan& plan) {
    return plan.outline->corner_after(plan.assembly->fit_last);
}

bool is_short(const Plan& plan, std::size_t k) {
    return plan.shown[k].long_point_mm < plan.project.tools.hold_length_mm;
}

// Then the caution says so of all, and no row needs to.
bool all_short(const Plan& plan) {
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        if (!is_short(plan, k)) return false;
    }
    return true;
}

std::string last_words(const Plan& plan) {
    const double leave = plan.assembly->leave_long_mm;
    if (leave <= 0.0) return "fit last";
    return fmt::format("fit last: leave {} {} long", corner_letter(last_corner(plan)), shown(leave, plan.project));
}

std::string remarks(const Plan& plan, std::size_t k) {
    std::vector<std::string> items;
    const Board& board = plan.frame->boards[k];
    if (k == plan.assembly->fit_last) items.push_back(last_words(plan));
    std::vector<std::string> inward, through;
    for (std::size_t e = 0; e < 2; ++e) {
        const std::string letter = corner_letter(board.ends[e].corner);
        if (board.ends[e].mate && plan.outline->interior_deg[board.ends[e].corner] > 180.0) inward.push_back(letter);
        if (board.ends[e].runs_through) through.push_back(letter);
    }
    if (!inward.empty()) items.push_back(fmt::format("IN-CORNER {}", and_list(inward)));
    if (!through.empty()) items.push_back(fmt::format("runs through at {}", and_list(through)));
    if (is_short(plan, k) && !all_short(plan)) items.emplace_back("short");
    return joined(items, "; ");
}

// What a row of several boards says of its ends: no letters, for every board has its own. A member that is turned over or end for end
// has the end elsewhere; then the joints, under --more and on the plan, say it.
std::string remarks_of_group(const Plan& plan, const PieceGroup& group) {
    std::vector<std::string> items;
    const auto is_last = [&](const GroupMember& m) { return m.board == plan.assembly->fit_last; };
    if (std::any_of(group.members.begin(), group.members.end(), is_last))
        items.push_back(fmt::format("{} {}", board_number(plan.assembly->fit_last), last_words(plan)));
    for (const bool left : {true, false}) {
        bool inward = true, through = true;
        for (const GroupMember& member : group.members) {
            const std::size_t e = left ? plan.shown[member.board].left_end : 1 - plan.shown[member.board].left_end;
            const BoardEnd& end = plan.frame->boards[member.board].ends[e];
            inward = inward && end.mate && plan.outline->interior_deg[end.corner] > 180.0;
            through = through && end.runs_through;
        }
        if (inward) items.push_back(fmt::format("IN-CORNER at the {} end", left ? "left" : "right"));
        if (through) items.push_back(fmt::format("runs through at the {} end", left ? "left" : "right"));
    }
    if (is_short(plan, group.members.front().board) && !all_short(plan)) items.emplace_back("short");
    return joined(items, "; ");
}

using Row = std::vector<std::string>;

Row header(const Plan& plan, Longer longer, bool skewed) {
    Row row{"", plan.project.lie == Lie::flat ? "wide" : "thick"};
    switch (longer) {
        case Longer::equal:
            row.emplace_back("length");
            break;
        case Longer::outside:
            row.insert(row.end(), {"long (outside)", "short (inside)"});
            break;
        case Longer::inside:
            row.insert(row.end(), {"long (inside)", "short (outside)"});
            break;
        case Longer::mixed:
            row.insert(row.end(), {"outside", "inside"});
            break;
    }
    if (skewed) row.emplace_back("over all");
    if (shows_rises(plan)) {
        row.insert(row.end(), {"left end", "rise", "right end", "rise", ""});
    } else {
        row.insert(row.end(), {"left end", "right end", ""});
    }
    return row;
}

Row board_row(const Plan& plan, std::size_t k, std::string numbers, Longer longer, bool skewed, bool with_letters) {
    const ShownBoard& board = plan.shown[k];
    const std::string outside = shown(board.outside_length_mm, plan.project),
                      inside = shown(board.inside_length_mm, plan.project);
    Row row{std::move(numbers), shown_width(plan.frame->boards[k], board.left_end == 1, plan.project)};
    row.push_back(longer == Longer::inside ? inside : outside);
    if (longer != Longer::equal) row.push_back(longer == Longer::inside ? outside : inside);
    if (skewed) row.push_back(shown(board.long_point_mm, plan.project));
    for (const bool left : {true, false}) {
        const std::size_t e = left ? board.left_end : 1 - board.left_end;
        row.push_back(end_cell(plan, k, e, longer == Longer::mixed, with_letters));
        if (!shows_rises(plan)) continue;
        const bool square = shown_away_deg(plan.frame->boards[k].ends[e].saw_deg, plan.project) == 0.0;
        row.push_back(square ? std::string() : bevel_cell(board.ends[e].bevel_rise_mm, board.ends[e].bevel_base_mm, plan.project));
    }
    return row;
}

// A list of numbers cut to the room it has; the group's first board is always in it.
std::string short_list(const std::vector<std::size_t>& boards) {
    std::string list = board_list(boards);
    if (list.size() <= kMostNumbers) return list;
    return fmt::format("{} and {} more", board_number(boards.front()), boards.size() - 1);
}

std::vector<Row> single_rows(const Plan& plan, Longer longer, bool skewed, std::size_t most) {
    std::vector<Row> rows;
    for (std::size_t k = 0; k < plan.shown.size() && rows.size() < most; ++k) {
        rows.push_back(board_row(plan, k, board_number(k), longer, skewed, true));
        rows.back().push_back(remarks(plan, k));
    }
    return rows;
}

std::vector<Row> group_rows(const Plan& plan, Longer longer, bool skewed, std::size_t most) {
    std::vector<Row> rows;
    for (const PieceGroup& group : plan.cut_list->groups) {
        if (group.members.empty() || rows.size() == most) continue;
        std::vector<std::size_t> boards;
        for (const GroupMember& member : group.members) boards.push_back(member.board);
        const std::size_t first = boards.front();
        rows.push_back(board_row(plan, first, short_list(boards), longer, skewed, boards.size() == 1));
        rows.back().push_back(boards.size() == 1 ? remarks(plan, first) : remarks_of_group(plan, group));
    }
    return rows;
}

bool is_number_column(const std::string& title) {
    return title != "" && title.find("end") == std::string::npos;
}

Lines table(const Row& head, const std::vector<Row>& rows) {
    std::vector<std::size_t> widths(head.size(), 0);
    for (std::size_t c = 0; c < head.size(); ++c) {
        widths[c] = columns_of(head[c]);
        for (const Row& row : rows) widths[c] = std::max(widths[c], columns_of(row[c]));
    }
    // Numbers stand under the middle of their titles: right-aligned, then moved in from the right edge of the column.
    std::vector<std::size_t> values(head.size(), 0);
    for (std::size_t c = 0; c < head.size(); ++c) {
        for (const Row& row : rows) values[c] = std::max(values[c], columns_of(row[c]));
    }
    std::size_t width = 2;
    for (std::size_t c = 0; c + 1 < head.size(); ++c) width += widths[c];
    const std::size_t gaps = head.size() - 2;
    const std::size_t gap = width + gaps * kColumnGap <= kPageColumns ? kColumnGap : 1;
    const std::size_t note_at = width + gaps * gap + kColumnGap;
    std::size_t longest_note = 0;
    for (const Row& row : rows) longest_note = std::max(longest_note, columns_of(row.back()));
    Lines lines;
    const auto add = [&](const Row& row, bool is_head) {
        std::string line = "  ";
        for (std::size_t c = 0; c + 1 < row.size(); ++c) {
            if (c > 0) line += std::string(gap, ' ');
            if (!is_head && is_number_column(head[c])) {
                const std::size_t after = (widths[c] - values[c]) / 2;
                line += padded_before(row[c], widths[c] - after) + std::string(after, ' ');
            } else {
                line += padded(row[c], widths[c]);
            }
        }
        const std::string& note = row.back();
        if (!note.empty() && note_at + std::min(kNarrowestNote, longest_note) <= kPageColumns) {
            const Lines broken = wrapped(note, kPageColumns - note_at);
            lines.push_back(line + std::string(kColumnGap, ' ') + broken.front());
            for (std::size_t n = 1; n < broken.size(); ++n) lines.push_back(std::string(note_at, ' ') + broken[n]);
            return;
        }
        line.erase(line.find_last_not_of(' ') + 1);
        lines.push_back(line);
        if (note.empty()) return;
        for (const std::string& part : wrapped(note, kPageColumns - kNoteIndent))
            lines.push_back(std::string(kNoteIndent, ' ') + part);
    };
    add(head, true);
    for (const Row& row : rows) add(row, false);
    return lines;
}

// "1, 2 and 6 are alike until you trim 6A. 5 is 3 turned upside down, outside still outside."
std::string alike_words(const Plan& plan, bool grouped) {
    std::vector<std::string> said;
    const auto& groups = plan.cut_list->groups;
    std::size_t ring_groups = 0;
    for (const PieceGroup& group : groups) ring_groups += group.members.empty() ? 0U : 1U;
    for (const PieceGroup& group : groups) {
        if (group.members.empty()) continue;
        std::map<Turning, std::vector<std::size_t>> by_turning;
        bool has_last = false;
        for (const GroupMember& member : group.members) {
            by_turning[member.turning].push_back(member.board);
            has_last = has_last || member.board == plan.assembly->fit_last;
        }
        const std::vector<std::size_t>& same = by_turning[Turning::as_first];
        const bool trims = has_last && plan.assembly->leave_long_mm > 0.0;
        const std::string until =
            trims ? fmt::format(" until you trim {}{}", board_number(plan.assembly->fit_last), corner_letter(last_corner(plan)))
                  : "";
        if (same.size() > 1 && !grouped) {
            const bool all = ring_groups == 1 && same.size() == plan.shown.size() && same.size() > 2;
            said.push_back(
                fmt::format("{} are alike{}.", all ? fmt::format("All {}", count_word(same.size())) : board_list(same), until));
        }
        for (const auto& [turning, boards] : by_turning) {
            if (turning == Turning::as_first) continue;
            said.push_back(fmt::format("{} {} {} {}{}.", board_list(boards), boards.size() == 1 ? "is" : "are",
                                       board_number(group.members.front().board), turning_words(turning, plan.project.lie),
                                       same.size() > 1 ? "" : until));
        }
        if (group.mirror_of && !groups[*group.mirror_of].members.empty()) {
            said.push_back(fmt::format("{} {} {} in the mirror: no turning makes them the same.",
                                       board_list(by_turning[Turning::as_first]), same.size() == 1 ? "is" : "are",
                                       board_number(groups[*group.mirror_of].members.front().board)));
        }
    }
    return joined(said, "  ");
}

std::string extra_words(const Plan& plan) {
    std::string text;
    for (const PieceAsked& piece : plan.project.pieces) {
        const auto end = [&](double saw) -> std::string {
            if (shown_away_deg(saw, plan.project) == 0.0) return "square";
            return show_setting(saw, plan.project) + (saw < 0.0 ? " (inside longer)" : "");
        };
        const std::string left = end(piece.left_saw_deg), right = end(piece.right_saw_deg);
        text += fmt::format("{}{} x {}, {} long, {}", text.empty() ? "" : ";  ", plan.project.of_piece(piece), clean_text(piece.name, 24),
                            shown(piece.length_mm, plan.project),
                            left == right ? fmt::format("both ends {}", left) : fmt::format("left {}, right {}", left, right));
        if (plan.project.stock.size() > 1) text += fmt::format(", of {}", clean_text(plan.project.stock[piece.stock].name, 16));
    }
    return text;
}

// What is said of all half-laps at once; nothing where they differ.
std::string lap_words(const Plan& plan) {
    double depth = 0.0;
    bool any = false, one_depth = true, by_board = true, one_length = true;
    double reach = 0.0;
    std::vector<std::size_t> upper, lower;
    std::optional<bool> left_half, right_half;  // true: the upper one stays at every such end
    bool by_side = true;
    for (std::size_t k = 0; k < plan.frame->boards.size(); ++k) {
        std::optional<bool> keeps;
        for (std::size_t e = 0; e < 2; ++e) {
            const BoardEnd& end = plan.frame->boards[k].ends[e];
            if (!end.lap) continue;
            std::optional<bool>& half = e == plan.shown[k].left_end ? left_half : right_half;
            by_side = by_side && (!half || *half == end.lap->keeps_upper);
            half = end.lap->keeps_upper;
            const double own_reach = std::abs(end.lap->shoulder_inside_mm - end.inside_mm);
            if (!any) {
                depth = end.lap->depth_mm;
                reach = own_reach;
            }
            one_depth = one_depth && std::abs(end.lap->depth_mm - depth) < kSame;
            one_length = one_length && std::abs(own_reach - reach) < 1e-6;
            by_board = by_board && (!keeps || *keeps == end.lap->keeps_upper);
            keeps = end.lap->keeps_upper;
            any = true;
        }
        if (keeps) (*keeps ? upper : lower).push_back(k);
    }
    if (!any) return "";
    std::string text = one_depth ? fmt::format("cut away {} of the {}", shown(depth, plan.project),
                                               plan.project.lie == Lie::flat ? "thickness" : "height")
                                 : std::string("depths differ, see --more");
    text += one_length ? fmt::format("; shoulders {} in from the end, along the edge", shown(reach, plan.project))
                       : std::string("; shoulders: see --more");
    if (by_board && !upper.empty() && !lower.empty()) {
        const auto words = [](const std::vector<std::size_t>& boards) {
            return fmt::format("{} {}", board_list(boards), boards.size() == 1 ? "keeps" : "keep");
        };
        text += fmt::format(". {} the upper half, {} the lower", words(upper), words(lower));
    } else if (by_side && left_half && right_half && *left_half != *right_half) {
        text += fmt::format(". Every left end keeps its {} half, every right end its {}", *left_half ? "upper" : "lower",
                            *right_half ? "upper" : "lower");
    } else {
        text += ". Which half stays: see --more";
    }
    return sentence(text);
}

bool any_skewed(const Plan& plan) {
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        if (is_skewed(plan, k)) return true;
    }
    return false;
}

bool any_beyond_saw(const Plan& plan) {
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        if (is_beyond_saw(plan, k, 0) || is_beyond_saw(plan, k, 1)) return true;
    }
    return false;
}

}  // namespace

bool shows_rises(const Plan& plan) {
    constexpr std::size_t kMostInASentence = 4;
    if (plan.project.unit == Unit::foot) return false;  // feet, inches and fractions leave no room for two more columns
    std::size_t settings = 0;
    for (const SettingGroup& group : plan.cut_list->settings) {
        if (!group.cuts.empty() && shown_away_deg(group.setting_deg, plan.project) > 0.0) ++settings;
    }
    return plan.project.tools.slope_by == SlopeBy::bevel && settings > kMostInASentence;
}

Table board_table(const Plan& plan) {
    const Longer longer = longer_edge(plan);
    const bool skewed = any_skewed(plan);
    return {header(plan, longer, skewed), single_rows(plan, longer, skewed, plan.shown.size())};
}

std::vector<std::string> board_words(const Plan& plan, bool grouped) {
    std::vector<std::string> legend, said;
    if (longer_edge(plan) == Longer::mixed)
        legend.emplace_back("\"in\": there the inside is the longer side, everywhere else the outside.");
    if (any_beyond_saw(plan)) legend.emplace_back("* past your saw's stop.");
    const std::string laps = lap_words(plan), extra = extra_words(plan);
    for (const std::string& words : {joined(legend, "  "), alike_words(plan, grouped), laps.empty() ? laps : "LAPS  " + laps,
                                     extra.empty() ? extra : fmt::format("And {}.", extra)}) {
        if (!words.empty()) said.push_back(words);
    }
    return said;
}

Lines board_lines(const Plan& plan, bool grouped, std::size_t most_rows) {
    const Project& project = plan.project;
    const Longer longer = longer_edge(plan);
    const bool skewed = any_skewed(plan);

    std::string intro = project.of_each_board() > 1 ? fmt::format("make {} of each. ", project.of_each_board()) : std::string();
    intro += project.lie == Lie::flat ? "Flat, show face up, outside edge to you." : "On edge: top edge up, outside face to you.";
    intro += " Same letters meet.";
    Lines lines{padded("BOARDS", 9) + intro};

    const std::vector<Row> rows =
        grouped ? group_rows(plan, longer, skewed, most_rows) : single_rows(plan, longer, skewed, most_rows);
    append_lines(lines, table(header(plan, longer, skewed), rows));
    const auto add = [&](const std::string& text) {
        for (const std::string& line : wrapped(text, kTextColumns - 2)) lines.push_back(fmt::format("  {}", line));
    };
    std::size_t groups = 0;
    for (const PieceGroup& group : plan.cut_list->groups) groups += group.members.empty() ? 0U : 1U;
    const std::size_t all = grouped ? groups : plan.shown.size();
    if (rows.size() < all)
        add(fmt::format("and {} more {}: see --more or cut-list.csv.", all - rows.size(), grouped ? "kinds of board" : "boards"));
    for (const std::string& words : board_words(plan, grouped)) add(words);
    return lines;
}

}  // namespace boardring
