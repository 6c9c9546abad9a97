#include "report/report_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <map>
#include <utility>
#include <vector>

#include "report/command_text.hpp"
#include "report/finding_lines.hpp"
#include "report/page_parts.hpp"
#include "report/picture.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kManyBoards = 8;  // up to these every board has its own row as long as it can
constexpr std::size_t kPageLines = 39;  // under 40, so that a page fits a sheet and most terminals
// A page runs on rather than hide a board of a ring that people build: the table is what they came for.
constexpr std::size_t kEveryBoardShown = 12;

// How much room each part of a page gets.
struct Fit {
    std::size_t picture_rows = 13;
    Words words = Words::all;
    bool grouped = false;
    std::size_t most_rows = kMostPictureBoards;
    bool flowing_order = false;
    bool halves = true;
    bool blank_lines = true;
    std::size_t decide = 6;
    std::size_t care = 5;
    std::size_t assumed = 3;
    std::size_t noted = 3;
};

std::size_t kinds_of_board(const Plan& plan) {
    const std::vector<PieceGroup>& groups = plan.cut_list->groups;
    return static_cast<std::size_t>(
        std::count_if(groups.begin(), groups.end(), [](const PieceGroup& group) { return !group.members.empty(); }));
}

Fit comfortable(const Plan& plan) {
    Fit fit;
    const std::size_t boards = plan.shown.size(), kinds = kinds_of_board(plan);
    fit.grouped = (kinds == 1 && boards > 4) || (boards > kManyBoards && 2 * kinds <= boards);
    return fit;
}

void show_rows(Fit& fit, const Plan& plan, std::size_t most) {
    if (plan.shown.size() <= kEveryBoardShown) return;
    fit.grouped = true;
    fit.most_rows = most;
}

// What a page gives up, one after the other, until it is short enough: first air and the size of the picture, then words that
// another place says too, then the picture, then findings the check tells in full, and rows of large rings last.
using GiveUp = void (*)(Fit&, const Plan&);
constexpr std::array<GiveUp, 19> kGiveUps{
    [](Fit& fit, const Plan&) { fit.flowing_order = true; },
    [](Fit& fit, const Plan&) { fit.assumed = 2; },
    [](Fit& fit, const Plan&) { fit.picture_rows = 9; },
    [](Fit& fit, const Plan&) { fit.decide = fit.care = 4, fit.noted = 2; },
    [](Fit& fit, const Plan&) { fit.picture_rows = 7; },
    [](Fit& fit, const Plan&) { fit.halves = false; },
    [](Fit& fit, const Plan&) { fit.picture_rows = 5; },
    [](Fit& fit, const Plan&) { fit.blank_lines = false; },
    [](Fit& fit, const Plan&) { fit.assumed = fit.noted = 1; },
    [](Fit& fit, const Plan& plan) {
        fit.grouped = fit.grouped || (plan.shown.size() > kManyBoards && 3 * kinds_of_board(plan) <= 2 * plan.shown.size());
    },
    [](Fit& fit, const Plan&) { fit.words = Words::few; },
    [](Fit& fit, const Plan&) { fit.noted = 0; },
    [](Fit& fit, const Plan&) { fit.picture_rows = 0; },
    [](Fit& fit, const Plan&) { fit.words = Words::fewest; },
    [](Fit& fit, const Plan&) { fit.decide = fit.care = 2; },
    [](Fit& fit, const Plan&) { fit.decide = fit.care = 0; },
    [](Fit& fit, const Plan& plan) { show_rows(fit, plan, 8); },
    [](Fit& fit, const Plan& plan) { show_rows(fit, plan, 5); },
    [](Fit& fit, const Plan& plan) { show_rows(fit, plan, 2); },
};

void add_block(Lines& page, Lines block, bool blank_before) {
    if (block.empty()) return;
    if (blank_before && !page.empty()) page.emplace_back();
    append_lines(page, std::move(block));
}

