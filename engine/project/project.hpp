#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/length_text.hpp"
#include "base/vec2.hpp"

namespace boardring {

// What the maker asked for: plain values, already read and checked one by one (io/read_project). Everything in
// millimetres and degrees, corners and boards counted from 0 in the order of their letters and numbers.

enum class OutlineLine { inside, outside, middle };  ///< where on the boards the outline runs
enum class Lie { flat, on_edge };                    ///< flat: the width lies in the plan; on edge: the thickness does
enum class JointKind { mitre, butt, half_lap };
enum class Surface { plain, show_face, moulded };    ///< which turnings of a piece are allowed
enum class SlopeBy { bevel, marks, saw };            ///< how the maker sets the slope of a cut
/// How numbers between two steps of the rule or the saw are rounded: so that the ring closes, boards that are one piece alike; the same,
/// each board on its own; each number to its nearest step.
enum class Rounding { alike, singly, nearest };
enum class Grain { flat_sawn, quarter_sawn };          ///< year rings along the width of the board, or across it
enum class Preset { garden, joinery, fine };

/// A regular polygon; the *line* named by the outline is regular.
struct RegularOutline {
    enum class Of { side, over_flats, over_points, inscribed, circumscribed };
    std::size_t corners = 0;  ///< 3..1000
    Of of = Of::side;         ///< over_flats and over_points for even corners; inscribed / circumscribed are diameters
    double size_mm = 0.0;
};

/// A rectangle; side AB is `length_mm`, BC is `width_mm`.
struct RectangleOutline {
    double length_mm = 0.0;
    double width_mm = 0.0;
};

/// Corners by their places, letters in the order given, either way round; the last not repeated.
struct PointsOutline {
    std::vector<Vec2> points_mm;
};

/// Pieces of a ring along a circle, equal turns; an open chain whose ends are radial.
struct ArcOutline {
    enum class Fits { flats, corners };  ///< the sides touch the arc, or the corners lie on it
    double radius_mm = 0.0;
    double span_deg = 0.0;  ///< (0, 360)
    std::size_t pieces = 0;
    Fits fits = Fits::corners;
};

/// One line of the notebook.
struct Reading {
    enum class Kind {
        side,
        diagonal,
        angle,
        fall,   ///< how far `second` lies lower than `first`, read against level [mm, may be 0]
        right,  ///< how far `second` stands to the right of `first`, read against plumb [mm, may be 0]
        width,  ///< from the middle of side `first` to the middle of side `second` [mm]: reported, not fitted
        bow,    ///< how far the middle of side `first` stands out from the straight line, + outward [mm]: reported, not fitted
        sill,   ///< the side between them is the bottom one, ring order `first` -> `second`; the other way round it is the head. No value
    };
    std::string text;          ///< as written
    std::string pointer;       ///< where it stands in the project file
    Kind kind = Kind::side;
    std::size_t first = 0;     ///< corner; for an angle its corner
    std::size_t second = 0;    ///< corner; equal to `first` for an angle. A side runs first -> second in ring order
    std::optional<double> value;     ///< mm or deg as written (before `inward`); empty for `?`
    std::optional<double> near;      ///< `? near 97`: of two answers the one nearer to this, mm or deg as written
    double half_step = 0.0;          ///< half a unit of the last digit given, mm or deg
    std::optional<double> accuracy;  ///< own +-, mm or deg
    bool inward = false;             ///< the angle written is the one outside the ring: 360 - value is meant
    std::optional<double> deg_per_mm;  ///< an angle taped as a triangle: what a millimetre of each of its tapes makes [deg]
};

/// Sides and angles as written down. Wanted: every side and every angle given, diagonals are checks. Found: any readings,
/// repeated or missing, also between corners and helper pegs.
struct ReadingsOutline {
    std::vector<Reading> readings;
    bool found = false;
    std::size_t corners = 0;  ///< of the ring or chain; letters beyond are pegs (found outlines only)
};

/// A frame on a crooked opening: how it hangs, and what its margin may take up.
struct HangAsked {
    bool true_to_level = false;  ///< level and plumb, the margin taking it up; else along the opening as found
    double least_mm = 0.0;       ///< of the margin, anywhere along a side
    double most_mm = 0.0;
    std::string pointer;
};

/// A wanted outline that is staked out already: distances between its pegs as they stand.
struct PegsAsked {
    ReadingsOutline readings;       ///< letters as the outline's corners; `found`
    std::vector<std::size_t> stay;  ///< pegs that cannot be moved
    std::string pointer;
};

struct OutlineAsked {
    OutlineLine line = OutlineLine::inside;
    std::vector<double> margin_mm;   ///< one per board: moves that board outward
    bool letters_clockwise = false;  ///< only the picture is mirrored
    bool seen_from_room = false;     ///< a frame on a wall: "from the room" instead of "from above"
    bool open = false;               ///< open chain: first and last corner are free ends
    std::variant<RegularOutline, RectangleOutline, PointsOutline, ArcOutline, ReadingsOutline> form;
    std::string form_pointer;        ///< "/outline/regular" ...
    std::optional<HangAsked> hang;   ///< found outlines whose margin has a least and a most
    std::optional<PegsAsked> pegs;   ///< wanted outlines that are staked out
};

/// One length on sale or at home. Carried for the buying plan.
struct StockLength {
    double length_mm = 0.0;
    std::optional<double> price;
    std::optional<std::size_t> count;
    bool offcut = false;
};

/// A board section.
struct Stock {
    std::string name;
    std::string nominal;  ///< "2x6" if given by its nominal name, else ""
    double width_mm = 0.0;
    double thickness_mm = 0.0;
    Surface surface = Surface::plain;
    std::string species;
    double end_trim_mm = 0.0;
    std::vector<StockLength> lengths;
    Grain grain = Grain::flat_sawn;
};

/// One board as it really is: its stock's sizes unless it was measured on its own.
struct BoardAsked {
    std::optional<std::size_t> stock;  ///< index into Project::stock
    double width_mm = 0.0;
    double thickness_mm = 0.0;
    std::string pointer;               ///< nearest place in the file that speaks of this board
    /// By how much it is wider in the joint at its second corner than at its first: sawn boards taper. The size given above is the
    /// larger of the two; the other size (the height) is one all along.
    double taper_mm = 0.0;
};

/// Boards of one kind in the maker's pile.
struct PileKind {
    std::size_t count = 1;
    BoardAsked board;  ///< its pointer is where the file speaks of this kind
};

struct JointAsked {
    JointKind kind = JointKind::mitre;
    std::optional<std::size_t> through;  ///< board that runs on (butt); empty: the board on the longer side, ties: the one that starts here
    std::string pointer;
};

/// A free end of an open chain: saw setting with sign, + = outside longer; 0 is square. `along_deg` in the file is the
/// angle between board and wall measured on the inside, so S = 90 - along_deg.
struct EndAsked {
    double saw_deg = 0.0;
    std::string pointer;
};

/// Another piece cut from the same boards; length is long point to long point.
struct PieceAsked {
    std::string name;
    std::size_t stock = 0;
    double length_mm = 0.0;
    std::size_t count = 1;
    double left_saw_deg = 0.0;   ///< + = outside edge longer
    double right_saw_deg = 0.0;
    std::string pointer;
};

struct Tools {
    double rule_step_mm = 0.5;
    double saw_step_deg = 0.5;
    double scale_at_square_deg = 0.0;  ///< what the maker's saw scale reads at a plain square cut: 0 or 90
    double swing_limit_deg = 50.0;
    double tilt_limit_deg = 45.0;
    double fence_height_mm = 90.0;
    double kerf_mm = 3.0;
    double hold_length_mm = 300.0;     ///< shorter pieces cannot be held by hand beside a blade
    SlopeBy slope_by = SlopeBy::bevel;
    Rounding rounding = Rounding::alike;
    double bevel_base_mm = 300.0;      ///< 300 mm, or 12 in in inch and foot jobs
};

/// Standard deviations of the maker's work: mm, degrees, mm per m for the rule. Presets: common practice.
struct Accuracy {
    Preset preset = Preset::joinery;
    double mark_mm = 0.5;
    double cut_angle_deg = 0.2;
    double common_angle_deg = 0.1;
    double rule_scale_mm_per_m = 0.2;
    double side_mm = 1.0;
    double angle_deg = 0.5;
    double diagonal_mm = 1.5;
    double stop_mm = 0.15;       ///< one board against a length stop
    double thickness_mm = 0.2;   ///< a board's width in the joint against what was measured
};

struct Wanted {
    double gap_mm = 1.0;
    std::optional<std::size_t> fit_last;  ///< board; empty: the last one
    double leave_long_mm = 0.0;
    std::size_t spares = 0;
};

/// Moisture of the wood over the year, per cent of its dry weight.
struct Year {
    double dry_pct = 0.0;
    double wet_pct = 0.0;
    double made_pct = 0.0;  ///< when the frame is made
    bool asked = false;     ///< by the project; else assumed, because all woods are known
};

/// A default the maker did not state; always shown.
struct Assumption {
    std::string pointer;  ///< where it would be written
    std::string value;    ///< in the maker's words: "saw cut 3 mm"
};

struct Project {
    std::string title;
    Unit unit = Unit::mm;
    OutlineAsked outline;
    std::vector<Stock> stock;
    Lie lie = Lie::flat;
    std::size_t courses = 1;
    std::vector<BoardAsked> boards;  ///< n; with a pile its first n boards until they are arranged (arrange/arrange.hpp)
    std::vector<PileKind> pile;      ///< boards whose places are to be found, n or more of them; empty: the maker gave every place
    std::vector<JointAsked> joints;  ///< one per corner, free ends included (unused there)
    EndAsked first_end;              ///< used by open chains only
    EndAsked last_end;
    std::vector<PieceAsked> pieces;
    std::size_t copies = 1;          ///< how often the whole job is built
    Tools tools;
    Accuracy accuracy;
    Wanted wanted;
    std::optional<Year> year;        ///< empty: nothing is said of the year
    std::vector<Assumption> assumed;

