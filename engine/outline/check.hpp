#pragma once
#include "base/finding.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

/// Sides that are no length, corners that fold back, corners in one place, sides that cross or touch: errors
/// `outline.zero-side`, `outline.spike`, `outline.repeated-corner`, `outline.crosses`, in the order of the ring within each.
/// At most a few crossings are written out; the last says how many more.
Findings check_shape(const Outline& outline, const Project& project);

}  // namespace boardring
