#pragma once
#include "base/length_text.hpp"

namespace boardring {

/// True for the units of people whose rule shows fractions of an inch: inches, and feet with inches.
inline bool in_inches(Unit unit) { return unit == Unit::inch || unit == Unit::foot; }

}  // namespace boardring
