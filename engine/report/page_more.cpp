#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "report/closure_page.hpp"
#include "report/closure_words.hpp"
#include "report/finding_lines.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

using Row = std::vector<std::string>;

constexpr std::size_t kGap = 3;
constexpr std::size_t kNarrowestLast = 8;  // columns that the words of the last column need
constexpr std::size_t kIndent = 2;

// A plain table: titles, then rows; the first column and the last are text, the others numbers at the right.
Lines table(const Row& head, const std::vector<Row>& rows) {
    std::vector<std::size_t> widths;
    for (std::size_t c = 0; c < head.size(); ++c) {
        std::size_t width = columns_of(head[c]);
        for (const Row& row : rows) width = std::max(width, columns_of(row[c]));
        widths.push_back(width);
    }
    std::size_t gap = kGap;
    const auto width = [&] {
        std::size_t all = kIndent;
        for (std::size_t c = 0; c + 1 < widths.size(); ++c) all += widths[c] + gap;
        return all + kNarrowestLast;
    };
    while (gap > 1 && width() > kPageColumns) --gap;
    Lines lines;
    const auto add = [&](const Row& row) {
        std::string line(kIndent, ' ');
        for (std::size_t c = 0; c + 1 < row.size(); ++c) {
            line += c == 0 ? padded(row[c], widths[c]) : padded_before(row[c], widths[c]);
            line += std::string(gap, ' ');
        }
        const std::size_t at = columns_of(line);
        const Lines broken = wrapped(row.back(), kPageColumns - std::min(at, kPageColumns - 1));
        line += broken.front();
        line.erase(line.find_last_not_of(' ') + 1);
        lines.push_back(line);
        for (std::size_t i = 1; i < broken.size(); ++i) lines.push_back(std::string(at, ' ') + broken[i]);
    };
    add(head);
    for (const Row& row : rows) add(row);
    return lines;
}

std::string end_name(std::size_t board, const BoardEnd& end) {
    return board_number(board) + corner_letter(end.corner);
}

const char* longer_words(const BoardEnd& end, const Project& project) {
    if (shown_away_deg(end.saw_deg, project) == 0.0) return "neither";
    return end.saw_deg > 0.0 ? "outside" : "inside";
}

// A length with its sign in words a ruler understands: into the board, or back towards the corner.
std::string signed_length(double mm, const Project& project) {
    const std::string size = shown(std::abs(mm), project);
    if (rounded_to_step(std::abs(mm), project.tools.rule_step_mm) == 0.0) return "0";
    return mm < 0.0 ? fmt::format("-{}", size) : size;
}

Lines marks(const Plan& plan) {
    const Project& project = plan.project;
    std::vector<Row> rows;
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        const ShownBoard& board = plan.shown[k];
        for (const bool left : {true, false}) {
            const std::size_t e = left ? board.left_end : 1 - board.left_end;
            const BoardEnd& end = plan.frame->boards[k].ends[e];
            const ShownEnd& at = board.ends[e];
            rows.push_back({end_name(k, end), left ? "left" : "right", shown(at.inside_mark_mm, project),
                            shown(at.outside_mark_mm, project), show_setting(end.saw_deg, project), show_angle(at.edge_deg, 1),
                            bevel_cell(at.bevel_rise_mm, at.bevel_base_mm, project), shown(end.face_mm, project), longer_words(end, project)});
        }
    }
    Lines lines = labelled("MARKS",
                           "from the datum, a square line at the leftmost mark, outside edge to you; all from that one line. "
                           "\"face\" is the sawn length: at a mitre both boards have the same.");
    append_lines(lines, table({"end", "side", "inside mark", "outside mark", "set", "edge",
                               fmt::format("rise in {}", shown(project.tools.bevel_base_mm, project)), "face", "longer"},
                              rows));
    return lines;
}