    /// No outline and no boards: pieces to cut, nothing to close.
    [[nodiscard]] bool pieces_alone() const { return boards.empty() && !pieces.empty(); }
    /// How many are cut of each board of the ring.
    [[nodiscard]] std::size_t of_each_board() const { return courses * copies; }
    /// How many are cut of another piece.
    [[nodiscard]] std::size_t of_piece(const PieceAsked& piece) const { return piece.count * copies; }
    /// Width in the joint: whichever of width and thickness lies in the plan; of a board that tapers the larger one.
    [[nodiscard]] double width_in_joint_mm(std::size_t board) const {
        return lie == Lie::flat ? boards[board].width_mm : boards[board].thickness_mm;
    }
    /// The same at an end: 0 first corner, 1 second corner.
    [[nodiscard]] double width_in_joint_mm(std::size_t board, std::size_t end) const {
        const double taper_mm = boards[board].taper_mm;
        return width_in_joint_mm(board) - (end == 0 ? (taper_mm > 0.0 ? taper_mm : 0.0) : (taper_mm < 0.0 ? -taper_mm : 0.0));
    }
    /// The other one: thickness of a flat frame, height of a course on edge.
    [[nodiscard]] double height_mm(std::size_t board) const {
        return lie == Lie::flat ? boards[board].thickness_mm : boards[board].width_mm;
    }
    [[nodiscard]] LengthStyle style() const { return {unit, tools.rule_step_mm}; }
};

}  // namespace boardring
