#include "report/ring_picture.hpp"

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
#include "base/names.hpp"
#include "drawing/paper_space.hpp"
#include "plan/plan_view.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

// Sizes on the paper [mm].
constexpr double kArcMm = 5.0;          // radius of an angle's arc
constexpr double kTickMm = 1.6;         // half length of a dimension line's oblique stroke
constexpr double kBeyondMm = 1.5;       // extension line beyond the dimension line
constexpr double kEverySpaceMm = 11.0;  // paper a letter needs along the ring before some are left out

// One try at one scale: everything round the ring, on paper without borders.
class RingPainter {
public:
    RingPainter(const Plan& plan, double scale, bool numbers_first)
        : plan_(plan), outline_(*plan.outline), frame_(*plan.frame), view_(plan), scale_(scale), space_(mm(12.0)) {
        drawing_.scale = scale;
        skip_ = letter_stride();
        draw_boards();
        draw_given_line();
        for (std::size_t c = 0; c < corners(); ++c) draw_angle_mark(c);
        for (std::size_t k = 0; k < boards(); ++k) number_on_board(k);
        for (std::size_t k = 0; k < boards(); ++k) draw_length(k);
        for (std::size_t c = 0; c < corners(); ++c) write_letter(c);
        for (std::size_t k = 0; numbers_first && k < boards(); ++k) number_beside_board(k);
        for (std::size_t c = 0; c < corners(); ++c) write_angle(c);
        for (std::size_t k = 0; !numbers_first && k < boards(); ++k) number_beside_board(k);
    }

    [[nodiscard]] RingPicture take() && { return {std::move(drawing_), extent_, skip_, names_left_out_ + sizes_left_out_ > 0}; }
    /// Names are missed more than sizes, which the page repeats.
    [[nodiscard]] bool says_less_than(const RingPainter& other) const {
        return std::pair(names_left_out_, sizes_left_out_) > std::pair(other.names_left_out_, other.sizes_left_out_);
    }

private:
    [[nodiscard]] double mm(double paper) const { return paper * scale_; }
    [[nodiscard]] std::size_t boards() const { return frame_.boards.size(); }
    [[nodiscard]] std::size_t corners() const { return outline_.corners_mm.size(); }
    [[nodiscard]] bool has_before(std::size_t c) const { return frame_.closed || c > 0; }
    [[nodiscard]] bool has_after(std::size_t c) const { return frame_.closed || c < boards(); }
    [[nodiscard]] const Board& before(std::size_t c) const { return frame_.boards[outline_.board_before(c)]; }
    [[nodiscard]] const Board& after(std::size_t c) const { return frame_.boards[outline_.board_after(c)]; }
    // Direction of the plan as it is seen.
    [[nodiscard]] Vec2 seen(Vec2 direction) const { return view_(direction) - view_({0.0, 0.0}); }

    // Out of the ring along the halving line of a corner; beyond the end at a free end.
    [[nodiscard]] Vec2 outward(std::size_t c) const {
        if (!outline_.is_joint(c)) return c == 0 ? -after(c).along : before(c).along;
        const double half = 0.5 * outline_.interior_deg[c];
        return -turned(after(c).along, cos_deg(half), sin_deg(half));
    }

    [[nodiscard]] std::size_t letter_stride() const {
        double ring = 0.0;
        for (const double side : outline_.sides_mm) ring += side;
        const double room = ring / scale_ / static_cast<double>(boards());
        for (const std::size_t every : {1U, 2U, 5U, 10U, 20U, 50U, 100U, 200U, 500U}) {
            if (static_cast<double>(every) * room >= kEverySpaceMm) return every;
        }
        return 1000;
    }

    void stroke(Pen pen, std::vector<Vec2> points, bool closed = false) {
        for (const Vec2 p : points) extent_.add(p);
        drawing_.strokes.push_back({pen, std::move(points), closed});
    }

    void take_line(Vec2 a, Vec2 b) { space_.take(PaperSpace::kLine, std::array{a, b}); }

    // --- boards ---------------------------------------------------------------------------------------------------

    void draw_boards() {
        for (std::size_t k = 0; k < boards(); ++k) {
            const std::array<Vec2, 4> plan = frame_.boards[k].plan_mm();
            std::vector<Vec2> shape;
            for (const Vec2 p : plan) shape.push_back(view_(p));
            for (const Vec2 p : shape) extent_.add(p);
            space_.take(PaperSpace::kWood, shape, k);
            drawing_.regions.push_back({Fill::wood, shape});
        }
        for (std::size_t k = 0; k < boards(); ++k) draw_edges(k);
        for (std::size_t c = 0; c < corners(); ++c) draw_lap_cross(c);
    }

