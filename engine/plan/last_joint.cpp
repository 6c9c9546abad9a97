#include "plan/last_joint.hpp"

namespace boardring {
namespace {

std::size_t fit_last_of(const Project& project, const Frame& frame) {
    return project.wanted.fit_last.value_or(frame.boards.size() - 1);
}

RingErrors errors_of(const Project& project, const Frame& frame, SlopeBy way, const std::vector<BoardNudges>& nudges) {
    return {project, frame, way, boards_as_meant(project, frame, way, nudges)};
}

}  // namespace

std::optional<Budget> budget_last_joint(const Project& project, const Frame& frame, const std::vector<BoardNudges>& nudges) {
    if (!frame.closed) return std::nullopt;
    const RingErrors errors = errors_of(project, frame, project.tools.slope_by, nudges);
    if (!errors.ready() || errors.model.inputs.empty()) return std::nullopt;
    return budget_of(errors, fit_last_of(project, frame), project.wanted.gap_mm, kBuildsOfPage);
}

std::optional<LastJointStudy> study_last_joint(const Plan& plan, const TrialOptions& options) {
    if (!plan.complete() || !plan.frame->closed) return std::nullopt;
    const Project& project = plan.project;
    const Frame& frame = plan.exact_frame();
    const std::vector<BoardNudges> nudges = plan.rounding ? plan.rounding->nudges : std::vector<BoardNudges>{};
    const double wanted_mm = project.wanted.gap_mm;
    const RingErrors errors = errors_of(project, frame, project.tools.slope_by, nudges);
    if (!errors.ready() || errors.model.inputs.empty()) return std::nullopt;

    LastJointStudy study;
    study.budget = budget_of(errors, fit_last_of(project, frame), wanted_mm, kBuildsOfAdvice);
    std::optional<std::pair<std::size_t, std::size_t>> halves;
    if (plan.assembly && plan.assembly->halves)
        halves = {plan.assembly->halves->first_corner, plan.assembly->halves->second_corner};
    study.advice = advise(frame, errors, study.budget, wanted_mm, halves);
    constexpr std::array kWays{SlopeBy::marks, SlopeBy::bevel, SlopeBy::saw};
    for (std::size_t i = 0; i < kWays.size(); ++i)
        study.ways[i] = {kWays[i], errors_of(project, frame, kWays[i], {}).odds({}, wanted_mm, kBuildsOfAdvice)};
    study.simulation = simulate(frame, errors, study.budget.corner, wanted_mm, options);
    return study;
}

}  // namespace boardring
