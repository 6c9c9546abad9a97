#pragma once
#include <cstddef>
#include <vector>

#include "cutlist/cut_list.hpp"

namespace boardring {

// Pieces as strips of a long board (docs/theory/stock.md). A bar lies along +x; a cut's run is x at its upper edge minus x at its
// lower edge [mm], so equal runs are parallel cuts. Lengths count along the middle line, which no turning changes.

/// A piece of a strip with straight ends.
struct StripPiece {
    double length_mm = 0.0;     ///< along the middle line; the edges are longer and shorter by half the difference of the runs
    double left_run_mm = 0.0;
    double right_run_mm = 0.0;
    std::size_t count = 1;
};

/// What the pieces of one section share.
struct Strip {
    double width_mm = 0.0;      ///< across the strip, square to x; > 0
    double kerf_mm = 0.0;       ///< square to the cut; >= 0
    /// True: both square ends of a bar are sawn too, and their kerf counts. False: the bar's ends are good as they are (after the trim);
    /// a cut beside an end may run off it.
    bool kerf_at_ends = false;
    std::vector<Turning> turnings{Turning::as_first};  ///< how pieces may be turned; as_first first
};

/// The two runs of a piece once it is turned.
struct StripEnds {
    double left_run_mm = 0.0;
    double right_run_mm = 0.0;
};

/// top_to_bottom (-b, -a), edge_for_edge (-a, -b), end_for_end (b, a).
StripEnds turned_ends(const StripPiece& piece, Turning turning);

/// A cut of run x takes this along the board: kerf * sqrt(1 + (x/width)^2) [mm].
double kerf_along_mm(const Strip& strip, double run_mm);

/// Least distance along the middle line between a right end of run `right_run_mm` and the left end that follows it:
///   |x - y| / 2 + the wider of the two kerfs.
/// Both kerf bands clear both pieces, the bands may overlap, equal runs share one cut [sequence_test: by half-plane clipping].
double loss_between_mm(const Strip& strip, double right_run_mm, double left_run_mm);

/// The same between an end of the bar, which is square, and the piece's end beside it.
double loss_at_end_mm(const Strip& strip, double run_mm);

}  // namespace boardring
