#include "project/nominal_size.hpp"

#include <cstddef>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "base/length_text.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

constexpr double kInch = 25.4;

double inches(const std::string& text) {
    const Result<LengthRead> read = parse_length(text, Unit::inch);
    REQUIRE(read.ok());
    return read.value().mm / kInch;
}

struct Row {
    std::string nominal;
    std::string dressed_dry;
};

// American Softwood Lumber Standard: Voluntary Product Standard PS 20 (NIST), table 3, boards, thickness, least dressed dry
// size in inches; as transcribed by The Engineering ToolBox, "Softwood Lumber - Standard Sizes".
const std::vector<Row> kBoardThickness{{"3/8", "5/16"}, {"1/2", "7/16"}, {"5/8", "9/16"},   {"3/4", "5/8"},
                                       {"1", "3/4"},    {"1 1/4", "1"},  {"1 1/2", "1 1/4"}};

// Same source, face width of boards.
const std::vector<Row> kBoardWidth{{"2", "1 1/2"},   {"3", "2 1/2"},   {"4", "3 1/2"},  {"5", "4 1/2"},  {"6", "5 1/2"},
                                   {"7", "6 1/2"},   {"8", "7 1/4"},   {"9", "8 1/4"},  {"10", "9 1/4"}, {"11", "10 1/4"},
                                   {"12", "11 1/4"}, {"14", "13 1/4"}, {"16", "15 1/4"}};

// Same source: widths that dimension lumber has besides 2, 3, 4, 5, 6 and 8 to 16 of the table above.
const std::vector<Row> kHalfWidth{{"2 1/2", "2"}, {"3 1/2", "3"}, {"4 1/2", "4"}};

// Same source, dimension lumber, thickness.
const std::vector<Row> kDimensionThickness{{"2", "1 1/2"}, {"2 1/2", "2"}, {"3", "2 1/2"},
                                           {"3 1/2", "3"}, {"4", "3 1/2"}, {"4 1/2", "4"}};

void check_sections(const std::vector<Row>& thicknesses, const std::vector<Row>& widths) {
    for (const Row& t : thicknesses) {
        for (const Row& w : widths) {
            if (inches(t.nominal) > inches(w.nominal)) continue;
            const std::string name = t.nominal + " x " + w.nominal;
            CAPTURE(name);
            const std::optional<NominalSize> size = nominal_size(name);
            REQUIRE(size.has_value());
            CHECK_THAT(size->thickness_mm, WithinAbs(inches(t.dressed_dry) * kInch, 1e-9));
            CHECK_THAT(size->width_mm, WithinAbs(inches(w.dressed_dry) * kInch, 1e-9));
        }
    }
}

}  // namespace

TEST_CASE("boards have the dressed sizes of the softwood standard") {
    check_sections(kBoardThickness, kBoardWidth);
}

TEST_CASE("dimension lumber has the dressed sizes of the softwood standard") {
    check_sections(kDimensionThickness, kBoardWidth);
    check_sections(kDimensionThickness, kHalfWidth);
}

TEST_CASE("sizes in millimetres agree with the printed ones within half a millimetre") {
    struct Printed {
        std::string name;
        std::string actual_in;
        double thickness_mm;
        double width_mm;
    };
    // The Engineering ToolBox, "Softwood Lumber Dimensions" (actual sizes, in and mm), printed to 1 mm.
    const std::vector<Printed> table{
        {"1x2", "3/4 x 1 1/2", 19, 38},      {"1x3", "3/4 x 2 1/2", 19, 64},      {"1x4", "3/4 x 3 1/2", 19, 89},
        {"1x6", "3/4 x 5 1/2", 19, 140},     {"1x8", "3/4 x 7 1/4", 19, 184},     {"1x10", "3/4 x 9 1/4", 19, 235},
        {"1x12", "3/4 x 11 1/4", 19, 286},   {"2x2", "1 1/2 x 1 1/2", 38, 38},    {"2x4", "1 1/2 x 3 1/2", 38, 89},
        {"2x6", "1 1/2 x 5 1/2", 38, 140},   {"2x8", "1 1/2 x 7 1/4", 38, 184},   {"2x10", "1 1/2 x 9 1/4", 38, 235},
        {"2x12", "1 1/2 x 11 1/4", 38, 286}, {"2x14", "1 1/2 x 13 1/4", 38, 337}, {"3x4", "2 1/2 x 3 1/2", 64, 89},
        {"4x4", "3 1/2 x 3 1/2", 89, 89},    {"4x6", "3 1/2 x 5 1/2", 89, 140},   {"4x16", "3 1/2 x 15 1/4", 89, 387}};
    for (const Printed& p : table) {
        CAPTURE(p.name);
        const std::optional<NominalSize> size = nominal_size(p.name);
        REQUIRE(size.has_value());
        CHECK(size->name == p.name);
        CHECK_THAT(size->thickness_mm, WithinAbs(p.thickness_mm, 0.5));
        CHECK_THAT(size->width_mm, WithinAbs(p.width_mm, 0.5));
        const std::size_t by = p.actual_in.find(" x ");
        CHECK_THAT(size->thickness_mm, WithinAbs(inches(p.actual_in.substr(0, by)) * kInch, 1e-9));
        CHECK_THAT(size->width_mm, WithinAbs(inches(p.actual_in.substr(by + 3)) * kInch, 1e-9));
        CHECK_THAT(size->note,
                   ContainsSubstring(fmt::format("({:.0f} by {:.0f} mm) when dry: measure yours", p.thickness_mm, p.width_mm)));
    }
}

