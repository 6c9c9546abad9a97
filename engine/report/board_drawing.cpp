#include "report/board_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/ensure.hpp"
#include "drawing/paper_space.hpp"
#include "report/drawing_parts.hpp"
#include "report/piece_as_drawn.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

// Sizes on the paper [mm].
constexpr double kWidestMm = 50.0;    // a board's width on the card
constexpr double kLongestMm = 146.0;  // from the leftmost to the rightmost mark
constexpr double kWasteMm = 12.0;     // of waste shown beyond the marks
constexpr double kEndRoomMm = 27.0;   // of wood shown beyond an end's marks, for its letter and angles
constexpr double kBreakMm = 4.0;      // gap of the break
constexpr double kTierMm = 10.0;      // between dimension lines

// Which part of the length is left out at a scale.
struct Break {
    bool any = false;
    double from_mm = 0.0, to_mm = 0.0;  // x of the wood not shown

    [[nodiscard]] double gone() const { return any ? to_mm - from_mm : 0.0; }
};

// Nothing if both ends do not fit at this scale.
std::optional<Break> break_at(const PieceAsDrawn& piece, double scale) {
    const double room = kLongestMm * scale;
    const double right = piece.ends[1].long_mark(false);
    if (piece.length_mm() <= room) return Break{};
    const double left_need = piece.ends[0].deepest(true) + kEndRoomMm * scale;
    const double right_need = right - piece.ends[1].deepest(false) + kEndRoomMm * scale;
    const double spare = room - left_need - right_need - kBreakMm * scale;
    if (spare < 0.0) return std::nullopt;
    return Break{true, left_need + 0.5 * spare, right - right_need - 0.5 * spare};
}

// Scales at which both ends fit, the best first.
std::vector<Scale> fitting_scales(const PieceAsDrawn& piece, bool inches) {
    std::vector<Scale> fitting;
    for (const Scale& s : round_scales(inches)) {
        if (piece.width_mm <= kWidestMm * s.units_per_mm && break_at(piece, s.units_per_mm)) fitting.push_back(s);
    }
    // A whole board is better to look at than a larger broken one, if it is not too thin on the paper.
    constexpr double kThinnestWholeMm = 24.0;
    const auto whole = std::find_if(fitting.begin(), fitting.end(), [&](const Scale& s) {
        return !break_at(piece, s.units_per_mm)->any && piece.width_mm >= kThinnestWholeMm * s.units_per_mm;
    });
    if (whole != fitting.end()) fitting.erase(fitting.begin(), whole);
    ENSURE(!fitting.empty());
    return fitting;
}

class BoardCard {
    // What has been put on the paper: kept together so that one try can be taken back.
    struct Layout {
        PaperSpace space;
        Drawing drawing;
        Extent extent;
        double lowest = 0.0, highest = 0.0;  // dimension lines
    };

public:
    BoardCard(const PieceAsDrawn& piece, const Project& project, const std::string& ring_title, Scale scale)
        : piece_(piece),
          project_(project),
          scale_(std::move(scale)),
          gap_(*break_at(piece, scale_.units_per_mm)),
          layout_{PaperSpace(mm(12.0)), {}, {}, 0.0, 0.0} {
        layout_.drawing.scale = scale_.units_per_mm;
        draw_wood();
        for (const bool left : {true, false}) draw_lap(left);
        for (const bool inside : {true, false}) dimension_edge(inside);
        draw_datum();
        for (const bool left : {true, false}) draw_angles(left);
        write_names();
        draw_width();
        write_page(ring_title);
    }

