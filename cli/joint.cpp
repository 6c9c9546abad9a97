#include <fmt/format.h>

#include <array>
#include <cstdio>
#include <optional>
#include <string_view>
#include <vector>

#include "base/angle_text.hpp"
#include "base/length_text.hpp"
#include "base/suggest.hpp"
#include "commands.hpp"
#include "next_line.hpp"
#include "plan/one_joint.hpp"
#include "report/joint_page.hpp"
#include "report/wording.hpp"

namespace boardring::cli {
namespace {

template <class Value>
struct Word {
    std::string_view word;
    Value value;
};

constexpr std::array<Word<JointKind>, 3> kKinds{{{"mitre", JointKind::mitre}, {"butt", JointKind::butt}, {"half-lap", JointKind::half_lap}}};
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

// "90,45" has two parts; a comma inside a number ("1,200") makes three, which is asked about, not guessed.
std::optional<std::array<double, 2>> read_widths(const std::string& text, Unit unit) {
    const std::size_t comma = text.find(',');
    if (comma == std::string::npos || text.find(',', comma + 1) != std::string::npos) {
        fmt::print(stderr, "--boards wants two widths with one comma between them, as in --boards 90,45\n");
        return std::nullopt;
    }
    const std::optional<LengthRead> first = told(parse_length(text.substr(0, comma), unit), "--boards");
    const std::optional<LengthRead> second = told(parse_length(text.substr(comma + 1), unit), "--boards");
    if (!first || !second) return std::nullopt;
    return std::array<double, 2>{first->mm, second->mm};
}

Tools usual_tools(Unit unit) {
    Tools tools;
    if (unit == Unit::inch || unit == Unit::foot) {
        tools.rule_step_mm = 25.4 / 16.0;
        tools.bevel_base_mm = 12.0 * 25.4;
    }
    return tools;
}

int cut_it(const Arguments& arguments) {
    const std::optional<Unit> unit = meant(kUnits, arguments.unit, "--units");
    const std::optional<JointKind> kind = meant(kKinds, arguments.kind, "--kind");
    if (!unit || !kind) return 2;
    const std::optional<AngleRead> corner = told(parse_angle(arguments.corner), "--corner");
    const std::optional<std::array<double, 2>> widths = read_widths(arguments.boards, *unit);
    if (!corner || !widths) return 2;

    JointAskedAlone asked;
    asked.interior_deg = corner->deg;
    asked.width_mm = *widths;
    asked.kind = *kind;
    asked.first_runs_through = arguments.through != 2;
    asked.unit = *unit;
    asked.tools = usual_tools(*unit);
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
        print_next(stdout, "boardring", "a whole ring: how to start");
    } else {
        print_next(stderr, "boardring joint --help");
    }
    return exit_code;
}

}  // namespace boardring::cli
