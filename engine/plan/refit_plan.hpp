#pragma once
#include <optional>
#include <vector>

#include "closure/as_cut.hpp"
#include "closure/last_joint.hpp"
#include "closure/refit.hpp"
#include "plan/plan.hpp"
#include "project/as_cut.hpp"

namespace boardring {

/// The boards still to cut, worked out anew so that the ring closes with those that are cut.
struct RefitPlan {
    Plan before;          ///< as planned; its project is never changed
    Keep keep = Keep::outline;
    std::vector<std::optional<BoardShape>> cut;  ///< one per board, empty where it is still to cut
    Findings findings;
    std::optional<Outline> outline;  ///< the inside corners now; absent where all boards are cut, or nothing closes
    std::optional<Frame> frame;      ///< boards as cut and as they are to be cut
    std::vector<ShownBoard> shown;
    std::optional<Assembly> assembly;
    std::vector<double> moved_mm;    ///< each inside corner against the plan
    std::optional<LastJoint> last;   ///< where all boards are cut
    std::optional<Recut> recut;      ///< where they do not close well enough
    std::optional<Recut> anew;       ///< beside a trim that takes the ring far from the plan: the board that, cut anew, keeps it near
};

/// True for a project that make_refit does not refuse outright: a closed ring of mitres.
bool can_be_refitted(const Project& project);

/// From what was measured on the cut boards to what is done with the rest. All checks of a plan are made again.
/// Errors    refit.open-chain, refit.other-joints, refit.gap-too-early, refit.cannot-close
/// Warnings  refit.far-off, refit.diagonal-uncut, refit.rough-length, and those of a frame and its cuts that are new
RefitPlan make_refit(const Project& project, const AsCut& as_cut, Keep keep);

}  // namespace boardring
