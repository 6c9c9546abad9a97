#include "report/plan_legend.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

#include "base/angle_text.hpp"
#include "base/inch_units.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "plan/plan_view.hpp"
#include "project/joint_kinds.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

// "Boards on edge: 38 thick (1, 2, 3, 5 and 6) and 28 thick (4)." In the order in which the boards come.
std::string width_words(const Plan& plan) {
    constexpr std::size_t kMostKinds = 4;
    const bool on_edge = plan.project.lie == Lie::on_edge;
    const std::string what = on_edge ? "thick" : "wide";
    const std::string lie = on_edge ? "Boards on edge" : "Boards flat";
    struct Kind {
        std::string text;
        std::vector<std::size_t> boards;
    };
    std::vector<Kind> kinds;
    for (std::size_t k = 0; k < plan.frame->boards.size(); ++k) {
        const std::string text = shown_width(plan.frame->boards[k], plan.shown[k].left_end == 1, plan.project);
        const auto found = std::find_if(kinds.begin(), kinds.end(), [&](const Kind& kind) { return kind.text == text; });
        if (found != kinds.end()) {
            found->boards.push_back(k);
        } else {
            if (kinds.size() == kMostKinds) return fmt::format("{}, of many different widths: see the page.", lie);
            kinds.push_back({text, {k}});
        }
    }
    if (kinds.size() == 1) return fmt::format("{}, all {} {}.", lie, kinds[0].text, what);
    std::vector<std::string> items;
    for (const Kind& kind : kinds) items.push_back(fmt::format("{} {} ({})", kind.text, what, board_list(kind.boards)));
    return fmt::format("{}: {}.", lie, and_list(items));
}

// Diagonals to measure, and the board whose joint takes what is left.
std::string check_words(const Plan& plan) {
    if (!plan.assembly) return "";
    std::vector<std::string> texts;
    for (const Diagonal& d : plan.assembly->diagonals) {
        if (texts.size() == 3) break;
        texts.push_back(
            fmt::format("{}-{} {}", corner_letter(d.first), corner_letter(d.second), shown(d.inside_mm, plan.project)));
    }
    std::string words = texts.empty() ? "" : fmt::format("Check inside: {}.", and_list(texts));
    if (plan.frame->closed)
        words += fmt::format("{}Fitted last: {}.", words.empty() ? "" : " ", board_number(plan.assembly->fit_last));
    return words;
}

// What every side or every corner reads, when all read the same and some did not fit beside theirs.
std::string common_words(const Plan& plan) {
    const Outline& outline = *plan.outline;
    std::vector<std::string> words;
    const std::string side = shown(outline.sides_mm.front(), plan.project);
    if (std::all_of(outline.sides_mm.begin(), outline.sides_mm.end(),
                    [&](double mm) { return shown(mm, plan.project) == side; })) {
        words.push_back("every side is " + side);
    }
    std::vector<std::string> angles;
    for (std::size_t c = 0; c < outline.interior_deg.size(); ++c) {
        if (outline.is_joint(c)) angles.push_back(show_angle(outline.interior_deg[c]));
    }
    if (!angles.empty() && std::all_of(angles.begin(), angles.end(), [&](const std::string& a) { return a == angles.front(); })) {
        words.push_back("every corner " + angles.front() + "\xC2\xB0");
    }
    return words.empty() ? "the page and the cut list have them all" : and_list(words);
}

constexpr double kIconMm = 15.0;  // what a little picture of a joint takes

// A corner as each joint shows it, `at` its left edge at half height.
void draw_joint_icon(Drawing& drawing, JointKind kind, Vec2 at) {
    const auto mm = [&](double x, double y) { return at + Vec2{x * drawing.scale, y * drawing.scale}; };
    const auto line = [&](Pen pen, std::vector<Vec2> points) { drawing.strokes.push_back({pen, std::move(points), false}); };
    const Vec2 inner = mm(9.2, 0.4);
    const Vec2 outer = mm(12.0, -2.4);
    drawing.regions.push_back({Fill::wood, {mm(0.0, -2.4), outer, mm(12.0, 2.6), mm(9.2, 2.6), inner, mm(0.0, 0.4)}});
    line(Pen::outline, {mm(0.0, -2.4), outer, mm(12.0, 2.6)});
    line(Pen::outline, {mm(9.2, 2.6), inner, mm(0.0, 0.4)});
    switch (kind) {
        case JointKind::mitre:
            return line(Pen::outline, {inner, outer});
        case JointKind::butt:
            return line(Pen::outline, {inner, mm(12.0, 0.4)});
        case JointKind::half_lap:
            line(Pen::outline, {inner, mm(12.0, 0.4)});
            line(Pen::hidden, {inner, mm(9.2, -2.4)});
            line(Pen::thin, {inner, outer});
            line(Pen::thin, {mm(9.2, -2.4), mm(12.0, 0.4)});
            return;
    }
}

struct ScaleBar {
    double size = 0.0;  // drawing units
    int fields = 5;
    std::string text;
};

