#pragma once
#include <string>
#include <vector>

#include "plan/buying_plan.hpp"
#include "project/project.hpp"

namespace boardring {

/// What a purchase leaves, as a stock list (boardring-stock-1) that the next project reads by "stock_file": the rests behind the last cuts,
/// and boards that were already there and are not used. Rests are cut down to the step of the rule; what is shorter than `hold_length` is
/// left out. Stock of one name in several sizes gets its size added to the name. Units are the first project's, feet as inches.
/// Round trip: read again, it offers exactly these lengths [write_wood_left_test].
std::string write_wood_left(const Buying& buying, const std::vector<const Project*>& projects);

}  // namespace boardring
