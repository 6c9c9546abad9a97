#include "base/angle_text.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

void check_read(const std::string& text, double deg, double half_step_deg) {
    CAPTURE(text);
    const Result<AngleRead> read = parse_angle(text);
    if (!read.ok()) FAIL_CHECK(read.findings()[0].message);
    REQUIRE(read.ok());
    CHECK(read.findings().empty());
    CHECK_THAT(read.value().deg, WithinAbs(deg, 4e-16 * std::abs(deg)));
    CHECK_THAT(read.value().half_step_deg, WithinAbs(half_step_deg, 1e-12));
}

void check_refused(const std::string& text, const std::string& code, const std::vector<std::string>& parts) {
    CAPTURE(text);
    const Result<AngleRead> read = parse_angle(text);
    REQUIRE_FALSE(read.ok());
    REQUIRE(read.findings().size() == 1);
    const Finding& f = read.findings()[0];
    CHECK(f.severity == Severity::error);
    CHECK(f.code == code);
    CHECK(f.pointer.empty());
    CHECK((f.message.back() == '.' && f.fix.back() == '.'));
    for (const std::string& part : parts) CHECK_THAT(f.message + " | " + f.fix, ContainsSubstring(part));
}

}  // namespace

TEST_CASE("degrees are read bare, with a sign or with a word") {
    for (const std::string text :
         {"108", "108°", "108 °", "108º", "108 deg", "108deg.", "108 degrees", "108 Degree", " 108 ", "+108"})
        check_read(text, 108, 0.5);
    for (const std::string text : {"22-1/2", "22 1/2", "22½", "22½°", "22 ½ deg", "22-½", "22 1⁄2°"})
        check_read(text, 22.5, 0.25);
    check_read("22.5", 22.5, 0.05);
    check_read("22.50", 22.5, 0.005);
    check_read("22.5°", 22.5, 0.05);
    check_read("1/4", 0.25, 0.125);
    check_read("0", 0, 0.5);
    check_read("-22.5", -22.5, 0.05);
    check_read("\u221222½", -22.5, 0.25);
    check_read("360", 360, 0.5);
}

TEST_CASE("degrees, minutes and seconds are read with any marks") {
    for (const std::string text : {"22°30'", "22° 30'", "22° 30′", "22º30’", "22 deg 30'"}) check_read(text, 22.5, 0.5 / 60);
    for (const std::string text : {"22°30'15\"", "22° 30' 15\"", "22° 30′ 15″", "22°30’15”", "22°30'15''"}) {
        check_read(text, 22.0 + 30.0 / 60 + 15.0 / 3600, 0.5 / 3600);
    }
    check_read("22°30.5'", 22.0 + 30.5 / 60, 0.05 / 60);
    check_read("22°30'15.5\"", 22.0 + 30.0 / 60 + 15.5 / 3600, 0.05 / 3600);
    check_read("22°7½'", 22.125, 0.25 / 60);
    check_read("0°0'36\"", 0.01, 0.5 / 3600);
    check_read("-22°30'", -22.5, 0.5 / 60);
}

TEST_CASE("a rise in a run is the angle whose tangent is the smaller over the larger") {
    // 5-12-13: the angle is also asin(5/13).
    const double five_in_twelve = std::asin(5.0 / 13.0) * 180.0 / std::acos(-1.0);
    const double half = 0.5 * (12.0 + 5.0) / 169.0 * 180.0 / std::acos(-1.0);
    for (const std::string text : {"5 in 12", "12 in 5", "5in12", "5 IN 12", "5/12 pitch", "5⁄12 Pitch"}) {
        CAPTURE(text);
        const Result<AngleRead> read = parse_angle(text);
        REQUIRE(read.ok());
        CHECK_THAT(read.value().deg, WithinAbs(five_in_twelve, 1e-14));
        CHECK_THAT(read.value().half_step_deg, WithinAbs(half, 1e-12));
    }
    REQUIRE(parse_angle("12 in 12").ok());
    CHECK(parse_angle("12 in 12").value().deg == 45.0);
    CHECK(parse_angle("12/12 pitch").value().deg == 45.0);
    CHECK(parse_angle("0 in 12").value().deg == 0.0);
    // tan 30 is 0.5773503; 0.000017 less of it over 1 + tan^2 = 4/3 is 0.00073 degrees.
    CHECK_THAT(parse_angle("173.2 in 300").value().deg, WithinAbs(29.99927, 1e-5));
    CHECK_THAT(parse_angle("-5 in 12").value().deg, WithinAbs(-five_in_twelve, 1e-14));
    CHECK_THAT(parse_angle("2 %").value().deg, WithinAbs(1.1457628381751, 1e-12));
    CHECK_THAT(parse_angle("2% slope").value().deg, WithinAbs(1.1457628381751, 1e-12));
    CHECK_THAT(parse_angle("100 percent").value().deg, WithinAbs(45.0, 1e-13));
    // Half a unit of the last digit moves the angle by what is said: compare with the angles at both ends.
    const AngleRead read = parse_angle("82 in 300").value();
    const double most = std::atan2(82.5, 299.5) * 180.0 / std::acos(-1.0) - read.deg;
    CHECK_THAT(read.half_step_deg, WithinAbs(most, 0.002));
}

