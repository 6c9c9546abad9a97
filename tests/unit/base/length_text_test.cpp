#include "base/length_text.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

constexpr double kInch = 25.4;
constexpr double kFoot = 304.8;

struct Accepted {
    std::string text;
    Unit unit;
    double mm;
    double half_step_mm;
    bool unit_given;
};

// Within a few units in the last place: the expected values are themselves rounded once or twice.
void check_read(const Accepted& c) {
    CAPTURE(c.text, unit_name(c.unit));
    const Result<LengthRead> read = parse_length(c.text, c.unit);
    if (!read.ok()) FAIL_CHECK(read.findings()[0].message);
    REQUIRE(read.ok());
    CHECK(read.findings().empty());
    CHECK_THAT(read.value().mm, WithinAbs(c.mm, 4e-16 * std::abs(c.mm)));
    CHECK_THAT(read.value().half_step_mm, WithinAbs(c.half_step_mm, 1e-12));
    CHECK(read.value().unit_given == c.unit_given);
}

void check_refused(const std::string& text, Unit unit, const std::string& code, const std::vector<std::string>& parts) {
    CAPTURE(text, unit_name(unit));
    const Result<LengthRead> read = parse_length(text, unit);
    REQUIRE_FALSE(read.ok());
    REQUIRE(read.findings().size() == 1);
    const Finding& f = read.findings()[0];
    CHECK(f.severity == Severity::error);
    CHECK(f.code == code);
    CHECK(f.pointer.empty());
    CHECK((f.message.back() == '.' && f.fix.back() == '.'));
    for (const std::string& part : parts) CHECK_THAT(f.message + " | " + f.fix, ContainsSubstring(part));
}

// The same double as the C library reads in `mm`.
void check_same(const std::string& text, const std::string& mm) {
    const Result<LengthRead> read = parse_length(text, Unit::mm);
    if (!read.ok() || read.value().mm != std::stod(mm)) FAIL_CHECK(text << " is not " << mm);
}

// Digits with a decimal point before the last `decimals` of them.
std::string shifted(std::uint64_t digits, std::size_t decimals) {
    const std::string all = fmt::format("{:016}", digits);
    return all.substr(0, all.size() - decimals) + '.' + all.substr(all.size() - decimals);
}

}  // namespace

TEST_CASE("a bare number takes the unit of the job") {
    const std::vector<Accepted> table{
        {"900", Unit::mm, 900, 0.5, false},
        {"900", Unit::cm, 9000, 5, false},
        {"1.2", Unit::m, 1200, 50, false},
        {"16", Unit::inch, 16 * kInch, kInch / 2, false},
        {"3", Unit::foot, 3 * kFoot, kFoot / 2, false},
        {"413.5", Unit::mm, 413.5, 0.05, false},
        {"413.50", Unit::mm, 413.5, 0.005, false},
        {".5", Unit::mm, 0.5, 0.05, false},
        {"0", Unit::mm, 0, 0.5, false},
        {"0.1", Unit::mm, 0.1, 0.05, false},
        {"900.", Unit::mm, 900, 0.5, false},
        {"  900  ", Unit::mm, 900, 0.5, false},
        {"007", Unit::mm, 7, 0.5, false},
        {"16.25", Unit::inch, 412.75, 0.005 * kInch, false},
        {"3.5", Unit::foot, 1066.8, 0.05 * kFoot, false},
    };
    for (const Accepted& c : table) check_read(c);
}