    /// It is not higher than the paper, and every mark found room.
    [[nodiscard]] bool serves() const { return every_mark_ && layout_.drawing.page_high.y - layout_.drawing.page_low.y <= mm(kPaperLongMm); }
    [[nodiscard]] Drawing&& take() && { return std::move(layout_.drawing); }

private:
    [[nodiscard]] double mm(double paper) const { return paper * scale_.units_per_mm; }
    [[nodiscard]] const EndAsDrawn& end(bool left) const { return piece_.ends[left ? 0 : 1]; }
    // Where x from the datum lies on the drawing.
    [[nodiscard]] double drawn(double x) const { return gap_.any && x > gap_.from_mm ? x - gap_.gone() + mm(kBreakMm) : x; }
    [[nodiscard]] Vec2 at(double x, double y) const { return {drawn(x), y}; }
    [[nodiscard]] double w() const { return piece_.width_mm; }
    // Height of an edge at an end: of a piece that tapers they differ from end to end.
    [[nodiscard]] double edge_at(bool inside, bool left) const { return inside ? end(left).inside_at_mm : end(left).outside_at_mm; }
    [[nodiscard]] Vec2 outside_of(bool left) const { return at(end(left).outside_mm, edge_at(false, left)); }
    [[nodiscard]] Vec2 inside_of(bool left) const { return at(end(left).inside_mm, edge_at(true, left)); }
    // The same anywhere along the piece; x from the datum.
    [[nodiscard]] double edge_y(bool inside, double x) const {
        const double from = inside ? end(true).inside_mm : end(true).outside_mm, to = inside ? end(false).inside_mm : end(false).outside_mm;
        const double part = to > from ? std::clamp((x - from) / (to - from), 0.0, 1.0) : 0.0;
        return edge_at(inside, true) + part * (edge_at(inside, false) - edge_at(inside, true));
    }
    [[nodiscard]] double last() const { return drawn(end(false).long_mark(false)); }

    void stroke(Pen pen, std::vector<Vec2> points, bool takes = true) {
        for (const Vec2 p : points) layout_.extent.add(p);
        for (std::size_t i = 0; takes && i + 1 < points.size(); ++i)
            layout_.space.take(PaperSpace::kLine, std::array{points[i], points[i + 1]});
        layout_.drawing.strokes.push_back({pen, std::move(points), false});
    }

    bool try_label(const Label& label) {
        const std::array<Vec2, 4> box = label_box(label);
        const double half_page = mm(0.5 * kPaperShortMm - kMarginMm);
        for (const Vec2 p : box) {
            if (std::abs(p.x - 0.5 * last()) > half_page) return false;
        }
        if (!layout_.space.is_free(PaperSpace::kText | PaperSpace::kWood | PaperSpace::kLine, box, mm(0.5))) return false;
        layout_.space.take(PaperSpace::kText, box);
        for (const Vec2 p : box) layout_.extent.add(p);
        layout_.drawing.labels.push_back(label);
        return true;
    }

    bool try_places(Label label, const std::vector<Vec2>& places) {
        for (const Vec2 place : places) {
            label.at = place;
            if (try_label(label)) return true;
        }
        return false;
    }

    // --- wood, waste, break -------------------------------------------------------------------------------------------

    void draw_wood() {
        if (!gap_.any) {
            layout_.drawing.regions.push_back({Fill::wood, {outside_of(true), outside_of(false), inside_of(false), inside_of(true)}});
            stroke(Pen::outline, {outside_of(true), outside_of(false)});
            stroke(Pen::outline, {inside_of(true), inside_of(false)});
        } else {
            draw_half(true);
            draw_half(false);
        }
        for (const bool left : {true, false}) draw_waste(left);
    }

    // One side of the break, with its zigzag.
    void draw_half(bool left) {
        const double x = left ? gap_.from_mm : drawn(gap_.to_mm);
        const double low = edge_y(false, left ? gap_.from_mm : gap_.to_mm), high = edge_y(true, left ? gap_.from_mm : gap_.to_mm);
        const double zig = mm(1.5);
        const auto up = [&](double part) { return low + part * (high - low); };
        const std::vector<Vec2> edge{{x, low - mm(1.0)},   {x, low},      {x, up(0.38)}, {x - zig, up(0.46)},
                                     {x + zig, up(0.54)}, {x, up(0.62)}, {x, high},     {x, high + mm(1.0)}};
        std::vector<Vec2> shape{outside_of(left)};
        shape.insert(shape.end(), edge.begin() + 1, edge.end() - 1);
        shape.push_back(inside_of(left));
        layout_.drawing.regions.push_back({Fill::wood, std::move(shape)});
        stroke(Pen::outline, {outside_of(left), {x, low}});
        stroke(Pen::outline, {inside_of(left), {x, high}});
        stroke(Pen::thin, edge);
    }