    // Ends are visible edges. A long edge is hidden where it passes under the mate of a half-lap.
    void draw_edges(std::size_t k) {
        const Board& board = frame_.boards[k];
        for (std::size_t e = 0; e < 2; ++e) {
            const BoardEnd& end = board.ends[e];
            stroke(Pen::outline,
                   {view_(board.at(end.inside_mm, board.offset_at(e))), view_(board.at(end.outside_mm, board.outer_at(e)))});
        }
        for (const bool outer : {false, true}) {
            const std::array<double, 2> q{outer ? board.outer_at(0) : board.offset_at(0), outer ? board.outer_at(1) : board.offset_at(1)};
            std::array<double, 2> shoulder{};
            std::array<bool, 2> under{};
            std::array<double, 2> mark{};
            for (std::size_t e = 0; e < 2; ++e) {
                const BoardEnd& end = board.ends[e];
                mark[e] = outer ? end.outside_mm : end.inside_mm;
                shoulder[e] = mark[e];
                if (!end.lap) continue;
                shoulder[e] = outer ? end.lap->shoulder_outside_mm : end.lap->shoulder_inside_mm;
                const bool on_rim = outer == (outline_.interior_deg[end.corner] < 180.0);
                under[e] = !end.lap->keeps_upper && !on_rim;
            }
            for (std::size_t e = 0; e < 2; ++e) {
                if (under[e]) stroke(Pen::hidden, {view_(board.at(mark[e], q[e])), view_(board.at(shoulder[e], q[e]))});
            }
            stroke(Pen::outline,
                   {view_(board.at(under[0] ? shoulder[0] : mark[0], q[0])), view_(board.at(under[1] ? shoulder[1] : mark[1], q[1]))});
        }
    }

    void draw_lap_cross(std::size_t c) {
        if (!outline_.is_joint(c) || !after(c).ends[0].lap) return;
        const Board& own = after(c);
        const BoardEnd& end = own.ends[0];
        const double outer = own.outer_at(0);
        stroke(Pen::thin, {view_(own.at(end.inside_mm, own.offset_mm)), view_(own.at(end.lap->shoulder_outside_mm, outer))});
        stroke(Pen::thin, {view_(own.at(end.lap->shoulder_inside_mm, own.offset_mm)), view_(own.at(end.outside_mm, outer))});
    }

    void draw_given_line() {
        // A stroke a side, so that dashes meet at every corner.
        for (const Board& board : frame_.boards)
            stroke(Pen::given, {view_(board.at(0.0, 0.0)), view_(board.at(board.side_mm, 0.0))});
    }

    // --- angles ---------------------------------------------------------------------------------------------------

    struct AngleAt {
        Vec2 apex;   // seen
        Vec2 first;  // plan direction of the leg from which the angle opens counter-clockwise
        double deg = 0.0;
    };

    // The interior angle at a joint; at a free end that is not square, between the board's inside edge and its end.
    [[nodiscard]] std::optional<AngleAt> angle_at(std::size_t c) const {
        if (outline_.is_joint(c)) {
            if (std::abs(outline_.turn_deg[c]) < kStraightTurnDeg) return std::nullopt;
            return AngleAt{view_(frame_.inside_mm[c]), after(c).along, outline_.interior_deg[c]};
        }
        const bool first = c == 0;
        const Board& board = first ? after(c) : before(c);
        const BoardEnd& end = board.ends[first ? 0 : 1];
        if (std::abs(end.saw_deg) < 0.05) return std::nullopt;
        const Vec2 leg = first ? board.along : turned(-board.along, cos_deg(90.0 - end.saw_deg), -sin_deg(90.0 - end.saw_deg));
        return AngleAt{view_(board.at(end.inside_mm, board.offset_at(first ? 0 : 1))), leg, 90.0 - end.saw_deg};
    }

    [[nodiscard]] double arc_radius(std::size_t c) const {
        double shortest = mm(kArcMm);
        if (has_before(c)) shortest = std::min(shortest, 0.4 * before(c).inside_length_mm());
        if (has_after(c)) shortest = std::min(shortest, 0.4 * after(c).inside_length_mm());
        return shortest;
    }