TEST_CASE("so many off another angle is what is left of it") {
    check_read("45 off 90", 45, 0.5);
    check_read("22.5 off 90", 67.5, 0.05);
    check_read("15 off 180", 165, 0.5);
    check_read("90 off 90", 0, 0.5);
    check_refused("95 off 90", "angle.not-understood", {"more off than the 90"});
}

TEST_CASE("angles with two readings are refused and both are said") {
    const std::string code = "angle.ambiguous";
    check_refused("22,5", code, {"22.5 degrees", "two numbers, 22 and 5"});
    check_refused("22,5°", code, {"22.5 degrees"});
    check_refused("22-30", code, {"22°30' (22.5 degrees)", "two numbers, 22 and 30"});
    check_refused("22 30", code, {"22°30'", "two numbers"});
    check_refused("1/4 pitch", code, {"14.04 degrees", "26.57 degrees", "3 in 12", "6 in 12"});
    check_refused("45/2", code, {"22.5 degrees", "slip"});
}

TEST_CASE("text that is no angle is refused with what to write instead") {
    const std::string code = "angle.not-understood";
    check_refused("", code, {"There is no angle here", "22.5"});
    check_refused("400", code, {"whole turn of 360"});
    check_refused("22°30", code, {"no minute mark"});
    check_refused("22°75'", code, {"75 minutes", "60"});
    check_refused("22°30'75\"", code, {"75 seconds", "60"});
    check_refused("22.5°30'", code, {"not whole"});
    check_refused("100 108", code, {"two numbers"});
    check_refused("15/12 pitch", code, {"steeper than 45"});
    check_refused("0 in 0", code, {"run is 0"});
    check_refused(std::string(201, '1'), code, {"201 bytes"});
    for (const std::string text : {"abc",   "deg",           "°",
                                   "--5",   "5 rad",         "5 in",
                                   "in 12", "5 in 12 in",    "5 off",
                                   "pitch", "5 pitch",       "22°30'15",
                                   "22°'",  "1:8",           "nan",
                                   "inf",   "1e2",           "22° 30.5' 15\"",
                                   "½½",    "5%%",           "90 degrees off",
                                   "1/0",   "5 in 12 pitch", "22,5,3",
                                   ",5",    "square"}) {
        check_refused(text, code, {});
    }
}

TEST_CASE("shown angles have at most the decimals asked for and no trailing zeros") {
    CHECK(show_angle(22.5) == "22.5");
    CHECK(show_angle(120.0) == "120");
    CHECK(show_angle(15.549) == "15.5");
    CHECK(show_angle(15.55) == "15.6");
    CHECK(show_angle(-0.04) == "0");
    CHECK(show_angle(-15.55) == "-15.6");
    CHECK(show_angle(11.3547, 3) == "11.355");
    CHECK(show_angle(44.96, 0) == "45");
}

TEST_CASE("shown angles read back within half a unit of the last decimal") {
    boardring_test::Random random(11);
    for (std::size_t k = 0; k < boardring_test::cases(50000, 500000); ++k) {
        const double deg = random.between(-360.0, 360.0);
        const int decimals = static_cast<int>(random.index(7));
        const Result<AngleRead> read = parse_angle(show_angle(deg, decimals));
        const double half = 0.5 * std::pow(10.0, -decimals);
        if (!read.ok() || std::abs(read.value().deg - deg) > half * (1.0 + 3e-7) + 1e-13) FAIL_CHECK(deg << " with " << decimals);
    }
}