    void draw_waste(bool left) {
        const EndAsDrawn& e = end(left);
        const double far = drawn(e.long_mark(left)) + (left ? -1.0 : 1.0) * mm(kWasteMm);
        const std::vector<Vec2> shape{outside_of(left), {far, edge_at(false, left)}, {far, edge_at(true, left)}, inside_of(left)};
        layout_.space.take(PaperSpace::kWood, shape);
        layout_.drawing.regions.push_back({Fill::waste, shape});
        stroke(Pen::thin, {shape[0], shape[1], shape[2], shape[3]});
        stroke(Pen::cut, {shape[0], shape[3]});
    }

    // A thin cross where half of the height goes, as on the plan; never hatched: hatched wood falls off whole. The shoulder is a wide line
    // where it is seen from above, dashed where it lies below.
    void draw_lap(bool left) {
        const EndAsDrawn& e = end(left);
        if (!e.lap) return;
        const Vec2 low = at(e.lap->outside_mm, edge_y(false, e.lap->outside_mm));
        const Vec2 high = at(e.lap->inside_mm, edge_y(true, e.lap->inside_mm));
        stroke(e.lap->keeps_upper ? Pen::hidden : Pen::outline, {low, high});
        stroke(Pen::thin, {low, inside_of(left)});
        stroke(Pen::thin, {high, outside_of(left)});
    }

    // --- running dimensions from the datum ------------------------------------------------------------------------------

    struct MarkText {
        double x = 0.0;
        bool left = true;
        bool shoulder = false;
        std::string text;
    };

    void dimension_edge(bool inside) {
        std::vector<MarkText> marks;
        for (const bool left : {true, false}) {
            const EndAsDrawn& e = end(left);
            const double x = inside ? e.inside_mm : e.outside_mm;
            if (x > 0.5 * project_.tools.rule_step_mm) marks.push_back({x, left, false, shown(x, project_)});
            if (!e.lap) continue;
            const double shoulder = inside ? e.lap->inside_mm : e.lap->outside_mm;
            marks.push_back({shoulder, left, true, shown(shoulder, project_)});
        }
        const Layout before = layout_;
        if (try_level_numbers(inside, marks)) return;
        layout_ = before;
        write_upright_numbers(inside, marks);
    }

    // Numbers over the lines. Shoulders lie between the ends: their line is the nearer one, so that no extension line crosses a
    // number.
    bool try_level_numbers(bool inside, const std::vector<MarkText>& marks) {
        const double edge = inside ? w() : 0.0;
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
        if (!shoulders.empty()) try_places({{}, "lap", mm(kBodyMm), 0.0, Align::right, false}, {{-mm(2.0), near_y}});
        return all;
    }

    // Over the line beside its arrow, on the side where the board is, else on the other side.
    bool try_mark(const MarkText& m, double y) {
        Label label{{}, m.text, mm(kNumberMm), 0.0, Align::left, true};
        for (const bool after : {m.left, !m.left}) {
            label.align = after ? Align::left : Align::right;
            label.at = {drawn(m.x) + (after ? mm(1.4) : -mm(1.4)), 0.0};
            // The lowest stroke of the text, a slash's or a comma's, keeps clear of the line.
            label.at.y = y + mm(0.9) - label_box(label)[0].y;
            if (try_label(label)) return true;
        }
        return false;
    }

    // Where marks crowd: one line for all, every number upright at the end of its extension line, or beside it.
    void write_upright_numbers(bool inside, const std::vector<MarkText>& marks) {
        const double edge = inside ? w() : 0.0;
        const double way = inside ? 1.0 : -1.0;
        const double y = edge + way * mm(6.0);
        draw_running(inside, y, marks);
        write_zero(y);
        for (const MarkText& m : marks) {
            const double side = mm(0.5 * kNumberMm + 1.2);
            const double x = drawn(m.x);
            bool placed = false;
            for (double out = 2.2; out <= 60.0; out += 1.0) {
                const double start = y + way * mm(out);
                const std::array<Vec2, 2> leader{{{x, y + way * mm(1.2)}, {x, start - way * mm(1.0)}}};
                if (out > 3.0 && !layout_.space.is_free(PaperSpace::kText, leader, mm(0.3))) break;
                Label label{{},   (m.shoulder ? "lap " : "") + m.text, mm(kNumberMm),
                            90.0, inside ? Align::left : Align::right, true};
                if (!try_places(label, {{x, start}, {x + (m.left ? side : -side), start}, {x - (m.left ? side : -side), start}}))
                    continue;
                if (out > 3.0) stroke(Pen::dimension, {leader[0], leader[1]});
                placed = true;
                break;
            }
            every_mark_ = every_mark_ && placed;
        }
    }

