#include "outline/outline.hpp"

#include <cmath>
#include <optional>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "outline/adjust.hpp"
#include "outline/build.hpp"
#include "outline/check.hpp"
#include "outline/misfit.hpp"
#include "outline/notebook.hpp"

namespace boardring {
namespace {

Misclosure misclosure_of(const Chain& given) {
    const auto n = static_cast<double>(given.sides());
    Misclosure miss;
    miss.angle_sum_expected_deg = (n - 2.0) * 180.0;
    miss.angle_deg = angle_misfit_deg(given);
    miss.angle_sum_deg = miss.angle_sum_expected_deg + miss.angle_deg;
    Chain balanced = given;
    for (double& interior : balanced.interior_deg) interior -= miss.angle_deg / n;
    const Vec2 end = walk(balanced).end_mm;
    miss.dx_mm = end.x;
    miss.dy_mm = end.y;
    miss.length_mm = length(end);
    miss.direction_deg = direction_deg(end);
    miss.one_in = miss.length_mm > 0.0 ? perimeter_mm(given) / miss.length_mm : 0.0;
    return miss;
}

constexpr double kSumRightDeg = 1e-9;

Findings with(Findings findings, Finding more) {
    findings.push_back(std::move(more));
    return findings;
}

void fill_readings(Outline& outline, const std::vector<Reading>& readings) {
    for (const Reading& r : readings) {
        ReadingUsed used{r.text, r.kind, r.value.value_or(0.0), 0.0};
        if (r.kind == Reading::Kind::angle) {
            used.given = interior_meant_deg(r, used.given);
            used.used = outline.interior_deg[r.first];
        } else if (r.kind == Reading::Kind::side) {
            used.used = outline.sides_mm[r.first];
        } else {
            used.used = length(outline.corners_mm[r.second] - outline.corners_mm[r.first]);
        }
        outline.readings.push_back(std::move(used));
    }
}

Result<Outline> locate_readings(const Project& project) {
    Result<Notebook> book = open_notebook(project.outline, project.style());
    if (!book.ok()) return book.findings();
    Findings findings = book.findings();
    const Chain& given = book.value().chain;
    Misclosure miss;
    Chain used = given;
    if (given.closed) {
        miss = misclosure_of(given);
        if (const std::optional<Spread> spread = spread_within_digits(given)) {
            append(findings, spread_findings(book.value(), project, miss, *spread));
            used = with_spread(given, *spread);
        } else if (std::abs(miss.angle_deg) > kSumRightDeg) {
            return with(std::move(findings), angle_sum_finding(book.value(), project));
        } else {
            return with(std::move(findings), misclosure_finding(book.value(), project, miss));
        }
    }
    Outline outline = build_chain(used);
    outline.letters_clockwise = project.outline.letters_clockwise;
    outline.misclosure = miss;
    append(findings, diagonal_findings(book.value(), project, outline));
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
        const double each_deg = arc->span_deg / static_cast<double>(arc->pieces);
        if (each_deg >= 180.0) {
            return Finding{Severity::error, "outline.arc-too-few", asked.form_pointer,
                           fmt::format("{} degrees of arc cannot be made of {}: each piece would span {}; it must stay under 180.", show_number(arc->span_deg, 2),
                                       arc->pieces == 1 ? "one piece" : fmt::format("{} pieces", arc->pieces), show_number(each_deg, 2)),
                           fmt::format("Use at least {} pieces.", static_cast<int>(arc->span_deg / 180.0) + 1)};
        }
        outline = build_arc(*arc);
    } else {
        const auto& points = std::get<PointsOutline>(asked.form);
        outline = build_points(points, asked.open, asked.letters_clockwise);
        if (asked.letters_clockwise && !outline.letters_clockwise) {
            findings.push_back({Severity::note, "outline.clockwise", asked.form_pointer,
                                "You said the letters run clockwise, but your points run counter-clockwise. I went by the points.",
                                "Nothing to do if the points are right (x to the right, y up). Else turn their order round."});
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
    append(findings, check_shape(located.value(), project));
    if (has_error(findings)) return findings;
    return {std::move(located).value(), std::move(findings)};
}

}  // namespace boardring
