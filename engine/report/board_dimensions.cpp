#include "report/board_dimensions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kTierMm = 10.0;  // between dimension lines [mm of paper]

class Marks {
public:
    explicit Marks(BoardCanvas& card) : card_(card) {}

    // True if every mark found room.
    bool draw() {
        for (const bool inside : {true, false}) dimension_edge(inside);
        draw_datum();
        return every_mark_;
    }

private:
    [[nodiscard]] double mm(double paper) const { return card_.mm(paper); }

    struct MarkText {
        double x = 0.0;
        bool left = true;
        bool shoulder = false;
        std::string text;
    };

    void dimension_edge(bool inside) {
        std::vector<MarkText> marks;
        for (const bool left : {true, false}) {
            const EndAsDrawn& e = card_.end(left);
            const double x = inside ? e.inside_mm : e.outside_mm;
            if (x > 0.5 * card_.project.tools.rule_step_mm) marks.push_back({x, left, false, shown(x, card_.project)});
            if (!e.lap) continue;
            const double shoulder = inside ? e.lap->inside_mm : e.lap->outside_mm;
            marks.push_back({shoulder, left, true, shown(shoulder, card_.project)});
        }
        const BoardCanvas::Paper before = card_.paper;
        const double lowest = lowest_, highest = highest_;
        if (try_level_numbers(inside, marks)) return;
        card_.paper = before;
        lowest_ = lowest;
        highest_ = highest;
        write_upright_numbers(inside, marks);
    }

    // Numbers over the lines. Shoulders lie between the ends: their line is the nearer one, so that no extension line crosses a
    // number.
    bool try_level_numbers(bool inside, const std::vector<MarkText>& marks) {
        const double edge = inside ? card_.piece.width_mm : 0.0;
        const double way = inside ? 1.0 : -1.0;
        std::vector<MarkText> ends, shoulders;
        for (const MarkText& m : marks) (m.shoulder ? shoulders : ends).push_back(m);
        const double near_y = edge + way * mm(9.5);
        const double far_y = shoulders.empty() ? near_y : near_y + way * mm(kTierMm);
        if (!shoulders.empty()) draw_running(inside, near_y, shoulders);
        draw_running(inside, far_y, ends);
        write_zero(far_y);
        bool all = true;
        for (const MarkText& m : ends) all = all && try_mark(m, far_y);
        for (const MarkText& m : shoulders) all = all && try_mark(m, near_y);
        if (!shoulders.empty()) card_.try_places({{}, "lap", mm(kBodyMm), 0.0, Align::right, false}, {{-mm(2.0), near_y}});
        return all;
    }

    // Over the line beside its arrow, on the side where the board is, else on the other side.
    bool try_mark(const MarkText& m, double y) {
        Label label{{}, m.text, mm(kNumberMm), 0.0, Align::left, true};
        for (const bool after : {m.left, !m.left}) {
            label.align = after ? Align::left : Align::right;
            label.at = {card_.drawn(m.x) + (after ? mm(1.4) : -mm(1.4)), 0.0};
            // The lowest stroke of the text, a slash's or a comma's, keeps clear of the line.
            label.at.y = y + mm(0.9) - label_box(label)[0].y;
            if (card_.try_label(label)) return true;
        }
        return false;
    }

    // Where marks crowd: one line for all, every number upright at the end of its extension line, or beside it.
    void write_upright_numbers(bool inside, const std::vector<MarkText>& marks) {
        const double edge = inside ? card_.piece.width_mm : 0.0;
        const double way = inside ? 1.0 : -1.0;
        const double y = edge + way * mm(6.0);
        draw_running(inside, y, marks);
        write_zero(y);
        for (const MarkText& m : marks) {
            const double side = mm(0.5 * kNumberMm + 1.2);
            const double x = card_.drawn(m.x);
            bool placed = false;
            for (double out = 2.2; out <= 60.0; out += 1.0) {
                const double start = y + way * mm(out);
                const std::array<Vec2, 2> leader{{{x, y + way * mm(1.2)}, {x, start - way * mm(1.0)}}};
                if (out > 3.0 && !card_.paper.space.is_free(PaperSpace::kText, leader, mm(0.3))) break;
                Label label{{},   (m.shoulder ? "lap " : "") + m.text, mm(kNumberMm),
                            90.0, inside ? Align::left : Align::right, true};
                if (!card_.try_places(label, {{x, start}, {x + (m.left ? side : -side), start}, {x - (m.left ? side : -side), start}}))
                    continue;
                if (out > 3.0) card_.stroke(Pen::dimension, {leader[0], leader[1]});
                placed = true;
                break;
            }
            every_mark_ = every_mark_ && placed;
        }
    }

    // Left of the datum, over the line or under it.
    void write_zero(double y) {
        card_.try_places({{}, "0", mm(kNumberMm), 0.0, Align::right, true}, {{-mm(1.6), y + mm(3.6)}, {-mm(1.6), y - mm(3.6)}});
    }

