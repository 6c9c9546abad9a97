#include "outline/outline.hpp"

#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>
#include <variant>

#include "base/angle.hpp"
#include "outline/adjust.hpp"
#include "outline/build.hpp"
#include "outline/check.hpp"
#include "outline/fill_notebook.hpp"
#include "outline/found.hpp"
#include "outline/misfit.hpp"
#include "outline/notebook.hpp"

namespace boardring {
namespace {

// Below these a misfit is the rounding of our own sums, and shown as none.
constexpr double kSumRightDeg = 1e-9;
constexpr double kMeets = 1e-12;  // of the perimeter

Misclosure misclosure_of(const Chain& given) {
    const auto n = static_cast<double>(given.sides());
    const double misfit_deg = angle_misfit_deg(given);
    Misclosure miss;
    miss.angle_sum_expected_deg = (n - 2.0) * 180.0;
    miss.angle_deg = std::abs(misfit_deg) <= kSumRightDeg ? 0.0 : misfit_deg;
    miss.angle_sum_deg = miss.angle_sum_expected_deg + miss.angle_deg;
    Chain balanced = given;
    for (double& interior : balanced.interior_deg) interior -= misfit_deg / n;
    const Vec2 end = walk(balanced).end_mm;
    if (length(end) <= kMeets * perimeter_mm(given)) return miss;
    miss.dx_mm = end.x;
    miss.dy_mm = end.y;
    miss.length_mm = length(end);
    miss.direction_deg = direction_deg(end);
    miss.one_in = perimeter_mm(given) / miss.length_mm;
    return miss;
}

void fill_readings(Outline& outline, const std::vector<Reading>& readings) {
    for (const Reading& r : readings) {
        ReadingUsed used{r.text, r.kind, r.value, 0.0};
        if (r.kind == Reading::Kind::angle) {
            if (r.value) used.given = interior_meant_deg(r, *r.value);
            used.used = outline.interior_deg[r.first];
        } else if (r.kind == Reading::Kind::side) {
            used.used = outline.sides_mm[r.first];
        } else {
            used.used = length(outline.corners_mm[r.second] - outline.corners_mm[r.first]);
        }
        outline.readings.push_back(std::move(used));
    }
}

// What was added to values that nobody gave is no news.
Spread without_open(Spread spread, const Unknowns& open) {
    for (const std::size_t k : open.sides) spread.side_mm[k] = 0.0;
    for (const std::size_t c : open.angles) spread.angle_deg[c] = 0.0;
    return spread;
}

Result<Outline> locate_readings(const Project& project) {
    if (std::get<ReadingsOutline>(project.outline.form).found) return locate_found(project);
    Notebook book = open_notebook(project.outline);
    std::optional<FilledNotebook> filled;
    if (!book.open.none()) {
        Result<FilledNotebook> worked_out = fill_notebook(book, project);
        if (!worked_out.ok()) return worked_out.findings();
        filled = std::move(worked_out).value();
        book = filled->book;
    }
    const Chain& given = book.chain;
    Findings findings;
    Misclosure miss;
    Chain used = given;
    if (given.closed) {
        miss = misclosure_of(given);
        if (const std::optional<Spread> spread = spread_within_digits(given)) {
            findings = spread_findings(book, project, miss, without_open(*spread, book.open));
            used = with_spread(given, *spread);
        } else if (filled) {
            return unknown_misfit_finding(book, project, miss);
        } else if (miss.angle_deg == 0.0 || sides_are_to_blame(book, project)) {
            return misclosure_finding(book, project, miss);
        } else {
            return angle_sum_finding(book, project);
        }
    }
    Outline outline = build_chain(used);
    outline.letters_clockwise = project.outline.letters_clockwise;
    outline.misclosure = miss;
    if (filled) {
        append(findings, filled_findings(*filled, project, outline));
        settle_within(book, filled->taken);
    }
    append(findings, diagonal_findings(book, project, outline));
    fill_readings(outline, std::get<ReadingsOutline>(project.outline.form).readings);
    return {std::move(outline), std::move(findings)};
}

// Straight out of the form, without readings.
Result<Outline> build_form(const OutlineAsked& asked) {
    Findings findings;
    Outline outline;
    if (const auto* regular = std::get_if<RegularOutline>(&asked.form)) {
        outline = build_regular(*regular);
    } else if (const auto* rectangle = std::get_if<RectangleOutline>(&asked.form)) {
        outline = build_rectangle(*rectangle);
    } else if (const auto* arc = std::get_if<ArcOutline>(&asked.form)) {
        outline = build_arc(*arc);
    } else {
        const auto& points = std::get<PointsOutline>(asked.form);
        outline = build_points(points, asked.open, asked.letters_clockwise);
        if (asked.letters_clockwise && !outline.letters_clockwise) {
            findings.push_back(
                {Severity::note, "outline.clockwise", asked.form_pointer,
                 "You said the letters run clockwise, but your points run counter-clockwise. I went by the points.",
                 "Nothing to do if the points are right (x to the right, y up). Else turn their order round."});
            findings.back().changes = {"letters are counterclockwise"};
        }
        return {std::move(outline), std::move(findings)};
    }
    outline.letters_clockwise = asked.letters_clockwise;
    return {std::move(outline), std::move(findings)};
}

}  // namespace

Result<Outline> locate_outline(const Project& project) {
    const bool by_readings = std::holds_alternative<ReadingsOutline>(project.outline.form);
    Result<Outline> located = by_readings ? locate_readings(project) : build_form(project.outline);
    if (!located.ok()) return located.findings();
    Findings findings = located.findings();
    // Regular outlines, rectangles and arcs are simple by their nature; only what the maker drew or measured can cross itself.
    if (by_readings || std::holds_alternative<PointsOutline>(project.outline.form)) {
        append(findings, check_shape(located.value(), project));
    }
    if (has_error(findings)) return findings;
    return {std::move(located).value(), std::move(findings)};
}

}  // namespace boardring