Lines square_lines(const Plan& plan) {
    const Project& project = plan.project;
    std::vector<Row> rows;
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        const ShownBoard& board = plan.shown[k];
        for (const bool left : {true, false}) {
            const std::size_t e = left ? board.left_end : 1 - board.left_end;
            const BoardEnd& end = plan.frame->boards[k].ends[e];
            if (!end.mate || shown_away_deg(end.saw_deg, project) == 0.0) continue;
            rows.push_back({end_name(k, end), shown(board.ends[e].square_at_mm, project),
                            signed_length(end.square_first_mm, project), signed_length(end.square_second_mm, project), ""});
        }
    }
    if (rows.empty()) return {};
    Lines lines = labelled("SQUARE LINE",
                           "across at \"at\" from the datum. From it along the outside edge step \"first\" into the board "
                           "(minus: towards the corner), then \"second\" back "
                           "towards the corner (minus: into the board). Join that point with the inside end of the square line.",
                           kLabelColumns + 2);
    append_lines(lines, table({"end", "at", "first", "second", ""}, rows));
    return lines;
}

Lines laps(const Plan& plan) {
    const Project& project = plan.project;
    std::vector<Row> rows;
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        for (std::size_t e = 0; e < 2; ++e) {
            const BoardEnd& end = plan.frame->boards[k].ends[e];
            const ShownEnd& at = plan.shown[k].ends[e];
            if (!end.lap || !at.shoulder_inside_mm || !at.shoulder_outside_mm) continue;
            rows.push_back({end_name(k, end), shown(end.lap->depth_mm, project), shown(*at.shoulder_inside_mm, project),
                            shown(*at.shoulder_outside_mm, project),
                            end.lap->keeps_upper ? "upper half stays" : "lower half stays"});
        }
    }
    if (rows.empty()) return {};
    Lines lines{"HALF-LAPS  shoulders from the datum."};
    append_lines(lines, table({"end", "depth", "inside shoulder", "outside shoulder", ""}, rows));
    return lines;
}

std::string joint_words(const Joint& joint) {
    switch (joint.kind) {
        case JointKind::mitre:
            return "mitre";
        case JointKind::butt:
            return joint.through ? fmt::format("butt, {} runs through", board_number(*joint.through)) : std::string("butt");
        case JointKind::half_lap:
            return "half-lap";
    }
    return "";
}

Lines joints(const Plan& plan) {
    const Project& project = plan.project;
    const std::optional<SpreadClosure>& spread = plan.closure->set.spread;
    std::vector<Row> rows;
    for (const Joint& joint : plan.frame->joints) {
        std::string open, lip;
        if (spread) {
            for (const JointMisfit& misfit : spread->joints) {
                if (misfit.corner != joint.corner) continue;
                open = shown_misfit(std::max(std::abs(misfit.gap_in_mm), std::abs(misfit.gap_out_mm)), project);
                lip = shown_misfit(std::abs(misfit.lip_in_mm), project);
            }
        }
        rows.push_back({corner_letter(joint.corner),
                        fmt::format("{} and {}", board_number(joint.before), board_number(joint.after)),
                        show_angle(joint.interior_deg, 2), shown(joint.face_mm, project), open, lip,
                        joint_words(joint) + (joint.interior_deg > 180.0 ? ", IN-CORNER" : "")});
    }
    if (rows.empty()) return {};
    Lines lines{"JOINTS  as set and drawn in: how far each opens, and its lip (one board proud of the other)."};
    append_lines(lines, table({"at", "boards", "corner", "face", "opens", "lip", "kind"}, rows));
    return lines;
}

// What the first cut of a group would be set to if the saw could be set to anything.
double exact_deg(const Plan& plan, const SettingGroup& group) {
    if (group.cuts.empty()) return group.setting_deg;
    const CutRef& cut = group.cuts.front();
    return std::abs(plan.exact_frame().boards[cut.board].ends[cut.end].saw_deg);
}

