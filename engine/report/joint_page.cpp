#include "report/joint_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "project/joint_kinds.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kColumnGap = 4;
constexpr std::size_t kUnitEnd = 90;

// The parts of a project the wording needs; a joint alone has no more.
Project as_project(const JointAskedAlone& asked) {
    Project project;
    project.unit = asked.unit;
    project.tools = asked.tools;
    // Two steps that are laid off one against the other want finer marks than a length does.
    project.tools.rule_step_mm = std::min(asked.tools.rule_step_mm, in_inches(project) ? 25.4 / 32.0 : 0.1);
    return project;
}

// Which board is meant: by its width where the two differ, else by its place.
std::string board_name(const JointAskedAlone& asked, std::size_t which, const Project& project) {
    if (shown(asked.width_mm[0], project) == shown(asked.width_mm[1], project))
        return which == 0 ? "the first board" : "the second board";
    return fmt::format("the {} board", shown(asked.width_mm[which], project));
}

const char* kind_words(JointKind kind) {
    switch (kind) {
        case JointKind::mitre:
            return "mitred";
        case JointKind::butt:
            return "butted";
        case JointKind::half_lap:
            return "half-lapped";
    }
    return "";
}

std::string longer_side(const EndCut& cut, const Project& project) {
    if (shown_away_deg(cut.saw_deg, project) == 0.0) return "neither";
    return cut.saw_deg > 0.0 ? "outside" : "inside";
}

std::string bevel_words(const EndCut& cut, const Project& project) {
    const double base = project.tools.bevel_base_mm;
    const double rise = base * std::abs(tan_deg(cut.saw_deg));
    if (shown_away_deg(cut.saw_deg, project) == 0.0) return "square";
    return rise <= base ? fmt::format("{} in {}", shown(rise, project), shown(base, project))
                        : fmt::format("{} in {}", shown(base, project), shown(base * base / rise, project));
}

using Row = std::array<std::string, 4>;  // what, first board, second board, a word on it

Lines table(const std::vector<Row>& rows) {
    std::array<std::size_t, 3> widths{};
    for (const Row& row : rows) {
        for (std::size_t c = 0; c < widths.size(); ++c) widths[c] = std::max(widths[c], columns_of(row[c]));
    }
    Lines lines;
    for (const Row& row : rows) {
        std::string line;
        for (std::size_t c = 0; c < widths.size(); ++c) line += padded(row[c], widths[c] + kColumnGap);
        line += row.back();
        line.erase(line.find_last_not_of(' ') + 1);
        lines.push_back(line);
    }
    return lines;
}

std::string way(double mm, const char* forward, const char* back) {
    return mm < 0.0 ? back : forward;
}

// Square line through the inside mark, then two steps along the outside edge.
std::string hand_words(const EndCut& cut, const std::string& own, const std::string& other, const Project& project) {
    return fmt::format("{}: along the outside edge {} {}, to where the inside line of {} crosses; then {} {}.", capital(own),
                       shown(std::abs(cut.square_first_mm), project),
                       way(cut.square_first_mm, "into the board", "towards the corner"), other,
                       shown(std::abs(cut.square_second_mm), project),
                       way(cut.square_second_mm, "back towards the corner", "further into the board"));
}

std::string from_corner(double t, const Project& project) {
    if (rounded_to_step(std::abs(t), project.tools.rule_step_mm) == 0.0) return "at the corner";
    return fmt::format("{} {}", shown(std::abs(t), project), t < 0.0 ? "past the corner" : "short of it");
}

std::string reach_words(double inside_mm, double outside_mm, const Project& project) {
    const std::string inside = from_corner(inside_mm, project), outside = from_corner(outside_mm, project);
    return inside == outside ? fmt::format("both edges {}", inside)
                             : fmt::format("inside edge {}, outside edge {}", inside, outside);
}

Lines mitre_steps(const JointAskedAlone& asked, const Project& project) {
    const std::string first = board_name(asked, 0, project), second = board_name(asked, 1, project);
    Lines lines = labelled("BY HAND",
                           "seen from above, outside edge to you. Square a line across the board from the point where the inside "
                           "edges are to meet.");
    append_lines(lines, labelled("", hand_words(asked.cuts.before, first, second, project)));
    append_lines(lines, labelled("", hand_words(asked.cuts.after, second, first, project)));
    append_lines(lines, labelled("", "Join that point with the inside end of the square line: saw there, on the waste side."));
    return lines;
}

