#pragma once
#include <optional>

#include "plan/plan.hpp"

namespace boardring {

/// The boards of both answers to a crooked opening, with the margins asked; nothing where the outline has no such question.
std::optional<HungBothWays> hang_both_ways(const Project& project, const Outline& outline);

}  // namespace boardring
