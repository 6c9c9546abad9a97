#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/ensure.hpp"
#include "base/length_text.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

constexpr double kInch = 25.4;

const LengthStyle kMm{Unit::mm, 0.5};
const LengthStyle kSixteenths{Unit::inch, kInch / 16};
const LengthStyle kFeet{Unit::foot, kInch / 16};

}  // namespace

TEST_CASE("metric lengths show as many decimals as their step needs and no more") {
    CHECK(show_length(413.3812, {Unit::mm, 0.5}) == "413.5");
    CHECK(show_length(413.25, {Unit::mm, 0.5}) == "413.5");
    CHECK(show_length(413.24, {Unit::mm, 0.5}) == "413");
    CHECK(show_length(413.3812, {Unit::mm, 1}) == "413");
    CHECK(show_length(413.3812, {Unit::mm, 0.1}) == "413.4");
    CHECK(show_length(413.3812, {Unit::mm, 0.25}) == "413.5");
    CHECK(show_length(413.3, {Unit::mm, 0.25}) == "413.25");
    CHECK(show_length(413.3812, {Unit::mm, 5}) == "415");
    CHECK(show_length(413.3812, {Unit::mm, 0.0625}) == "413.375");
    CHECK(show_length(413.3812, {Unit::cm, 0.5}) == "41.35");
    CHECK(show_length(413.3812, {Unit::cm, 1}) == "41.3");
    CHECK(show_length(413.3812, {Unit::m, 0.5}) == "0.4135");
    CHECK(show_length(1000, {Unit::m, 1}) == "1");
    CHECK(show_length(-413.25, {Unit::mm, 0.5}) == "-413.5");
    CHECK(show_length_unit(413.3812, {Unit::mm, 0.5}) == "413.5 mm");
    CHECK(show_length_unit(413.3812, {Unit::cm, 1}) == "41.3 cm");
    CHECK(show_length_unit(413.3812, {Unit::m, 1}) == "0.413 m");
}

TEST_CASE("inch lengths show reduced fractions") {
    const std::vector<std::pair<double, std::string>> table{
        {16.25, "16-1/4"}, {0.75, "3/4"}, {0.0625, "1/16"}, {16, "16"},          {0, "0"},        {16.499, "16-1/2"},
        {16.99, "17"},     {0.03, "0"},   {0.04, "1/16"},   {-16.25, "-16-1/4"}, {-0.75, "-3/4"}, {120.9375, "120-15/16"}};
    for (const auto& [inches, shown] : table) {
        CAPTURE(inches);
        CHECK(show_length(inches * kInch, kSixteenths) == shown);
        CHECK(show_length_unit(inches * kInch, kSixteenths) == shown + " in");
    }
    CHECK(show_length(10.096 * kInch, {Unit::inch, kInch / 8}) == "10-1/8");
    CHECK(show_length(10.096 * kInch, {Unit::inch, kInch / 32}) == "10-3/32");
    CHECK(show_length(10.096 * kInch, {Unit::inch, kInch}) == "10");
    CHECK(show_length(11.1 * kInch, {Unit::inch, 2 * kInch}) == "12");
    CHECK(show_length(10.096 * kInch, {Unit::inch, kInch / 100}) == "10.1");
    CHECK(show_length(10.096 * kInch, {Unit::inch, kInch / 1000}) == "10.096");
}

TEST_CASE("feet jobs show feet and inches") {
    CHECK(show_length((3 * 12 + 6.75) * kInch, kFeet) == "3' 6-3/4\"");
    CHECK(show_length_unit((3 * 12 + 6.75) * kInch, kFeet) == "3' 6-3/4\"");
    CHECK(show_length(36 * kInch, kFeet) == "3' 0\"");
    CHECK(show_length(36.5 * kInch, kFeet) == "3' 1/2\"");
    CHECK(show_length(11.99 * kInch, kFeet) == "1' 0\"");
    CHECK(show_length(0.75 * kInch, kFeet) == "3/4\"");
    CHECK(show_length(0, kFeet) == "0\"");
    CHECK(show_length(-42.75 * kInch, kFeet) == "-3' 6-3/4\"");
    CHECK(show_length(42.75 * kInch, {Unit::foot, kInch / 100}) == "3' 6.75\"");
    CHECK(show_length(47.999 * kInch, {Unit::foot, kInch / 100}) == "4' 0\"");
}

