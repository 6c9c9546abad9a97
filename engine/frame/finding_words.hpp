#pragma once
#include <cstddef>
#include <string>

#include "base/finding.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

// What the findings about frames have in common: lengths as the maker reads them, and how many of one kind are told.

namespace boardring {

/// Widths nearer than this are one width [mm]: far over the rounding of a length that came through inches.
inline constexpr double kSameMm = 1e-9;
/// Below this turn a difference of width d wants a mark d / sin T away, more than six times d: worth saying.
inline constexpr double kNearlyStraightDeg = 10.0;

/// In the maker's unit, which is named.
std::string with_unit(double mm, const Project& project);
/// Rounded up to the next step of the rule, so that the length shown works as shown; a length on a step but for rounding goes
/// up too.
double up_to_step(double mm, const Project& project);
/// Rounded down to a step of the rule.
double down_to_step(double mm, const Project& project);
/// Half a step of the rule apart, or more.
bool differ(double a_mm, double b_mm, const Project& project);

/// "wide" or "thick": what is measured across a board as it lies.
const char* measure_word(Lie lie);
/// "width" or "thickness".
const char* measure_noun(Lie lie);
/// "AB" of the side that begins at corner k.
std::string side_name(const Outline& outline, std::size_t k);

/// A page of one and the same trouble helps nobody: appends the first twenty, the last of which says how many more `places`
/// there are.
void tell_first(Findings& to, Findings found, const char* places);

}  // namespace boardring