TEST_CASE("a length may name its own unit, in any case, singular or plural") {
    const std::vector<Accepted> table{
        {"90 cm", Unit::mm, 900, 5, true},
        {"120cm", Unit::inch, 1200, 5, true},
        {"1.2 m", Unit::mm, 1200, 50, true},
        {"1.2m", Unit::mm, 1200, 50, true},
        {"2.4m", Unit::inch, 2400, 50, true},
        {"1200mm", Unit::inch, 1200, 0.5, true},
        {"1200 MM", Unit::m, 1200, 0.5, true},
        {"3 metres", Unit::mm, 3000, 500, true},
        {"1 meter", Unit::mm, 1000, 500, true},
        {"12 millimetres", Unit::m, 12, 0.5, true},
        {"1 centimeter", Unit::m, 10, 5, true},
        {"8 ft", Unit::mm, 2438.4, kFoot / 2, true},
        {"8 ft.", Unit::mm, 2438.4, kFoot / 2, true},
        {"8 feet", Unit::mm, 2438.4, kFoot / 2, true},
        {"1 foot", Unit::mm, kFoot, kFoot / 2, true},
        {"8'", Unit::mm, 2438.4, kFoot / 2, true},
        {"5.5'", Unit::mm, 1676.4, 0.05 * kFoot, true},
        {"5 1/2 ft", Unit::mm, 1676.4, 0.25 * kFoot, true},
        {"63.5in", Unit::mm, 1612.9, 0.05 * kInch, true},
        {"63.5 In.", Unit::mm, 1612.9, 0.05 * kInch, true},
        {"1 inch", Unit::mm, kInch, kInch / 2, true},
        {"5 inches", Unit::mm, 127, kInch / 2, true},
        {"5 ins", Unit::mm, 127, kInch / 2, true},
        {"5\"", Unit::mm, 127, kInch / 2, true},
        {"5''", Unit::mm, 127, kInch / 2, true},
        {"1/2 m", Unit::inch, 500, 250, true},
        {"5½ cm", Unit::mm, 55, 2.5, true},
        {"1 m 20 cm", Unit::mm, 1200, 5, true},
        {"1m 20cm 5mm", Unit::inch, 1205, 0.5, true},
        {"2 m 5 mm", Unit::inch, 2005, 0.5, true},
        {"41 cm 3.5 mm", Unit::inch, 413.5, 0.05, true},
    };
    for (const Accepted& c : table) check_read(c);
}

TEST_CASE("inches are read with a space, a dash or nothing before the fraction") {
    const double size = 63.5 * kInch;
    const double half = kInch / 4;
    for (const std::string text :
         {"63 1/2\"",      "63-1/2\"", "63½\"",   "63 ½\"",      "63-½ in",    "63 1/2 in",          "63 1/2in",
          "63-1/2 inches", "63 1/2''", "63 1/2″", "63 1/2”",     "63 1⁄2\"",   "63 ¹⁄₂\"",           "63¹⁄₂\"",
          "63¹/₂ in",      "63⅟₂ in",  "63⅟2 in", "63 - 1/2 in", "63 –1/2 in", "63\u00A01/2\u202Fin"}) {
        check_read({text, Unit::mm, size, half, true});
    }
    check_read({"63-1/2", Unit::inch, size, half, false});
    check_read({"63½", Unit::inch, size, half, false});
    check_read({"3/4", Unit::inch, 19.05, kInch / 8, false});
    check_read({"3/4\"", Unit::mm, 19.05, kInch / 8, true});
    check_read({"¾", Unit::inch, 19.05, kInch / 8, false});
    check_read({"16³⁄₁₆\"", Unit::mm, 411.1625, kInch / 32, true});
    check_read({"12/16 in", Unit::mm, 19.05, kInch / 32, true});
    check_read({"0/3 in", Unit::mm, 0, kInch / 6, true});
}

TEST_CASE("every fraction that has a sign of its own in Unicode is read") {
    struct Glyph {
        std::string text;
        int num;
        int den;
    };
    // The Unicode Standard, blocks Latin-1 Supplement and Number Forms: names of the characters.
    const std::vector<Glyph> glyphs{{"¼", 1, 4}, {"½", 1, 2}, {"¾", 3, 4}, {"⅐", 1, 7}, {"⅑", 1, 9}, {"⅒", 1, 10}, {"⅓", 1, 3},
                                    {"⅔", 2, 3}, {"⅕", 1, 5}, {"⅖", 2, 5}, {"⅗", 3, 5}, {"⅘", 4, 5}, {"⅙", 1, 6},  {"⅚", 5, 6},
                                    {"⅛", 1, 8}, {"⅜", 3, 8}, {"⅝", 5, 8}, {"⅞", 7, 8}, {"↉", 0, 3}};
    for (const Glyph& g : glyphs) {
        check_read({g.text, Unit::inch, kInch * g.num / g.den, kInch / 2 / g.den, false});
        check_read({"7" + g.text, Unit::inch, kInch * (7 * g.den + g.num) / g.den, kInch / 2 / g.den, false});
        check_read({"5' 7" + g.text + "\"", Unit::mm, kInch * (67 * g.den + g.num) / g.den, kInch / 2 / g.den, true});
    }
}