Lines settings(const Plan& plan) {
    const Project& project = plan.project;
    std::vector<Row> rows;
    for (const SettingGroup& group : plan.cut_list->settings) {
        std::vector<std::string> ends;
        for (const CutRef& cut : group.cuts) ends.push_back(end_name(cut.board, plan.frame->boards[cut.board].ends[cut.end]));
        for (const PieceCutRef& cut : group.piece_cuts) ends.push_back(clean_text(project.pieces[cut.piece].name, 20));
        std::string note = joined(ends, " ");
        if (!group.within_saw) note += "  (past the saw's stop)";
        const bool square = shown_away_deg(group.setting_deg, project) == 0.0;
        rows.push_back({square ? std::string("square") : show_setting(group.setting_deg, project),
                        show_angle(on_scale_deg(exact_deg(plan, group), project.tools), 3), std::to_string(group.count),
                        std::to_string(group.left), std::to_string(group.right),
                        group.test_pair_deg && !square ? show_angle(*group.test_pair_deg, 1) : "", note});
    }
    Lines lines{"CUTS BY SETTING  left, right: with the longer edge to you; test: two test cuts together make this."};
    append_lines(lines, table({"set", "exact", "cuts", "left", "right", "test", "ends"}, rows));
    return lines;
}

Lines sections(const Plan& plan) {
    const Project& project = plan.project;
    std::vector<Row> rows;
    for (const SectionTotal& section : plan.cut_list->sections) {
        const std::string name = section.stock ? clean_text(project.stock[*section.stock].name, 20) : std::string("by size");
        rows.push_back({shown_section(section.width_mm, section.thickness_mm, project), std::to_string(section.pieces),
                        std::to_string(section.test_pieces), shown(section.finished_mm, project),
                        shown(stepped_up_mm(section.rough_mm, project), project),
                        shown(stepped_up_mm(section.longest_mm, project), project), name});
    }
    Lines lines{"WOOD  \"rough\" counts saw cuts, what is left long, spares and test pieces."};
    append_lines(lines, table({"section", "pieces", "tests", "finished", "rough", "longest", "stock"}, rows));
    return lines;
}

// A value of a fitted reading, or a part of it: lengths by the rule's step or as misfits, angles in tenths.
std::string fitted_value(double value, bool angle, bool small, const Project& project) {
    if (angle) return show_angle(value, small ? 2 : 1);
    return small ? shown_misfit(value, project) : shown(value, project);
}

// Signed, but for what is too small to write: that has no sign.
std::string off_words(double off, bool angle, const Project& project) {
    const std::string size = fitted_value(std::abs(off), angle, true, project);
    return off < 0.0 && size.rfind("under", 0) != 0 && size != "0" ? "-" + size : size;
}

Lines fitted_readings(const Plan& plan) {
    const Project& project = plan.project;
    if (!plan.outline->fitted) return {};
    const Fitted& fitted = *plan.outline->fitted;
    std::vector<Row> rows;
    for (std::size_t i = 0; i < fitted.network.observations.size(); ++i) {
        const Judged& judged = fitted.judgement.readings[i];
        const bool angle = fitted.network.observations[i].kind == Observation::Kind::angle;
        const double off = judged.residual;
        rows.push_back({clean_text(plan.outline->readings[i].text, 24), fitted_value(judged.fitted, angle, false, project),
                        off_words(off, angle, project),
                        fitted_value(2.0 * judged.fitted_sd, angle, true, project),
                        fmt::format("{} %", show_number(100.0 * judged.redundancy, 0)),
                        judged.findable ? fitted_value(*judged.findable, angle, true, project) : std::string("none"),
                        judged.tellable ? fitted_value(std::max(*judged.tellable, *judged.findable), angle, true, project) : std::string("none"), ""});
    }
    Lines lines = labelled("READINGS",
                           "\"off\": how much too long or too large it reads; \"known to\": 19 times in 20; \"checked\": how much of "
                           "an error shows; \"finds\": the smallest error I would find four times in five; \"tells\": the smallest "
                           "that I would put down to this reading and no other.");
    append_lines(lines, table({"reading", "used", "off", "known to", "checked", "finds", "tells", ""}, rows));
    std::vector<std::string> bows;
    for (std::size_t i = fitted.network.observations.size(); i < plan.outline->readings.size(); ++i) {
        const ReadingUsed& read = plan.outline->readings[i];
        const std::string text = clean_text(read.text, 24);
        bows.push_back(read.kind == Reading::Kind::width ? fmt::format("{} ({} between straight sides)", text, shown(read.used, project)) : text);
    }
    if (!bows.empty()) {
        append_lines(lines, labelled("  bows",
                                     fmt::format("{}: not part of the fit, corners are joined straight. A board is straight too: at the middle of "
                                                 "that side the margin is so much more, or less.",
                                                 and_list(bows)),
                                     kLabelColumns + 2));
    }
    if (fitted.next) {
        const NextReading& next = *fitted.next;
        const std::string pair = reading_pair(fitted, next.first, next.second);
        append_lines(lines, labelled("  next",
                                     fmt::format("one more reading would help most: {}, about {}.", pair,
                                                 shown(next.expected_mm, project)),
                                     kLabelColumns + 2));
    }
    return lines;
}

