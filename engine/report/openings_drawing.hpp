#pragma once
#include <array>
#include <cstddef>

#include "drawing/drawing.hpp"
#include "plan/last_joint.hpp"
#include "plan/plan.hpp"

namespace boardring {

/// How many rings open how wide at their widest joint: twelve equal steps from 0, the last takes all that lies beyond.
struct OpeningBins {
    double step_mm = 0.0;  ///< 0 where no ring opens at all
    std::array<std::size_t, 12> counts{};
    std::size_t most = 0;  ///< of any step
};

/// The steps end where 995 of 1000 rings lie.
OpeningBins bin_openings(const TrialResult& widest);

/// The bins as columns, with the wanted gap as a dashed line; paper size, millimetres.
Drawing draw_openings(const Plan& plan, const LastJointStudy& study);

}  // namespace boardring
