#include "report/refit_page.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "report/finding_lines.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kTellsMm = 0.05;    // less is no news to anybody with a rule
constexpr double kTellsDeg = 0.05;
constexpr std::size_t kMostDiagonals = 4;

std::string small(double mm, const Project& project) { return show_small(std::abs(mm), project.style()); }

// "425", or "425 (was 424.5)" where it is another to this maker's rule.
std::string old_beside(const std::string& now, const std::string& was) { return now == was ? now : fmt::format("{} (was {})", now, was); }

std::string setting(const BoardEnd& end, const Project& project) {
    return shown_away_deg(end.saw_deg, project) == 0.0 ? std::string("square") : show_setting(end.saw_deg, project);
}

std::string end_words(const RefitPlan& refit, std::size_t k, std::size_t e) {
    const Project& project = refit.before.project;
    const BoardEnd& now = refit.frame->boards[k].ends[e];
    const std::string cell = old_beside(setting(now, project), setting(refit.before.frame->boards[k].ends[e], project));
    return fmt::format("{} {}{}", corner_letter(now.corner), cell, now.saw_deg < 0.0 ? " in" : "");
}

Lines table(const std::vector<std::vector<std::string>>& rows) {
    std::vector<std::size_t> wide(rows.front().size(), 0);
    for (const auto& row : rows) {
        for (std::size_t i = 0; i < row.size(); ++i) wide[i] = std::max(wide[i], columns_of(row[i]));
    }
    Lines lines;
    for (const auto& row : rows) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i) line += "  " + padded(row[i], wide[i]);
        line.erase(line.find_last_not_of(' ') + 1);
        lines.push_back(line);
    }
    return lines;
}

std::vector<std::size_t> boards_that(const RefitPlan& refit, bool are_cut) {
    std::vector<std::size_t> boards;
    for (std::size_t k = 0; k < refit.cut.size(); ++k) {
        if (refit.cut[k].has_value() == are_cut) boards.push_back(k);
    }
    return boards;
}

const char* keep_words(Keep keep) {
    switch (keep) {
        case Keep::outline:
            return "no inside corner moves farther than it must";
        case Keep::angles:
            return "corners keep their angles as far as the lengths can take it up";
        case Keep::lengths:
            return "inside lengths stay as far as the corners can take it up";
    }
    return "";
}

Lines rest_lines(const RefitPlan& refit) {
    const Project& project = refit.before.project;
    Lines lines;
    std::vector<std::vector<std::string>> rows{{"", "outside", "inside", "left end", "right end"}};
    for (const std::size_t k : boards_that(refit, false)) {
        const ShownBoard& now = refit.shown[k];
        const ShownBoard& was = refit.before.shown[k];
        rows.push_back({board_number(k), old_beside(shown(now.outside_length_mm, project), shown(was.outside_length_mm, project)),
                        old_beside(shown(now.inside_length_mm, project), shown(was.inside_length_mm, project)), end_words(refit, k, now.left_end),
                        end_words(refit, k, 1 - now.left_end)});
    }
    lines.push_back(project.courses > 1 ? "STILL TO CUT   for the course that was measured. Same letters meet." : "STILL TO CUT   same letters meet.");
    append_lines(lines, table(rows));
    // Corners that move alike do so but for the last bits: of these the first is named, whatever adds them up.
    constexpr double kAlikeMm = 1e-6;
    const double most_mm = *std::max_element(refit.moved_mm.begin(), refit.moved_mm.end());
    const auto far = std::find_if(refit.moved_mm.begin(), refit.moved_mm.end(), [&](double moved_mm) { return moved_mm > most_mm - kAlikeMm; });
    const auto corner = static_cast<std::size_t>(far - refit.moved_mm.begin());
    std::string kept = keep_words(refit.keep);
    kept += *far < kTellsMm ? "; all stay where they were planned." : fmt::format("; the farthest, {}, by {}.", corner_letter(corner), small(*far, project));
    append_lines(lines, labelled("KEPT", kept + (refit.keep == Keep::outline ? " To keep the angles or the lengths instead: --keep angles, --keep lengths." : "")));
    return lines;
}