Lines other_steps(const JointAskedAlone& asked, const Project& project) {
    const bool lap = asked.kind == JointKind::half_lap;
    const std::array<std::string, 2> names{board_name(asked, 0, project), board_name(asked, 1, project)};
    const std::array<const EndCut*, 2> cuts{&asked.cuts.before, &asked.cuts.after};
    Lines lines = labelled("BY HAND", "measured along each board from where the inside edges meet, the corner.");
    for (std::size_t i = 0; i < 2; ++i) {
        const EndCut& cut = *cuts[i];
        const bool through = !lap && (i == 0) == asked.first_runs_through;
        std::string text = fmt::format("{}{}: ends with {}", capital(names[i]),
                                       lap       ? ""
                                       : through ? ", which runs on"
                                                 : ", which stops",
                                       reach_words(cut.inside_mm, cut.outside_mm, project));
        if (cut.lap)
            text += fmt::format("; shoulder with {}",
                                reach_words(cut.lap->shoulder_inside_mm, cut.lap->shoulder_outside_mm, project));
        append_lines(lines, labelled("", sentence(text)));
    }
    if (lap)
        append_lines(
            lines,
            labelled("", "Between shoulder and end each board loses half its height, one from above, the other from below."));
    return lines;
}

// Most saws stop between 45 and 50: common practice.
std::string care_words(const JointAskedAlone& asked, const Project& project) {
    constexpr double kMostSawsDeg = 45.0;
    const double steepest = std::max(std::abs(asked.cuts.before.saw_deg), std::abs(asked.cuts.after.saw_deg));
    const std::string general = "Clamp; your saw's own book comes first.";
    if (steepest <= kMostSawsDeg + 1e-6) return general;
    return fmt::format(
        "{} from square is past most saws' stop: hold the board at 90 to the fence in a jig and saw at {}, or saw by hand. {}",
        show_angle(shown_away_deg(steepest, project), 2), show_angle(90.0 - shown_away_deg(steepest, project), 2), general);
}

std::string check_words(const JointAskedAlone& asked, const Project& project) {
    const bool inward = asked.interior_deg > 180.0;
    const double corner = inward ? 360.0 - asked.interior_deg : asked.interior_deg;
    const std::string made = show_angle(corner, 2);
    if (!is_mitred(asked.kind)) {
        return fmt::format("both cuts are the same. A test piece set against the other board's edge must stand at {}.", made);
    }
    const double sign = inward ? -1.0 : 1.0;
    double a = sign * asked.cuts.before.saw_deg, b = sign * asked.cuts.after.saw_deg;
    const auto print = [&](double saw) { return show_angle(shown_away_deg(saw, project), 1); };
    if (b > a) std::swap(a, b);
    const bool minus = b < 0.0 && print(b) != "0";
    const std::string turn = show_angle(180.0 - corner, 2);
    const bool exact = adds_up({print(a), fmt::format("{}{}", minus ? "-" : "", print(b))}, turn);
    return fmt::format(
        "from square, {} {} {} = {}{}, what the boards turn; 180 - {} = {}. Two test cuts put together must make {}. The sloping "
        "faces are equally long: lay one on the other.",
        print(a), minus ? "-" : "+", print(b), turn, exact ? "" : " (rounded)", turn, made, made);
}

}  // namespace

std::string joint_page(const JointAskedAlone& asked) {
    const Project project = as_project(asked);
    const bool inward = asked.interior_deg > 180.0;
    const std::string title =
        fmt::format("CORNER OF {}{}, boards {} and {} wide, {}", show_angle(asked.interior_deg, 2), inward ? " (IN-CORNER)" : "",
                    shown(asked.width_mm[0], project), shown(asked.width_mm[1], project), kind_words(asked.kind));
    const std::string unit = unit_words(asked.unit);
    Lines lines{fmt::format("{}  {}", padded(title, kUnitEnd - 2 - unit.size()), unit), ""};
    const EndCut& first = asked.cuts.before;
    const EndCut& second = asked.cuts.after;
    const bool from_edge = asked.tools.scale_at_square_deg != 0.0;
    const auto edge = [&](const EndCut& cut) {
        const double away = shown_away_deg(cut.saw_deg, project);
        return show_angle(from_edge ? away : 90.0 - away, 2);
    };
    append_lines(
        lines,
        table({
            {"", board_name(asked, 0, project), board_name(asked, 1, project), ""},
            {"  set the saw to", show_setting(first.saw_deg, project), show_setting(second.saw_deg, project),
             from_edge ? "90 is a square cut" : "0 is a square cut"},
            {from_edge ? "  away from square" : "  bevel on the edge", edge(first), edge(second),
             from_edge ? "what other saws show" : "90 less the setting"},
            {"  longer side", longer_side(first, project), longer_side(second, project), inward ? "IN-CORNER: look twice" : ""},
            {"  bevel by rise", bevel_words(first, project), bevel_words(second, project), ""},
            {"  sloping face", shown(first.face_mm, project), shown(second.face_mm, project),
             is_mitred(asked.kind) ? "equal on both" : ""},
        }));
    lines.emplace_back();
    append_lines(lines, is_mitred(asked.kind) ? mitre_steps(asked, project) : other_steps(asked, project));
    append_lines(lines, labelled("CHECK", check_words(asked, project)));
    append_lines(lines, labelled("TAKE CARE", care_words(asked, project)));
    return text_of(lines);
}

}  // namespace boardring
