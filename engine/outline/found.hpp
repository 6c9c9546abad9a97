#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "base/result.hpp"
#include "outline/fitted.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

/// The outline that fits readings found with a tape best. Errors: `fit.too-few`, `fit.not-settled`, `fit.wrong-reading`;
/// warnings: `fit.suspect-reading`, `fit.more-than-one`.
Result<Outline> locate_found(const Project& project);

/// What the boards tell about the slip of reading along another of their lines.
SlipContext slip_context(const Project& project, const Outline& outline);

/// The distance between two points, not read yet, that lowers the mean square of the corners' errors most [found_test]. Nothing where no
/// distance lowers the errors by a tenth, or the network has more than 60 points.
std::optional<NextReading> best_next_reading(const Network& network, const NetworkFit& fit, const FitCovariance& covariance,
                                             double sigma_mm);

// ---- what is said about it (found_words.cpp) ----

Finding too_few_finding(const Project& project, const Network& network, const std::vector<Vec2>& points_mm);
Finding not_settled_finding(const Network& network);
/// At most one: a wrong reading, a suspect one, or more than one.
Findings judgement_findings(const Project& project, const Fitted& fitted);

/// "CD", or "C" for an angle.
std::string observation_name(const Network& network, const Observation& observation);

}  // namespace boardring