// The page, laid out again and again until it fits: what no Fit changes is worded once, each size of the picture drawn once.
class Layout {
public:
    Layout(const Plan& plan, const PageOptions& options)
        : plan_(plan), options_(options), title_(title_lines(plan)), verdict_(closing_lines(plan)), next_(next_lines(options)) {
        append_lines(verdict_, question_lines(plan));
        append_lines(verdict_, sawing_lines(plan));
        append_lines(verdict_, places_lines(plan));
        append_lines(verdict_, buying_lines(plan));
        for (const Words words : {Words::all, Words::few, Words::fewest}) {
            Worded worded{angle_lines(plan), last_joint_lines(plan, words)};
            append_lines(worded.angles, by_hand_lines(plan, words));
            append_lines(worded.joint_and_check, year_lines(plan));
            append_lines(worded.joint_and_check, check_lines(plan));
            worded_.push_back(std::move(worded));
        }
    }

    Lines page(const Fit& fit) {
        Lines page = title_;
        add_block(page, verdict_, true);
        add_block(page, decide_lines(plan_, options_, fit.decide), false);
        const Worded& worded = worded_[static_cast<std::size_t>(fit.words)];
        add_block(page, picture(fit.picture_rows, fit.words), true);
        add_block(page, board_lines(plan_, fit.grouped, fit.most_rows), true);
        add_block(page, worded.angles, fit.blank_lines);
        Lines work = order_lines(plan_, fit.flowing_order, fit.halves);
        append_lines(work, worded.joint_and_check);
        add_block(page, work, fit.blank_lines);
        Lines notes = care_lines(plan_, options_, fit.care);
        append_lines(notes, noted_lines(plan_, options_, fit.noted));
        append_lines(notes, assumed_lines(plan_, options_, fit.assumed));
        append_lines(notes, next_);
        add_block(page, notes, true);
        return page;
    }

private:
    struct Worded {
        Lines angles, joint_and_check;
    };

    const Lines& picture(std::size_t rows, Words words) {
        const auto [at, is_new] = pictures_.try_emplace({rows, words});
        if (is_new) at->second = picture_and_sizes(plan_, rows, words);
        return at->second;
    }

    const Plan& plan_;
    const PageOptions& options_;
    Lines title_, verdict_, next_;
    std::vector<Worded> worded_;  // by Words
    std::map<std::pair<std::size_t, Words>, Lines> pictures_;
};

}  // namespace

std::string plan_page(const Plan& plan, const PageOptions& options) {
    if (plan.of_pieces_alone() && !has_error(plan.findings)) return pieces_page(plan, options);
    if (!plan.complete() || has_error(plan.findings)) return refusal_page(plan.findings, options);
    Fit fit = comfortable(plan);
    Layout layout(plan, options);
    Lines page = layout.page(fit);
    for (const GiveUp give_up : kGiveUps) {
        if (options.more || page.size() <= kPageLines) break;
        give_up(fit, plan);
        page = layout.page(fit);
    }
    // Words given up may have made room for a picture or for air again.
    for (const std::size_t rows : {std::size_t{9}, std::size_t{7}, std::size_t{5}}) {
        if (options.more || fit.picture_rows >= rows) break;
        Fit pictured = fit;
        pictured.picture_rows = rows;
        Lines with_picture = layout.page(pictured);
        if (with_picture.size() > kPageLines) continue;
        page = std::move(with_picture);
        fit = pictured;
        break;
    }
    if (!options.more && !fit.blank_lines) {
        fit.blank_lines = true;
        Lines airy = layout.page(fit);
        if (airy.size() <= kPageLines) page = std::move(airy);
    }
    if (options.more) add_block(page, more_lines(plan, options), true);
    return text_of(page);
}

std::string check_page(const Plan& plan, const PageOptions& options) {
    const bool pieces_alone = plan.of_pieces_alone();
    if ((!plan.complete() && !pieces_alone) || has_error(plan.findings)) return refusal_page(plan.findings, options);
    Lines page = pieces_alone ? pieces_title_lines(plan) : title_lines(plan);
    page.emplace_back();
    append_lines(page, pieces_alone ? no_ring_lines() : closing_lines(plan));
    if (!pieces_alone) append_lines(page, question_lines(plan));
    append_lines(page, pieces_alone ? pieces_sawing_lines(plan) : sawing_lines(plan));
    page.emplace_back();
    std::string text = text_of(page);
    if (!plan.findings.empty()) text += findings_text(plan.findings, options) + "\n";
    return text + text_of(next_line(fmt::format("boardring plan {}", shell_word(clean_text(options.project_name, 60)))));
}

}  // namespace boardring
