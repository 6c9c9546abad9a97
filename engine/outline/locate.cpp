#include "outline/outline.hpp"

#include <cmath>
#include <cstddef>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "base/length_text.hpp"
#include "outline/build.hpp"
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
    Outline outline = build_chain(given);
    if (given.closed) {
        outline.misclosure = misclosure_of(given);
        if (std::abs(outline.misclosure.angle_deg) > 1e-9) {
            findings.push_back({Severity::error, "outline.angle-sum", "/outline/readings", "The angles do not add up.", "Measure again."});
        } else if (outline.misclosure.length_mm > 1e-6) {
            findings.push_back({Severity::error, "outline.misclosure", "/outline/readings", "The sides do not meet.", "Measure again."});
        }
    }
    if (has_error(findings)) return findings;
    fill_readings(outline, std::get<ReadingsOutline>(project.outline.form).readings);
    return {std::move(outline), std::move(findings)};
}

}  // namespace

Result<Outline> locate_outline(const Project& project) {
    const OutlineAsked& asked = project.outline;
    if (std::holds_alternative<ReadingsOutline>(asked.form)) {
        Result<Outline> located = locate_readings(project);
        if (!located.ok()) return located.findings();
        Findings findings = located.findings();
        Outline outline = std::move(located).value();
        outline.letters_clockwise = asked.letters_clockwise;
        return {std::move(outline), std::move(findings)};
    }
    if (const auto* points = std::get_if<PointsOutline>(&asked.form)) {
        return build_points(*points, asked.open, asked.letters_clockwise);
    }
    Outline outline;
    if (const auto* regular = std::get_if<RegularOutline>(&asked.form)) outline = build_regular(*regular);
    if (const auto* rectangle = std::get_if<RectangleOutline>(&asked.form)) outline = build_rectangle(*rectangle);
    if (const auto* arc = std::get_if<ArcOutline>(&asked.form)) outline = build_arc(*arc);
    outline.letters_clockwise = asked.letters_clockwise;
    return outline;
}

}  // namespace boardring
