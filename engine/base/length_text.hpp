#pragma once
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace boardring {

/// Unit of a job. Only text knows units: everything inside the engine is millimetres.
enum class Unit { mm, cm, m, inch, foot };

/// How lengths are shown to this maker: in which unit, rounded to which step of their rule.
struct LengthStyle {
    Unit unit = Unit::mm;
    double step_mm = 0.5;  ///< the rule's step; for inch and foot jobs a binary fraction of an inch (25.4/16 ...)
};

/// What a length text said.
struct LengthRead {
    double mm = 0.0;
    double half_step_mm = 0.0;  ///< half a unit of the last digit or fraction given: "900" in mm -> 0.5, "5 1/2 in" -> 6.35
    bool unit_given = false;    ///< the text named its own unit
};

/// Reads a length as people write it: `900`, `90 cm`, `1.2 m`, `5 1/2 in`, `5-1/2"`, `3' 6-3/4"`, `5ft 3 1/2in`, `5-3-1/2`
/// (feet-inches-fraction), `3/4`, unicode fractions and primes (`5′ 3½″`), curly quotes, `5''`. A bare number takes `unit`.
/// Signs: a leading - is read (the caller decides whether it is allowed); a dash between parts joins, it never subtracts.
/// Refused with both readings in the message: `5-3` (5 ft 3 in, or a slip), `1,200` (thousands or decimal comma).
/// Findings carry code `length.ambiguous` or `length.not-understood`, empty pointer (the caller knows the place).
/// Error bound: one rounding of the exact rational value (a few ulp). Never throws on any bytes.
Result<LengthRead> parse_length(std::string_view text, Unit unit);

/// `mm` in the maker's unit, rounded to the step, half away from zero: `413.5`, `16-1/4`, `3' 6-3/4"`... without the unit's
/// name in metric jobs (the page says it once) and for inches; feet jobs show feet and inches with ' and ". Fractions are reduced. Never "-0".
/// `parse_length(show_length(x), unit)` is x within half a step.
std::string show_length(double mm, const LengthStyle& style);

/// The same with the unit's name: `413.5 mm`, `16-1/4 in`, `3' 6-3/4"`. For messages, where the unit must be said.
std::string show_length_unit(double mm, const LengthStyle& style);

/// Small misfits and gaps: in metric jobs two significant digits in mm (`0.07 mm`, `1.4 mm`, `26 mm`); in inch and foot
/// jobs a decimal of an inch with three decimals (`0.003 in`, `1.250 in`). Zero reads `0 mm`.
std::string show_small(double mm, const LengthStyle& style);

/// `mm` rounded to the step, half away from zero, still in mm.
double rounded_to_step(double mm, double step_mm);

/// `value` with `decimals` places, half away from zero, trailing zeros and "-0" removed: 22.50 -> "22.5", -0.001 -> "0".
std::string show_number(double value, int decimals);

/// Name of a unit as people write it: mm, cm, m, in, ft.
std::string_view unit_name(Unit unit);
double unit_in_mm(Unit unit);

}  // namespace boardring