TEST_CASE("timbers lose a half to 6 and three quarters to 15") {
    // Same standard as summarised beside its dimension-lumber table: 5 and 6 nominal 1/2 off dry, 7 to 15 nominal 3/4 off, 16 1
    // off.
    const std::vector<Row> timber{{"5", "4 1/2"},  {"6", "5 1/2"},   {"7", "6 1/4"}, {"8", "7 1/4"},
                                  {"10", "9 1/4"}, {"12", "11 1/4"}, {"16", "15"}};
    check_sections(timber, timber);
}

TEST_CASE("a name is read as people write it") {
    for (const std::string name : {"2x6", "2X6", "2 x 6", "2 by 6", "2 BY 6", "2by6", "2×6", "2 × 6", "6x2", "6 by 2", "2\"x6\"",
                                   "2 in x 6 in", "2x6 S4S", "2x6 s4s", " 2x6 "}) {
        CAPTURE(name);
        const std::optional<NominalSize> size = nominal_size(name);
        REQUIRE(size.has_value());
        CHECK(size->name == "2x6");
        CHECK_THAT(size->thickness_mm, WithinAbs(38.1, 1e-12));
        CHECK_THAT(size->width_mm, WithinAbs(139.7, 1e-12));
        CHECK(size->note == "A 2x6 is 1-1/2 by 5-1/2 in (38 by 140 mm) when dry: measure yours");
    }
    CHECK(nominal_size("8x8")->note == "An 8x8 is 7-1/4 by 7-1/4 in (184 by 184 mm) when dry: measure yours");
}

TEST_CASE("five quarter is the one quarter name that is a dressed size") {
    for (const std::string name : {"5/4x6", "5/4 x 6", "6x5/4", "1-1/4x6", "1 1/4 x 6", "1¼x6", "1.25 x 6"}) {
        CAPTURE(name);
        const std::optional<NominalSize> size = nominal_size(name);
        REQUIRE(size.has_value());
        CHECK(size->name == "5/4x6");
        CHECK_THAT(size->thickness_mm, WithinAbs(25.4, 1e-12));
        CHECK_THAT(size->width_mm, WithinAbs(139.7, 1e-12));
    }
    for (const std::string name : {"4/4x6", "6/4x6", "8/4 x 6"}) {
        CAPTURE(name);
        CHECK_FALSE(nominal_size(name).has_value());
        CHECK_THAT(nominal_unknown(name).message, ContainsSubstring("rough board"));
    }
}

TEST_CASE("other names are refused with the nearest that is known") {
    struct Refused {
        std::string name;
        std::string part;
    };
    const std::vector<Refused> table{
        {"2x13", "2x14"},       {"1x1", "1x2"},      {"2x6x8", "2x6"},    {"4/4x6", "1x6"},
        {"1x6 rough", "1x6"},   {"2x18", "2x16"},    {"2x6 S2S", "2x6"},  {"38x140", "width 140 and thickness 38 mm"},
        {"banana", "like 2x6"}, {"", "like 2x6"},    {"2", "like 2x6"},   {"2x", "like 2x6"},
        {"x6", "like 2x6"},     {"0x0", "like 2x6"}, {"2-6", "like 2x6"}, {"2x6mm", "2x6"}};
    for (const Refused& r : table) {
        CAPTURE(r.name);
        CHECK_FALSE(nominal_size(r.name).has_value());
        const Finding f = nominal_unknown(r.name);
        CHECK(f.severity == Severity::error);
        CHECK(f.code == "stock.nominal-unknown");
        CHECK(f.pointer.empty());
        CHECK_THAT(f.message, ContainsSubstring('"' + r.name + '"'));
        CHECK_THAT(f.fix, ContainsSubstring(r.part));
        CHECK((f.message.back() == '.' && f.fix.back() == '.'));
    }
}

TEST_CASE("no bytes make the reading of a lumber name throw") {
    boardring_test::Random random(17);
    const std::vector<std::string> pieces{"2", "6",   "x", "×",   " by ", "5/4",  "-",           "\"",
                                          " ", "s4s", "0", "1/2", ".",    "\xFF", "999999999999"};
    for (int k = 0; k < 30000; ++k) {
        std::string text;
        for (std::size_t n = random.index(8); n > 0; --n) text += pieces[random.index(pieces.size())];
        if (!nominal_size(text).has_value() && nominal_unknown(text).fix.empty()) FAIL_CHECK(text);
    }
}