TEST_CASE("feet and inches are read in every way they are written") {
    const double size = 63.5 * kInch;
    const double half = kInch / 4;
    for (const std::string text :
         {"5' 3-1/2\"", "5'-3 1/2\"",      "5'-3-1/2\"", "5' 3 1/2\"",  "5'3½\"",        "5′ 3½″",         "5’ 3½”",
          "5‘3½“",      "5´ 3 1/2''",      "5′ 3½′′",    "5ft 3 1/2in", "5 ft 3 1/2 in", "5ft3-1/2in",     "5 feet 3 1/2 inches",
          "5 foot 3½",  "5 FT. 3-1/2 IN.", "5-3-1/2",    "5-3-1/2\"",   "5-3-1/2 in",    "5' - 3 - 1/2\"", "5 ft - 3-1/2\"",
          "5' 3 1/2",   "5'3-1/2"}) {
        check_read({text, Unit::mm, size, half, true});
    }
    check_read({"5'3.5\"", Unit::mm, size, 0.05 * kInch, true});
    check_read({"5'3.5", Unit::mm, size, 0.05 * kInch, true});
    check_read({"5'3", Unit::mm, 63 * kInch, kInch / 2, true});
    check_read({"5’3”", Unit::mm, 63 * kInch, kInch / 2, true});
    check_read({"5'0\"", Unit::mm, 60 * kInch, kInch / 2, true});
    check_read({"5'1/2\"", Unit::mm, 60.5 * kInch, kInch / 4, true});
    check_read({"0' 11-15/16\"", Unit::mm, kInch * 191 / 16, kInch / 32, true});
    check_read({"5-3-1/2", Unit::inch, size, half, true});
}

TEST_CASE("a leading sign belongs to the whole length") {
    check_read({"-5 1/2 in", Unit::mm, -139.7, 6.35, true});
    check_read({"-3' 6-3/4\"", Unit::mm, -1085.85, kInch / 8, true});
    check_read({"\u22125", Unit::mm, -5, 0.5, false});
    check_read({"- 5", Unit::mm, -5, 0.5, false});
    check_read({"+1/16", Unit::inch, 1.5875, kInch / 32, false});
    const Result<LengthRead> zero = parse_length("-0", Unit::mm);
    REQUIRE(zero.ok());
    CHECK_FALSE(std::signbit(zero.value().mm));
}

TEST_CASE("text with two readings is refused and both are said") {
    const std::string code = "length.ambiguous";
    check_refused("5-3", Unit::mm, code, {"5' 3\" (1600.2 mm)", "two numbers, 5 and 3"});
    check_refused("5-3", Unit::inch, code, {"5' 3\" (63 in)", "two numbers"});
    check_refused("5 3", Unit::inch, code, {"5' 3\"", "two numbers"});
    check_refused("5 - 3", Unit::foot, code, {"5' 3\""});
    check_refused("5–3", Unit::mm, code, {"5' 3\""});
    check_refused("5-3\"", Unit::mm, code, {"5' 3\"", "two numbers"});
    check_refused("5-3 1/2", Unit::inch, code, {"5' 3-1/2\""});
    check_refused("5 3 1/2", Unit::inch, code, {"5' 3-1/2\""});
    check_refused("900-905", Unit::mm, code, {"from 900 to 905", "900 less 905"});
    check_refused("1,200", Unit::mm, code, {"1200 mm", "1.200 mm"});
    check_refused("1,200 m", Unit::mm, code, {"1200 m", "1.200 m"});
    check_refused("1,2", Unit::mm, code, {"1.2 mm", "two numbers, 1 and 2"});
    check_refused("63,5 cm", Unit::mm, code, {"63.5 cm", "two numbers"});
    check_refused("1,200.5", Unit::mm, code, {"1200.5 mm", "two numbers"});
    check_refused("1 200", Unit::mm, code, {"1200 mm", "two numbers, 1 and 200"});
    check_refused("5' 14\"", Unit::inch, code, {"74 in", "slip", "12 in make one ft"});
    check_refused("5-13-1/2", Unit::inch, code, {"73.5 in", "slip"});
    check_refused("1 m 120 cm", Unit::mm, code, {"220 cm", "100 cm make one m"});
    check_refused("5/4", Unit::inch, code, {"1-1/4", "slip"});
    check_refused("4/4", Unit::inch, code, {"1"});
    check_refused("161/4", Unit::inch, code, {"40-1/4", "space missing"});
    check_refused("161⁄4\"", Unit::mm, code, {"40-1/4", "space missing"});
    check_refused("5 7/4\"", Unit::mm, code, {"6-3/4"});
    check_refused("3/4", Unit::mm, code, {"3/4 in (19.05 mm)", "0.75 mm"});
    check_refused("1'200", Unit::mm, code, {"1200 mm", "1 ft 200 in"});
    check_refused("1’200", Unit::mm, code, {"1200 mm", "1 ft 200 in"});
    check_refused("16-1/4", Unit::mm, code, {"16-1/4 in (412.75 mm)", "16.25 mm"});
    check_refused("5½", Unit::cm, code, {"5-1/2 in", "5.5 cm"});
    check_refused("3/4", Unit::foot, code, {"3/4 in", "0.75 ft"});
}

