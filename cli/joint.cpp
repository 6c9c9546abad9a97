#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdio>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/angle_text.hpp"
#include "base/inch_units.hpp"
#include "base/length_text.hpp"
#include "base/suggest.hpp"
#include "commands.hpp"
#include "next_line.hpp"
#include "plan/one_joint.hpp"
#include "report/joint_page.hpp"
#include "report/wording.hpp"

namespace boardring::cli {
namespace {

constexpr std::size_t kLongestWidths = 400;  // two lengths; parse_length refuses longer ones itself

template <class Value>
struct Word {
    std::string_view word;
    Value value;
};

constexpr auto kKinds = [] {
    std::array<Word<JointKind>, kJointKinds.size()> kinds{};
    for (std::size_t k = 0; k < kinds.size(); ++k) kinds[k] = {kJointWords[k], kJointKinds[k]};
    return kinds;
}();
constexpr std::array<Word<Unit>, 5> kUnits{
    {{"mm", Unit::mm}, {"cm", Unit::cm}, {"m", Unit::m}, {"in", Unit::inch}, {"ft", Unit::foot}}};

template <class Value, std::size_t n>
std::optional<Value> meant(const std::array<Word<Value>, n>& words, std::string_view given, std::string_view option) {
    std::vector<std::string_view> known;
    for (const Word<Value>& word : words) {
        if (word.word == given) return word.value;
        known.push_back(word.word);
    }
    const std::string near = nearest_word(given, known);
    fmt::print(stderr, "{} {}: {}\n", option, given.substr(0, 40), near.empty() ? fmt::format("I know {}", fmt::join(known, ", ")) : "did you mean " + near + "?");
    return std::nullopt;
}

template <class Read>
std::optional<Read> told(const Result<Read>& read, std::string_view option) {
    for (const Finding& finding : read.findings()) fmt::print(stderr, "{}: {} {}\n", option, sentence(finding.message), sentence(finding.fix));
    if (!read.ok()) return std::nullopt;
    return read.value();
}

std::vector<std::string> parted_at_commas(const std::string& text) {
    std::vector<std::string> parts;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find(',', at), text.size());
        parts.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return parts;
}

// Three parts or four may be decimal commas: how they are written here, both ways where there are two.
std::string with_points(const std::vector<std::string>& parts) {
    for (const std::string& part : parts) {
        if (part.empty() || part.find_first_not_of("0123456789") != std::string::npos) return "";
    }
    if (parts.size() == 4) return fmt::format("{}.{},{}.{}", parts[0], parts[1], parts[2], parts[3]);
    if (parts.size() == 3) return fmt::format("{0}.{1},{2} or {0},{1}.{2}", parts[0], parts[1], parts[2]);
    return "";
}

// "3-1/2, 1-1/2 in" says its unit once and means it twice, unless --units says what a plain number is.
std::array<Unit, 2> own_units(const std::vector<std::string>& parts, Unit unit, bool unit_said) {
    std::array<Unit, 2> units{unit, unit};
    if (unit_said) return units;
    for (std::size_t i = 0; i < 2; ++i) {
        const Result<LengthRead> other = parse_length(parts[1 - i], unit);
        if (other.ok() && other.value().unit_given) units[i] = other.value().unit;
    }
    return units;
}

// "90,45" has two parts; a comma inside a number ("1,200") makes three, which is asked about, not guessed.
std::optional<std::array<LengthRead, 2>> read_widths(const std::string& text, Unit unit, bool unit_said) {
    const std::vector<std::string> parts = parted_at_commas(text.substr(0, kLongestWidths));
    if (parts.size() != 2) {
        const std::string points = with_points(parts);
        fmt::print(stderr, "--boards wants two widths with one comma between them, as in --boards {}\n",
                   points.empty() ? "90,45" : points + ": a comma parts the widths, decimals take a point");
        return std::nullopt;
    }
    const std::array<Unit, 2> own = own_units(parts, unit, unit_said);
    const std::optional<LengthRead> first = told(parse_length(parts[0], own[0]), "--boards");
    const std::optional<LengthRead> second = told(parse_length(parts[1], own[1]), "--boards");
    if (!first || !second) return std::nullopt;
    return std::array<LengthRead, 2>{*first, *second};
}

// The answer speaks as the question did: in the unit --units names, else in that of the first width that has its own.
Unit unit_of_answer(const Arguments& arguments, Unit unit, const std::array<LengthRead, 2>& widths) {
    if (!arguments.unit.empty()) return unit;
    return widths[0].unit_given ? widths[0].unit : widths[1].unit_given ? widths[1].unit : unit;
}

Tools usual_tools(Unit unit) {
    Tools tools;
    if (in_inches(unit)) {
        tools.rule_step_mm = 25.4 / 16.0;
        tools.bevel_base_mm = 12.0 * 25.4;
    }
    return tools;
}

int cut_it(const Arguments& arguments) {
    const std::optional<Unit> unit = arguments.unit.empty() ? Unit::mm : meant(kUnits, arguments.unit, "--units");
    const std::optional<JointKind> kind = meant(kKinds, arguments.kind, "--kind");
    if (!unit || !kind) return 2;
    const std::optional<AngleRead> corner = told(parse_angle(arguments.corner), "--corner");
    const std::optional<std::array<LengthRead, 2>> widths = read_widths(arguments.boards, *unit, !arguments.unit.empty());
    if (!corner || !widths) return 2;

    JointAskedAlone asked;
    asked.interior_deg = corner->deg;
    asked.width_mm = {(*widths)[0].mm, (*widths)[1].mm};
    asked.kind = *kind;
    asked.first_runs_through = arguments.through != 2;
    asked.unit = unit_of_answer(arguments, *unit, *widths);
    asked.tools = usual_tools(asked.unit);
    const Result<JointCuts> cuts = cut_one_joint(asked.kind, asked.interior_deg, asked.width_mm, asked.first_runs_through);
    if (!cuts.ok()) {
        for (const Finding& finding : cuts.findings()) fmt::print(stderr, "{} {}\n", sentence(finding.message), sentence(finding.fix));
        return 1;
    }
    asked.cuts = cuts.value();
    print_page(joint_page(asked));
    return 0;
}

}  // namespace

int run_joint(const Arguments& arguments) {
    const int exit_code = cut_it(arguments);
    if (exit_code == 0) {
        fmt::print("\n");
        print_next(stdout, "boardring new", "a whole ring, by nine questions");
    } else {
        print_next(stderr, "boardring joint --help");
    }
    return exit_code;
}

}  // namespace boardring::cli
