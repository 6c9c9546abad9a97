#pragma once
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace boardring {

/// What an angle text said.
struct AngleRead {
    double deg = 0.0;
    double half_step_deg = 0.0;  ///< half a unit of the last digit given: "108" -> 0.5, "22.5" -> 0.05, 22°30' -> 0.5/60
};

/// Reads an angle: `108`, `22.5`, `22-1/2`, `22 1/2`, `22½`, `108 deg`, `108°`, `22°30'`, `22° 30' 15"` (primes and curly quotes
/// too), `12 in 5` and `5 in 12` (rise and run: the angle whose tangent is the smaller over the larger), `5/12 pitch`, `45 off 90`.
/// A decimal comma is refused with both readings. Codes `angle.ambiguous`, `angle.not-understood`; empty pointer.
Result<AngleRead> parse_angle(std::string_view text);

/// Degrees with at most `decimals` places, half away from zero, no trailing zeros, never "-0": 22.5, 120, 15.5.
std::string show_angle(double deg, int decimals = 1);

}  // namespace boardring
