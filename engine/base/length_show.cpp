#include <algorithm>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "base/ensure.hpp"
#include "base/inch_units.hpp"
#include "base/length_text.hpp"

// How lengths are shown: rounded to the rule's step, in the maker's unit.

namespace boardring {
namespace {

constexpr double kInch_mm = 25.4;

// A half counts as a half when it is one within this share of a step: equal boards computed two ways, 1e-13 apart, read alike.
constexpr double kHalfSlack = 1e-7;

double rounded_count(double value, double step) {
    const double count = value / step;
    return std::copysign(std::floor(std::abs(count) + 0.5 + kHalfSlack), count);
}

// Whole number n with 1/n = step, or 0.
double parts_of_one(double step) {
    const double n = std::round(1.0 / step);
    return n >= 1.0 && std::abs(n * step - 1.0) < 1e-9 ? n : 0.0;
}

double power_of_ten(int exponent) {
    double power = 1.0;
    for (int k = 0; k < exponent; ++k) power *= 10.0;
    return power;
}

// Fewest decimals that write a multiple of `step` exactly, at most `most`.
int decimals_for(double step, int most) {
    for (int decimals = 0; decimals < most; ++decimals) {
        const double scaled = step * power_of_ten(decimals);
        if (std::abs(scaled - std::round(scaled)) < 1e-9 * scaled) return decimals;
    }
    return most;
}

// A step that is 1, 1/2, 1/4 ... 1/1024 inch or whole inches is shown as a fraction; others of an inch as decimals.
bool is_binary_part(double n) {
    for (double power = 1.0; power <= 1024.0; power *= 2.0) {
        if (n == power) return true;
    }
    return false;
}

// Inches as 16-1/4, 3/4, 16, 0; `count` steps of 1/n inch, not negative.
std::string fraction_text(double count, double n) {
    double whole = std::floor(count / n);
    double num = count - whole * n;
    double den = n;
    if (num == 0.0) return fmt::format("{:.0f}", whole);
    while (std::fmod(num, 2.0) == 0.0) {
        num /= 2.0;
        den /= 2.0;
    }
    return whole == 0.0 ? fmt::format("{:.0f}/{:.0f}", num, den) : fmt::format("{:.0f}-{:.0f}/{:.0f}", whole, num, den);
}

// A length in inches, not negative, split into what the two inch styles show.
struct Inches {
    double feet = 0.0;
    std::string rest;  // inches, with or without the feet taken off
};

Inches split_inches(double mm, double step_mm, bool take_feet) {
    const double step_in = step_mm / kInch_mm;
    const double count = rounded_count(mm, step_mm);
    const double whole_step = std::round(step_in);
    Inches shown;
    double n = parts_of_one(step_in);
    double pieces = count;
    if (whole_step >= 1.0 && std::abs(step_in - whole_step) < 1e-9) {
        n = 1.0;
        pieces = count * whole_step;
    }
    if (is_binary_part(n)) {
        if (take_feet) shown.feet = std::floor(pieces / (12.0 * n));
        shown.rest = fraction_text(pieces - shown.feet * 12.0 * n, n);
        return shown;
    }
    const int decimals = decimals_for(step_in, 4);
    const double scale = power_of_ten(decimals);
    const double units = rounded_count(count * step_in, 1.0 / scale);
    if (take_feet) shown.feet = std::floor(units / (12.0 * scale));
    shown.rest = show_number((units - shown.feet * 12.0 * scale) / scale, decimals);
    return shown;
}

std::string inch_text(double mm, double step_mm) {
    return split_inches(mm, step_mm, false).rest;
}

std::string foot_text(double mm, double step_mm) {
    const Inches shown = split_inches(mm, step_mm, true);
    return shown.feet > 0.0 ? fmt::format("{:.0f}' {}\"", shown.feet, shown.rest) : fmt::format("{}\"", shown.rest);
}

}  // namespace

double rounded_to_step(double mm, double step_mm) {
    ENSURE(std::isfinite(mm) && std::isfinite(step_mm) && step_mm > 0.0);
    const double count = rounded_count(mm, step_mm);
    if (count == 0.0) return 0.0;
    // 3/10 is nearer to 0.3 than 3 times 0.1 is.
    const double n = parts_of_one(step_mm);
    return n > 0.0 ? count / n : count * step_mm;
}

std::string show_number(double value, int decimals) {
    ENSURE(std::isfinite(value) && decimals >= 0);
    const double scale = power_of_ten(decimals);
    const double count = rounded_count(value, 1.0 / scale);
    std::string shown = fmt::format("{:.{}f}", count == 0.0 ? 0.0 : count / scale, decimals);
    if (decimals > 0) {
        shown.erase(shown.find_last_not_of('0') + 1);
        if (shown.back() == '.') shown.pop_back();
    }
    return shown;
}

std::string show_length(double mm, const LengthStyle& style) {
    const double rounded = rounded_to_step(mm, style.step_mm);
    if (!in_inches(style.unit)) {
        // Past the thousandth of a millimetre no rule goes, whatever the step.
        const double one = unit_in_mm(style.unit);
        const int most = style.unit == Unit::mm ? 3 : style.unit == Unit::cm ? 4 : 6;
        return show_number(rounded / one, decimals_for(style.step_mm / one, most));
    }
    const std::string shown =
        style.unit == Unit::inch ? inch_text(std::abs(mm), style.step_mm) : foot_text(std::abs(mm), style.step_mm);
    return rounded < 0.0 ? '-' + shown : shown;
}

std::string show_length_unit(double mm, const LengthStyle& style) {
    const std::string shown = show_length(mm, style);
    return style.unit == Unit::foot ? shown : fmt::format("{} {}", shown, unit_name(style.unit));
}

std::string show_small(double mm, const LengthStyle& style) {
    ENSURE(std::isfinite(mm));
    // Floating-point dust of exact arithmetic is nothing; a misfit too small to write is said to be one.
    constexpr double kNothing_mm = 1e-6;
    const double size = std::abs(mm);
    if (size < kNothing_mm) return in_inches(style.unit) ? "0 in" : "0 mm";
    if (in_inches(style.unit)) {
        const double inches = size / kInch_mm;
        if (inches >= 1.0 / 64.0) return show_length_unit(mm, {Unit::inch, kInch_mm / (inches < 0.125 ? 64.0 : inches < 0.5 ? 32.0 : 16.0)});
        const double thousandths = rounded_count(mm / kInch_mm, 0.001);
        return thousandths == 0.0 ? "under 0.001 in" : fmt::format("{:.3f} in", thousandths / 1000.0);
    }
    const std::string shown = show_number(mm, size >= 9.95 ? 0 : size >= 0.995 ? 1 : 2);
    return shown == "0" ? "under 0.01 mm" : shown + " mm";
}

}  // namespace boardring
