#include "report/plan_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>

#include "base/ensure.hpp"
#include "base/names.hpp"
#include "report/drawing_parts.hpp"
#include "report/plan_legend.hpp"
#include "plan/plan_view.hpp"
#include "report/ring_picture.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kSampleMm = 20.0;  // what a sample of the given line takes

// Everything on a page of this size, or nothing if it does not fit.
std::optional<Drawing> laid_out(const Plan& plan, const RingPicture& ring, const Scale& scale, Vec2 page_mm) {
    Drawing drawing = ring.drawing;
    const auto mm = [&](double paper) { return paper * scale.units_per_mm; };
    const double width = mm(page_mm.x - 2.0 * kMarginMm);
    const Vec2 size = ring.extent.size();
    if (size.x > width) return std::nullopt;
    const double left = 0.5 * (ring.extent.low.x + ring.extent.high.x) - 0.5 * width;

    TextColumn head(drawing, {left, 0.0}, width);
    head.text(plan.project.title.empty() ? "Plan" : clean_text(plan.project.title), kNumberMm, true, 0.0, 2);
    head.text(fmt::format("Plan {}. Scale {}.{}", seen_words(plan), scale.text, length_words(plan.project)), kBodyMm, false);
    const double head_high = -head.at().y + mm(3.0);
    const double top = ring.extent.high.y + head_high;
    for (std::size_t i = ring.drawing.labels.size(); i < drawing.labels.size(); ++i) drawing.labels[i].at.y += top;

    TextColumn foot(drawing, {left, ring.extent.low.y - mm(4.0)}, width);
    const double half_line = mm(0.5 * kBodyMm);
    drawing.strokes.push_back(
        {Pen::given, {foot.at() - Vec2{0.0, half_line}, foot.at() + Vec2{mm(kSampleMm - 2.0), -half_line}}, false});
    foot.text(fmt::format("given line, with its lengths: {}", line_words(plan)), kBodyMm, false, kSampleMm);
    for (const std::string& line : legend_lines(plan, ring)) foot.text(line, kBodyMm, false);
    draw_joint_row(drawing, plan, foot, left + width);
    drawing.page_low = {left - mm(kMarginMm), foot.at().y - mm(kMarginMm)};
    drawing.page_high = {left + width + mm(kMarginMm), top + mm(kMarginMm)};
    if (drawing.page_high.y - drawing.page_low.y > mm(page_mm.y)) return std::nullopt;
    return drawing;
}

}  // namespace

Drawing draw_plan(const Plan& plan) {
    ENSURE(plan.outline && plan.frame && !plan.frame->boards.empty());
    const PlanView view(plan);
    Extent wood;
    for (const Board& board : plan.frame->boards) {
        for (const Vec2 p : board.plan_mm()) wood.add(view(p));
    }
    const double longest = std::max(wood.size().x, wood.size().y);
    for (const Scale& scale : round_scales(in_inches(plan.project))) {
        if (longest > kPaperLongMm * scale.units_per_mm) continue;
        const RingPicture ring = picture_ring(plan, scale.units_per_mm);
        for (const Vec2 page : {Vec2{kPaperShortMm, kPaperLongMm}, Vec2{kPaperLongMm, kPaperShortMm}}) {
            std::optional<Drawing> drawing = laid_out(plan, ring, scale, page);
            if (!drawing) continue;
            drawing->title = plan.project.title.empty() ? "Plan" : clean_text(plan.project.title);
            drawing->describes = fmt::format("Plan {} of {} at {}: {}. Corners {} to {}, {}.", seen_words(plan),
                                             counted(plan.frame->boards.size(), "board", "boards"), scale.text,
                                             plan.outline->closed ? "a closed ring" : "an open chain", corner_letter(0),
                                             corner_letter(plan.outline->corners_mm.size() - 1), overall_words(plan));
            return *std::move(drawing);
        }
    }
    ENSURE(false && "an outline of finite size fits some scale");
    return {};
}

}  // namespace boardring
