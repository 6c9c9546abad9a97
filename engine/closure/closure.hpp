#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

/// What one joint shows: see docs/theory/closure.md. + gap = open, + lip = the earlier board stands further out.
struct JointMisfit {
    std::size_t corner = 0;
    double gap_in_mm = 0.0;
    double gap_out_mm = 0.0;
    double lip_in_mm = 0.0;
    double lip_out_mm = 0.0;
    double angle_left_deg = 0.0;  ///< + opens outside
};

/// Every other joint held tight; all that is left shows at joint A.
struct StiffClosure {
    JointMisfit last;     ///< at joint A
    double one_in = 0.0;  ///< sum of sides / |C - P|; 0 when nothing is left
};

/// The ring drawn in as a whole: faces may open, wood may not overlap.
struct SpreadClosure {
    double widest_mm = 0.0;      ///< widest opening of any joint, inside or outside
    std::size_t corner = 0;      ///< where
    double lip_mm = 0.0;         ///< largest |lip_in| of any joint
    std::vector<JointMisfit> joints;
    bool settled = true;         ///< the solver met its equations; false only for frames too far out to draw in
};

/// One way of making the boards.
struct ClosureReport {
    std::optional<StiffClosure> stiff;    ///< closed rings
    std::optional<SpreadClosure> spread;  ///< closed rings
    /// Open chains: where the last free end comes to lie against where it should, along and across the line between both free ends.
    std::optional<double> span_off_mm;
    std::optional<double> span_across_mm;
    std::optional<double> span_angle_deg;
};

/// The one rounding that moves the stiff gap most.
struct WorstRounding {
    std::size_t board = 0;
    std::size_t end = 0;         ///< 0 first corner, 1 second corner
    std::string what;            ///< "inside mark", "outside mark", "slope", "length"
    double moved = 0.0;          ///< mm, or deg for a slope set by the saw
    double stiff_gap_mm = 0.0;   ///< what that rounding alone leaves at joint A
};

struct Closure {
    ClosureReport exact;   ///< unrounded: a check of our own arithmetic
    ClosureReport marked;  ///< all marks rounded to the rule
    ClosureReport set;     ///< slopes to the saw's or bevel's step, long points to the rule
    std::optional<WorstRounding> worst_marked;
    std::optional<WorstRounding> worst_set;
};

/// Exact, as marked and as set.
Closure close_frame(const Project& project, const Frame& frame);

}  // namespace boardring
