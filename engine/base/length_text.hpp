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
    Unit unit = Unit::mm;       ///< in which it was read: its own, the last of several (inches for 3' 6"), or the job's
};

/// Reads a length as people write it.
///
/// \param text  `900`, `90 cm`, `1.2 m`, `1 m 20 cm`, `5 1/2 in`, `5-1/2"`, `63½ inches`, `3' 6-3/4"`, `5'3`, `5ft 3 1/2in`,
///              `5-3-1/2` (feet-inches-fraction), `3/4`, `16³⁄₁₆"`. Unicode fractions, primes (`5′ 3½″`), curly quotes and
///              `5''` are read; so are unit words of any case in the singular and plural. Between feet, inches and fraction
///              stands a space, a dash or nothing: a dash joins, it never subtracts. A leading - or + is a sign (the caller
///              decides whether a negative length is allowed). At most 200 bytes and 100 km.
/// \param unit  what a bare number means
/// Problems  `length.ambiguous`, with both readings in the message: `5-3` (feet and inches, or two numbers), `1,200`
///           (thousands or decimal comma), `1 200`, `5' 14"`, `5/4` (a fraction of 1 or more may lack a space: `161/4`), and
///           a bare fraction unless the job is in inches (`3/4`: inches, or 0.75 mm). `length.not-understood`: all other texts;
///           `63 strong` and `63 shy` say why. One error, empty pointer (the caller knows the place); the text in it is
///           `in_quotes`, so no control characters.
/// Accuracy  one rounding of the exact rational value up to 15 digits in all; 2 ulp past them. Never throws on any bytes [length_text_test]
Result<LengthRead> parse_length(std::string_view text, Unit unit);

/// `mm` in the maker's unit, rounded to the step, a half away from zero: `413.5`, `16-1/4`, `3' 6-3/4"`.
/// Metric and inch jobs: without the unit's name (the page says it once). Feet jobs: feet and inches with ' and ", `3' 0"`,
/// below a foot `3/4"`. Steps of 1, 1/2, 1/4 ... inch show reduced fractions, other steps of an inch decimals (at most 4). Metric
/// steps show the decimals they need, at most a thousandth of a mm. Never "-0".
/// Laws      `parse_length(show_length(x), unit)` is x within half a step (and half a unit of a capped decimal)
/// Edge      a half is a half when it is one within 1e-7 of a step: equal boards computed two ways, 1e-13 apart, read alike
/// Accuracy  [length_show_test]
std::string show_length(double mm, const LengthStyle& style);

/// The same with the unit's name: `413.5 mm`, `16-1/4 in`, `3' 6-3/4"`. For messages, where the unit must be said.
std::string show_length_unit(double mm, const LengthStyle& style);

/// Small misfits and gaps: in metric jobs mm to two significant digits, never finer than 0.01 nor coarser than 1
/// (`0.07 mm`, `1.4 mm`, `26 mm`, `413 mm`); in inch and foot jobs inches, to 1/64 under 1/8, to 1/32 under 1/2, else to 1/16
/// (`3/64 in`, `1-1/4 in`), and thousandths below 1/64 (`0.003 in`). Zero, and anything below a millionth of a mm
/// (floating-point dust), reads `0 mm` or `0 in`; what is left but too small to write reads `under 0.01 mm` or
/// `under 0.001 in`.
std::string show_small(double mm, const LengthStyle& style);

/// `mm` rounded to the step as show_length does, still in mm; never -0.
double rounded_to_step(double mm, double step_mm);

/// `value` with `decimals` places, half away from zero, trailing zeros and "-0" removed: 22.50 -> "22.5", -0.001 -> "0".
std::string show_number(double value, int decimals);

/// Name of a unit as people write it: mm, cm, m, in, ft.
std::string_view unit_name(Unit unit);
double unit_in_mm(Unit unit);

}  // namespace boardring