    // Left of the datum, over the line or under it.
    void write_zero(double y) {
        try_places({{}, "0", mm(kNumberMm), 0.0, Align::right, true}, {{-mm(1.6), y + mm(3.6)}, {-mm(1.6), y - mm(3.6)}});
    }

    // One dimension line: a small circle at the datum, an arrow at every mark.
    void draw_running(bool inside, double y, const std::vector<MarkText>& marks) {
        const double way = inside ? 1.0 : -1.0;
        layout_.lowest = std::min(layout_.lowest, y);
        layout_.highest = std::max(layout_.highest, y);
        double furthest = 0.0;
        for (const MarkText& m : marks) furthest = std::max(furthest, drawn(m.x));
        layout_.drawing.circles.push_back({Pen::thin, Fill::blank, {0.0, y}, mm(1.0)});
        const std::array<Vec2, 4> origin{
            {{-mm(1.0), y - mm(1.0)}, {mm(1.0), y - mm(1.0)}, {mm(1.0), y + mm(1.0)}, {-mm(1.0), y + mm(1.0)}}};
        layout_.space.take(PaperSpace::kLine, origin);
        stroke(Pen::dimension, {{mm(1.0), y}, {furthest, y}});
        for (const MarkText& m : marks) {
            const double x = drawn(m.x);
            stroke(Pen::dimension, {{x, edge_y(inside, m.x) + way * mm(1.0)}, {x, y + way * mm(1.2)}});
            if (x > mm(4.5)) {
                layout_.drawing.regions.push_back({Fill::ink, {{x, y}, {x - mm(3.0), y + mm(0.6)}, {x - mm(3.0), y - mm(0.6)}}});
            } else {  // no room for an arrow between the datum and the mark
                stroke(Pen::outline, {{x - mm(0.8), y - mm(0.8)}, {x + mm(0.8), y + mm(0.8)}});
            }
        }
    }

    // A triangle under the line through 0, as drawings mark a datum.
    void draw_datum() {
        double foot = layout_.lowest - mm(2.0);
        const auto triangle = [&] {
            return std::vector<Vec2>{{0.0, foot}, {-mm(2.0), foot - mm(3.5)}, {mm(2.0), foot - mm(3.5)}};
        };
        while (!layout_.space.is_free(PaperSpace::kText, triangle(), mm(0.5))) foot -= mm(1.0);
        stroke(Pen::thin, {{0.0, foot}, {0.0, layout_.highest + mm(1.5)}});
        const std::vector<Vec2> mark = triangle();
        layout_.space.take(PaperSpace::kText, mark);
        for (const Vec2 p : mark) layout_.extent.add(p);
        layout_.drawing.regions.push_back({Fill::ink, mark});
        Label label{{}, "datum", mm(kBodyMm), 0.0, Align::left, false};
        if (try_places(label, {{mm(3.4), foot - mm(1.9)}})) return;
        label.align = Align::right;
        if (try_places(label, {{-mm(3.4), foot - mm(1.9)}, {-mm(2.6), foot - mm(5.0)}})) return;
        label.align = Align::centre;
        for (double down = 6.5; !try_places(label, {{0.0, foot - mm(down)}}); down += 1.0) {
        }
    }

    // --- angles ---------------------------------------------------------------------------------------------------------

    void arc(Vec2 apex, double from_deg, double to_deg, double radius) {
        std::vector<Vec2> points;
        const int steps = std::max(2, static_cast<int>(std::ceil(std::abs(to_deg - from_deg) / 6.0)));
        for (int i = 0; i <= steps; ++i) points.push_back(apex + radius * unit_deg(from_deg + (to_deg - from_deg) * i / steps));
        stroke(Pen::thin, std::move(points));
    }