TEST_CASE("degrees, minutes and seconds are the exact value rounded once") {
    boardring_test::Random random(12);
    for (std::size_t k = 0; k < boardring_test::cases(50000, 500000); ++k) {
        const auto d = random.index(360);
        const auto m = random.index(60);
        const auto s = random.index(60);
        const double exact = static_cast<double>((d * 60 + m) * 60 + s) / 3600.0;
        const Result<AngleRead> read = parse_angle(fmt::format("{}°{}'{}\"", d, m, s));
        if (!read.ok() || read.value().deg != exact) FAIL_CHECK(d << ' ' << m << ' ' << s);
    }
}

TEST_CASE("minutes and seconds with a part, and what is taken off 90, are rounded once") {
    // Rounded at every step, one text in four came out one double off; what is nearly all taken off lost digits by the thousand.
    const auto reads = [](const std::string& text, double deg) {
        const Result<AngleRead> read = parse_angle(text);
        if (!read.ok() || read.value().deg != deg) FAIL_CHECK(text << " is not " << fmt::format("{:.17g}", deg));
    };
    reads("9\u00B050.5690702'", 9.842817836666667);
    reads("330\u00B024 3/7'", 330.40714285714284);
    reads("9\u00B035'50.5690702\"", 9.597380297277779);
    reads("89.9977 off 90", 0.0023);
    boardring_test::Random random(14);
    for (std::size_t k = 0; k < boardring_test::cases(50000, 500000); ++k) {
        // No double beside it is nearer: the distance, times what makes it whole, in one rounding of long double.
        const auto nearest = [](const std::string& text, std::uint64_t num, std::uint64_t den) {
            const Result<AngleRead> read = parse_angle(text);
            REQUIRE(read.ok());
            const double got = read.value().deg;
            const auto off = [&](double x) { return std::abs(std::fma(static_cast<long double>(x), static_cast<long double>(den), -static_cast<long double>(num))); };
            if (off(got) > off(std::nextafter(got, 1e3)) || off(got) > off(std::nextafter(got, -1e3))) FAIL_CHECK(text);
        };
        const std::uint64_t d = random.index(360), m = random.index(60), part = random.bits() % 60000000U;  // under 60 with six decimals
        const std::string decimal = fmt::format("{}.{:06}", part / 1000000U, part % 1000000U);
        nearest(fmt::format("{}\u00B0{}'", d, decimal), 60000000U * d + part, 60000000U);
        nearest(fmt::format("{}\u00B0{}'{}\"", d, m, decimal), 60000000U * (60 * d + m) + part, 3600000000U);
        nearest(fmt::format("{} off 90", decimal), 90000000U - part, 1000000U);
    }
}

TEST_CASE("no bytes make the reading of an angle throw or return rubbish") {
    boardring_test::Random random(13);
    const std::array<std::string, 26> pieces{"5",   "12",    "0",   "22", "1/2", "½",    "°",          "'",     "\"",
                                             "''",  "′",     "″",   "-",  "+",   ",",    ".",          " ",     "in",
                                             "off", "pitch", "deg", "%",  "/",   "\x80", "9999999999", "\u202E"};
    for (std::size_t k = 0; k < boardring_test::cases(100000, 1000000); ++k) {
        std::string text;
        for (std::size_t n = random.index(10); n > 0; --n) {
            if (k % 2 == 0) {
                text.push_back(static_cast<char>(static_cast<unsigned char>(random.bits() & 0xFFU)));
            } else {
                text += pieces[random.index(pieces.size())];
            }
        }
        const Result<AngleRead> read = parse_angle(text);
        if (read.ok() && !(std::abs(read.value().deg) <= 360.0 && read.value().half_step_deg > 0.0)) FAIL_CHECK(text);
        if (!read.ok() && read.findings()[0].message.find_first_of("\x1b\n\r\t") != std::string::npos) FAIL_CHECK(text);
    }
}
