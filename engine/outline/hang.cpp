#include "outline/hang.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "outline/build.hpp"
#include "outline/fit.hpp"
#include "outline/notebook.hpp"
#include "outline/outline.hpp"

namespace boardring {
namespace {

constexpr double kMeantTrueDeg = 5.0;      // common practice: what leans more was built so
constexpr double kLeastTurnDeg = 1.0;      // between two sides made true
constexpr double kWithinMm = 1e-9;
constexpr std::size_t kMostSidesKnown = 200;  // the covariances of all corners grow with the square of their number

struct Span {
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
};

// The frame's sides: their directions, and the points of the opening their margin is held at.
struct TrueSide {
    double direction_deg = 0.0;
    HungSide::Lies lies = HungSide::Lies::as_found;
    std::array<Vec2, 3> at;  // first end, middle, second end
};

std::vector<TrueSide> true_sides(const Outline& opening, const std::vector<double>& bow_mm) {
    const std::size_t n = opening.boards();
    std::vector<TrueSide> sides(n);
    for (std::size_t k = 0; k < n; ++k) {
        TrueSide& side = sides[k];
        const Vec2 a = opening.corners_mm[k], b = opening.corners_mm[opening.corner_after(k)];
        const Vec2 along = (1.0 / opening.sides_mm[k]) * (b - a);
        side.at = {a, 0.5 * (a + b) + bow_mm[k] * right_of(along), b};
        side.direction_deg = opening.direction_deg[k];
        const double quarter = 90.0 * std::round(side.direction_deg / 90.0);
        if (std::abs(side.direction_deg - quarter) > kMeantTrueDeg) continue;
        side.direction_deg = wrapped_deg(quarter);
        side.lies = std::abs(side.direction_deg) == 90.0 ? HungSide::Lies::plumb : HungSide::Lies::level;
    }
    const auto as_found = [&](std::size_t k) {
        sides[k].lies = HungSide::Lies::as_found;
        sides[k].direction_deg = opening.direction_deg[k];
    };
    for (std::size_t c = 0; c < opening.corners_mm.size(); ++c) {
        if (!opening.is_joint(c)) continue;
        const std::size_t before = opening.board_before(c), after = opening.board_after(c);
        if (std::abs(wrapped_deg(sides[after].direction_deg - sides[before].direction_deg)) >= kLeastTurnDeg) continue;
        as_found(before);
        as_found(after);
    }
    return sides;
}

// How far out the points of the opening stand, seen square to a direction.
std::array<double, 3> out_of(const TrueSide& side, double turned_deg) {
    const Vec2 n = right_of(unit_deg(side.direction_deg + turned_deg));
    return {dot(n, side.at[0]), dot(n, side.at[1]), dot(n, side.at[2])};
}

double range_of(const std::array<double, 3>& out) {
    return *std::max_element(out.begin(), out.end()) - *std::min_element(out.begin(), out.end());
}

// Where the frame's line lies: departing least from the margin wanted, within the margins allowed as far as that can be.
double line_of(const std::array<double, 3>& out, double wanted_mm, double least_mm, double most_mm) {
    const double low = *std::min_element(out.begin(), out.end()), high = *std::max_element(out.begin(), out.end());
    const double from = least_mm + high, to = most_mm + low;
    if (from > to) return 0.5 * (from + to);
    return std::clamp(wanted_mm + 0.5 * (low + high), from, to);
}

// The turn nearest to 0 at which every side's range is within the margins' range. One at a time linear in the turn; three rounds
// about the last answer leave nothing of the curvature.
std::optional<double> nearest_turn(const std::vector<TrueSide>& sides, double range_mm) {
    double about_deg = 0.0;
    for (int round = 0; round < 3; ++round) {
        Span turn;  // radians from `about`
        for (const TrueSide& side : sides) {
            const std::array<double, 3> out = out_of(side, about_deg);
            const Vec2 u = unit_deg(side.direction_deg + about_deg);
            for (std::size_t i = 0; i < 3; ++i) {
                for (std::size_t j = 0; j < 3; ++j) {
                    // out[i] - out[j] + x u.(at[i] - at[j]) <= range
                    const double slope = dot(u, side.at[i] - side.at[j]), room = range_mm - (out[i] - out[j]);
                    if (slope > 0.0) turn.high = std::min(turn.high, room / slope);
                    if (slope < 0.0) turn.low = std::max(turn.low, room / slope);
                    if (slope == 0.0 && room < -kWithinMm) return std::nullopt;
                }
            }
        }
        if (turn.low > turn.high + kWithinMm) return std::nullopt;
        const double x = std::clamp(-radians(about_deg), turn.low, std::max(turn.low, turn.high));
        about_deg += degrees(x);
    }
    return about_deg;
}

// Corners of lines at `line_mm` out from the origin, in these directions; free ends straight out from the opening's ends.
std::vector<Vec2> corners_of(const Outline& opening, const std::vector<TrueSide>& sides, const std::vector<double>& line_mm) {
    std::vector<Vec2> corners;
    for (std::size_t c = 0; c < opening.corners_mm.size(); ++c) {
        if (!opening.is_joint(c)) {
            const std::size_t k = c == 0 ? 0 : sides.size() - 1;
            const Vec2 n = right_of(unit_deg(sides[k].direction_deg));
            corners.push_back(opening.corners_mm[c] + (line_mm[k] - dot(n, opening.corners_mm[c])) * n);
            continue;
        }
        const std::size_t p = opening.board_before(c), k = opening.board_after(c);
        const Vec2 u = unit_deg(sides[p].direction_deg), v = unit_deg(sides[k].direction_deg);
        const double sine = cross(u, v);
        // right_of(u) . x is the first line, right_of(v) . x the second.
        corners.push_back((1.0 / sine) * (line_mm[k] * u - line_mm[p] * v) + Vec2{});  // no -0
    }
    return corners;
}

}  // namespace

Hang hang_true(const Outline& opening, const std::vector<double>& margin_mm, const std::vector<double>& bow_mm, double least_mm,
               double most_mm) {
    const std::vector<TrueSide> sides = true_sides(opening, bow_mm);
    Hang hang;
    hang.found_mm = opening.corners_mm;
    std::vector<double> line_mm;
    for (std::size_t k = 0; k < sides.size(); ++k) {
        const std::array<double, 3> out = out_of(sides[k], 0.0);
        const double range = range_of(out);
        if (range > hang.needs_mm) hang.needs_mm = range, hang.needs_side = k;
        const double line = line_of(out, margin_mm[k], least_mm, most_mm);
        line_mm.push_back(line - margin_mm[k]);
        hang.sides.push_back({sides[k].lies, out[0] - out[2], bow_mm[k], {line - out[0], line - out[1], line - out[2]}});
    }
    hang.fits = hang.needs_mm <= most_mm - least_mm + kWithinMm;
    hang.true_mm = corners_of(opening, sides, line_mm);
    if (!hang.fits) hang.turned_deg = nearest_turn(sides, most_mm - least_mm);
    return hang;
}

std::vector<std::array<double, 3>> known_margins(const Outline& opening, const std::vector<double>& bow_mm, const std::vector<double>& bow_sd_mm,
                                                 const FitCovariance& covariance) {
    const std::size_t n = opening.corners_mm.size();
    using Column = std::vector<double>;  // dot products of columns are covariances
    const auto column_of = [&](std::size_t corner, Vec2 by) {
        Gradient g;
        g.count = 1;
        g.point[0] = corner;
        g.by[0] = by;
        return covariance.column(g);
    };
    std::vector<Column> x, y;
    for (std::size_t c = 0; c < n; ++c) {
        x.push_back(column_of(c, {1.0, 0.0}));
        y.push_back(column_of(c, {0.0, 1.0}));
    }
    for (std::vector<Column>* columns : {&x, &y}) {
        for (std::size_t i = 0; i < columns->front().size(); ++i) {
            double mean = 0.0;
            for (const Column& column : *columns) mean += column[i] / static_cast<double>(n);
            for (Column& column : *columns) column[i] -= mean;
        }
    }
    std::vector<std::array<double, 3>> sd;
    const std::vector<TrueSide> sides = true_sides(opening, bow_mm);
    for (std::size_t k = 0; k < sides.size(); ++k) {
        const Vec2 square = right_of(unit_deg(sides[k].direction_deg));
        const auto out = [&](std::size_t c) {
            Column column(x[c].size());
            for (std::size_t i = 0; i < column.size(); ++i) column[i] = square.x * x[c][i] + square.y * y[c][i];
            return column;
        };
        const Column first = out(k), second = out(opening.corner_after(k));
        const double aa = dot_of(first, first), bb = dot_of(second, second), ab = dot_of(first, second);
        sd.push_back({std::sqrt(aa), std::sqrt(0.25 * (aa + bb) + 0.5 * ab + bow_sd_mm[k] * bow_sd_mm[k]), std::sqrt(bb)});
    }
    return sd;
}

Findings hang_outline(Outline& outline, const Project& project, bool levelled, const WayUp& way_up, const FitCovariance& covariance) {
    if (!project.outline.hang) return {};
    const HangAsked& asked = *project.outline.hang;
    std::vector<double> bow_mm(outline.boards(), 0.0), bow_sd_mm(outline.boards(), 0.0);
    for (const Reading& r : std::get<ReadingsOutline>(project.outline.form).readings) {
        if (r.kind != Reading::Kind::bow || !r.value) continue;
        bow_mm[r.first] = *r.value;
        bow_sd_mm[r.first] = r.accuracy.value_or(project.accuracy.side_mm);
    }
    Hang hang = hang_true(outline, project.outline.margin_mm, bow_mm, asked.least_mm, asked.most_mm);
    hang.levelled = levelled;
    hang.way_up = way_up;
    if (outline.boards() <= kMostSidesKnown) hang.margin_sd_mm = known_margins(outline, bow_mm, bow_sd_mm, covariance);
    Findings findings;
    if (asked.true_to_level) {
        const LengthStyle style = project.style();
        const auto name = [&](std::size_t k) { return pair_name(k, outline.corner_after(k)); };
        if (!hang.fits) {
            std::string message =
                fmt::format("To hang true the margin along {} must change by {}; from {} to {} it can change by {}.",
                            name(hang.needs_side), show_small(hang.needs_mm, style), show_length_unit(asked.least_mm, style),
                            show_length_unit(asked.most_mm, style), show_small(asked.most_mm - asked.least_mm, style));
            if (hang.turned_deg) {
                const double rise_mm = outline.sides_mm[0] * std::abs(sin_deg(*hang.turned_deg));
                message += fmt::format(" Square but out of level by {} over AB it would go.", show_small(rise_mm, style));
            }
            findings.push_back({Severity::error, "hang.margin-too-small", asked.pointer, std::move(message),
                                fmt::format("Let the margin reach {} (\"most\"), or hang it along the opening: \"hang\": \"as found\".",
                                            show_length_unit(std::ceil(asked.least_mm + hang.needs_mm), style))});
            findings.back().changes = {"hang is as found"};
            return findings;
        }
        if (!levelled) {
            findings.push_back({Severity::warning, "hang.not-levelled", asked.pointer,
                                "Nothing was read against level, so I took AB as level.",
                                "Lay a level along AB and write what you see: \"AB fall 4\", \"AB rise 4\" or \"AB level\"."});
        }
        if (levelled && way_up.by == WayUp::By::order) {
            const std::string sill = name(way_up.sill);
            findings.push_back({Severity::warning, "hang.way-up", asked.pointer,
                                fmt::format("What was read against level would fit nearly as well with the opening upside down; I took {} as the sill.", sill),
                                fmt::format("If it is, say so: \"{0} sill\". If it is at the top: \"{0} head\".", sill)});
            findings.back().changes = {sill + " sill"};
        }
        const bool clockwise = outline.letters_clockwise;
        Outline straight = build_corners(hang.true_mm, !outline.closed);
        straight.letters_clockwise = clockwise;
        straight.readings = std::move(outline.readings);
        straight.fitted = std::move(outline.fitted);
        outline = std::move(straight);
        hang.taken = true;
    }
    outline.hang = std::move(hang);
    return findings;
}

}  // namespace boardring