    void draw_angle_mark(std::size_t c) {
        const std::optional<AngleAt> angle = angle_at(c);
        const double radius = arc_radius(c);
        if (!angle || radius < mm(0.6 * kArcMm)) return;
        const auto at = [&](double deg, double r) {
            return angle->apex + r * seen(turned(angle->first, cos_deg(deg), sin_deg(deg)));
        };
        std::vector<Vec2> points;
        if (std::abs(angle->deg - 90.0) < 1e-9) {  // a right angle carries the small square
            const double r = 0.6 * radius;
            points = {at(0.0, r), at(45.0, r * std::sqrt(2.0)), at(90.0, r)};
        } else {
            const auto steps = static_cast<std::size_t>(std::ceil(angle->deg / 6.0));
            for (std::size_t i = 0; i <= steps; ++i)
                points.push_back(at(angle->deg * static_cast<double>(i) / static_cast<double>(steps), radius));
        }
        for (std::size_t i = 0; i + 1 < points.size(); ++i) take_line(points[i], points[i + 1]);
        stroke(Pen::thin, std::move(points));
        if (!outline_.is_joint(c)) {  // the line of the wall or floor, a little on
            const Vec2 leg = c == 0 ? seen(turned(angle->first, cos_deg(angle->deg), sin_deg(angle->deg))) : seen(angle->first);
            const Vec2 end = angle->apex + mm(12.0) * leg;
            take_line(angle->apex, end);
            stroke(Pen::hidden, {angle->apex, end});
        }
    }

    void write_angle(std::size_t c) {
        if (c % skip_ != 0) return;
        const std::optional<AngleAt> angle = angle_at(c);
        if (!angle) return;
        Label label{{}, show_angle(angle->deg) + "\xC2\xB0", mm(kBodyMm), 0.0, Align::centre, false};
        // Between the legs of a sharp corner there is room only further in.
        const double half_width = 0.5 * text_width(label.text, false) * kBodyMm + kClearMm;
        const double nearest = half_width / std::max(sin_deg(std::min(0.5 * angle->deg, 90.0)), 0.1);
        for (const double sideways : {0.0, 0.12, -0.12, 0.25, -0.25}) {
            const Vec2 way =
                seen(turned(angle->first, cos_deg(angle->deg * (0.5 + sideways)), sin_deg(angle->deg * (0.5 + sideways))));
            for (double r = 2.5; r <= nearest + 7.0; r += 0.5) {
                label.at = angle->apex + mm(r) * way;
                if (try_label(label)) return;
            }
        }
        ++sizes_left_out_;
    }

    // --- lengths of the given line ----------------------------------------------------------------------------------

    enum class Crossing { nothing, wood, lines };

    void draw_length(std::size_t k) {
        if (k % skip_ != 0) return;
        const Board& board = frame_.boards[k];
        const double inner = std::min({0.0, board.offset_at(0), board.offset_at(1)});
        const double outer = std::max({0.0, board.outer_at(0), board.outer_at(1)});
        const bool beside_inward_corner = outline_.turn_deg[k] < 0.0 || outline_.turn_deg[outline_.corner_after(k)] < 0.0;
        // Beside an inward corner dimension lines would cross: there they go inside, over the neighbour's end where need be.
        for (const Crossing crossing : {Crossing::nothing, Crossing::wood, Crossing::lines}) {
            for (const double out : {6.5, 11.5, 16.5, 21.5}) {
                if (out < 10.0 && beside_inward_corner) continue;  // its letter stands there
                if (try_dimension(k, outer, outer + mm(out), crossing)) return;
            }
            for (const double in : {6.5, 11.5, 16.5}) {
                if (try_dimension(k, inner, inner - mm(in), crossing)) return;
            }
        }
        ++sizes_left_out_;
    }

