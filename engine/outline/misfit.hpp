#pragma once
#include "base/finding.hpp"
#include "outline/adjust.hpp"
#include "outline/notebook.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

// What is said about readings that do not fit each other. Tone and order: the verdict, what would mend it, how to be sure.

/// True if one wrong side explains the misfit better than one wrong corner does: the angle sum is then out by no more than
/// careful reading, and the sides are what to speak of.
bool sides_are_to_blame(const Notebook& book, const Project& project);

/// Error `outline.angle-sum`: the difference, the corner it very likely is (or those it could be), the slip, the diagonal that
/// decides.
Finding angle_sum_finding(const Notebook& book, const Project& project);

/// Error `outline.misclosure`: how far and which way the sides miss, which single side would close it, ties, the slip.
Finding misclosure_finding(const Notebook& book, const Project& project, const Misclosure& miss);

/// Notes `outline.angle-sum-spread` and `outline.misclosure-spread`: what was added to what.
Findings spread_findings(const Notebook& book, const Project& project, const Misclosure& miss, const Spread& spread);

/// `outline.diagonal` for every diagonal that the outline does not hold within its own digits: a note while the digits of
/// the sides and corners it hangs on can explain it, else an error.
Findings diagonal_findings(const Notebook& book, const Project& project, const Outline& outline);

}  // namespace boardring
