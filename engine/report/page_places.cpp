#include <fmt/format.h>

#include <map>
#include <string>
#include <vector>

#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

double width_of_kind(const Project& project, std::size_t kind) {
    const BoardAsked& board = project.pile[kind].board;
    return project.lie == Lie::flat ? board.width_mm : board.thickness_mm;
}

// Boards by their width as it is read on the page, widest first.
std::vector<std::pair<std::string, std::vector<std::size_t>>> boards_by_width(const Plan& plan, const Places& places) {
    std::map<double, std::vector<std::size_t>> by_width;
    for (std::size_t k = 0; k < places.kinds.size(); ++k) {
        by_width[-rounded_to_step(width_of_kind(plan.project, places.kinds[k]), plan.project.tools.rule_step_mm)].push_back(k);
    }
    std::vector<std::pair<std::string, std::vector<std::size_t>>> named;
    for (const auto& [minus_mm, boards] : by_width) named.emplace_back(shown(-minus_mm, plan.project), boards);
    return named;
}

// "4 is the 28 and all others 38", "2 and 3 are 28, 6 is 32 and all others 38"; empty if they are all of one width.
std::string places_words(const Plan& plan, const Places& places) {
    const auto widths = boards_by_width(plan, places);
    if (widths.size() < 2) return "";
    std::size_t most = 0;
    for (std::size_t i = 0; i < widths.size(); ++i) {
        if (widths[i].second.size() > widths[most].second.size()) most = i;
    }
    std::vector<std::string> parts;
    for (std::size_t i = widths.size(); i-- > 0;) {
        const auto& [width, boards] = widths[i];
        if (i != most) parts.push_back(fmt::format("{} {} {}", board_list(boards), boards.size() == 1 ? "is the" : "are the", width));
    }
    parts.push_back("all others " + widths[most].first);
    return and_list(parts);
}

std::string score_words(const PlaceScore& score, const Project& project) {
    const std::string beyond = score.beyond_saw == 0 ? "" : fmt::format(", {} beyond your saw", counted(score.beyond_saw, "cut", "cuts"));
    if (score.settings == 1) return fmt::format("one setting, {}{}", show_setting(score.steepest_deg, project), beyond);
    return fmt::format("{} settings, the steepest {}{}", count_word(score.settings), show_setting(score.steepest_deg, project), beyond);
}

std::string left_over_words(const Plan& plan) {
    std::map<double, std::size_t> left;
    const std::vector<std::size_t>& left_over = plan.arrangement->left_over;
    for (std::size_t kind = 0; kind < left_over.size(); ++kind) {
        if (left_over[kind] > 0) left[width_of_kind(plan.project, kind)] += left_over[kind];
    }
    std::vector<std::string> parts;
    for (const auto& [width_mm, count] : left) parts.push_back(fmt::format("{} of {}", count_word(count), shown(width_mm, plan.project)));
    return parts.empty() ? "" : and_list(parts) + " left over.";
}

std::string alike_words(const Plan& plan) {
    const Arrangement::AllAlike& alike = *plan.arrangement->all_alike;
    const Project& project = plan.project;
    const bool flat = project.lie == Lie::flat;
    return fmt::format("With {} {} to {}: {}.", alike.boards == project.boards.size() - 1 ? "the others" : counted(alike.boards, "board", "boards"),
                       flat ? "ripped" : "planed", shown(alike.width_mm, project), score_words(alike.score, project));
}

std::string found_words(const Plan& plan) {
    const Arrangement& found = *plan.arrangement;
    const std::string places = places_words(plan, found.places);
    if (places.empty()) return "";
    return fmt::format("{}: {}; {}.", places, score_words(found.places.score, plan.project),
                       found.proven ? "no other order is easier" : "the easiest order I found, there may be an easier one");
}

std::string places_text(const Plan& plan) {
    std::vector<std::string> sentences;
    for (std::string text : {found_words(plan), capital(left_over_words(plan)), plan.arrangement->all_alike ? alike_words(plan) : ""}) {
        if (!text.empty()) sentences.push_back(std::move(text));
    }
    return joined(sentences, " ");
}

}  // namespace

Lines places_lines(const Plan& plan) {
    if (!plan.arrangement) return {};
    const std::string text = places_text(plan);
    return text.empty() ? Lines{} : labelled("PLACES.", text, kVerdictColumns);
}

Lines places_in_full(const Plan& plan) {
    if (!plan.arrangement || !plan.arrangement->next) return {};
    const Places& next = *plan.arrangement->next;
    Lines lines{"PLACES"};
    append_lines(lines, labelled("  next best", fmt::format("{}: {}.", places_words(plan, next), score_words(next.score, plan.project)), kLabelColumns + 2));
    return lines;
}

}  // namespace boardring
