#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "closure/advice.hpp"
#include "closure/free_ends.hpp"
#include "plan/plan.hpp"

namespace boardring {

/// What errors do to an open chain: what `boardring closure` prints of one.
struct FreeEndsStudy {
    FreeEndsBudget budget;                ///< of the way the project works
    std::array<FreeEndsBudget, 3> ways;   ///< marks, bevel, saw and stop
    FreeEndsTrials trials;
    std::array<double, 2> leave_long_mm{};  ///< by end: so long, trimmed when the rest is joined, it is too short in fewer than 1 of 100 chains
    std::vector<TestRing> tests;            ///< as for rings
};

/// Empty for rings, for plans that stopped early, and where nothing is ever out.
std::optional<FreeEndsStudy> study_free_ends(const Plan& plan, const TrialOptions& options);

}  // namespace boardring
