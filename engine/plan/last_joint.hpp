#pragma once
#include <array>
#include <optional>

#include "closure/advice.hpp"
#include "closure/budget.hpp"
#include "closure/simulate.hpp"
#include "plan/plan.hpp"

namespace boardring {

/// The whole story of the last joint: what `boardring closure` prints.
struct LastJointStudy {
    struct Way {
        SlopeBy way = SlopeBy::bevel;
        OpeningOdds odds;
    };
    Budget budget;         ///< of the way the project works
    Advice advice;
    std::array<Way, 3> ways;  ///< marks, bevel, saw and stop, to first order
    Simulation simulation;
};

/// Empty for open chains, for plans that stopped early, and where all joints slide along one line.
std::optional<LastJointStudy> study_last_joint(const Plan& plan, const TrialOptions& options);

/// The budget alone, as `plan` shows it.
/// \param frame   unrounded
/// \param nudges  of the rounding that closes
std::optional<Budget> budget_last_joint(const Project& project, const Frame& frame, const std::vector<BoardNudges>& nudges);

}  // namespace boardring