TEST_CASE("text that is no length is refused with what to write instead") {
    const std::string code = "length.not-understood";
    for (const std::string word : {"strong", "full", "shy", "heavy", "light", "scant", "bare", "STRONG"}) {
        check_refused("63 " + word, Unit::inch, code, {"hair over or under cannot be computed", "63-1/32"});
    }
    check_refused("63 1/2 in shy", Unit::mm, code, {"hair over or under"});
    check_refused("63+", Unit::inch, code, {"hair over or under"});
    check_refused("63-", Unit::inch, code, {"hair over or under"});
    check_refused("5 inchs", Unit::mm, code, {"\"inchs\"", "Write inch "});
    check_refused("5 feets", Unit::mm, code, {"\"feets\"", "Write feet"});
    check_refused("12 milimeters", Unit::cm, code, {"Write millimeters"});
    check_refused("2 yd", Unit::foot, code, {"\"yd\"", "3' 6-3/4"});
    check_refused("38x140", Unit::mm, code, {"two sizes"});
    check_refused("38 × 140", Unit::mm, code, {"two sizes"});
    check_refused("1m20", Unit::mm, code, {"no unit behind its 20"});
    check_refused("5.5' 3\"", Unit::mm, code, {"5.5 ft", "whole"});
    check_refused("5 1/2' 3\"", Unit::mm, code, {"whole"});
    check_refused("1,200,000", Unit::mm, code, {"comma"});
    check_refused(",5", Unit::mm, code, {"comma"});
    check_refused("5,", Unit::mm, code, {"comma"});
    check_refused("", Unit::mm, code, {"There is no length here", "413.5"});
    check_refused("   ", Unit::inch, code, {"There is no length here", "16-1/4"});
    for (const std::string text :
         {"abc",         "mm",   "-",         "+",          "--5",       "+-5",        "5..5",      "1.2.3",    "1e3",
          "0x10",        "nan",  "inf",       "-inf",       "5 ft in",   "5\"\"",      "5 in 3 ft", "3\" 1/2",  "5 mm 3 cm",
          "1 m - 20 cm", "2 yd", "1/0",       "1/2000",     "/2",        "1/",         "5 km",      "5 / 8 in", "900 mm mm",
          "(900)",       "~900", "900?",      "9oo",        "5 1/2 1/2", "5' 3\" 2\"", "1 2 3",     "5:3",      "5°",
          "5%",          "½½",   "3' 4' 5\"", "1.5 1/2 in", "²",         "٣"}) {
        check_refused(text, Unit::mm, code, {});
        check_refused(text, Unit::foot, code, {});
    }
}

TEST_CASE("lengths past 100 km and texts past 200 bytes are refused") {
    CHECK(parse_length("100000 m", Unit::mm).ok());
    check_refused("100000.1 m", Unit::mm, "length.not-understood", {"longer than 100 km"});
    check_refused("99999999999999999999", Unit::foot, "length.not-understood", {"longer than 100 km"});
    CHECK(parse_length(std::string(199, '0') + "5", Unit::mm).ok());
    check_refused(std::string(200, '0') + "5", Unit::mm, "length.not-understood", {"201 bytes", "at most 200"});
    check_refused(std::string(199, '9'), Unit::mm, "length.not-understood", {"longer than 100 km"});
}

TEST_CASE("a refused text is repeated without anything that could steer a terminal") {
    const Result<LengthRead> read = parse_length("\x1b[2J\u202E5\n\x80 abc", Unit::mm);
    REQUIRE_FALSE(read.ok());
    CHECK_THAT(read.findings()[0].message, ContainsSubstring("\"?[2J?5?? abc\""));
}

