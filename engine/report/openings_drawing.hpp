#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "plan/last_joint.hpp"
#include "plan/plan.hpp"

namespace boardring {

/// How many rings open how wide at their widest joint: steps from 0 as wide as a maker reads them off a rule (0.1, 0.15, 0.2, 0.25, 0.3
/// ... mm, or 1/128, 1/64, 1/32 ... of an inch), the last takes all that lies beyond.
struct OpeningBins {
    double step_mm = 0.0;             ///< 0 where no ring opens at all
    bool inches = false;              ///< the steps are halves of halves of an inch
    std::vector<std::size_t> counts;  ///< at most kMostBins
    std::size_t most = 0;             ///< of any step

    /// Upper end of a step; of the last there is none.
    [[nodiscard]] double end_mm(std::size_t bin) const { return step_mm * static_cast<double>(bin + 1); }
    [[nodiscard]] bool is_last(std::size_t bin) const { return bin + 1 == counts.size(); }
    /// That end as a rule shows it, without the unit: "0.15", "3/64".
    [[nodiscard]] std::string end_words(std::size_t bin) const;
    /// The step in which an opening lies; one that ends a step belongs to it.
    [[nodiscard]] std::size_t bin_of(double mm) const;
};
inline constexpr std::size_t kMostBins = 12;

/// The steps before the last hold 995 of 1000 rings.
OpeningBins bin_openings(const TrialResult& widest, bool inches);

/// The bins as columns, wood where the wanted gap is kept and white beyond; the gap as a dashed line; paper size, millimetres.
Drawing draw_openings(const Plan& plan, const LastJointStudy& study);

}  // namespace boardring
