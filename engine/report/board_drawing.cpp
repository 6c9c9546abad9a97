#include "report/board_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "report/board_canvas.hpp"
#include "report/board_card_text.hpp"
#include "report/board_dimensions.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kWasteMm = 12.0;  // of waste shown beyond the marks [mm of paper]

class BoardCard {
public:
    BoardCard(const PieceAsDrawn& piece, const Project& project, const std::string& ring_title, const Scale& scale)
        : card_(piece, project, scale) {
        draw_wood();
        for (const bool left : {true, false}) draw_lap(left);
        every_mark_ = draw_marks(card_);
        for (const bool left : {true, false}) draw_angles(left);
        write_names();
        draw_width(card_);
        write_card_text(card_, ring_title);
    }

    /// It is not higher than the paper, and every mark found room.
    [[nodiscard]] bool serves() const { return every_mark_ && card_.paper.drawing.page_high.y - card_.paper.drawing.page_low.y <= mm(kPaperLongMm); }
    [[nodiscard]] Drawing&& take() && { return std::move(card_.paper.drawing); }

private:
    [[nodiscard]] double mm(double paper) const { return card_.mm(paper); }

    // --- wood, waste, break -------------------------------------------------------------------------------------------

    void draw_wood() {
        if (!card_.gap.any) {
            card_.paper.drawing.regions.push_back({Fill::wood, {card_.outside_of(true), card_.outside_of(false), card_.inside_of(false), card_.inside_of(true)}});
            card_.stroke(Pen::outline, {card_.outside_of(true), card_.outside_of(false)});
            card_.stroke(Pen::outline, {card_.inside_of(true), card_.inside_of(false)});
        } else {
            draw_half(true);
            draw_half(false);
        }
        for (const bool left : {true, false}) draw_waste(left);
    }

    // One side of the break, with its zigzag.
    void draw_half(bool left) {
        const double x = left ? card_.gap.from_mm : card_.drawn(card_.gap.to_mm);
        const double low = card_.edge_y(false, left ? card_.gap.from_mm : card_.gap.to_mm), high = card_.edge_y(true, left ? card_.gap.from_mm : card_.gap.to_mm);
        const double zig = mm(1.5);
        const auto up = [&](double part) { return low + part * (high - low); };
        const std::vector<Vec2> edge{{x, low - mm(1.0)},   {x, low},      {x, up(0.38)}, {x - zig, up(0.46)},
                                     {x + zig, up(0.54)}, {x, up(0.62)}, {x, high},     {x, high + mm(1.0)}};
        std::vector<Vec2> shape{card_.outside_of(left)};
        shape.insert(shape.end(), edge.begin() + 1, edge.end() - 1);
        shape.push_back(card_.inside_of(left));
        card_.paper.drawing.regions.push_back({Fill::wood, std::move(shape)});
        card_.stroke(Pen::outline, {card_.outside_of(left), {x, low}});
        card_.stroke(Pen::outline, {card_.inside_of(left), {x, high}});
        card_.stroke(Pen::thin, edge);
    }

    void draw_waste(bool left) {
        const EndAsDrawn& e = card_.end(left);
        const double far = card_.drawn(e.long_mark(left)) + (left ? -1.0 : 1.0) * mm(kWasteMm);
        const std::vector<Vec2> shape{card_.outside_of(left), {far, card_.edge_at(false, left)}, {far, card_.edge_at(true, left)}, card_.inside_of(left)};
        card_.paper.space.take(PaperSpace::kWood, shape);
        card_.paper.drawing.regions.push_back({Fill::waste, shape});
        card_.stroke(Pen::thin, {shape[0], shape[1], shape[2], shape[3]});
        card_.stroke(Pen::cut, {shape[0], shape[3]});
    }

    // A thin cross where half of the height goes, as on the plan; never hatched: hatched wood falls off whole. The shoulder is a wide line
    // where it is seen from above, dashed where it lies below.
    void draw_lap(bool left) {
        const EndAsDrawn& e = card_.end(left);
        if (!e.lap) return;
        const Vec2 low = card_.at(e.lap->outside_mm, card_.edge_y(false, e.lap->outside_mm));
        const Vec2 high = card_.at(e.lap->inside_mm, card_.edge_y(true, e.lap->inside_mm));
        card_.stroke(e.lap->keeps_upper ? Pen::hidden : Pen::outline, {low, high});
        card_.stroke(Pen::thin, {low, card_.inside_of(left)});
        card_.stroke(Pen::thin, {high, card_.outside_of(left)});
    }