// A bar of round length, up to 50 mm of paper.
ScaleBar scale_bar(const Project& project, double scale) {
    const double unit = in_inches(project.unit) ? unit_in_mm(project.unit) : 1.0;
    const double most = 50.0 * scale / unit;
    ScaleBar bar;
    if (project.unit == Unit::inch && most >= 6.0) {
        bar.size = 6.0;
        while (2.0 * bar.size <= most) bar.size *= 2.0;
        bar.fields = 6;
    } else {
        bar.size = std::pow(10.0, std::floor(std::log10(most)));
        if (5.0 * bar.size <= most) {
            bar.size *= 5.0;
        } else if (2.0 * bar.size <= most) {
            bar.size *= 2.0;
            bar.fields = 4;
        }
    }
    bar.size *= unit;
    bar.text = show_length_unit(bar.size, project.style());
    return bar;
}

// `at` is the bar's right end with its text, at half height.
void draw_scale_bar(Drawing& drawing, const ScaleBar& bar, Vec2 at) {
    const double high = 2.0 * drawing.scale;
    const double text = text_width(bar.text, false) * kBodyMm * drawing.scale;
    const Vec2 low = at - Vec2{text + 2.0 * drawing.scale + bar.size, 0.5 * high};
    for (int i = 0; i < bar.fields; ++i) {
        const double a = bar.size * i / bar.fields;
        const double b = bar.size * (i + 1) / bar.fields;
        const std::vector<Vec2> field{low + Vec2{a, 0.0}, low + Vec2{b, 0.0}, low + Vec2{b, high}, low + Vec2{a, high}};
        if (i % 2 == 0) drawing.regions.push_back({Fill::ink, field});
        drawing.strokes.push_back({Pen::thin, field, true});
    }
    drawing.labels.push_back({at, bar.text, kBodyMm * drawing.scale, 0.0, Align::right, false});
}

}  // namespace

std::string line_words(const Plan& plan) {
    const std::vector<double>& margins = plan.project.outline.margin_mm;
    const bool any = std::any_of(margins.begin(), margins.end(), [](double m) { return m != 0.0; });
    const bool same = std::all_of(margins.begin(), margins.end(), [&](double m) { return m == margins.front(); });
    const std::string margin = !any   ? ""
                               : same ? fmt::format(", margin {}", shown(margins.front(), plan.project))
                                      : ", margins by board";
    switch (plan.project.outline.line) {
        case OutlineLine::inside:
            return "inside of the boards" + margin;
        case OutlineLine::outside:
            return "outside of the boards" + margin;
        case OutlineLine::middle:
            return "middle of the boards" + margin;
    }
    return "";
}

std::string seen_words(const Plan& plan) {
    return plan.project.outline.seen_from_room ? "seen from the room" : "seen from above";
}

std::string overall_words(const Plan& plan) {
    const auto size = [&](Vec2 s) { return shown(s.x, plan.project) + " x " + shown(s.y, plan.project); };
    return fmt::format("Overall: outside {}, inside {}.", size(plan.totals->outside_box_mm), size(plan.totals->inside_box_mm));
}

std::vector<std::string> legend_lines(const Plan& plan, const RingPicture& ring) {
    const Outline& outline = *plan.outline;
    std::vector<std::string> lines;
    lines.push_back(
        fmt::format("Letters: corners, {} {}.", outline.letters_clockwise ? "clockwise" : "counter-clockwise", seen_words(plan)));
    lines.push_back("Numbers: boards, 1 from A to B. Angles: inside the ring.");
    if (ring.every > 1) lines.push_back(fmt::format("Only one corner and board in {} is named.", ring.every));
    if (ring.something_left_out) lines.push_back(fmt::format("Not every label found room: {}.", common_words(plan)));
    lines.push_back(width_words(plan));
    lines.push_back(overall_words(plan));
    if (const std::string words = check_words(plan); !words.empty()) lines.push_back(words);
    return lines;
}

// The joints there are, and the scale bar at the right.
void draw_joint_row(Drawing& drawing, const Plan& plan, TextColumn& column, double right) {
    const auto mm = [&](double paper) { return paper * drawing.scale; };
    column.space(1.5);
    Vec2 at = column.at() - Vec2{0.0, mm(0.5 * kBodyMm)};
    draw_scale_bar(drawing, scale_bar(plan.project, drawing.scale), {right, at.y});
    for (const JointKind kind : kJointKinds) {
        if (std::none_of(plan.frame->joints.begin(), plan.frame->joints.end(), [kind](const Joint& j) { return j.kind == kind; })) continue;
        const std::string name(joint_word(kind));
        draw_joint_icon(drawing, kind, at);
        drawing.labels.push_back({at + Vec2{mm(kIconMm), 0.0}, name, mm(kBodyMm), 0.0, Align::left, false});
        at.x += mm(kIconMm + 4.0) + text_width(name, false) * mm(kBodyMm);
    }
    column.space(kBodyMm + 2.5);
}

}  // namespace boardring
