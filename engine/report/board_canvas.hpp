#pragma once
#include <vector>

#include "base/vec2.hpp"
#include "drawing/drawing.hpp"
#include "drawing/paper_space.hpp"
#include "project/project.hpp"
#include "report/drawing_parts.hpp"
#include "report/piece_as_drawn.hpp"

namespace boardring {

// Where a board lies on its card, and what stands there so far: what the parts of the drawing share (board_drawing, board_dimensions,
// board_card_text).

/// Gap of the break [mm of paper].
inline constexpr double kBreakMm = 4.0;

/// Which part of a long board is left out at a scale.
struct Break {
    bool any = false;
    double from_mm = 0.0, to_mm = 0.0;  ///< x of the wood not shown, from the datum

    [[nodiscard]] double gone() const { return any ? to_mm - from_mm : 0.0; }
};

/// Scales at which both ends fit on the card, the best first: the largest at which the whole board is seen and is not too thin on the
/// paper, then the others from the largest down. Never empty.
std::vector<Scale> scales_for_board(const PieceAsDrawn& piece, bool inches);

class BoardCanvas {
public:
    /// \param scale  one of `scales_for_board`. The piece and the project must outlive the canvas.
    BoardCanvas(const PieceAsDrawn& the_piece, const Project& the_project, const Scale& the_scale);

    const PieceAsDrawn& piece;
    const Project& project;
    const Scale scale;
    const Break gap;

    /// What has been put on the paper: kept together so that one try can be taken back.
    struct Paper {
        PaperSpace space;
        Drawing drawing;
        Extent extent;
    };
    Paper paper;

    /// Millimetres of paper in drawing units.
    [[nodiscard]] double mm(double of_paper) const { return of_paper * scale.units_per_mm; }
    [[nodiscard]] const EndAsDrawn& end(bool left) const { return piece.ends[left ? 0 : 1]; }
    /// Where x from the datum lies on the drawing.
    [[nodiscard]] double drawn(double x) const { return gap.any && x > gap.from_mm ? x - gap.gone() + mm(kBreakMm) : x; }
    [[nodiscard]] Vec2 at(double x, double y) const { return {drawn(x), y}; }
    /// Height of an edge at an end: of a piece that tapers they differ from end to end.
    [[nodiscard]] double edge_at(bool inside, bool left) const { return inside ? end(left).inside_at_mm : end(left).outside_at_mm; }
    /// The same anywhere along the piece; x from the datum.
    [[nodiscard]] double edge_y(bool inside, double x) const;
    [[nodiscard]] Vec2 outside_of(bool left) const { return at(end(left).outside_mm, edge_at(false, left)); }
    [[nodiscard]] Vec2 inside_of(bool left) const { return at(end(left).inside_mm, edge_at(true, left)); }
    /// The rightmost mark on the drawing.
    [[nodiscard]] double last() const { return drawn(end(false).long_mark(false)); }

    /// A line through points, which no label may cross.
    void stroke(Pen pen, std::vector<Vec2> points);
    /// Puts a label where it stands, or at the first of `places` that is free; false where it finds no room on the card.
    bool try_label(const Label& label);
    bool try_places(Label label, const std::vector<Vec2>& places);
};

}  // namespace boardring
