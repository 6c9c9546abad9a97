#include "plan/last_joint.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/ensure.hpp"

namespace boardring {
namespace {

constexpr std::array kWays{SlopeBy::marks, SlopeBy::bevel, SlopeBy::saw};

std::size_t fit_last_of(const Project& project, const Frame& frame) {
    return project.wanted.fit_last.value_or(frame.boards.size() - 1);
}

RingErrors errors_of(const Project& project, const Frame& frame, SlopeBy way, const std::vector<BoardNudges>& nudges) {
    return {project, frame, way, boards_as_meant(project, frame, way, nudges)};
}

double off_by(const OpeningOdds& first_order, const Simulation& trials) {
    return first_order.most_mm / trials.widest.quantile(0.95) - 1.0;
}

// What is of second order in the errors falls with them: half the errors, half of it. So trials of errors half as large tell whether
// that is the reason.
void compare(LastJointStudy& study, const Project& project, const Frame& frame, const std::vector<BoardNudges>& nudges) {
    constexpr double kLeastOff = 0.01;
    constexpr std::size_t kRunsOfHalf = 20'000;
    const OpeningOdds& first = study.budget.spread;
    const Simulation& trials = study.simulation;
    study.first_order_off = off_by(first, trials);
    const double noise = 3.0 * (trials.within_error + share_error(first.within, kBuildsOfAdvice));
    study.agrees = std::abs(first.within - trials.within) <= std::max(noise, kLeastOff) && std::abs(study.first_order_off) <= kFirstOrderOff;
    if (study.agrees) return;
    Project half = project;
    for (double* one : {&half.accuracy.mark_mm, &half.accuracy.cut_angle_deg, &half.accuracy.common_angle_deg, &half.accuracy.rule_scale_mm_per_m,
                        &half.accuracy.stop_mm, &half.accuracy.thickness_mm})
        *one *= 0.5;
    const RingErrors errors = errors_of(half, frame, project.tools.slope_by, nudges);
    TrialOptions options;
    options.seed = trials.seed;
    options.runs = kRunsOfHalf;
    const double wanted_mm = project.wanted.gap_mm;
    study.first_order_off_half = off_by(errors.odds({}, wanted_mm, kBuildsOfAdvice), simulate(frame, errors, study.budget.corner, wanted_mm, options));
}

}  // namespace

std::optional<Budget> budget_last_joint(const Project& project, const Frame& frame, const std::vector<BoardNudges>& nudges) {
    if (!frame.closed) return std::nullopt;
    const RingErrors errors = errors_of(project, frame, project.tools.slope_by, nudges);
    if (!errors.ready() || errors.model.inputs.empty()) return std::nullopt;
    Budget budget = budget_of(errors, fit_last_of(project, frame), project.wanted, kBuildsOfPage);
    // Only odds that are told as a number are worth the time of more builds: `boardring closure` beside the page should say nearly the same.
    constexpr double kTold = 0.01;
    constexpr std::size_t kBuildsOfTold = 4 * kBuildsOfPage;
    if (budget.spread.within > kTold && budget.spread.within < 1.0 - kTold) budget.spread = errors.odds({}, project.wanted.gap_mm, kBuildsOfTold);
    return budget;
}

Helps what_helps(const Project& project, const Frame& frame, const std::vector<BoardNudges>& nudges) {
    const double wanted_mm = project.wanted.gap_mm;
    const RingErrors errors = errors_of(project, frame, project.tools.slope_by, nudges);
    ENSURE(errors.ready() && !errors.model.sources.empty());
    Helps helps;
    helps.halved.most_mm = HUGE_VAL;
    for (std::size_t s = 0; s < errors.model.sources.size(); ++s) {
        std::vector<double> factor(errors.model.sources.size(), 1.0);
        factor[s] = 0.5;
        const OpeningOdds odds = errors.odds(factor, wanted_mm, kBuildsOfPage);
        if (odds.most_mm >= helps.halved.most_mm) continue;
        helps.source = errors.model.sources[s];
        helps.halved = odds;
    }
    helps.by_way.within = -1.0;
    for (const SlopeBy way : kWays) {
        const OpeningOdds odds = errors_of(project, frame, way, way == project.tools.slope_by ? nudges : std::vector<BoardNudges>{})
                                     .odds({}, wanted_mm, kBuildsOfPage);
        if (odds.within <= helps.by_way.within) continue;
        helps.way = way;
        helps.by_way = odds;
    }
    return helps;
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
    study.budget = budget_of(errors, fit_last_of(project, frame), project.wanted, kBuildsOfAdvice);
    std::optional<std::pair<std::size_t, std::size_t>> halves;
    if (plan.assembly && plan.assembly->halves)
        halves = {plan.assembly->halves->first_corner, plan.assembly->halves->second_corner};
    study.advice = advise(frame, errors, study.budget, wanted_mm, halves);
    for (std::size_t i = 0; i < kWays.size(); ++i)
        study.ways[i] = {kWays[i], errors_of(project, frame, kWays[i], kWays[i] == project.tools.slope_by ? nudges : std::vector<BoardNudges>{})
                                      .odds({}, wanted_mm, kBuildsOfAdvice)};
    study.simulation = simulate(frame, errors, study.budget.corner, wanted_mm, options);
    compare(study, project, frame, nudges);
    return study;
}

}  // namespace boardring
