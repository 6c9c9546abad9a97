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

    /// First order against trials: by how much 95 of 100 differ, as a part of the trials'.
    double first_order_off = 0.0;
    bool agrees = true;                         ///< the odds do within what the trials can tell, and 95 of 100 within kFirstOrderOff
    std::optional<double> first_order_off_half; ///< where they do not: the same with all errors half as large
};

inline constexpr double kFirstOrderOff = 0.1;

/// Empty for open chains, for plans that stopped early, and where all joints slide along one line.
std::optional<LastJointStudy> study_last_joint(const Plan& plan, const TrialOptions& options);

/// What would make a wanted gap likelier: the one source that does most when it is half as large, and the best way of working.
struct Helps {
    ErrorSource source;
    OpeningOdds halved;
    SlopeBy way = SlopeBy::bevel;
    OpeningOdds by_way;
};
/// For rings that have a budget; arguments as there.
Helps what_helps(const Project& project, const Frame& frame, const std::vector<BoardNudges>& nudges);

/// The budget alone, as `plan` shows it.
/// \param frame   unrounded
/// \param nudges  of the rounding that closes
std::optional<Budget> budget_last_joint(const Project& project, const Frame& frame, const std::vector<BoardNudges>& nudges);

}  // namespace boardring
