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

/// Reads an angle as people write it.
///
/// \param text  degrees: `108`, `22.5`, `22-1/2`, `22 1/2`, `22½`, `108 deg`, `108°`; degrees, minutes and seconds: `22°30'`,
///              `22° 30' 15"` (primes and curly quotes too); slopes: `12 in 5` and `5 in 12` (the angle whose tangent is the
///              smaller over the larger), `5/12 pitch`, `2 %` (rise over run); `15 off 90` (90 less 15). A leading sign is read.
///              At most one whole turn, 200 bytes.
/// Problems  `angle.ambiguous`, with both readings in the message: `22,5` (decimal comma or two numbers), `22-30` (degrees and
///           minutes or two angles), `1/4 pitch` (rise over run or, in older books, over the whole span: only twelfths are
///           plain), `45/2`. `angle.not-understood`: all other texts. One error, empty pointer.
/// Accuracy  as the length texts; slopes within 2 ulp. Never throws on any bytes [angle_text_test]
Result<AngleRead> parse_angle(std::string_view text);

/// Degrees with at most `decimals` places, half away from zero, no trailing zeros, never "-0": 22.5, 120, 15.5.
std::string show_angle(double deg, int decimals = 1);

}  // namespace boardring
