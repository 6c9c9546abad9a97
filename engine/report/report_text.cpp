#include "report/report_text.hpp"

#include <fmt/format.h>

#include <array>
#include <cstddef>

#include "report/finding_lines.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kPageLines = 39;  // under 40, so that a page fits a sheet and most terminals

// How much room each part of a page gets; the first that makes the page short enough is taken.
struct Fit {
    std::size_t picture_rows;
    bool grouped;
    std::size_t most_rows;
    bool flowing_order;
    bool blank_lines;
    std::size_t decide;
    std::size_t care;
    std::size_t assumed;
    std::size_t noted;
};

constexpr std::array kFits{
    Fit{13, false, 14, false, true, 6, 5, 3, 3}, Fit{13, false, 14, true, true, 6, 4, 3, 3},
    Fit{11, false, 14, true, true, 4, 3, 2, 2},  Fit{9, false, 14, true, true, 4, 3, 2, 2},
    Fit{9, false, 14, true, false, 4, 3, 2, 2},  Fit{13, true, 10, true, true, 4, 3, 2, 2},
    Fit{11, true, 8, true, false, 4, 3, 2, 2},   Fit{7, false, 14, true, false, 3, 3, 2, 2},
    Fit{9, true, 8, true, false, 3, 3, 2, 2},    Fit{0, false, 14, true, false, 3, 3, 2, 2},
    Fit{0, true, 8, true, false, 3, 2, 1, 1},    Fit{0, true, 5, true, false, 2, 2, 1, 0},
    Fit{0, true, 3, true, false, 2, 1, 1, 0},
};

void add_block(Lines& page, Lines block, bool blank_before) {
    if (block.empty()) return;
    if (blank_before && !page.empty()) page.emplace_back();
    append_lines(page, std::move(block));
}

Lines page_lines(const Plan& plan, const PageOptions& options, const Fit& fit) {
    Lines page = title_lines(plan);
    Lines verdict = closing_lines(plan);
    append_lines(verdict, sawing_lines(plan));
    append_lines(verdict, buying_lines(plan));
    add_block(page, verdict, true);
    add_block(page, decide_lines(plan, options, fit.decide), false);
    add_block(page, picture_and_sizes(plan, fit.picture_rows), true);
    add_block(page, board_lines(plan, fit.grouped, fit.most_rows), true);
    Lines angles = angle_lines(plan);
    append_lines(angles, by_hand_lines(plan));
    add_block(page, angles, fit.blank_lines);
    Lines work = order_lines(plan, fit.flowing_order);
    append_lines(work, last_joint_lines(plan));
    append_lines(work, check_lines(plan));
    add_block(page, work, fit.blank_lines);
    Lines notes = care_lines(plan, options, fit.care);
    append_lines(notes, noted_lines(plan, options, fit.noted));
    append_lines(notes, assumed_lines(plan, options, fit.assumed));
    append_lines(notes, next_lines(plan, options));
    add_block(page, notes, true);
    return page;
}

std::string joined(const Lines& lines) {
    std::string text;
    for (const std::string& line : lines) {
        text += line;
        text += '\n';
    }
    return text;
}

}  // namespace

std::string plan_page(const Plan& plan, const PageOptions& options) {
    if (!plan.complete() || has_error(plan.findings)) return refusal_page(plan.findings, options);
    Lines page;
    for (const Fit& fit : kFits) {
        page = page_lines(plan, options, fit);
        if (page.size() <= kPageLines || options.more) break;
    }
    if (options.more) add_block(page, more_lines(plan, options), true);
    return joined(page);
}

std::string check_page(const Plan& plan, const PageOptions& options) {
    if (!plan.complete() || has_error(plan.findings)) return refusal_page(plan.findings, options);
    Lines page = title_lines(plan);
    page.emplace_back();
    append_lines(page, closing_lines(plan));
    append_lines(page, sawing_lines(plan));
    page.emplace_back();
    std::string text = joined(page);
    if (!plan.findings.empty()) text += findings_text(plan.findings, options.file_name) + "\n";
    return text + joined(labelled("NEXT", fmt::format("boardring plan {}", clean_text(options.project_name, 60))));
}

}  // namespace boardring
