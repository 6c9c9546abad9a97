#include "project/nominal_size.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/length_text.hpp"
#include "base/quoted.hpp"
#include "base/text_scan.hpp"

namespace boardring {
namespace {

using Kind = Token::Kind;

constexpr double kInch_mm = 25.4;

// Nominal and least dressed dry size in inches.
struct Row {
    double nominal;
    double dressed;
};

// Boards, thickness.
constexpr std::array<Row, 7> kBoardThickness{
    {{0.375, 0.3125}, {0.5, 0.4375}, {0.625, 0.5625}, {0.75, 0.625}, {1.0, 0.75}, {1.25, 1.0}, {1.5, 1.25}}};
// Dimension lumber, thickness.
constexpr std::array<Row, 6> kDimensionThickness{{{2.0, 1.5}, {2.5, 2.0}, {3.0, 2.5}, {3.5, 3.0}, {4.0, 3.5}, {4.5, 4.0}}};
// Widths of boards and of dimension lumber; those with a half are dimension lumber only.
constexpr std::array<Row, 16> kWidth{{{2.0, 1.5},
                                      {2.5, 2.0},
                                      {3.0, 2.5},
                                      {3.5, 3.0},
                                      {4.0, 3.5},
                                      {4.5, 4.0},
                                      {5.0, 4.5},
                                      {6.0, 5.5},
                                      {7.0, 6.5},
                                      {8.0, 7.25},
                                      {9.0, 8.25},
                                      {10.0, 9.25},
                                      {11.0, 10.25},
                                      {12.0, 11.25},
                                      {14.0, 13.25},
                                      {16.0, 15.25}}};
// Timbers, 5 by 5 and up, both ways: 1/2 off to 6, 3/4 off to 15, 1 off at 16.
constexpr std::array<Row, 10> kTimber{{{5.0, 4.5},
                                       {6.0, 5.5},
                                       {7.0, 6.25},
                                       {8.0, 7.25},
                                       {9.0, 8.25},
                                       {10.0, 9.25},
                                       {11.0, 10.25},
                                       {12.0, 11.25},
                                       {14.0, 13.25},
                                       {16.0, 15.0}}};

struct Section {
    Row thickness;
    Row width;
};

bool is_half(double nominal) {
    return nominal != std::floor(nominal);
}

void add_sections(std::vector<Section>& sections, std::span<const Row> thicknesses, std::span<const Row> widths, bool halves) {
    for (const Row& thickness : thicknesses) {
        for (const Row& width : widths) {
            const bool written_so = thickness.nominal <= width.nominal && (halves || !is_half(width.nominal));
            if (written_so) sections.push_back({thickness, width});
        }
    }
}

std::vector<Section> all_sections() {
    std::vector<Section> sections;
    add_sections(sections, kBoardThickness, kWidth, false);
    add_sections(sections, kDimensionThickness, kWidth, true);
    add_sections(sections, kTimber, kTimber, true);
    return sections;
}

std::string inches(double value) {
    return show_length(value * kInch_mm, {Unit::inch, kInch_mm / 16.0});
}

std::string name_of(const Section& s) {
    const std::string thickness = s.thickness.nominal == 1.25 ? "5/4" : inches(s.thickness.nominal);
    return thickness + "x" + inches(s.width.nominal);
}

// The two numbers of a name, and whether the text was of the form that has two.
struct Named {
    bool two_numbers = false;
    bool dressed = true;  // no other surfacing, no third number
    bool rough_quarter = false;
    double thickness = 0.0;
    double width = 0.0;
};

// One number of a name, inch mark allowed. 5/4 is the only quarter name softwood is sold under when dressed.
bool read_number(const std::vector<Token>& tokens, std::size_t& at, double& value, bool& rough_quarter) {
    Quantity quantity;
    const bool quarters =
        tokens[at].kind == Kind::fraction && !tokens[at].glyph && tokens[at].ratio.den == 4.0 && tokens[at].ratio.num >= 4.0;
    if (!read_quantity(tokens, at, quantity)) return false;
    value = quantity.ratio.value();
    if (quarters && value != 1.25) rough_quarter = true;
    const bool inch_word = tokens[at].kind == Kind::word && (tokens[at].text == "in" || tokens[at].text == "inch");
    if (tokens[at].kind == Kind::double_mark || inch_word) ++at;
    return true;
}

bool is_surfaced_four_sides(const std::vector<Token>& tokens, std::size_t at) {
    return at + 3 < tokens.size() && tokens[at].kind == Kind::word && tokens[at].text == "s" && tokens[at + 1].text == "4" &&
           tokens[at + 2].kind == Kind::word && tokens[at + 2].text == "s" && tokens[at + 3].kind == Kind::end;
}

Named read_name(std::string_view name) {
    Named named;
    if (name.size() > kLongestText) return named;
    const std::vector<Token> tokens = scan_text(name);
    std::size_t at = 0;
    if (!read_number(tokens, at, named.thickness, named.rough_quarter)) return named;
    const bool by = tokens[at].kind == Kind::times || (tokens[at].kind == Kind::word && tokens[at].text == "by");
    if (!by) return named;
    ++at;
    if (!read_number(tokens, at, named.width, named.rough_quarter)) return named;
    named.two_numbers = true;
    named.dressed = tokens[at].kind == Kind::end || is_surfaced_four_sides(tokens, at);
    if (named.thickness > named.width) std::swap(named.thickness, named.width);
    return named;
}

// How unlike two sections are, by ratio: half an inch matters more on a thin board.
double unlikeness(const Section& s, const Named& named) {
    return std::abs(std::log(named.thickness / s.thickness.nominal)) + std::abs(std::log(named.width / s.width.nominal));
}

std::string note_for(const Section& s) {
    const std::string name = name_of(s);
    const bool vowel = name[0] == '8' || name.rfind("11", 0) == 0;
    return fmt::format("{} {} is {} by {} in ({} by {} mm) when dry: measure yours", vowel ? "An" : "A", name,
                       inches(s.thickness.dressed), inches(s.width.dressed), show_number(s.thickness.dressed * kInch_mm, 0),
                       show_number(s.width.dressed * kInch_mm, 0));
}

Finding unknown(std::string message, std::string fix) {
    Finding finding;
    finding.code = "stock.nominal-unknown";
    finding.message = std::move(message);
    finding.fix = std::move(fix);
    return finding;
}

std::string_view why_unknown(const Named& named) {
    if (named.rough_quarter) return "is the size of a rough board, in quarters of an inch; planed it is whatever its planer left";
    if (!named.dressed) return "says more than a name; I know dry boards planed on four sides (S4S)";
    return "is not in the softwood size tables";
}

}  // namespace

std::optional<NominalSize> nominal_size(std::string_view name) {
    const Named named = read_name(name);
    if (!named.two_numbers || !named.dressed || named.rough_quarter) return std::nullopt;
    for (const Section& s : all_sections()) {
        if (s.thickness.nominal == named.thickness && s.width.nominal == named.width) {
            return NominalSize{name_of(s), s.thickness.dressed * kInch_mm, s.width.dressed * kInch_mm, note_for(s)};
        }
    }
    return std::nullopt;
}

Finding nominal_unknown(std::string_view name) {
    constexpr double kLargest = 40.0;  // larger numbers are millimetres
    const Named named = read_name(name);
    if (named.two_numbers && named.width > kLargest) {
        return unknown(fmt::format("{} is not a name softwood is sold under; such numbers are sizes in mm.", in_quotes(name)),
                       fmt::format("Give width {} and thickness {} mm instead of a name, if you measured them.",
                                   show_number(named.width, 1), show_number(named.thickness, 1)));
    }
    if (!named.two_numbers || named.thickness <= 0.0) {
        return unknown(fmt::format("{} is not a name softwood is sold under.", in_quotes(name)),
                       "Write a name like 2x6, or give width and thickness as you measured them.");
    }
    const std::vector<Section> sections = all_sections();
    const auto nearest = std::min_element(sections.begin(), sections.end(), [&named](const Section& a, const Section& b) {
        return unlikeness(a, named) < unlikeness(b, named);
    });
    return unknown(fmt::format("{} {}.", in_quotes(name), why_unknown(named)),
                   fmt::format("Measure the board and give width and thickness, or write {} if that is what you have "
                               "({} by {} in).",
                               name_of(*nearest), inches(nearest->thickness.dressed), inches(nearest->width.dressed)));
}

}  // namespace boardring