TEST_CASE("a length is the exact rational value rounded once") {
    boardring_test::Random random(20260501);
    for (std::size_t k = 0; k < boardring_test::cases(50000, 500000); ++k) {
        const auto feet = static_cast<long long>(random.index(300));
        const auto inches = static_cast<long long>(random.index(12));
        const long long den = 1LL << random.index(7);
        const auto num = static_cast<long long>(random.index(static_cast<std::size_t>(den)));
        const std::string text = fmt::format("{}' {} {}/{}\"", feet, inches, num, den);
        // (feet * 12 + inches + num/den) * 127/5: both whole, so the quotient of doubles is the correctly rounded value.
        const double exact = static_cast<double>(((feet * 12 + inches) * den + num) * 127) / static_cast<double>(den * 5);
        const Result<LengthRead> read = parse_length(text, Unit::mm);
        REQUIRE(read.ok());
        if (read.value().mm != exact) FAIL_CHECK(text);
        // As decimals: what the compiler's own library reads for the same digits.
        const std::string decimal = fmt::format("{}.{:0{}}", feet, num, 1 + random.index(5));
        const Result<LengthRead> metric = parse_length(decimal, Unit::mm);
        REQUIRE(metric.ok());
        if (metric.value().mm != std::stod(decimal)) FAIL_CHECK(decimal);
        const std::string many_digits =
            fmt::format("{}.{:018}{:018}", feet, random.bits() % 1000000000000000000U, random.bits() % 1000000000000000000U);
        const Result<LengthRead> fine = parse_length(many_digits, Unit::mm);
        REQUIRE(fine.ok());
        if (fine.value().mm != std::stod(many_digits)) FAIL_CHECK(many_digits);
    }
}

TEST_CASE("up to 15 digits are rounded once in every unit, not once for the number and once for the unit") {
    // A number of 15 digits times 127 or 1000 is more than a double holds; these came out one double off.
    check_same("98.228030493041 m", "98228.030493041");
    check_same("744212.77585247 in", "18903004.506652738");
    check_same("5.9899319663581 ft", "1825.73126334594888");
    check_same("95' 7.061599825966\"", "29135.3646355795364");
    check_same("9197 m 464.765447207 mm", "9197464.765447207");
    boardring_test::Random random(20261130);
    for (std::size_t k = 0; k < boardring_test::cases(50000, 500000); ++k) {
        // 254 and 3048 times the digits still fit 64 bits, and the C library reads their decimals to the nearest double.
        const std::uint64_t digits = random.bits() % 1000000000000000U;
        const std::size_t decimals = 11 + random.index(5);
        const std::string number = fmt::format("{}e-{}", digits, decimals), written = shifted(digits, decimals);
        check_same(written + " m", fmt::format("{}e-{}", digits, decimals - 3));
        check_same(written + " cm", fmt::format("{}e-{}", digits, decimals - 1));
        check_same(written + " in", fmt::format("{}e-{}", 254 * digits, decimals + 1));
        check_same(written + " ft", fmt::format("{}e-{}", 3048 * digits, decimals + 1));
        check_same(written, number);
        const std::uint64_t feet = random.index(1000), inch_digits = random.bits() % 12000000000U;  // under 12 with nine decimals
        check_same(fmt::format("{}' {}\"", feet, shifted(inch_digits, 9)), fmt::format("{}e-10", 254 * (12000000000U * feet + inch_digits)));
    }
}

TEST_CASE("no bytes make the reading of a length throw, loop or return rubbish") {
    boardring_test::Random random(7);
    // Half of it plain noise, half of it pieces that occur in lengths, which get further.
    const std::array<std::string, 40> pieces{
        "5",  "12", "0",    "1/2", "3/16", "½",      "⅟", "³", "₈",    "⁄",        "/",          "'",     "\"", "''",
        "′",  "″",  "’",    "”",   "-",    "–",      "+", ",", ".",    " ",        "\t",         "ft",    "in", "mm",
        "cm", "m",  "feet", "x",   "by",   "strong", "°", "%", "\x80", "\xE2\x80", "9999999999", "\u202E"};
    for (std::size_t k = 0; k < boardring_test::cases(100000, 1000000); ++k) {
        std::string text;
        const std::size_t n = random.index(12);
        for (std::size_t i = 0; i < n; ++i) {
            if (k % 2 == 0) {
                text.push_back(static_cast<char>(static_cast<unsigned char>(random.bits() & 0xFFU)));
            } else {
                text += pieces[random.index(pieces.size())];
            }
        }
        const Unit unit = std::array{Unit::mm, Unit::cm, Unit::m, Unit::inch, Unit::foot}[random.index(5)];
        const Result<LengthRead> read = parse_length(text, unit);
        if (read.ok()) {
            const bool sane =
                std::isfinite(read.value().mm) && std::abs(read.value().mm) <= 1e8 && read.value().half_step_mm > 0.0;
            if (!sane) FAIL_CHECK(text);
        } else {
            const Finding& f = read.findings()[0];
            const bool clean = f.message.find_first_of("\x1b\n\r\t") == std::string::npos && !f.fix.empty();
            if (!clean) FAIL_CHECK(text);
        }
    }
}
