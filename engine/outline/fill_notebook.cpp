#include "outline/fill_notebook.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/names.hpp"
#include "outline/build.hpp"
#include "outline/check.hpp"
#include "outline/speaker.hpp"

namespace boardring {
namespace {

constexpr double kWide = 1000.0;     // times the widest of the rest: an open value is free
constexpr double kVagueFrom = 10.0;  // mm that 1 mm moves an open value: from here it is told
constexpr double kTellsApart = 1.0;  // of two ways, what a diagonal has to differ by in its own +-

const std::vector<Reading>& readings_of(const Project& project) {
    return std::get<ReadingsOutline>(project.outline.form).readings;
}

std::string first_pointer(const Notebook& book, const std::vector<Reading>& readings) {
    std::size_t line = kNoLine;
    for (const std::size_t k : book.open.sides) line = std::min(line, book.side_line[k]);
    for (const std::size_t c : book.open.angles) line = std::min(line, book.angle_line[c]);
    return readings[line].pointer;
}

std::string names_of(const Notebook& book, const char* last_word) {
    std::vector<std::string> names;
    for (const std::size_t k : book.open.sides) names.push_back(side_name(book.chain, k));
    for (const std::size_t c : book.open.angles) names.push_back(corner_letter(c));
    return listed(names, last_word);
}

/// "CD 412.5 mm, C 97.3 and D 121".
std::string values_of(const Chain& chain, const Notebook& book, const Speaker& say) {
    std::vector<std::string> values;
    for (const std::size_t k : book.open.sides) values.push_back(fmt::format("{} {}", say.side(k), say.mm(chain.sides_mm[k])));
    for (const std::size_t c : book.open.angles)
        values.push_back(fmt::format("{} {}", corner_letter(c), say.deg(chain.interior_deg[c])));
    return listed(values, "and");
}

// How far a way is from what stands behind `near`; nothing if nobody said.
std::optional<double> off_asked(const FilledChain& way, const Notebook& book, const std::vector<Reading>& readings) {
    std::optional<double> off;
    const auto add = [&off](double by) { off = off.value_or(0.0) + by * by; };
    for (const std::size_t k : book.open.sides) {
        const Reading& r = readings[book.side_line[k]];
        if (r.near) add((way.chain.sides_mm[k] - *r.near) / *r.near);
    }
    for (const std::size_t c : book.open.angles) {
        const Reading& r = readings[book.angle_line[c]];
        if (r.near) {
            add(radians(way.chain.interior_deg[c] - interior_meant_deg(r, *r.near)));
        } else if (r.inward) {
            add(way.chain.interior_deg[c] > 180.0 ? 0.0 : 1.0);
        }
    }
    return off;
}

double off_diagonals(const FilledChain& way, const Notebook& book, const std::vector<Reading>& readings) {
    const std::vector<Vec2> corners_mm = walk(way.chain).corners_mm;
    double off = 0.0;
    for (const std::size_t line : book.diagonal_lines) {
        const Reading& r = readings[line];
        const double by_mm = length(corners_mm[r.second] - corners_mm[r.first]) - *r.value;
        off += std::pow(by_mm / r.accuracy.value_or(r.half_step), 2.0);
    }
    return off;
}

std::size_t inward_corners(const FilledChain& way) {
    return static_cast<std::size_t>(std::count_if(way.chain.interior_deg.begin(), way.chain.interior_deg.end(),
                                                  [](double interior) { return interior > 180.0; }));
}

bool has_shape(const FilledChain& way, const Project& project) {
    return way.buildable && !has_error(check_shape(build_chain(way.chain), project));
}

// Puts the way to take first, and says why; both can be built.
FilledNotebook::Why prefer(std::vector<FilledChain>& ways, const Notebook& book, const std::vector<Reading>& readings) {
    using Why = FilledNotebook::Why;
    const auto choose = [&ways](bool second) {
        if (second) std::swap(ways[0], ways[1]);
    };
    const std::optional<double> asked = off_asked(ways[0], book, readings);
    const std::optional<double> asked_other = off_asked(ways[1], book, readings);
    if (asked && *asked != *asked_other) {
        choose(*asked_other < *asked);
        return Why::asked;
    }
    const double off = off_diagonals(ways[0], book, readings), off_other = off_diagonals(ways[1], book, readings);
    if (std::abs(off - off_other) > kTellsApart) {
        choose(off_other < off);
        return Why::diagonal;
    }
    const std::size_t inward = inward_corners(ways[0]), inward_other = inward_corners(ways[1]);
    if (inward != inward_other) {
        choose(inward_other < inward);
        return Why::fewer_inward;
    }
    choose(twice_area_mm2(walk(ways[1].chain).corners_mm) > twice_area_mm2(walk(ways[0].chain).corners_mm));
    return Why::larger;
}

Finding parallel_finding(const Notebook& book, const Speaker& say, std::string pointer) {
    const std::string first = say.side(book.open.sides[0]), second = say.side(book.open.sides[1]);
    return {Severity::error, "outline.unknown-parallel", std::move(pointer),
            fmt::format("{0} and {1} are both open and run alike: whatever is added to both, the ring still closes.", first, second),
            fmt::format("Give {} or {}.", first, second)};
}

Finding reach_finding(const ChainFilling& filling, const Notebook& book, const Speaker& say, std::string pointer) {
    const std::string from = corner_letter(filling.short_corner[0]), to = corner_letter(filling.short_corner[1]);
    const std::string by = say.small_mm(filling.short_mm);
    return {Severity::error, "outline.out-of-reach", std::move(pointer),
            fmt::format("Whatever {} are, these sides cannot meet: taken as near as they go, the two ways from {} to {} end {} apart.",
                        names_of(book, "and"), from, to, by),
            fmt::format("Look at the sides between {} and {}: together they are {} out, at least.", from, to, by)};
}

Finding impossible_finding(const FilledChain& way, const Notebook& book, const Speaker& say, std::string pointer) {
    Finding finding{Severity::error, "outline.unknown-impossible", std::move(pointer), "", ""};
    for (const std::size_t k : book.open.sides) {
        if (way.chain.sides_mm[k] > 0.0) continue;
        finding.message = fmt::format("{} would have to be {}: without it the other sides reach past each other already.",
                                      say.side(k), say.mm(way.chain.sides_mm[k]));
        finding.fix = fmt::format("Look at the sides beside {}, and at the corners between the open values.", say.side(k));
        return finding;
    }
    for (const std::size_t c : book.open.angles) {
        const double interior = way.chain.interior_deg[c];
        if (interior > 0.0 && interior < 360.0) continue;
        finding.message = fmt::format("{} would have to be {}: the other corners leave it no angle.", corner_letter(c), say.deg(interior));
        finding.fix = "Look at the other corners: is one read on the outside of the ring, or typed twice too large?";
        return finding;
    }
    finding.message = fmt::format("With {} worked out the ring would wind round twice, or cross itself.", names_of(book, "and"));
    finding.fix = "Look at the corners you gave: is one that points inward written without \"inward\"?";
    return finding;
}

const char* why_words(FilledNotebook::Why why) {
    switch (why) {
        case FilledNotebook::Why::asked:
            return "the one you asked for";
        case FilledNotebook::Why::diagonal:
            return "the one that fits your lengths straight across";
        case FilledNotebook::Why::fewer_inward:
            return "the one with fewer corners that point inward";
        case FilledNotebook::Why::larger:
            return "the larger one";
        case FilledNotebook::Why::only:
            break;
    }
    return "the only one";
}

// The open value that tells two ways apart best, as the maker would write it.
std::string how_to_ask(const Chain& taken, const Chain& other, const Notebook& book, const Speaker& say) {
    double most = 0.0;
    std::string text;
    for (const std::size_t c : book.open.angles) {
        const double by = std::abs(other.interior_deg[c] - taken.interior_deg[c]);
        if (by <= most) continue;
        most = by;
        text = fmt::format("\"{} ? near {}\"", corner_letter(c), show_number(other.interior_deg[c], 0));
    }
    if (text.empty()) text = fmt::format("\"{} ? near {}\"", say.side(book.open.sides[0]), say.mm(other.sides_mm[book.open.sides[0]]));
    return text;
}

Finding vague_finding(const FilledNotebook& filled, const Speaker& say, std::string pointer) {
    const FilledChain& way = filled.taken;
    const std::string name = way.levers_angle ? corner_letter(way.levered) : say.side(way.levered);
    const std::string given = say.side(way.lever_side);
    const std::string moved = std::isfinite(way.leverage) && way.leverage < 1e5 ? show_number(way.leverage, 0) + " times" : "any times";
    return {Severity::warning, "outline.unknown-vague", std::move(pointer),
            fmt::format("{} hangs on the rest by a thread: whatever {} is out by, {} is out by about {} that{}.", name, given, name,
                        moved, way.levers_angle ? " at the end of its longer side" : ""),
            fmt::format("Decide {} yourself, and leave another value open.", name)};
}

}  // namespace

Result<FilledNotebook> fill_notebook(const Notebook& book, const Project& project) {
    const std::vector<Reading>& readings = readings_of(project);
    const Speaker say(book, project);
    const std::string pointer = first_pointer(book, readings);
    ChainFilling filling = fill_in(book.chain, book.open);
    if (filling.parallel) return parallel_finding(book, say, pointer);
    if (filling.ways.empty()) return reach_finding(filling, book, say, pointer);

    FilledNotebook filled;
    std::vector<FilledChain> ways;
    for (const FilledChain& way : filling.ways) {
        if (has_shape(way, project)) ways.push_back(way);
    }
    if (ways.empty()) {
        // What crosses itself is for the check of shapes to say, with the place.
        const auto built = std::find_if(filling.ways.begin(), filling.ways.end(), [](const FilledChain& w) { return w.buildable; });
        if (built == filling.ways.end()) return impossible_finding(filling.ways.front(), book, say, pointer);
        ways.push_back(*built);
    }
    if (ways.size() == 2) filled.why = prefer(ways, book, readings);
    filled.taken = ways.front();
    filled.others.assign(ways.begin() + 1, ways.end());

    filled.book = book;
    Chain& chain = filled.book.chain;
    double widest_mm = 0.0, widest_deg = 0.0;
    for (const double within : chain.side_within_mm) widest_mm = std::max(widest_mm, within);
    for (const double within : chain.angle_within_deg) widest_deg = std::max(widest_deg, within);
    for (const std::size_t k : book.open.sides) {
        chain.sides_mm[k] = filled.taken.chain.sides_mm[k];
        chain.side_within_mm[k] = kWide * widest_mm;
    }
    for (const std::size_t c : book.open.angles) {
        chain.interior_deg[c] = filled.taken.chain.interior_deg[c];
        chain.angle_within_deg[c] = kWide * widest_deg;
    }
    return filled;
}

void settle_within(Notebook& book, const FilledChain& taken) {
    Chain& chain = book.chain;
    for (const std::size_t k : book.open.sides) chain.side_within_mm[k] = 0.0;
    for (const std::size_t c : book.open.angles) chain.angle_within_deg[c] = 0.0;
    double squares_mm = 0.0, squares_deg = 0.0;
    for (const double within : chain.side_within_mm) squares_mm += within * within;
    for (const double within : chain.angle_within_deg) squares_deg += within * within;
    const double reach = std::max(1.0, taken.leverage);
    for (const std::size_t k : book.open.sides) chain.side_within_mm[k] = reach * std::sqrt(squares_mm);
    for (const std::size_t c : book.open.angles) chain.angle_within_deg[c] = reach * std::sqrt(squares_deg);
}

Findings filled_findings(const FilledNotebook& filled, const Project& project, const Outline& outline) {
    const std::vector<Reading>& readings = readings_of(project);
    const Notebook& book = filled.book;
    const Speaker say(book, project);
    const std::string pointer = first_pointer(book, readings);
    Chain used = book.chain;
    used.sides_mm = outline.sides_mm;
    used.interior_deg = outline.interior_deg;
    const std::string values = values_of(used, book, say);
    Findings findings;
    if (filled.others.empty()) {
        std::string message = fmt::format("What you left open follows from the rest: {}.", values);
        for (const std::size_t c : book.open.angles) {
            if (readings[book.angle_line[c]].inward && outline.interior_deg[c] < 180.0)
                message += fmt::format(" There is no answer with {} pointing inward.", corner_letter(c));
        }
        findings.push_back({Severity::note, "outline.filled-in", pointer, message,
                            "Nothing to do. To keep it as it is, write the value instead of the ?."});
    } else {
        const bool asked = filled.why == FilledNotebook::Why::asked || filled.why == FilledNotebook::Why::diagonal;
        findings.push_back({asked ? Severity::note : Severity::warning, "outline.two-answers", pointer,
                            fmt::format("What you left open has two answers. I took {}: {}. The other: {}.", why_words(filled.why),
                                        values, values_of(filled.others.front().chain, book, say)),
                            fmt::format("For the other write {}.", how_to_ask(used, filled.others.front().chain, book, say))});
    }
    if (filled.taken.leverage > kVagueFrom) findings.push_back(vague_finding(filled, say, pointer));
    return findings;
}

Finding unknown_misfit_finding(const Notebook& book, const Project& project, const Misclosure& miss) {
    const Speaker say(book, project);
    const std::string open = names_of(book, "and");
    Finding finding{Severity::error, "outline.unknown-misfit", first_pointer(book, readings_of(project)), "", ""};
    if (miss.angle_deg != 0.0) {
        finding.message = fmt::format("{} corners must add up to {}. Yours add up to {}: {} {}. With {} open nothing says which one is wrong.",
                                      counted(book.chain.sides()), show_number(miss.angle_sum_expected_deg, 0),
                                      show_number(miss.angle_sum_deg, 4), Speaker::small_deg(std::abs(miss.angle_deg)),
                                      miss.angle_deg > 0.0 ? "too much" : "short", open);
        finding.fix = "Leave the corner you are least sure of open as well, like \"C ?\", or measure the corners again.";
    } else {
        finding.message = fmt::format("Whatever {} {}, the rest misses by {}: more than its digits leave room for.", open,
                                      book.open.count() == 1 ? "is" : "are", say.small_mm(miss.length_mm));
        finding.fix = fmt::format("Measure again, or leave {} open with ?: three open values take up whatever the rest leaves.",
                                  book.open.count() == 1 ? "up to two more values" : "one more value");
    }
    return finding;
}

}  // namespace boardring