    // A dimension line at offset q with extension lines from the given line's corners, its number above it as it is read.
    bool try_dimension(std::size_t k, double edge, double q, Crossing crossing) {
        const Board& board = frame_.boards[k];
        const double way = q > edge ? 1.0 : -1.0;
        const std::array<Vec2, 2> line{view_(board.at(0.0, q)), view_(board.at(board.side_mm, q))};
        std::array<std::array<Vec2, 2>, 2> extension;
        for (std::size_t e = 0; e < 2; ++e) {
            const double x = e == 0 ? 0.0 : board.side_mm;
            extension[e] = {view_(board.at(x, way * mm(1.0))), view_(board.at(x, q + way * mm(kBeyondMm)))};
        }
        const double turn = readable_deg(direction_deg(line[1] - line[0]));
        Label label{0.5 * (line[0] + line[1]) + mm(0.9 + 0.5 * kBodyMm) * left_of(unit_deg(turn)),
                    shown(board.side_mm, plan_.project),
                    mm(kBodyMm),
                    turn,
                    Align::centre,
                    false};
        if (text_width(label.text, false) * label.height + mm(2.0) > length(line[1] - line[0])) return false;
        const auto shrunk = [&](const std::array<Vec2, 2>& s) {
            const Vec2 step = mm(0.3) / std::max(length(s[1] - s[0]), mm(0.6)) * (s[1] - s[0]);
            return std::array<Vec2, 2>{s[0] + step, s[1] - step};
        };
        if (!space_.is_free(PaperSpace::kText, shrunk(line), mm(0.25))) return false;
        if (crossing != Crossing::wood && !space_.is_free(PaperSpace::kWood, shrunk(line), mm(0.25))) return false;
        if (crossing != Crossing::lines && !space_.is_free(PaperSpace::kLine, line, mm(0.25))) return false;
        for (const auto& ext : extension) {
            if (!space_.is_free(PaperSpace::kText, ext, mm(0.25))) return false;
            const std::array<Vec2, 2> outside{0.5 * (ext[0] + ext[1]), ext[1]};
            if (!space_.is_free(PaperSpace::kWood, outside, -mm(0.2), k)) return false;
        }
        for (const Vec2 end : line) {
            const Vec2 tick = mm(kTickMm) * unit_deg(turn + 45.0);
            if (!space_.is_free(PaperSpace::kText, std::array{end - tick, end + tick}, mm(0.25))) return false;
        }
        if (!fits(label)) return false;
        put(label);
        stroke(Pen::dimension, {line[0], line[1]});
        take_line(line[0], line[1]);
        for (std::size_t e = 0; e < 2; ++e) {
            stroke(Pen::dimension, {extension[e][0], extension[e][1]});
            take_line(extension[e][0], extension[e][1]);
            const Vec2 tick = mm(kTickMm) * unit_deg(turn + 45.0);
            stroke(Pen::outline, {line[e] - tick, line[e] + tick});
            take_line(line[e] - tick, line[e] + tick);
        }
        return true;
    }

    // --- letters and numbers ------------------------------------------------------------------------------------------

    void write_letter(std::size_t c) {
        if (c % skip_ != 0 && outline_.is_joint(c)) return;
        const Vec2 start = view_(outline_.is_joint(c) ? frame_.outside_mm[c] : end_middle(c));
        const Vec2 way = seen(outward(c));
        for (const double height : {kNumberMm, kBodyMm}) {
            Label label{{}, corner_letter(c), mm(height), 0.0, Align::centre, true};
            for (const double lean : {0.0, 20.0, -20.0, 40.0, -40.0}) {
                for (double r = 2.5; r <= 22.0; r += 0.5) {
                    label.at = start + mm(r) * turned(way, cos_deg(lean), sin_deg(lean));
                    if (!try_label(label)) continue;
                    write_beside_letter(c, label);
                    return;
                }
            }
            for (double r = 2.5; r <= 16.0; r += 0.5) {
                label.at = view_(frame_.inside_mm[c]) - mm(r) * way;
                if (!try_label(label)) continue;
                write_beside_letter(c, label);
                return;
            }
        }
        ++names_left_out_;
    }

    [[nodiscard]] Vec2 end_middle(std::size_t c) const { return 0.5 * (frame_.inside_mm[c] + frame_.outside_mm[c]); }

    void write_beside_letter(std::size_t c, const Label& letter) {
        const bool joint = outline_.is_joint(c);
        if (joint && outline_.turn_deg[c] >= 0.0) return;
        const double wide = 0.5 * text_width(letter.text, true) * letter.height;
        for (const double height : {kBodyMm, kSmallMm}) {
            Label label{{}, joint ? "IN-CORNER" : "free end", mm(height), 0.0, Align::centre, joint};
            const double up = 0.5 * (letter.height + label.height) + mm(kClearMm + 0.6);
            const double side = wide + mm(kClearMm + 0.4);
            const std::array<std::pair<Vec2, Align>, 8> places{{{{0.0, -up}, Align::centre},
                                                                {{0.0, up}, Align::centre},
                                                                {{side, 0.0}, Align::left},
                                                                {{-side, 0.0}, Align::right},
                                                                {{wide, -up}, Align::right},
                                                                {{-wide, -up}, Align::left},
                                                                {{wide, up}, Align::right},
                                                                {{-wide, up}, Align::left}}};
            for (const double further : {1.0, 1.3, 1.7}) {
                for (const auto& [step, align] : places) {
                    label.at =
                        letter.at + Vec2{(align == Align::centre || step.y != 0.0 ? 1.0 : further) * step.x, further * step.y};
                    label.align = align;
                    if (try_label(label)) return;
                }
            }
        }
        ++names_left_out_;
    }

    [[nodiscard]] static double ring_radius(const std::string& text, double height) {
        return (std::hypot(0.5 * text_width(text, true), 0.5) + 0.06) * height;
    }