    // S between a square line through the short edge's mark and the cut; E between the cut and the long edge.
    void draw_angles(bool left) {
        const EndAsDrawn& e = end(left);
        const double saw = std::abs(e.saw_deg);
        if (saw < kSquareDeg) return;
        const bool outside_longer = e.saw_deg > 0.0;
        const double long_y = edge_at(!outside_longer, left);
        const Vec2 short_mark = at(e.short_mark(left), edge_at(outside_longer, left));
        const Vec2 long_mark = at(e.long_mark(left), long_y);
        const double down_deg = outside_longer ? -90.0 : 90.0;                // from the short mark across the board
        const double cut_turn = (left == outside_longer ? -1.0 : 1.0) * saw;  // from there to the cut
        const Vec2 foot{short_mark.x, long_y};
        stroke(Pen::hidden, {short_mark, foot});
        const double radius = std::min(0.55 * w(), mm(16.0));
        arc(short_mark, down_deg, down_deg + cut_turn, radius);
        // E at the long point, measured inside the wood.
        const double edge_deg = left ? 0.0 : 180.0;
        const double to_cut = (left == outside_longer ? 1.0 : -1.0) * (90.0 - saw);
        const double e_radius = std::min(0.3 * w(), mm(8.0));
        arc(long_mark, edge_deg, edge_deg + to_cut, e_radius);
        Label label{{}, "E " + show_angle(90.0 - saw) + "\xC2\xB0", mm(kBodyMm), 0.0, Align::centre, false};
        std::vector<Vec2> places;
        for (double r = 5.0; r <= 40.0; r += 1.0) {
            for (const double part : {0.5, 0.35, 0.65}) {
                const Vec2 place = long_mark + mm(r) * unit_deg(edge_deg + part * to_cut);
                if (place.y > 0.0 && place.y < w()) places.push_back(place);  // on the wood, not among the numbers
            }
        }
        try_places(label, places);

        label.text = "S " + show_angle(saw) + "\xC2\xB0";
        places.clear();
        for (double r = 0.45; r <= 0.95; r += 0.05)
            places.push_back(short_mark + r * length(foot - short_mark) * unit_deg(down_deg + 0.6 * cut_turn));
        const double side = (left ? 1.0 : -1.0) * (0.5 * text_width(label.text, false) * label.height + mm(1.2));
        for (double r = 0.5; r <= 0.9; r += 0.05)
            places.push_back({short_mark.x + side, short_mark.y + r * (foot.y - short_mark.y)});
        for (double r = 0.45; r >= 0.1; r -= 0.05)
            places.push_back({short_mark.x + side, short_mark.y + r * (foot.y - short_mark.y)});
        try_places(label, places);
    }

    // --- names ------------------------------------------------------------------------------------------------------------

    // Places on the board at height y, from an end inwards on that end's half of the drawing.
    [[nodiscard]] std::vector<Vec2> places_from_end(bool left, double y) const {
        std::vector<Vec2> places;
        const double start = drawn(end(left).short_mark(left));
        const double middle = gap_.any ? gap_.from_mm + mm(0.5 * kBreakMm) : 0.5 * (start + drawn(end(!left).short_mark(!left)));
        const double way = left ? 1.0 : -1.0;
        for (double step = 4.0; step <= 60.0 && mm(step) < way * (middle - start); step += 1.0)
            places.push_back({start + way * mm(step), y});
        return places;
    }
    // Round the middle, none beyond the ends.
    [[nodiscard]] std::vector<Vec2> places_round_middle(double y) const {
        std::vector<Vec2> places;
        const double middle = gap_.any ? gap_.from_mm - mm(8.0) : 0.5 * last();
        for (double step = 0.0; step <= 60.0; step += 1.0) {
            for (const double x : {middle - mm(step), middle + mm(step)}) {
                if (x > drawn(end(true).short_mark(true)) && x < drawn(end(false).short_mark(false))) places.push_back({x, y});
            }
        }
        return places;
    }

    void write_names() {
        for (const bool left : {true, false}) {
            if (end(left).letter.empty()) continue;
            for (const double height : {kBigMm, kNumberMm, kBodyMm}) {
                if (try_places({{}, end(left).letter, mm(height), 0.0, Align::centre, true}, places_from_end(left, 0.5 * w())))
                    break;
            }
        }
        write_number();
        for (const auto& [text, y] : {std::pair<std::string, double>{"inside", w() - mm(2.6)}, {"outside, to you", mm(3.8)}}) {
            for (const double height : {kBodyMm, kSmallMm}) {
                if (try_places({{}, text, mm(height), 0.0, Align::centre, false}, places_round_middle(y))) break;
            }
        }
    }

