#pragma once
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "base/vec2.hpp"
#include "project/project.hpp"

namespace boardring {

/// A length as somebody said it.
struct SaidLength {
    double mm = 0.0;
    std::string json;  ///< as it stands in a project file: `640`, or `"5 1/2 in"` where it has its own unit or a fraction
};

/// The shape of a frame, as people name it.
enum class SpokenShape { none, regular, rectangle, ell, u_shape, tee, part_ring, arch, window, door };

/// A board section, whole or in part: what is missing is as the section for all.
struct SaidSection {
    std::optional<SaidLength> width, thickness;
    std::string nominal;  ///< "2x6", or ""
};

/// One length on sale or at home.
struct SaidOffer {
    SaidLength length;
    std::string price;  ///< JSON number; "" unknown
    std::size_t count = 0;  ///< 0 as many as wanted
    bool own = false;
};

/// Boards that differ from the rest, without a place: "one 28".
struct SaidException {
    std::size_t count = 0;
    SaidSection section;
    std::vector<SaidOffer> offers;
    std::string words;  ///< as said, for the comment in the file
};

struct SaidJoint {
    std::optional<JointKind> kind;
    std::vector<std::size_t> through;  ///< board numbers, from 1
    bool shared = false;               ///< `through` was said of several corners: each takes the boards that come to it
};

/// A size that follows from what the frame is for.
struct Wish {
    enum class Kind { none, fits_round, stands_on, litres, boards_give };
    Kind kind = Kind::none;
    std::optional<SaidLength> first, second;
    double litres = 0.0;
};

/// Everything a sentence or an interview can say of a frame; what was not said is empty. `complete` fills in what may be assumed,
/// `project_text` writes the file.
struct Draft {
    std::string heard;  ///< the words themselves, for the first line of the file
    std::string title;
    std::string thing;  ///< "planter", "bed": a word of the title
    Unit unit = Unit::mm;

    SpokenShape shape = SpokenShape::none;
    std::string shape_word;                    ///< as said: "hexagon"
    std::size_t corners = 0;                   ///< regular
    bool circle = false;                       ///< regular, said as a ring of pieces: sized by radius or diameter
    bool half = false;                         ///< regular: half of it, open at the ends; `pieces` tells from corner to corner or from side to side
    std::optional<OutlineLine> line;
    std::optional<RegularOutline::Of> of;      ///< what `size` is; regular
    std::optional<SaidLength> size;            ///< the one plain size
    std::optional<SaidLength> first, second;   ///< length by width
    std::optional<SaidLength> wide, high, length, radius, diameter, rise;
    std::optional<double> span_deg;
    std::optional<SaidLength> notch_along, notch_across, notch_from;
    std::size_t pieces = 0;
    std::optional<ArcOutline::Fits> fits;
    bool ends_square = false;
    std::optional<bool> sill;                  ///< window or door
    std::optional<SaidLength> head, sill_length;
    std::vector<SaidLength> legs;              ///< none, one or two: right, left
    std::map<std::string, SaidSection> parts;  ///< head, legs, sill
    std::optional<SaidLength> margin;
    bool clockwise = false;
    bool from_room = false;

    SaidSection section;
    std::vector<SaidOffer> offers;
    std::string species;
    std::optional<Surface> surface;
    std::vector<SaidException> exceptions;
    std::map<std::size_t, SaidSection> boards;  ///< by number, from 1
    std::vector<SaidException> numbered;        ///< what was said of boards by number, with the lengths said of them; also in `boards`
    std::vector<std::string> pile;              ///< JSON of its entries, where boards that differ have no place; filled in by `complete`
    std::optional<Lie> lie;
    std::size_t courses = 0;                    ///< 0 not said

    SaidJoint joints;                           ///< all corners
    std::map<std::string, SaidJoint> corner_joints;
    bool head_through = false;

    std::optional<SaidLength> kerf, gap, leave_long;
    std::optional<double> tilt_deg, swing_deg, stop_deg, step_deg, reads_deg;
    std::optional<Preset> preset;
    std::size_t spares = 0, last = 0;           ///< 0 not said
    Wish wish;

    std::map<std::string, std::string> notes;   ///< pointer into the file -> comment behind that line
    std::vector<std::string> assumed;           ///< what `complete` filled in, in the maker's words
};

/// True if a half is cut from side to side: its first and last board are half a side long.
bool has_half_sides(const Draft& draft);

/// Half a ring of an even number of sides, cut from side to side: its free ends are the middles of two opposite sides, at y = 0,
/// the first at the right and the last at x = 0. Corners in the order of their letters; n/2 + 2 of them.
std::vector<Vec2> half_from_side_to_side(const RegularOutline& ring);

/// How many boards the shape has; 0 if that is not known yet.
std::size_t board_count(const Draft& draft);

/// True if the ends of the boards do not meet: arches, part rings, door casings.
bool is_open(const Draft& draft);

/// The boards that differ and have lengths of their own, those of one size together: each is a stock of its own.
std::vector<SaidException> own_stocks(const Draft& draft);

/// What the project file calls that stock; "" if boards of this size have no lengths of their own.
std::string own_stock_name(const Draft& draft, const SaidSection& section);

/// How high one course is; the boards and how they lie must be known.
double course_height_mm(const Draft& draft);

/// The dressed size of a nominal name, as lengths of a file.
SaidSection dressed_section(const std::string& nominal, Unit unit);

/// A length in the draft's unit as a project file has it.
SaidLength length_in_unit(double mm, Unit unit);

/// A length as people say it, with its unit: `640 mm`, `5 1/2 in`.
std::string spoken_length(const SaidLength& length, Unit unit);

/// Fills in what may be assumed and tells it in `assumed` and `notes`; what is missing and may not be guessed, or does not fit
/// together, comes back as findings.
///   sentence.missing       no shape, no size, no boards, or not said where the size is measured
///   sentence.does-not-fit  a part this shape does not have; more boards named than there are
Findings complete(Draft& draft);

/// The project file of a complete draft, for people: comments, parts in the order of the job, one thing a line.
std::string project_text(const Draft& draft);

/// The title as said, or one made of shape and size: `Hexagon planter 640`.
std::string project_title(const Draft& draft);

/// A name for the file, without folder and ending: `hexagon-640`.
std::string project_name(const Draft& draft);

}  // namespace boardring