// What was cut otherwise than planned, board by board.
Lines cut_lines(const RefitPlan& refit) {
    const Project& project = refit.before.project;
    std::vector<std::string> parts, alike;
    for (const std::size_t k : boards_that(refit, true)) {
        const BoardShape is = *refit.cut[k], planned = BoardShape::of(refit.before.frame->boards[k]);
        std::vector<std::string> said;
        const double off = is.long_mm() - planned.long_mm();
        if (std::abs(off) >= kTellsMm)
            said.push_back(fmt::format("{} {}", small(off, project), off > 0.0 ? "long" : "short"));
        for (std::size_t e = 0; e < 2; ++e) {
            const double width = refit.before.frame->boards[k].width_at(e);
            const double is_deg = degrees(std::atan2(is.run_mm[e], width)), was_deg = refit.before.frame->boards[k].ends[e].saw_deg;
            if (std::abs(is_deg - was_deg) < kTellsDeg) continue;
            said.push_back(fmt::format("{} {} instead of {}", corner_letter(refit.before.frame->boards[k].ends[e].corner), show_angle(on_scale_deg(std::abs(is_deg), project.tools), 2),
                                       show_angle(on_scale_deg(std::abs(was_deg), project.tools), 2)));
        }
        if (said.empty()) {
            alike.push_back(board_number(k));
        } else {
            parts.push_back(fmt::format("{} is {}", board_number(k), and_list(said)));
        }
    }
    if (!alike.empty()) parts.push_back(fmt::format("{} as planned", and_list(alike)));
    return labelled("AS CUT", capital(joined(parts, "; ")) + ".");
}

Lines lip_lines(const RefitPlan& refit) {
    const Project& project = refit.before.project;
    std::vector<std::string> lips;
    for (const Joint& joint : refit.frame->joints) {
        const double lip = lip_outside_mm(*refit.frame, joint);
        if (std::abs(lip) < std::max(kTellsMm, 0.1 * project.wanted.gap_mm)) continue;
        lips.push_back(fmt::format("{} by {} at {}", board_number(lip > 0.0 ? joint.before : joint.after), small(lip, project), corner_letter(joint.corner)));
    }
    if (lips.empty()) return {};
    return labelled("LIPS", fmt::format("held tight inside, a board stands out at the outside: {}. Plane it flush after gluing.", and_list(lips)));
}

Lines diagonal_lines(const RefitPlan& refit) {
    std::vector<std::string> parts;
    for (const Diagonal& d : refit.assembly->diagonals) {
        if (parts.size() == kMostDiagonals) break;
        const auto& before = refit.before.frame->inside_mm;
        parts.push_back(fmt::format("{}{} {}", corner_letter(d.first), corner_letter(d.second),
                                    old_beside(shown(d.inside_mm, refit.before.project), shown(length(before[d.second] - before[d.first]), refit.before.project))));
    }
    if (parts.empty()) return {};
    return labelled("CHECK", fmt::format("point to point inside, when it is together: {}.", and_list(parts)));
}

// "stands open 0.8 at the outside and touches inside".
std::string gap_words(const JointMisfit& open, const Project& project) {
    const auto words = [&](double gap, const char* where) {
        if (std::abs(gap) < kTellsMm) return fmt::format("touches at the {}", where);
        return gap > 0.0 ? fmt::format("stands open {} at the {}", small(gap, project), where) : fmt::format("has {} of wood too much at the {}", small(gap, project), where);
    };
    if (std::abs(open.gap_in_mm - open.gap_out_mm) < kTellsMm) return words(0.5 * (open.gap_in_mm + open.gap_out_mm), "inside and the outside");
    return fmt::format("{} and {}", words(open.gap_in_mm, "inside"), words(open.gap_out_mm, "outside"));
}

