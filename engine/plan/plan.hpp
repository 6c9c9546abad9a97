#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "arrange/arrange.hpp"
#include "base/finding.hpp"
#include "base/names.hpp"
#include "closure/budget.hpp"
#include "closure/closure.hpp"
#include "closure/rounding.hpp"
#include "cutlist/cut_list.hpp"
#include "frame/frame.hpp"
#include "outline/outline.hpp"
#include "outline/pegs.hpp"
#include "plan/buying_plan.hpp"
#include "project/project.hpp"
#include "season/season.hpp"

namespace boardring {

/// One end as shown: marks from the board's datum, a square line at its leftmost mark.
struct ShownEnd {
    double inside_mark_mm = 0.0;
    double outside_mark_mm = 0.0;
    double edge_deg = 0.0;                      ///< E = 90 - |S|
    double bevel_base_mm = 0.0, bevel_rise_mm = 0.0;
    double square_at_mm = 0.0;                  ///< the square line, from the datum
    std::optional<double> shoulder_inside_mm, shoulder_outside_mm;
    std::vector<SawWay> ways;
};

/// One board as shown: outside edge towards the maker, seen from above, x to the right from the datum.
struct ShownBoard {
    double inside_length_mm = 0.0, outside_length_mm = 0.0;
    double long_point_mm = 0.0, short_point_mm = 0.0;  ///< rightmost - leftmost mark; the shortest distance between the end cuts along an edge
    double rough_length_mm = 0.0;
    std::size_t left_end = 0;                          ///< index of the end that lies at the left: 0, or 1 with clockwise letters
    std::array<ShownEnd, 2> ends;                      ///< in letter order, like Board::ends
};

struct Diagonal {
    std::size_t first = 0, second = 0;  ///< corners
    double inside_mm = 0.0, outside_mm = 0.0;
};

/// Two halves to glue first, split at two joints, as equal as the ring allows.
struct Halves {
    std::size_t first_corner = 0, second_corner = 0;
    double inside_mm = 0.0, outside_mm = 0.0;  ///< between the split joints' inner points, outer points
};

struct Assembly {
    std::vector<Diagonal> diagonals;  ///< the ones worth measuring, longest first
    std::optional<Halves> halves;
    std::size_t fit_last = 0;         ///< board
    double leave_long_mm = 0.0;
};

struct Range {
    double low = 0.0, high = 0.0;
};

struct Totals {
    double inside_area_mm2 = 0.0, outside_area_mm2 = 0.0;   ///< closed rings; open: 0
    Vec2 inside_box_mm, outside_box_mm;                     ///< widths across and up the plan as it is drawn; outside: of all the wood
    std::optional<double> over_flats_inside_mm, over_flats_outside_mm;  ///< smallest distance between two opposite parallel boards' faces
    double height_mm = 0.0;                                 ///< of all courses
    std::optional<double> volume_l;                         ///< on edge, closed
    Range timber_kg;                                        ///< dry softwood to hardwood: common practice
    std::optional<Range> wet_soil_kg;                       ///< on edge, closed: 1.6 to 2 t per m3, common practice
};

/// The frame as it was worked out, before numbers went beside their nearest steps so that the ring closes.
struct Unrounded {
    Frame frame;
    std::vector<ShownBoard> shown;
};

/// A frame on a crooked opening worked out both ways.
struct HungBothWays {
    struct Answer {
        Outline outline;
        std::optional<Frame> frame;     ///< nothing if it cannot be built
        std::vector<ShownBoard> shown;
    };
    Answer as_found, hung_true;
};

/// Everything the papers show. `frame` and `shown` are unrounded but for numbers that were rounded so that the ring closes: those stand
/// on the step chosen for them, and whoever shows them to the nearest step shows what was chosen.
struct Plan {
    Project project;                  ///< of a pile with every board in its place
    Findings findings;
    std::optional<Outline> outline;   ///< absent when its stage failed
    std::optional<Arrangement> arrangement;  ///< of a pile only
    std::optional<HungBothWays> hung;  ///< found outlines whose margin has a least and a most
    std::optional<PegMoves> pegs;      ///< wanted outlines that are staked out
    std::optional<Frame> frame;
    std::vector<ShownBoard> shown;
    std::optional<ClosingRounding> rounding;
    std::optional<Unrounded> unrounded;  ///< where the rounding was applied
    std::optional<CutList> cut_list;
    std::optional<Closure> closure;
    std::optional<Season> season;     ///< absent where nothing is said of the year
    std::optional<Budget> budget;     ///< closed rings: what the errors of making do to the last joint
    std::optional<Assembly> assembly;
    std::optional<Totals> totals;
    std::optional<Buying> buying;     ///< a part of its own: nothing else depends on it

    [[nodiscard]] const Frame& exact_frame() const { return unrounded ? unrounded->frame : *frame; }
    [[nodiscard]] const std::vector<ShownBoard>& exact_shown() const { return unrounded ? unrounded->shown : shown; }
    [[nodiscard]] bool complete() const { return closure.has_value(); }
    [[nodiscard]] bool of_pieces_alone() const { return cut_list.has_value() && project.pieces_alone(); }
};

/// The whole way: outline -> places of a pile -> frame -> cuts -> closure -> what is shown. A stage that finds an error is the last one
/// run. A project of pieces alone has a cut list and a purchase, and nothing else.
Plan make_plan(const Project& asked);

}  // namespace boardring
