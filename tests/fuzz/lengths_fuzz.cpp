// Any text as a length and as an angle: refused with words, or a number that reads the same when it is shown and read again.
#include <cmath>
#include <string>

#include "base/angle_text.hpp"
#include "base/length_text.hpp"
#include "fuzz/driver.hpp"

using namespace boardring;
using boardring_test::must;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    constexpr Unit kUnits[] = {Unit::mm, Unit::cm, Unit::m, Unit::inch, Unit::foot};
    constexpr double kMetricSteps[] = {0.1, 0.5, 1.0};
    constexpr double kInchSteps[] = {25.4 / 64, 25.4 / 16, 25.4 / 8};
    const Unit unit = kUnits[data[0] % 5];
    const std::size_t step = data[0] / 5 % 3;
    const LengthStyle style{unit, unit == Unit::inch || unit == Unit::foot ? kInchSteps[step] : kMetricSteps[step]};
    const std::string_view text = boardring_test::text_of(data + 1, size - 1);
    if (const Result<LengthRead> read = parse_length(text, unit); read.ok()) {
        const double mm = read.value().mm;
        must(std::isfinite(mm), "a length is finite");
        const std::string shown = show_length(mm, style);
        const Result<LengthRead> again = parse_length(shown, unit);
        must(again.ok(), "what is shown is read: " + shown);
        // Half a step; in m and cm jobs a step may be finer than the digits shown.
        const double digits = unit == Unit::m ? 0.5e-3 : unit == Unit::cm ? 0.5e-3 : unit == Unit::mm ? 0.5e-3 : 25.4 * 0.5e-4;
        must(std::abs(again.value().mm - mm) <= 0.5 * style.step_mm * (1.0 + 1e-6) + digits + 1e-12 * std::abs(mm), "what is shown is the length: " + shown);
    } else {
        must(!read.findings().empty(), "a length that is refused has a finding");
    }
    if (const auto read = parse_angle(text); read.ok()) {
        must(std::isfinite(read.value().deg), "an angle is finite");
    } else {
        must(!read.findings().empty(), "an angle that is refused has a finding");
    }
    return 0;
}