std::string recut_words(const RefitPlan& refit) {
    const Project& project = refit.before.project;
    if (!refit.recut) return "No single board cut anew would close it: measure them again.";
    const Recut& recut = refit.anew ? *refit.anew : *refit.recut;
    const Board& board = refit.before.frame->boards[recut.board];
    const std::string name = board_number(recut.board);
    const auto slope = [&](std::size_t e) { return show_angle(on_scale_deg(std::abs(degrees(std::atan2(recut.shape.run_mm[e], board.width_at(e)))), project.tools), 1); };
    const std::string shape = fmt::format("outside {}, inside {}, {} {}, {} {}", shown(recut.shape.outside_mm(), project), shown(recut.shape.inside_mm, project), corner_letter(board.ends[0].corner), slope(0),
                                          corner_letter(board.ends[1].corner), slope(1));
    if (refit.anew) {
        const std::string where = recut.moved_mm < kTellsMm ? "every corner then lies where the plan has it"
                                                            : fmt::format("no corner then lies more than {} from the plan", small(recut.moved_mm, project));
        return fmt::format("Cut board {} anew, {}: {}. Board {} could be trimmed to close the ring, but a corner would move by {}.", name, shape, where, board_number(refit.recut->board), small(refit.recut->moved_mm, project));
    }
    if (!recut.trim) return fmt::format("No board can be trimmed to close it. Board {} is nearest, {} too short: cut it anew, {}.", name, small(recut.too_short_mm, project), shape);
    std::vector<std::string> off;
    for (std::size_t e = 0; e < 2; ++e) {
        const double in = recut.trim->off_mm[e][0], out = recut.trim->off_mm[e][1];
        if (std::max(in, out) < kTellsMm) continue;
        off.push_back(fmt::format("{} inside and {} outside off {}{}", small(in, project), small(out, project), name, corner_letter(board.ends[e].corner)));
    }
    return fmt::format("Trim board {}: {}, measured along it. It is then {}.", name, and_list(off), shape);
}

Lines last_lines(const RefitPlan& refit) {
    const Project& project = refit.before.project;
    const LastJoint& last = *refit.last;
    const JointMisfit& open = last.open;
    const std::size_t n = refit.cut.size();
    const std::size_t own = last.corner, other = own == 0 ? n - 1 : own - 1;
    const double wanted = project.wanted.gap_mm;
    std::string text = fmt::format("{}, between {} and {}, with every other joint tight: {}.", corner_letter(last.corner), board_number(other), board_number(own),
                                   gap_words(open, project));
    const std::string end = board_number(last.plane_board) + corner_letter(last.corner);
    if (last.before.widest_mm <= wanted)
        text += fmt::format(" Drawn in as a whole it opens no more than {} as it is.", small(last.before.widest_mm, project));
    // To plane is only advice where the ring then closes better than as it is.
    const bool plane = last.plane_mm >= kTellsMm && last.after.widest_mm < last.before.widest_mm;
    if (plane) {
        text += fmt::format(" Plane {} off the {} of {}, to nothing at the {}", small(last.plane_mm, project), last.plane_inside ? "inside" : "outside", end,
                            last.plane_inside ? "outside" : "inside");
        text += fmt::format(": drawn in it then {}.", last.after.widest_mm < kTellsMm ? std::string("closes") : fmt::format("opens no more than {}", small(last.after.widest_mm, project)));
    }
    if ((plane ? last.after : last.before).widest_mm > wanted) text += fmt::format(" You want no more than {}. {}", small(wanted, project), recut_words(refit));
    return labelled("LAST JOINT", text);
}

}  // namespace

std::string refit_page(const RefitPlan& refit, const PageOptions& options) {
    if (!refit.frame || has_error(refit.findings)) return refusal_page(refit.findings, options);
    Lines page = title_lines(refit.before);
    page.emplace_back();
    const std::vector<std::size_t> open = boards_that(refit, false), done = boards_that(refit, true);
    if (refit.last) {
        append_lines(page, last_lines(refit));
    } else if (done.empty()) {
        append_lines(page, labelled("CLOSES.", "No board is cut yet: all is as planned.", kVerdictColumns));
    } else {
        append_lines(page, labelled("CLOSES.", fmt::format("With board{} {} as cut the ring closes if {} {} cut as below.", done.size() == 1 ? "" : "s", board_list(done), board_list(open),
                                                           open.size() == 1 ? "is" : "are"),
                                    kVerdictColumns));
        page.emplace_back();
        append_lines(page, rest_lines(refit));
    }
    append_lines(page, cut_lines(refit));
    if (!refit.last) {
        append_lines(page, lip_lines(refit));
        append_lines(page, diagonal_lines(refit));
    }
    page.emplace_back();
    std::string text = text_of(page);
    if (!refit.findings.empty()) text += findings_text(refit.findings, options) + "\n";
    return text + text_of(labelled("NEXT", refit.last ? "dry fit it again before any glue."
                                                   : "cut the next board, measure it, and ask again with all that are cut. Your project file stays as it is."));
}

}  // namespace boardring
