#include "report/papers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <utility>

#include "base/ensure.hpp"
#include "report/board_drawing.hpp"
#include "report/drawing_parts.hpp"
#include "report/finding_lines.hpp"
#include "report/page_parts.hpp"
#include "report/piece_as_drawn.hpp"
#include "report/plan_drawing.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

using Column = PaperTable::Column;
constexpr std::size_t kNoLimit = 1000;

PaperTable boards_table(const Plan& plan) {
    Table boards = board_table(plan);
    boards.head.front() = "board";
    boards.head.back() = "remarks";
    std::vector<Column> columns(boards.head.size(), Column::number);
    columns.back() = Column::words;
    return {"Boards", std::move(boards.head), std::move(columns), std::move(boards.rows)};
}

Paper plan_paper(const Plan& plan) {
    return {"plan", "The plan", {PaperCard{"", draw_plan(plan), {}, {}}}};
}

// What is drawn on a card, for a small screen: the numbers first.
PaperCard card(const Plan& plan, std::size_t group) {
    const PieceAsDrawn piece = piece_as_drawn(plan, group);
    PaperTable ends{"Both ends, marks from the datum", {"end", "inside mark", "outside mark", "set the saw to"},
                    {Column::words, Column::big, Column::big, Column::big}, {}};
    PaperCard made{piece.heading, draw_board(plan, group), {}, piece.lines};
    made.lines.insert(made.lines.end(), piece.cautions.begin(), piece.cautions.end());
    made.lines.emplace_back(posture_words(plan.project.lie));
    for (const bool left : {true, false}) {
        const EndAsDrawn& end = piece.ends[left ? 0 : 1];
        const std::string name = fmt::format("{}{}{}", left ? "left" : "right", end.letter.empty() ? "" : " ", end.letter);
        ends.rows.push_back({name, shown(end.inside_mm, plan.project), shown(end.outside_mm, plan.project), show_setting(end.saw_deg, plan.project)});
        std::string words = fmt::format("{} end{}{}:", left ? "Left" : "Right", end.letter.empty() ? "" : " ", end.letter);
        for (const std::string& line : end.lines) words += " " + line;
        made.lines.push_back(words);
    }
    made.tables.push_back(std::move(ends));
    return made;
}

}  // namespace

PaperTerms terms_of(const std::vector<std::string>& lines, std::size_t label_columns) {
    PaperTerms terms;
    for (const std::string& line : lines) {
        std::string label = line.substr(0, std::min(label_columns, line.size()));
        label.erase(label.find_last_not_of(' ') + 1);
        std::string words = line.size() > label_columns ? line.substr(label_columns) : "";
        words.erase(0, std::min(words.find_first_not_of(' '), words.size()));
        if (!label.empty() || terms.empty()) {
            terms.push_back({label, words});
        } else {
            terms.back().words += (words.empty() ? "" : " ") + words;
        }
    }
    return terms;
}

std::string papers_heading(const Plan& plan) {
    const std::string shape = shape_in_words(plan);
    return plan.project.title.empty() ? capital(shape) : fmt::format("{} - {}", clean_text(plan.project.title), shape);
}

Paper front_paper(const Plan& plan, const PageOptions& options) {
    Lines verdict = closing_lines(plan);
    append_lines(verdict, sawing_lines(plan));
    append_lines(verdict, buying_lines(plan));
    PaperTerms terms = terms_of(verdict, kVerdictColumns);
    for (PaperTerm& term : terms_of(decide_lines(plan, options, kNoLimit), kLabelColumns)) terms.push_back(std::move(term));
    PaperTerms how;
    for (const Lines& lines : {angle_lines(plan), last_joint_lines(plan, Words::all), check_lines(plan)}) {
        for (PaperTerm& term : terms_of(lines, kLabelColumns)) how.push_back(std::move(term));
    }
    std::vector<std::string> about{posture_words(plan.project.lie) + std::string(" Ends with the same letter meet.") + length_words(plan.project)};
    for (const std::string& words : board_words(plan, false)) about.push_back(words);
    return {"front", "The frame", {std::move(terms), PaperList{size_lines(plan, Words::all)}, boards_table(plan), PaperList{std::move(about)}, std::move(how)}};
}

Paper cards_paper(const Plan& plan) {
    Paper paper{"cards", "Cards, one for every distinct piece", {}};
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) paper.parts.emplace_back(card(plan, g));
    return paper;
}

Paper care_paper(const Plan& plan, const PageOptions& options) {
    Paper paper{"care", "Take care, and what I assumed", {terms_of(care_lines(plan, options, kNoLimit), kLabelColumns)}};
    const std::pair<Severity, const char*> kinds[] = {{Severity::warning, "Before you buy"}, {Severity::note, "Noted"}};
    for (const auto& [severity, name] : kinds) {
        std::vector<std::string> items;
        for (const Finding& finding : plan.findings) {
            // The front page has the other warnings, with what decides them.
            if (finding.severity == severity && (severity == Severity::note || is_told_by_verdict(finding))) items.push_back(clean_text(sentence(finding.message) + " " + sentence(finding.fix), 1200));
        }
        if (items.empty()) continue;
        paper.parts.emplace_back(PaperHeading{name});
        paper.parts.emplace_back(PaperList{std::move(items)});
    }
    PaperList assumed;
    for (const Assumption& assumption : plan.project.assumed) assumed.items.push_back(fmt::format("{} ({})", assumption.value, assumption.pointer));
    if (!assumed.items.empty()) {
        paper.parts.emplace_back(PaperHeading{"What you did not say, and I assumed"});
        paper.parts.emplace_back(std::move(assumed));
        paper.parts.emplace_back(PaperText{fmt::format("If one of them is not so, change it in {}, then make the papers again.", clean_text(options.file_name, 200))});
    }
    return paper;
}

std::vector<Paper> papers_of(const Plan& plan, const PageOptions& options) {
    ENSURE(plan.complete() && !has_error(plan.findings));
    std::vector<Paper> papers{front_paper(plan, options), plan_paper(plan), saw_paper(plan), cards_paper(plan), sawing_paper(plan),
                              assembly_paper(plan), log_paper(plan, options), care_paper(plan, options)};
    std::erase_if(papers, [](const Paper& paper) { return paper.parts.empty(); });
    return papers;
}

}  // namespace boardring
