#include "plan/hang_plan.hpp"

#include "cutlist/cut_list.hpp"
#include "frame/frame.hpp"
#include "outline/build.hpp"
#include "plan/show.hpp"

namespace boardring {
namespace {

HungBothWays::Answer answer_of(const Project& project, const Outline& like, const std::vector<Vec2>& corners_mm) {
    HungBothWays::Answer answer;
    answer.outline = build_corners(corners_mm, !like.closed);
    answer.outline.letters_clockwise = like.letters_clockwise;
    const Result<Frame> frame = build_frame(project, answer.outline);
    if (!frame.ok()) return answer;
    answer.frame = frame.value();
    answer.shown = show_boards(project, answer.outline, *answer.frame, list_cuts(project, *answer.frame));
    return answer;
}

}  // namespace

std::optional<HungBothWays> hang_both_ways(const Project& project, const Outline& outline) {
    if (!outline.hang) return std::nullopt;
    return HungBothWays{answer_of(project, outline, outline.hang->found_mm), answer_of(project, outline, outline.hang->true_mm)};
}

}  // namespace boardring