    void write_number() {
        if (piece_.number.empty()) return;
        for (const double height : {kNumberMm, kBodyMm}) {
            Label label{{}, piece_.number, mm(height), 0.0, Align::centre, true};
            const double radius = (std::hypot(0.5 * text_width(label.text, true), 0.5) + 0.06) * label.height;
            for (const Vec2 place : places_round_middle(0.5 * w())) {
                std::vector<Vec2> ring;
                for (int i = 0; i < 12; ++i) ring.push_back(place + radius / cos_deg(15.0) * unit_deg(30.0 * i + 15.0));
                if (!layout_.space.is_free(PaperSpace::kText | PaperSpace::kWood | PaperSpace::kLine, ring, mm(0.5))) continue;
                layout_.space.take(PaperSpace::kText, ring);
                label.at = place;
                layout_.drawing.circles.push_back({Pen::thin, Fill::blank, place, radius});
                layout_.drawing.labels.push_back(label);
                return;
            }
        }
    }

    [[nodiscard]] bool tapers() const { return std::abs(end(true).width_mm - end(false).width_mm) > 1e-9; }
    // "31 to 36.5", as the words above the drawing and the page have it.
    [[nodiscard]] std::string shown_taper() const {
        return fmt::format("{} to {}", shown(end(true).width_mm, project_), shown(end(false).width_mm, project_));
    }

    // The width across the board, right of the break or right of the middle.
    void draw_width() {
        const double start = gap_.any ? drawn(gap_.to_mm) + mm(7.0) : 0.6 * last();
        for (const bool upright : {true, false}) {
            for (double step = 0.0; step <= 50.0; step += 1.0) {
                const double x = start + mm(step);
                const double from_datum = gap_.any ? x + gap_.gone() - mm(kBreakMm) : x;
                const double low = edge_y(false, from_datum), high = edge_y(true, from_datum);
                const std::string text = tapers() ? shown_taper() : shown(w(), project_);
                const std::array<Vec2, 2> line{{{x, low + mm(0.3)}, {x, high - mm(0.3)}}};
                if (x > last() - mm(2.0) ||
                    !layout_.space.is_free(PaperSpace::kText | PaperSpace::kWood | PaperSpace::kLine, line, -mm(0.1)))
                    continue;
                Label label{{x - mm(0.9 + 0.5 * kBodyMm), 0.5 * (low + high)}, text, mm(kBodyMm), 90.0, Align::centre, false};
                if (!upright) label = {{x + mm(1.0), 0.5 * (low + high)}, text, mm(kBodyMm), 0.0, Align::left, false};
                if (upright && text_width(text, false) * label.height > high - low - mm(2.0)) continue;
                if (!try_label(label)) continue;
                stroke(Pen::dimension, {{x, low}, {x, high}});
                for (const double y : {low, high}) {
                    const Vec2 tick = mm(1.4) * unit_deg(135.0);
                    stroke(Pen::outline, {Vec2{x, y} - tick, Vec2{x, y} + tick});
                }
                return;
            }
        }
    }

    // --- text round the drawing ---------------------------------------------------------------------------------------

    void write_page(const std::string& ring_title) {
        const double width = mm(kPaperShortMm - 2.0 * kMarginMm);
        const double left = 0.5 * last() - 0.5 * width;
        const double top = write_head(left, width, ring_title);
        const double bottom = write_foot(left, width);
        layout_.drawing.page_low = {left - mm(kMarginMm), bottom - mm(kMarginMm)};
        layout_.drawing.page_high = {left + width + mm(kMarginMm), top + mm(kMarginMm)};
    }

    // Written once below zero, then lifted above the drawing.
    double write_head(double left, double width, const std::string& ring_title) {
        const std::size_t first = layout_.drawing.labels.size();
        TextColumn head(layout_.drawing, {left, 0.0}, width);
        head.text(piece_.heading, kNumberMm, true, 0.0, 2);
        if (!ring_title.empty()) head.text(ring_title, kBodyMm, false, 0.0, 1);
        for (const std::string& line : piece_.lines) head.text(line, kBodyMm, false);
        for (const std::string& line : piece_.cautions) head.text(line, kBodyMm, true);
        head.text(posture_words(project_.lie), kBodyMm, true);
        const double top = layout_.extent.high.y + mm(3.0) - head.at().y;
        for (std::size_t i = first; i < layout_.drawing.labels.size(); ++i) layout_.drawing.labels[i].at.y += top;
        return top;
    }