    // --- angles ---------------------------------------------------------------------------------------------------------

    void arc(Vec2 apex, double from_deg, double to_deg, double radius) {
        std::vector<Vec2> points;
        const int steps = std::max(2, static_cast<int>(std::ceil(std::abs(to_deg - from_deg) / 6.0)));
        for (int i = 0; i <= steps; ++i) points.push_back(apex + radius * unit_deg(from_deg + (to_deg - from_deg) * i / steps));
        card_.stroke(Pen::thin, std::move(points));
    }

    // S between a square line through the short edge's mark and the cut; E between the cut and the long edge.
    void draw_angles(bool left) {
        const EndAsDrawn& e = card_.end(left);
        const double saw = std::abs(e.saw_deg);
        if (saw < kSquareDeg) return;
        const bool outside_longer = e.saw_deg > 0.0;
        const double long_y = card_.edge_at(!outside_longer, left);
        const Vec2 short_mark = card_.at(e.short_mark(left), card_.edge_at(outside_longer, left));
        const Vec2 long_mark = card_.at(e.long_mark(left), long_y);
        const double down_deg = outside_longer ? -90.0 : 90.0;                // from the short mark across the board
        const double cut_turn = (left == outside_longer ? -1.0 : 1.0) * saw;  // from there to the cut
        const Vec2 foot{short_mark.x, long_y};
        card_.stroke(Pen::hidden, {short_mark, foot});
        const double radius = std::min(0.55 * card_.piece.width_mm, mm(16.0));
        arc(short_mark, down_deg, down_deg + cut_turn, radius);
        // E at the long point, measured inside the wood.
        const double edge_deg = left ? 0.0 : 180.0;
        const double to_cut = (left == outside_longer ? 1.0 : -1.0) * (90.0 - saw);
        const double e_radius = std::min(0.3 * card_.piece.width_mm, mm(8.0));
        arc(long_mark, edge_deg, edge_deg + to_cut, e_radius);
        Label label{{}, "E " + show_angle(90.0 - saw) + "\xC2\xB0", mm(kBodyMm), 0.0, Align::centre, false};
        std::vector<Vec2> places;
        for (double r = 5.0; r <= 40.0; r += 1.0) {
            for (const double part : {0.5, 0.35, 0.65}) {
                const Vec2 place = long_mark + mm(r) * unit_deg(edge_deg + part * to_cut);
                if (place.y > 0.0 && place.y < card_.piece.width_mm) places.push_back(place);  // on the wood, not among the numbers
            }
        }
        card_.try_places(label, places);

        label.text = "S " + show_angle(saw) + "\xC2\xB0";
        places.clear();
        for (double r = 0.45; r <= 0.95; r += 0.05)
            places.push_back(short_mark + r * length(foot - short_mark) * unit_deg(down_deg + 0.6 * cut_turn));
        const double side = (left ? 1.0 : -1.0) * (0.5 * text_width(label.text, false) * label.height + mm(1.2));
        for (double r = 0.5; r <= 0.9; r += 0.05)
            places.push_back({short_mark.x + side, short_mark.y + r * (foot.y - short_mark.y)});
        for (double r = 0.45; r >= 0.1; r -= 0.05)
            places.push_back({short_mark.x + side, short_mark.y + r * (foot.y - short_mark.y)});
        card_.try_places(label, places);
    }

    // --- names ------------------------------------------------------------------------------------------------------------