TEST_CASE("nothing is ever shown as minus nothing") {
    for (const Unit unit : {Unit::mm, Unit::cm, Unit::m, Unit::inch, Unit::foot}) {
        const LengthStyle style{unit, unit == Unit::inch || unit == Unit::foot ? kInch / 16 : 0.5};
        for (const double x : {-0.0, -1e-300, -0.01, -0.2}) {
            CHECK(show_length(x, style) == show_length(0.0, style));
            CHECK_FALSE(std::signbit(rounded_to_step(x, 0.5)));
        }
    }
    CHECK(show_number(-0.001, 2) == "0");
    CHECK(show_number(-0.0, 0) == "0");
}

TEST_CASE("numbers round half away from zero as written, not as stored") {
    CHECK(show_number(22.5, 0) == "23");
    CHECK(show_number(-22.5, 0) == "-23");
    CHECK(show_number(0.25, 1) == "0.3");
    CHECK(show_number(1.005, 2) == "1.01");  // stored as 1.00499999999999989
    CHECK(show_number(0.35, 1) == "0.4");    // 0.35 / 0.1 is 3.4999999999999996
    CHECK(show_number(2.675, 2) == "2.68");
    CHECK(show_number(22.50, 2) == "22.5");
    CHECK(show_number(100, 0) == "100");
    CHECK(show_number(100, 2) == "100");
    CHECK(show_number(0.1 + 0.2, 6) == "0.3");
    CHECK(show_number(1e8, 3) == "100000000");
    CHECK(rounded_to_step(0.35, 0.1) == 0.4);
    CHECK(rounded_to_step(0.3, 0.1) == 0.3);
    CHECK(rounded_to_step(413.25, 0.5) == 413.5);
    CHECK(rounded_to_step(-413.25, 0.5) == -413.5);
    CHECK(rounded_to_step(10, 4) == 12);
    CHECK(rounded_to_step(412.75, kInch / 16) == 412.75);
}

TEST_CASE("boards that are equal but computed two ways read alike") {
    // Halves of a step, off by what a long chain of sums leaves.
    for (const double half : {413.25, 369.75, 1200.25}) {
        for (const double dust : {-2e-12, -3e-13, 0.0, 3e-13, 2e-12}) {
            CHECK(show_length(half + dust, kMm) == show_length(half, kMm));
        }
    }
    CHECK(show_length(413.25 - 1e-6, kMm) == "413");
}

TEST_CASE("small misfits show two digits in mm and binary parts of an inch, thousandths only below 1/64") {
    CHECK(show_small(0.07, kMm) == "0.07 mm");
    CHECK(show_small(0.712, kMm) == "0.71 mm");
    CHECK(show_small(1.4, kMm) == "1.4 mm");
    CHECK(show_small(0.996, kMm) == "1 mm");
    CHECK(show_small(9.94, kMm) == "9.9 mm");
    CHECK(show_small(9.96, kMm) == "10 mm");
    CHECK(show_small(10.2, kMm) == "10 mm");
    CHECK(show_small(26.1, kMm) == "26 mm");
    CHECK(show_small(413.4, kMm) == "413 mm");
    CHECK(show_small(-0.07, kMm) == "-0.07 mm");
    CHECK(show_small(0.0, kMm) == "0 mm");
    CHECK(show_small(1e-12, kMm) == "0 mm");
    CHECK(show_small(0.003, kMm) == "under 0.01 mm");
    CHECK(show_small(-0.003, {Unit::cm, 1}) == "under 0.01 mm");
    CHECK(show_small(0.07, kSixteenths) == "0.003 in");
    CHECK(show_small(0.39, kSixteenths) == "0.015 in");
    CHECK(show_small(kInch / 64.0, kSixteenths) == "1/64 in");
    CHECK(show_small(0.051 * kInch, kSixteenths) == "3/64 in");
    CHECK(show_small(0.124 * kInch, kSixteenths) == "1/8 in");
    CHECK(show_small(0.16 * kInch, kSixteenths) == "5/32 in");
    CHECK(show_small(0.445 * kInch, kSixteenths) == "7/16 in");
    CHECK(show_small(0.6 * kInch, kSixteenths) == "5/8 in");
    CHECK(show_small(31.75, kSixteenths) == "1-1/4 in");
    CHECK(show_small(31.75, kFeet) == "1-1/4 in");
    CHECK(show_small(-31.75, kFeet) == "-1-1/4 in");
    CHECK(show_small(-0.07, kFeet) == "-0.003 in");
    CHECK(show_small(0.0, kFeet) == "0 in");
    CHECK(show_small(0.01, kFeet) == "under 0.001 in");
}

