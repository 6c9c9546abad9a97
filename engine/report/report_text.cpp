#include "report/report_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <map>
#include <utility>

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

// What a page gives up, one after the other, until it is short enough: first air, then words, then the picture, then rows.
void give_up(Fit& fit, std::size_t what, const Plan& plan) {
    switch (what) {
        case 0:
            fit.flowing_order = true;
            break;
        case 1:
            fit.assumed = 2;
            break;
        case 2:
            fit.picture_rows = 9;
            break;
        case 3:
            fit.decide = 3;
            fit.care = 4;
            fit.noted = 2;
            break;
        case 4:
            fit.picture_rows = 7;
            break;
        case 5:
            fit.halves = false;
            break;
        case 6:
            fit.picture_rows = 5;
            break;
        case 7:
            fit.blank_lines = false;
            break;
        case 8:
            fit.assumed = fit.noted = 1;
            break;
        case 9:
            fit.grouped = fit.grouped || (plan.shown.size() > kManyBoards && 3 * kinds_of_board(plan) <= 2 * plan.shown.size());
            break;
        case 10:
            fit.picture_rows = 0;
            break;
        case 11:
            fit.decide = fit.care = 2;
            break;
        case 12:
            fit.noted = 0;
            break;
        case 13:
            fit.decide = fit.care = 0;
            break;
        default:  // rows, of large rings only
            if (plan.shown.size() <= kEveryBoardShown) break;
            fit.grouped = true;
            fit.most_rows = what == 14 ? 8 : what == 15 ? 5 : 2;
            break;
    }
}
constexpr std::size_t kThingsToGiveUp = 17;

void add_block(Lines& page, Lines block, bool blank_before) {
    if (block.empty()) return;
    if (blank_before && !page.empty()) page.emplace_back();
    append_lines(page, std::move(block));
}

// The page, laid out again and again until it fits: what no Fit changes is worded once, each size of the picture drawn once.
class Layout {
public:
    Layout(const Plan& plan, const PageOptions& options)
        : plan_(plan),
          options_(options),
          title_(title_lines(plan)),
          verdict_(closing_lines(plan)),
          angles_(angle_lines(plan)),
          joint_and_check_(last_joint_lines(plan)),
          next_(next_lines(options)) {
        append_lines(verdict_, sawing_lines(plan));
        append_lines(verdict_, buying_lines(plan));
        append_lines(angles_, by_hand_lines(plan));
        append_lines(joint_and_check_, check_lines(plan));
    }

    Lines page(const Fit& fit) {
        Lines page = title_;
        add_block(page, verdict_, true);
        add_block(page, decide_lines(plan_, options_, fit.decide), false);
        add_block(page, picture(fit.picture_rows), true);
        add_block(page, board_lines(plan_, fit.grouped, fit.most_rows), true);
        add_block(page, angles_, fit.blank_lines);
        Lines work = order_lines(plan_, fit.flowing_order, fit.halves);
        append_lines(work, joint_and_check_);
        add_block(page, work, fit.blank_lines);
        Lines notes = care_lines(plan_, options_, fit.care);
        append_lines(notes, noted_lines(plan_, options_, fit.noted));
        append_lines(notes, assumed_lines(plan_, options_, fit.assumed));
        append_lines(notes, next_);
        add_block(page, notes, true);
        return page;
    }

private:
    const Lines& picture(std::size_t rows) {
        const auto [at, is_new] = pictures_.try_emplace(rows);
        if (is_new) at->second = picture_and_sizes(plan_, rows);
        return at->second;
    }

    const Plan& plan_;
    const PageOptions& options_;
    Lines title_, verdict_, angles_, joint_and_check_, next_;
    std::map<std::size_t, Lines> pictures_;
};

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
    Fit fit = comfortable(plan);
    Layout layout(plan, options);
    Lines page = layout.page(fit);
    for (std::size_t what = 0; what < kThingsToGiveUp && page.size() > kPageLines && !options.more; ++what) {
        give_up(fit, what, plan);
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