// What the questions of a crooked opening and of pegs come to, in full.
Lines questions(const Plan& plan) {
    Lines lines;
    const auto add = [&](const char* label, const char* words, const Table& cells) {
        if (cells.rows.empty()) return;
        append_lines(lines, labelled(label, words));
        append_lines(lines, table(cells.head, cells.rows));
    };
    add("HANGS", "both answers. \"margin\": of the true frame, at the side's first end, its middle and its second end; \"out\": how much "
        "wider it gets along the side. Lengths are long points.", hang_table(plan));
    add("PEGS", "\"off\": from where it belongs; \"right within\": so far off is right; \"if all share\": how far it would move if every "
        "peg did.", pegs_table(plan));
    return lines;
}

std::string report_words(const ClosureReport& report, const Plan& plan) {
    const Project& project = plan.project;
    if (report.spread && report.stiff) {
        const JointMisfit& last = report.stiff->last;
        std::string text =
            fmt::format("drawn in, widest {} at {}, lip {}. ", show_small(report.spread->widest_mm, project.style()),
                        corner_letter(report.spread->corner), show_small(report.spread->lip_mm, project.style()));
        if (!report.spread->settled) text = "too far out to draw in. ";
        text += fmt::format("One after another, at A: inside {}, outside {} open, lip {}, angle left over {}",
                            show_small(last.gap_in_mm, project.style()), show_small(last.gap_out_mm, project.style()),
                            show_small(last.lip_in_mm, project.style()), show_angle(last.angle_left_deg, 2));
        if (report.stiff->one_in > 0.0 && report.stiff->one_in < 1e7)
            text += fmt::format(", one in {}", show_number(report.stiff->one_in, 0));
        return text + ".";
    }
    if (report.span_off_mm && report.span_across_mm) {
        return fmt::format("the far end lands {} along and {} across, turned by {}.",
                           show_small(*report.span_off_mm, project.style()), show_small(*report.span_across_mm, project.style()),
                           show_angle(report.span_angle_deg.value_or(0.0), 2));
    }
    return "";
}

std::string worst_words(const WorstRounding& worst, const Plan& plan) {
    const Project& project = plan.project;
    const BoardEnd& end = plan.frame->boards[worst.board].ends[worst.end];
    const bool by_angle = worst.what == "slope" && project.tools.slope_by == SlopeBy::saw;
    return fmt::format(" Worst single rounding: {} at {}, moved {}; it alone leaves {}.", worst.what, end_name(worst.board, end),
                       by_angle ? show_angle(worst.moved, 2) + " deg" : show_small(worst.moved, project.style()),
                       show_small(worst.stiff_gap_mm, project.style()));
}