TEST_CASE("units have their names and their size by law") {
    // International yard and pound agreement of 1959: 1 yd = 0.9144 m exactly, so 1 in = 25.4 mm.
    CHECK(unit_in_mm(Unit::mm) == 1.0);
    CHECK(unit_in_mm(Unit::cm) == 10.0);
    CHECK(unit_in_mm(Unit::m) == 1000.0);
    CHECK(unit_in_mm(Unit::inch) == 25.4);
    CHECK(unit_in_mm(Unit::foot) == 304.8);
    CHECK(unit_name(Unit::mm) == "mm");
    CHECK(unit_name(Unit::cm) == "cm");
    CHECK(unit_name(Unit::m) == "m");
    CHECK(unit_name(Unit::inch) == "in");
    CHECK(unit_name(Unit::foot) == "ft");
}

TEST_CASE("what cannot be a length is our bug, not a text") {
    CHECK_THROWS_AS(show_length(std::nan(""), kMm), BrokenInvariant);
    CHECK_THROWS_AS(show_length(1.0, LengthStyle{Unit::mm, 0.0}), BrokenInvariant);
    CHECK_THROWS_AS(show_small(std::numeric_limits<double>::infinity(), kMm), BrokenInvariant);
}

TEST_CASE("what is shown reads back within half a step, in every unit and step") {
    const std::array<double, 9> metric{10, 5, 2, 1, 0.5, 0.25, 0.2, 0.1, 0.01};
    // 1/1024 is the finest fraction that is shown: once it was shown and could not be read.
    const std::array<double, 10> inch{2, 1, 0.5, 0.25, 0.125, 0.0625, 0.03125, 0.015625, 0.01, 1.0 / 1024.0};
    boardring_test::Random random(42);
    double worst = 0.0;
    for (std::size_t k = 0; k < boardring_test::cases(200000, 1000000); ++k) {
        const Unit unit = std::array{Unit::mm, Unit::cm, Unit::m, Unit::inch, Unit::foot}[k % 5];
        const bool is_inch = unit == Unit::inch || unit == Unit::foot;
        const double step = is_inch ? inch[random.index(inch.size())] * kInch : metric[random.index(metric.size())];
        double x = random.log_between(1e-3, 1e6);
        if (random.chance(0.3)) x = step * (0.5 * std::floor(x / step) + 0.25 * static_cast<double>(random.index(3)));
        if (random.chance(0.2)) x = -x;
        const LengthStyle style{unit, step};
        const std::string shown = show_length(x, style);
        // A fraction of an inch says its unit by the job only in inch jobs; feet jobs carry their marks.
        for (const std::string& text : {shown, show_length_unit(x, style)}) {
            const Result<LengthRead> read = parse_length(text, unit);
            if (!read.ok()) {
                FAIL_CHECK(text << " from " << x << ": " << read.findings()[0].message);
                continue;
            }
            const double off = std::abs(read.value().mm - x) / step;
            worst = std::max(worst, off);
            // Half a step, the slack of a half (1e-7) and the rounding of x/step itself.
            if (off > 0.5 + 1.01e-7 + 1e-15 * std::abs(x) / step)
                FAIL_CHECK(text << " from " << fmt::format("{:.17g}", x) << " step " << step);
            const double rounded = rounded_to_step(x, step);
            if (std::abs(read.value().mm - rounded) > 1e-9 * std::max(1.0, std::abs(x)))
                FAIL_CHECK(text << " is not " << rounded);
        }
        // Showing again what was read changes nothing.
        const Result<LengthRead> again = parse_length(shown, unit);
        if (again.ok() && show_length(again.value().mm, style) != shown) FAIL_CHECK(shown);
    }
    // Values were drawn on both sides of a half, so the bound is reached: the test can tell 0.5 from 0.6.
    CHECK(worst > 0.4999);
}

TEST_CASE("fractions shown are in lowest terms with a power of two below") {
    boardring_test::Random random(43);
    for (int k = 0; k < 20000; ++k) {
        const std::string shown = show_length(random.between(0.0, 3000.0), {Unit::inch, kInch / 64});
        const std::size_t slash = shown.find('/');
        if (slash == std::string::npos) continue;
        const std::size_t dash = shown.find('-');
        const int num = std::stoi(shown.substr(dash == std::string::npos ? 0 : dash + 1));
        const int den = std::stoi(shown.substr(slash + 1));
        const bool lowest = num % 2 == 1 && num < den && den <= 64 && (den & (den - 1)) == 0;
        if (!lowest) FAIL_CHECK(shown);
    }
}
