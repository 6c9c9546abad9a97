#pragma once
#include <string>

#include "plan/plan.hpp"

namespace boardring {

/// The plan as JSON (schemas/boardring-plan-1.schema.json), unrounded, with a final newline.
///
/// Keys stand in the order of the schema, all of them always: what a plan does not have is null, a plan that stopped at an error
/// has null from there on. Corners by letter, boards by number, ends as on the papers ("2B"). Numbers are the shortest decimals that read
/// back as the same double; -0 is written 0. Coordinates are as seen: with clockwise letters y is mirrored back (and with it
/// the direction of the misclosure). What fits on a line of 100 characters stands on one line.
/// Same plan, same bytes. A number that is not finite is our bug (BrokenInvariant): JSON has none. Bytes in a text that are not
/// UTF-8 become U+FFFD.
std::string write_plan(const Plan& plan);

}  // namespace boardring
