#pragma once
#include <string>

#include "plan/plan.hpp"

namespace boardring {

/// The plan as JSON (schemas/boardring-plan-1.schema.json), unrounded, null for absent, stable key order, one final newline.
/// Same plan, same bytes. Coordinates are as seen: with clockwise letters y is mirrored back.
std::string write_plan(const Plan& plan);

}  // namespace boardring