    // One dimension line: a small circle at the datum, an arrow at every mark.
    void draw_running(bool inside, double y, const std::vector<MarkText>& marks) {
        const double way = inside ? 1.0 : -1.0;
        lowest_ = std::min(lowest_, y);
        highest_ = std::max(highest_, y);
        double furthest = 0.0;
        for (const MarkText& m : marks) furthest = std::max(furthest, card_.drawn(m.x));
        card_.paper.drawing.circles.push_back({Pen::thin, Fill::blank, {0.0, y}, mm(1.0)});
        const std::array<Vec2, 4> origin{
            {{-mm(1.0), y - mm(1.0)}, {mm(1.0), y - mm(1.0)}, {mm(1.0), y + mm(1.0)}, {-mm(1.0), y + mm(1.0)}}};
        card_.paper.space.take(PaperSpace::kLine, origin);
        card_.stroke(Pen::dimension, {{mm(1.0), y}, {furthest, y}});
        for (const MarkText& m : marks) {
            const double x = card_.drawn(m.x);
            card_.stroke(Pen::dimension, {{x, card_.edge_y(inside, m.x) + way * mm(1.0)}, {x, y + way * mm(1.2)}});
            if (x > mm(4.5)) {
                card_.paper.drawing.regions.push_back({Fill::ink, {{x, y}, {x - mm(3.0), y + mm(0.6)}, {x - mm(3.0), y - mm(0.6)}}});
            } else {  // no room for an arrow between the datum and the mark
                card_.stroke(Pen::outline, {{x - mm(0.8), y - mm(0.8)}, {x + mm(0.8), y + mm(0.8)}});
            }
        }
    }

    // A triangle under the line through 0, as drawings mark a datum.
    void draw_datum() {
        double foot = lowest_ - mm(2.0);
        const auto triangle = [&] {
            return std::vector<Vec2>{{0.0, foot}, {-mm(2.0), foot - mm(3.5)}, {mm(2.0), foot - mm(3.5)}};
        };
        while (!card_.paper.space.is_free(PaperSpace::kText, triangle(), mm(0.5))) foot -= mm(1.0);
        card_.stroke(Pen::thin, {{0.0, foot}, {0.0, highest_ + mm(1.5)}});
        const std::vector<Vec2> mark = triangle();
        card_.paper.space.take(PaperSpace::kText, mark);
        for (const Vec2 p : mark) card_.paper.extent.add(p);
        card_.paper.drawing.regions.push_back({Fill::ink, mark});
        Label label{{}, "datum", mm(kBodyMm), 0.0, Align::left, false};
        if (card_.try_places(label, {{mm(3.4), foot - mm(1.9)}})) return;
        label.align = Align::right;
        if (card_.try_places(label, {{-mm(3.4), foot - mm(1.9)}, {-mm(2.6), foot - mm(5.0)}})) return;
        label.align = Align::centre;
        for (double down = 6.5; !card_.try_places(label, {{0.0, foot - mm(down)}}); down += 1.0) {
        }
    }

    BoardCanvas& card_;
    double lowest_ = 0.0, highest_ = 0.0;  // of the dimension lines
    bool every_mark_ = true;
};

bool tapers(const BoardCanvas& card) {
    return std::abs(card.end(true).width_mm - card.end(false).width_mm) > 1e-9;
}

// "31 to 36.5", as the words above the drawing and the page have it.
std::string shown_taper(const BoardCanvas& card) {
    return fmt::format("{} to {}", shown(card.end(true).width_mm, card.project), shown(card.end(false).width_mm, card.project));
}

}  // namespace

bool draw_marks(BoardCanvas& card) {
    return Marks(card).draw();
}

void draw_width(BoardCanvas& card) {
    const auto mm = [&](double paper) { return card.mm(paper); };
    const double start = card.gap.any ? card.drawn(card.gap.to_mm) + mm(7.0) : 0.6 * card.last();
    for (const bool upright : {true, false}) {
        for (double step = 0.0; step <= 50.0; step += 1.0) {
            const double x = start + mm(step);
            const double from_datum = card.gap.any ? x + card.gap.gone() - mm(kBreakMm) : x;
            const double low = card.edge_y(false, from_datum), high = card.edge_y(true, from_datum);
            const std::string text = tapers(card) ? shown_taper(card) : shown(card.piece.width_mm, card.project);
            const std::array<Vec2, 2> line{{{x, low + mm(0.3)}, {x, high - mm(0.3)}}};
            if (x > card.last() - mm(2.0) ||
                !card.paper.space.is_free(PaperSpace::kText | PaperSpace::kWood | PaperSpace::kLine, line, -mm(0.1)))
                continue;
            Label label{{x - mm(0.9 + 0.5 * kBodyMm), 0.5 * (low + high)}, text, mm(kBodyMm), 90.0, Align::centre, false};
            if (!upright) label = {{x + mm(1.0), 0.5 * (low + high)}, text, mm(kBodyMm), 0.0, Align::left, false};
            if (upright && text_width(text, false) * label.height > high - low - mm(2.0)) continue;
            if (!card.try_label(label)) continue;
            card.stroke(Pen::dimension, {{x, low}, {x, high}});
            for (const double y : {low, high}) {
                const Vec2 tick = mm(1.4) * unit_deg(135.0);
                card.stroke(Pen::outline, {Vec2{x, y} - tick, Vec2{x, y} + tick});
            }
            return;
        }
    }
}

}  // namespace boardring
