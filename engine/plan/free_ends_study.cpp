#include "plan/free_ends_study.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"

namespace boardring {

std::optional<FreeEndsStudy> study_free_ends(const Plan& plan, const TrialOptions& options) {
    if (!plan.complete() || plan.frame->closed) return std::nullopt;
    const Project& project = plan.project;
    const Frame& frame = plan.exact_frame();
    const auto errors_of = [&](SlopeBy way) { return ChainErrors(project, frame, way, boards_as_meant(project, frame, way)); };
    const ChainErrors errors = errors_of(project.tools.slope_by);
    if (errors.model.inputs.empty()) return std::nullopt;
    FreeEndsStudy study;
    study.budget = budget_of_free_ends(errors);
    constexpr std::array kWays{SlopeBy::marks, SlopeBy::bevel, SlopeBy::saw};
    std::transform(kWays.begin(), kWays.end(), study.ways.begin(), [&](SlopeBy way) { return budget_of_free_ends(errors_of(way)); });
    study.trials = try_free_ends(errors, project.wanted.gap_mm, options);
    const std::array<double, 2> saw_deg{frame.boards.front().ends[0].saw_deg, frame.boards.back().ends[1].saw_deg};
    for (std::size_t e = 0; e < 2; ++e) {
        // Along the board a wedge is longer than across the face.
        study.leave_long_mm[e] = study.trials.faces[e].quantile(0.99) / std::max(kLeastCosine, cos_deg(saw_deg[e]));
    }
    study.tests = test_rings(frame);
    return study;
}

}  // namespace boardring
