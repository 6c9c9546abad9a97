#include "report/papers_html.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string_view>
#include <utility>
#include <vector>

#include "base/angle_text.hpp"
#include "base/ensure.hpp"
#include "base/names.hpp"
#include "drawing/markup.hpp"
#include "drawing/svg.hpp"
#include "report/board_drawing.hpp"
#include "report/finding_lines.hpp"
#include "report/page_parts.hpp"
#include "report/piece_as_drawn.hpp"
#include "report/plan_drawing.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

// Sizes in print: 12 points are 4.2 mm, capitals 3 mm; what is set on a saw or marked is 5 mm high or more.
constexpr std::string_view kStyle = R"css(
:root { color-scheme: light dark; --ink: #111; --paper: #fff; --line: #888; --soft: #eee; }
@media (prefers-color-scheme: dark) { :root { --ink: #eee; --paper: #181818; --line: #999; --soft: #2c2c2c; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 0.8rem; max-width: 60rem; color: var(--ink); background: var(--paper);
       font: 1.05rem/1.45 sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0.3em 0; }
h2 { font-size: 1.3rem; line-height: 1.2; margin: 0 0 0.5em; border-bottom: 2px solid var(--ink); }
h3 { font-size: 1.1rem; margin: 0.8em 0 0.3em; }
p, ul, ol { margin: 0.4em 0; }
nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.2rem 1rem; }
nav a { display: inline-block; padding: 0.5rem 0; color: inherit; }
section { margin: 2rem 0; }
dl { margin: 0.5em 0; }
dt { font-weight: bold; }
dd { margin: 0 0 0.5em 0; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; margin: 0.5em 0; }
caption { text-align: left; font-weight: bold; padding: 0.3em 0; }
th, td { border: 1px solid var(--line); padding: 0.3rem 0.5rem; text-align: left; vertical-align: top; overflow-wrap: normal; }
thead th { background: var(--soft); }
.big { font-size: 1.45rem; font-weight: bold; white-space: nowrap; }
.room { min-width: 6rem; height: 2.6rem; }
figure { margin: 0.8rem 0; }
figure svg { display: block; max-width: 100%; height: auto; background: #fff; }
.card { border: 1px solid var(--line); padding: 0.6rem; margin: 1rem 0; }
@media print {
  @page { margin: 10mm; }
  :root { --ink: #000; --paper: #fff; --line: #444; --soft: #eee; color-scheme: light; }
  body { font-size: 12pt; max-width: none; padding: 0; }
  nav { display: none; }
  .big { font-size: 20pt; }
  section { break-before: page; margin: 0; }
  section:first-of-type { break-before: auto; }
  .card, figure, tr { break-inside: avoid; }
  .card { border: none; padding: 0; }
  .wide { overflow: visible; }
  .screen { display: none; }
}
)css";

std::string element(std::string_view name, const std::string& inner, std::string_view attributes = "") {
    return fmt::format("<{0}{1}{2}>{3}</{0}>\n", name, attributes.empty() ? "" : " ", attributes, inner);
}

std::string text(std::string_view name, std::string_view words, std::string_view attributes = "") {
    return element(name, escaped_markup(words), attributes);
}

std::string section(std::string_view id, std::string_view heading, const std::string& inner) {
    return element("section", "\n" + text("h2", heading, fmt::format("id=\"{}\"", id)) + inner, fmt::format("aria-labelledby=\"{}\"", id));
}

std::string drawing(const Drawing& drawn) {
    return element("figure", "\n" + svg_element(drawn));
}

// A table whose first cell of a row names it. Columns in `big` hold what is set or marked.
std::string table(std::string_view caption, const Table& cells, const std::vector<std::size_t>& big = {}) {
    const auto is_big = [&](std::size_t c) { return std::find(big.begin(), big.end(), c) != big.end(); };
    std::string head, body;
    for (const std::string& cell : cells.head) head += text("th", cell, "scope=\"col\"");
    for (const std::vector<std::string>& row : cells.rows) {
        std::string line;
        for (std::size_t c = 0; c < row.size(); ++c)
            line += c == 0 ? text("th", row[c], "scope=\"row\"") : text("td", row[c], is_big(c) ? "class=\"big\"" : "");
        body += element("tr", "\n" + line);
    }
    return element("div",
                   "\n" + element("table", "\n" + text("caption", caption) + element("thead", "\n" + element("tr", "\n" + head)) +
                                               element("tbody", "\n" + body)),
                   "class=\"wide\" tabindex=\"0\" role=\"group\"");
}

// Lines of the page with their labels, as a list of terms: the label column is the term, the rest its words.
std::string said(const Lines& lines, std::size_t label_columns) {
    std::vector<std::pair<std::string, std::string>> parts;
    for (const std::string& line : lines) {
        std::string label = line.substr(0, std::min(label_columns, line.size()));
        label.erase(label.find_last_not_of(' ') + 1);
        std::string words = line.size() > label_columns ? line.substr(label_columns) : "";
        words.erase(0, std::min(words.find_first_not_of(' '), words.size()));
        if (!label.empty() || parts.empty()) {
            parts.emplace_back(label, words);
        } else {
            parts.back().second += (words.empty() ? "" : " ") + words;
        }
    }
    std::string list;
    for (const auto& [label, words] : parts) list += text("dt", label) + text("dd", words);
    return parts.empty() ? "" : element("dl", "\n" + list);
}

std::string bullets(const std::vector<std::string>& items) {
    std::string list;
    for (const std::string& item : items) list += text("li", item);
    return items.empty() ? "" : element("ul", "\n" + list);
}

// --- pages --------------------------------------------------------------------------------------------------------------

constexpr std::size_t kNoLimit = 1000;

std::string front_page(const Plan& plan, const PageOptions& options) {
    Lines verdict = closing_lines(plan);
    append_lines(verdict, sawing_lines(plan));
    append_lines(verdict, buying_lines(plan));
    std::string inner = said(verdict, kVerdictColumns) + said(decide_lines(plan, options, kNoLimit), kLabelColumns);
    Table boards = board_table(plan);
    boards.head.front() = "board";
    boards.head.back() = "remarks";
    inner += table("Boards", boards);
    inner += bullets(board_words(plan, false));
    inner += said(angle_lines(plan), kLabelColumns);
    return section("front", "The frame", inner);
}

// What a cut is held against before wood is spent: two alike that make a corner, or this one with its mate's.
std::string test_words(const Plan& plan, const SettingGroup& group) {
    if (shown_away_deg(group.setting_deg, plan.project) == 0.0) return "square against the edge";
    if (group.test_pair_deg) return fmt::format("two test pieces together must make {}", show_angle(*group.test_pair_deg, 2));
    for (const CutRef& cut : group.cuts) {
        const BoardEnd& end = plan.frame->boards[cut.board].ends[cut.end];
        for (const Joint& joint : plan.frame->joints) {
            if (joint.corner != end.corner || joint.kind != JointKind::mitre || !end.mate) continue;
            const Board& mate = plan.frame->boards[*end.mate];
            const BoardEnd& other = mate.ends[mate.ends[0].corner == end.corner ? 0 : 1];
            return fmt::format("with one at {} it must make {}, as at {}", show_setting(other.saw_deg, plan.project),
                               show_angle(180.0 - std::abs(180.0 - joint.interior_deg), 2), corner_letter(joint.corner));
        }
    }
    return "a test piece against the wedge or the bevel";
}

std::string saw_page(const Plan& plan) {
    Table settings{{"set the saw to", "ends", "cuts", "lefts and rights", "test first"}, {}};
    for (const SettingGroup& group : plan.cut_list->settings) {
        std::vector<std::string> ends;
        for (const CutRef& cut : group.cuts) ends.push_back(board_number(cut.board) + corner_letter(plan.frame->boards[cut.board].ends[cut.end].corner));
        for (const PieceCutRef& cut : group.piece_cuts) ends.push_back(plan.project.pieces[cut.piece].name + (cut.end == 0 ? " left" : " right"));
        const bool square = shown_away_deg(group.setting_deg, plan.project) == 0.0;
        std::string test = test_words(plan, group);
        if (!group.within_saw) test = "past your saw's stop; " + test;
        settings.rows.push_back({show_setting(group.setting_deg, plan.project), and_list(ends), fmt::format("{}", group.count),
                                 square ? "" : fmt::format("{} left, {} right", group.left, group.right), test});
    }
    std::string inner = table("Cuts by setting: finish one setting before you turn the saw to the next", settings, {});
    inner += said(by_hand_lines(plan, Words::all), kLabelColumns);
    inner += text("p", "Cut the test pieces first, on scrap of the same section. Left and right: where the cut lies with the longer edge towards you.");
    return section("saw", "At the saw", inner);
}

std::string card(const Plan& plan, std::size_t group) {
    const PieceAsDrawn piece = piece_as_drawn(plan, group);
    std::string inner = text("h3", piece.heading);
    inner += drawing(draw_board(plan, group));
    std::string words;
    for (const std::string& line : piece.lines) words += text("p", line);
    for (const bool left : {true, false}) {
        const EndAsDrawn& end = piece.ends[left ? 0 : 1];
        words += text("h4", fmt::format("{} end{}{}", left ? "Left" : "Right", end.letter.empty() ? "" : " ", end.letter));
        words += text("p", fmt::format("From the datum: inside {}, outside {}.", shown(end.inside_mm, plan.project), shown(end.outside_mm, plan.project)));
        words += bullets(end.lines);
    }
    inner += element("details", "\n" + text("summary", "The card in words") + words, "class=\"screen\"");
    return element("article", "\n" + inner, "class=\"card\"");
}

std::string cards(const Plan& plan) {
    std::string inner = text("p", posture_words(plan.project.lie) + std::string(" Mark by the numbers, all from the datum."));
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) inner += card(plan, g);
    return section("cards", "Cards, one for every distinct piece", inner);
}

std::string assembly_page(const Plan& plan) {
    Lines work = order_lines(plan, false, true);
    append_lines(work, last_joint_lines(plan, Words::all));
    append_lines(work, year_lines(plan));
    append_lines(work, check_lines(plan));
    std::string inner = said(work, kLabelColumns);
    if (!plan.assembly->diagonals.empty()) {
        Table diagonals{{"across", "inside", "outside", "found"}, {}};
        for (const Diagonal& d : plan.assembly->diagonals)
            diagonals.rows.push_back({corner_letter(d.first) + corner_letter(d.second), shown(d.inside_mm, plan.project), shown(d.outside_mm, plan.project), ""});
        inner += table("Diagonals, point to point", diagonals);
    }
    Table blocks{{"corner", "boards", "block or template"}, {}};
    for (const Joint& joint : plan.frame->joints) {
        const double block = joint.interior_deg > 180.0 ? 360.0 - joint.interior_deg : joint.interior_deg;
        blocks.rows.push_back({corner_letter(joint.corner), board_number(joint.before) + " and " + board_number(joint.after),
                               show_angle(block, 2) + (joint.interior_deg > 180.0 ? ", outside the ring: IN-CORNER" : "")});
    }
    inner += table("Blocks that hold the corners while the glue sets", blocks);
    return section("assembly", "Putting it together", inner);
}

std::string log_page(const Plan& plan) {
    Table log{{"board", "long point", "found", "short point", "found", "done"}, {}};
    for (std::size_t k = 0; k < plan.shown.size(); ++k)
        log.rows.push_back({board_number(k), shown(plan.shown[k].long_point_mm, plan.project), "", shown(plan.shown[k].short_point_mm, plan.project), "", "\u2610"});
    std::string inner = text("p", "Write what the boards really measure, before they are fixed: the last boards can still make up for the first.");
    return section("log", "What was cut", inner + table(fmt::format("Long point and short point of every board, in {}", unit_words(plan.project.unit)), log));
}

std::string care_page(const Plan& plan, const PageOptions& options) {
    std::string inner = said(care_lines(plan, options, kNoLimit), kLabelColumns);
    for (const Severity severity : {Severity::warning, Severity::caution, Severity::note}) {
        std::vector<std::string> items;
        for (const Finding& finding : plan.findings) {
            if (finding.severity == severity) items.push_back(sentence(finding.message) + " " + sentence(finding.fix));
        }
        if (!items.empty())
            inner += text("h3", severity == Severity::warning ? "To decide" : severity == Severity::caution ? "To take care of" : "Noted") + bullets(items);
    }
    Table assumed{{"I assumed", "where to change it"}, {}};
    for (const Assumption& assumption : plan.project.assumed) assumed.rows.push_back({assumption.value, assumption.pointer});
    inner += text("h3", "I assumed");
    if (!assumed.rows.empty()) inner += table("What you did not say", assumed);
    inner += text("p", fmt::format("Change it in {}, then make the papers again.", options.file_name));
    return section("care", "Take care, and what I assumed", inner);
}

std::string heading_of(const Plan& plan) {
    return plan.project.title.empty() ? capital(shape_in_words(plan)) : fmt::format("{} - {}", plan.project.title, shape_in_words(plan));
}

}  // namespace

std::string papers_html(const Plan& plan, const PageOptions& options) {
    ENSURE(plan.complete() && !has_error(plan.findings));
    std::string nav;
    for (const auto& [id, name] : std::vector<std::pair<const char*, const char*>>{
             {"front", "The frame"}, {"plan", "The plan"}, {"saw", "At the saw"}, {"cards", "Cards"}, {"assembly", "Putting it together"}, {"log", "What was cut"}, {"care", "Take care"}})
        nav += element("li", element("a", name, fmt::format("href=\"#{}\"", id)));
    std::string main = front_page(plan, options) + section("plan", "The plan", drawing(draw_plan(plan))) + saw_page(plan) + cards(plan) + assembly_page(plan) + log_page(plan) + care_page(plan, options);
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
           text("title", heading_of(plan)) + element("style", std::string(kStyle)) + "</head>\n<body>\n" +
           element("header", "\n" + text("h1", heading_of(plan)) +
                                 text("p", fmt::format("Lengths in {}. Print at 100 %; the cards are to true scale where they say so.", unit_words(plan.project.unit)))) +
           element("nav", "\n" + element("ul", "\n" + nav), "aria-label=\"Papers\"") + element("main", "\n" + main) + "</body>\n</html>\n";
}

}  // namespace boardring
