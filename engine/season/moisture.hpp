#pragma once

namespace boardring {

/// Moisture that wood comes to in air of this temperature and relative humidity, in the long run [% of its dry weight].
///
/// \param temperature_c  [-30, 60]
/// \param humidity_pct   [0, 98]
/// Laws      rises with humidity, falls with temperature above freezing.
/// Accuracy  within 0.055 of the printed table from -1 to 38 C, 5 to 95 % [season_reference_test]
/// Source    Wood Handbook, FPL-GTR-190 (2010), chapter 4, equation 4-5, with the Celsius parameters of FPL-RN-0268 (1998)
double moisture_in_air_pct(double temperature_c, double humidity_pct);

/// Where the coefficients hold: moisture from 6 to 14 %.
inline constexpr double kCoefficientLowPct = 6.0;
inline constexpr double kCoefficientHighPct = 14.0;
/// Above this wood neither swells nor shrinks.
inline constexpr double kFibreSaturationPct = 30.0;

/// By how much a size across the grain changes when the moisture goes from one value to another; + grows.
///
/// dD = D C (to - from) while both are within 6 to 14 %; else dD = D (to - from) / (3000 / S - 30 + from), S the shrinkage from green to
/// dry in per cent, here the one that belongs to C: 3000 / S = 1 / C + 20.
/// \param size_mm      at `from_pct`, > 0
/// \param coefficient  C, change for each 1 % of moisture and unit of size
/// \param from_pct, to_pct  [0, 30]; what is above counts as 30
/// Laws      no change, no movement; its sign is that of to - from; within 6 to 14 % the two forms differ by under 1 % of the movement from
///           10 %.
/// Source    Wood Handbook, FPL-GTR-190 (2010), chapter 13, equations 13-2 and 13-3
double movement_mm(double size_mm, double coefficient, double from_pct, double to_pct);

}  // namespace boardring