    // Places on the board at height y, from an end inwards on that end's half of the drawing.
    [[nodiscard]] std::vector<Vec2> places_from_end(bool left, double y) const {
        std::vector<Vec2> places;
        const double start = card_.drawn(card_.end(left).short_mark(left));
        const double middle = card_.gap.any ? card_.gap.from_mm + mm(0.5 * kBreakMm) : 0.5 * (start + card_.drawn(card_.end(!left).short_mark(!left)));
        const double way = left ? 1.0 : -1.0;
        for (double step = 4.0; step <= 60.0 && mm(step) < way * (middle - start); step += 1.0)
            places.push_back({start + way * mm(step), y});
        return places;
    }
    // Round the middle, none beyond the ends.
    [[nodiscard]] std::vector<Vec2> places_round_middle(double y) const {
        std::vector<Vec2> places;
        const double middle = card_.gap.any ? card_.gap.from_mm - mm(8.0) : 0.5 * card_.last();
        for (double step = 0.0; step <= 60.0; step += 1.0) {
            for (const double x : {middle - mm(step), middle + mm(step)}) {
                if (x > card_.drawn(card_.end(true).short_mark(true)) && x < card_.drawn(card_.end(false).short_mark(false))) places.push_back({x, y});
            }
        }
        return places;
    }

    void write_names() {
        for (const bool left : {true, false}) {
            if (card_.end(left).letter.empty()) continue;
            for (const double height : {kBigMm, kNumberMm, kBodyMm}) {
                if (card_.try_places({{}, card_.end(left).letter, mm(height), 0.0, Align::centre, true}, places_from_end(left, 0.5 * card_.piece.width_mm)))
                    break;
            }
        }
        write_number();
        for (const auto& [text, y] : {std::pair<std::string, double>{"inside", card_.piece.width_mm - mm(2.6)}, {"outside, to you", mm(3.8)}}) {
            for (const double height : {kBodyMm, kSmallMm}) {
                if (card_.try_places({{}, text, mm(height), 0.0, Align::centre, false}, places_round_middle(y))) break;
            }
        }
    }

    void write_number() {
        if (card_.piece.number.empty()) return;
        for (const double height : {kNumberMm, kBodyMm}) {
            Label label{{}, card_.piece.number, mm(height), 0.0, Align::centre, true};
            const double radius = (std::hypot(0.5 * text_width(label.text, true), 0.5) + 0.06) * label.height;
            for (const Vec2 place : places_round_middle(0.5 * card_.piece.width_mm)) {
                std::vector<Vec2> ring;
                for (int i = 0; i < 12; ++i) ring.push_back(place + radius / cos_deg(15.0) * unit_deg(30.0 * i + 15.0));
                if (!card_.paper.space.is_free(PaperSpace::kText | PaperSpace::kWood | PaperSpace::kLine, ring, mm(0.5))) continue;
                card_.paper.space.take(PaperSpace::kText, ring);
                label.at = place;
                card_.paper.drawing.circles.push_back({Pen::thin, Fill::blank, place, radius});
                card_.paper.drawing.labels.push_back(label);
                return;
            }
        }
    }

    BoardCanvas card_;
    bool every_mark_ = false;
};

}  // namespace

Drawing draw_board(const Plan& plan, std::size_t group) {
    PieceAsDrawn piece = piece_as_drawn(plan, group);
    const std::string ring_title = clean_text(plan.project.title, 120);
    const std::vector<Scale> scales = scales_for_board(piece, in_inches(plan.project));
    // Upright numbers on both edges may need more height than the largest scale leaves: then the next one that serves. Marks come
    // before cautions, which stand on their own paper too.
    const auto serving = [&] {
        return std::find_if(scales.begin(), scales.end(), [&](const Scale& s) { return BoardCard(piece, plan.project, ring_title, s).serves(); });
    };
    auto best = serving();
    if (best == scales.end()) {
        piece.cautions.clear();
        best = serving();
    }
    const Scale& scale = best != scales.end() ? *best : scales.front();
    Drawing drawing = BoardCard(piece, plan.project, ring_title, scale).take();
    drawing.title = ring_title.empty() ? piece.heading : piece.heading + ", " + ring_title;
    drawing.describes = fmt::format(
        "{} as on the bench, seen from above, at {}. {} Marks from the datum: inside {} and {}, outside {} and {}.",
        piece.heading, scale.text, posture_words(plan.project.lie), shown(piece.ends[0].inside_mm, plan.project),
        shown(piece.ends[1].inside_mm, plan.project), shown(piece.ends[0].outside_mm, plan.project),
        shown(piece.ends[1].outside_mm, plan.project));
    return drawing;
}

}  // namespace boardring