// What going the other way with some numbers brings, and how sure that is.
std::string rounding_words(const Plan& plan) {
    const ClosingRounding& r = *plan.rounding;
    const Project& project = plan.project;
    if (!plan.frame->closed || r.choices == 0 || project.tools.rounding == Rounding::nearest) return "";
    const auto small = [&](double mm) { return show_small(mm, project.style()); };
    if (!r.matters) {
        return fmt::format("every number to its nearest step. Going the other way with some would not matter here: fixed one after "
                           "another {} is left as it is, drawn in {}.",
                           small(r.before_mm), small(r.spread_before_mm));
    }
    if (!r.applied) return "every number to its nearest step; no other way closes noticeably better.";
    std::string text = fmt::format("{} of {} numbers between two steps {} to the one farther off, so that the ring closes: fixed one "
                                   "after another {} is left, not {}; drawn in {}, not {}.",
                                   r.other_way, r.choices, r.other_way == 1 ? "goes" : "go", small(r.value_mm),
                                   small(r.before_mm), small(r.spread_after_mm), small(r.spread_before_mm));
    text += r.exact ? " All ways were counted." : fmt::format(" Not all ways were counted; none leaves less than {}.", small(r.bound_mm));
    return text;
}

Lines closure(const Plan& plan) {
    const Closure& closure = *plan.closure;
    Lines lines{"CLOSURE"};
    const auto add = [&](const char* label, const ClosureReport& report, const std::optional<WorstRounding>& worst) {
        std::string text = report_words(report, plan);
        if (worst) text += worst_words(*worst, plan);
        if (!text.empty()) append_lines(lines, labelled(fmt::format("  {}", label), text, kLabelColumns + 2));
    };
    add("unrounded", closure.exact, std::nullopt);
    add("marked", closure.marked, closure.worst_marked);
    add("set", closure.set, closure.worst_set);
    const std::string rounded = rounding_words(plan);
    if (!rounded.empty()) append_lines(lines, labelled("  rounding", rounded, kLabelColumns + 2));
    return lines;
}

Lines budget(const Plan& plan) {
    if (!plan.budget) return {};
    const Project& project = plan.project;
    const Budget& budget = *plan.budget;
    Lines lines = labelled("ERRORS", fmt::format("what goes wrong when boards are made, how far as a rule, how often, and its share of what opens "
                                                 "drawn in and of what is left at {} one by one (as a rule {} inside, {} outside, {} of angle).",
                                                 corner_letter(budget.corner), show_small(budget.gap_in_sd_mm, project.style()),
                                                 show_small(budget.gap_out_sd_mm, project.style()), show_angle(budget.angle_left_sd_deg, 2)));
    append_lines(lines, budget_table(budget, project));
    return lines;
}

Lines findings(const Plan& plan, const PageOptions& options) {
    if (plan.findings.empty()) return {};
    Lines lines{"FINDINGS"};
    for (const Finding& finding : plan.findings) {
        const Lines text = wrapped(
            fmt::format("{}   {}", sentence(clean_text(finding.message, 1000)), place_and_code(finding, options.file_name)),
            kTextColumns - kIndent);
        for (const std::string& line : text) lines.push_back(fmt::format("  {}", line));
    }
    return lines;
}

Lines assumed(const Plan& plan) {
    if (plan.project.assumed.empty()) return {};
    Lines lines{"ASSUMED  because the project does not say; where it would be written."};
    for (const Assumption& assumption : plan.project.assumed) {
        for (const std::string& line :
             wrapped(fmt::format("{}   {}", clean_text(assumption.value, 200), clean_text(assumption.pointer, 100)),
                     kTextColumns - kIndent)) {
            lines.push_back(fmt::format("  {}", line));
        }
    }
    return lines;
}

}  // namespace

Lines more_lines(const Plan& plan, const PageOptions& options) {
    Lines all;
    for (Lines block : {questions(plan), fitted_readings(plan), places_in_full(plan), marks(plan), square_lines(plan), laps(plan), joints(plan),
                        settings(plan), sections(plan), closure(plan), budget(plan), year_more_lines(plan), assumed(plan),
                        findings(plan, options)}) {
        if (block.empty()) continue;
        if (!all.empty()) all.emplace_back();
        append_lines(all, std::move(block));
    }
    return all;
}

}  // namespace boardring