    void number_on_board(std::size_t k) {
        const Board& board = frame_.boards[k];
        const double radius = ring_radius(board_number(k), mm(kNumberMm));
        on_board_.push_back(false);
        if (k % skip_ != 0 || board.width_mm < 1.4 * radius) return;
        const std::array<Vec2, 4> p = board.plan_mm();
        on_board_.back() = try_number(k, 0.25 * (p[0] + p[1] + p[2] + p[3]), kNumberMm, true);
    }

    // A circle beside a thin board, a leader ending in a dot on it.
    void number_beside_board(std::size_t k) {
        if (on_board_[k] || k % skip_ != 0) return;
        const Board& board = frame_.boards[k];
        const double low = std::max(board.ends[0].inside_mm, board.ends[0].outside_mm);
        const double high = std::min(board.ends[1].inside_mm, board.ends[1].outside_mm);
        for (const double height : {kNumberMm, kBodyMm}) {
            const double radius = ring_radius(board_number(k), mm(height));
            for (const double far : {2.0, 4.0, 7.0, 11.0}) {
                for (const bool inside : {true, false}) {
                    const double q =
                        inside ? std::min(board.offset_at(0), board.offset_at(1)) - radius - mm(far)
                               : std::max(board.outer_at(0), board.outer_at(1)) + radius + mm(far);
                    for (const double part : {0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8}) {
                        const double x = low + part * (high - low);
                        const std::array<Vec2, 2> leader{view_(board.at(x, q + (inside ? radius : -radius))),
                                                         view_(board.at(x, board.offset_mm + 0.5 * board.width_mm))};
                        if (!space_.is_free(PaperSpace::kWood | PaperSpace::kText, leader, mm(0.3), k)) continue;
                        if (!try_number(k, board.at(x, q), height, false)) continue;
                        stroke(Pen::thin, {leader[0], leader[1]});
                        take_line(leader[0], leader[1]);
                        drawing_.circles.push_back({Pen::thin, Fill::ink, leader[1], mm(0.5)});
                        return;
                    }
                }
            }
        }
        ++names_left_out_;
    }

    bool try_number(std::size_t k, Vec2 at, double height, bool over_own_wood) {
        Label label{view_(at), board_number(k), mm(height), 0.0, Align::centre, true};
        const double radius = ring_radius(label.text, mm(height));
        std::vector<Vec2> ring;
        for (int i = 0; i < 12; ++i) ring.push_back(label.at + radius / cos_deg(15.0) * unit_deg(30.0 * i + 15.0));
        if (!space_.is_free(PaperSpace::kText | PaperSpace::kLine, ring, mm(kClearMm))) return false;
        if (!space_.is_free(PaperSpace::kWood, ring, mm(0.5), over_own_wood ? std::optional<std::size_t>(k) : std::nullopt))
            return false;
        space_.take(PaperSpace::kText, ring);
        for (const Vec2 p : ring) extent_.add(p);
        drawing_.circles.push_back({Pen::thin, Fill::blank, label.at, radius});
        drawing_.labels.push_back(std::move(label));
        return true;
    }

    // --- labels -------------------------------------------------------------------------------------------------------

    [[nodiscard]] bool fits(const Label& label) const {
        const std::array<Vec2, 4> box = label_box(label);
        return space_.is_free(PaperSpace::kText | PaperSpace::kWood, box, mm(kClearMm)) &&
               space_.is_free(PaperSpace::kLine, box, mm(0.4));
    }

    void put(const Label& label) {
        const std::array<Vec2, 4> box = label_box(label);
        space_.take(PaperSpace::kText, box);
        for (const Vec2 p : box) extent_.add(p);
        drawing_.labels.push_back(label);
    }

    bool try_label(const Label& label) {
        if (!fits(label)) return false;
        put(label);
        return true;
    }

    Drawing drawing_;
    Extent extent_;
    std::size_t names_left_out_ = 0, sizes_left_out_ = 0;
    const Plan& plan_;
    const Outline& outline_;
    const Frame& frame_;
    PlanView view_;
    double scale_;
    PaperSpace space_;
    std::size_t skip_ = 1;
    std::vector<bool> on_board_;
};

}  // namespace

RingPicture picture_ring(const Plan& plan, double scale) {
    ENSURE(plan.outline && plan.frame);
    // Whichever order leaves less out: numbers and angles want the same place beside short boards.
    RingPainter angles_first(plan, scale, false);
    RingPainter numbers_first(plan, scale, true);
    return angles_first.says_less_than(numbers_first) ? std::move(numbers_first).take() : std::move(angles_first).take();
}

}  // namespace boardring
