#include "report/board_canvas.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "base/ensure.hpp"

namespace boardring {
namespace {

// Sizes on the paper [mm].
constexpr double kWidestMm = 50.0;    // a board's width on the card
constexpr double kLongestMm = 146.0;  // from the leftmost to the rightmost mark
constexpr double kEndRoomMm = 27.0;   // of wood shown beyond an end's marks, for its letter and angles

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

}  // namespace

std::vector<Scale> scales_for_board(const PieceAsDrawn& piece, bool inches) {
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

BoardCanvas::BoardCanvas(const PieceAsDrawn& the_piece, const Project& the_project, const Scale& the_scale)
    : piece(the_piece), project(the_project), scale(the_scale), gap(*break_at(piece, scale.units_per_mm)), paper{PaperSpace(mm(12.0)), {}, {}} {
    paper.drawing.scale = scale.units_per_mm;
}

double BoardCanvas::edge_y(bool inside, double x) const {
    const double from = inside ? end(true).inside_mm : end(true).outside_mm, to = inside ? end(false).inside_mm : end(false).outside_mm;
    const double part = to > from ? std::clamp((x - from) / (to - from), 0.0, 1.0) : 0.0;
    return edge_at(inside, true) + part * (edge_at(inside, false) - edge_at(inside, true));
}

void BoardCanvas::stroke(Pen pen, std::vector<Vec2> points) {
    for (const Vec2 p : points) paper.extent.add(p);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) paper.space.take(PaperSpace::kLine, std::array{points[i], points[i + 1]});
    paper.drawing.strokes.push_back({pen, std::move(points), false});
}

bool BoardCanvas::try_label(const Label& label) {
    const std::array<Vec2, 4> box = label_box(label);
    const double half_page = mm(0.5 * kPaperShortMm - kMarginMm);
    for (const Vec2 p : box) {
        if (std::abs(p.x - 0.5 * last()) > half_page) return false;
    }
    if (!paper.space.is_free(PaperSpace::kText | PaperSpace::kWood | PaperSpace::kLine, box, mm(0.5))) return false;
    paper.space.take(PaperSpace::kText, box);
    for (const Vec2 p : box) paper.extent.add(p);
    paper.drawing.labels.push_back(label);
    return true;
}

bool BoardCanvas::try_places(Label label, const std::vector<Vec2>& places) {
    for (const Vec2 place : places) {
        label.at = place;
        if (try_label(label)) return true;
    }
    return false;
}

}  // namespace boardring