    double write_foot(double left, double width) {
        const double start = layout_.extent.low.y - mm(3.0);
        const double half = 0.5 * width - mm(2.0);
        double bottom = start;
        for (const bool is_left : {true, false}) {
            const double column_left = is_left ? left : left + half + mm(4.0);
            bottom = std::min(bottom, write_end(is_left, {column_left, start}, half));
        }
        layout_.drawing.strokes.push_back(
            {Pen::thin, {{left + half + mm(1.5), start}, {left + half + mm(1.5), bottom + mm(2.0)}}, false});
        TextColumn foot(layout_.drawing, {left, bottom - mm(2.0)}, width);
        const Vec2 sample = foot.at() - Vec2{0.0, mm(0.5 * kBodyMm)};
        const std::vector<Vec2> hatch{sample + Vec2{0.0, -mm(1.8)}, sample + Vec2{mm(9.0), -mm(1.8)},
                                      sample + Vec2{mm(9.0), mm(1.8)}, sample + Vec2{0.0, mm(1.8)}};
        layout_.drawing.regions.push_back({Fill::waste, hatch});
        layout_.drawing.strokes.push_back({Pen::thin, hatch, true});
        foot.text("waste. Trim the rough end, then mark all from the datum.", kBodyMm, false, 12.0);
        foot.text(fmt::format("Scale {}, true angles{}. Mark by the numbers.", scale_.text, gap_.any ? ", middle left out" : ""),
                  kBodyMm, false);
        return write_ticks(foot, left, width);
    }

    double write_end(bool is_left, Vec2 top, double width) {
        const EndAsDrawn& e = end(is_left);
        TextColumn column(layout_.drawing, top, width);
        const std::string side = is_left ? "Left end" : "Right end";
        column.text(side + (e.letter.empty() ? "" : " " + e.letter) + (e.inward ? ", IN-CORNER" : ""), kBodyMm, true);
        column.space(1.0);
        // The number for the maker's own scale is the big one.
        const std::string setting = show_setting(e.saw_deg, project_);
        const double number = text_width(setting, true) * kBigMm;
        const Vec2 beside = column.at() + Vec2{mm(number + 2.5), -mm(0.5 * kBigMm)};
        column.text(setting, kBigMm, true);
        layout_.drawing.labels.push_back(
            {beside, e.within_saw ? "on your saw's scale" : "beyond your saw", mm(kBodyMm), 0.0, Align::left, !e.within_saw});
        for (const std::string& line : e.lines) column.text(line, kBodyMm, false);
        return column.at().y;
    }

    // A box to tick for every piece, and a place for what it came out as.
    double write_ticks(TextColumn& foot, double left, double width) {
        constexpr std::size_t kMostBoxes = 12;
        foot.space(2.5);
        const double box = mm(5.0);
        const Vec2 start = foot.at();
        double x = left;
        for (std::size_t i = 0; piece_.count <= kMostBoxes && i < piece_.count; ++i) {
            layout_.drawing.strokes.push_back(
                {Pen::thin, {{x, start.y - box}, {x + box, start.y - box}, {x + box, start.y}, {x, start.y}}, true});
            x += mm(7.5);
        }
        const std::string words =
            piece_.count <= kMostBoxes ? "made. Measured, long points:" : fmt::format("Made, of {}:", piece_.count);
        layout_.drawing.labels.push_back({{x, start.y - 0.5 * box}, words, mm(kBodyMm), 0.0, Align::left, false});
        const double line = x + text_width(words, false) * mm(kBodyMm) + mm(2.0);
        if (line < left + width - mm(15.0))
            layout_.drawing.strokes.push_back({Pen::thin, {{line, start.y - box}, {left + width, start.y - box}}, false});
        return start.y - box;
    }

    const PieceAsDrawn& piece_;
    const Project& project_;
    Scale scale_;
    Break gap_;
    Layout layout_;
    bool every_mark_ = true;
};

}  // namespace

Drawing draw_board(const Plan& plan, std::size_t group) {
    PieceAsDrawn piece = piece_as_drawn(plan, group);
    const std::string ring_title = clean_text(plan.project.title, 120);
    const std::vector<Scale> scales = fitting_scales(piece, in_inches(plan.project));
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
