#include "outline/found.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "base/angle.hpp"
#include "outline/build.hpp"
#include "outline/way_up.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostForNext = 60;  // points; beyond, the search over all pairs takes too long
constexpr double kWorthwhile = 0.9;       // of the present uncertainty

Gradient side_gradient(const Outline& outline, std::size_t side) {
    Observation o;
    o.a = side;
    o.b = outline.corner_after(side);
    return gradient_of(o, outline.corners_mm);
}

Gradient angle_gradient(const Network& network, const Outline& outline, std::size_t corner) {
    Observation o;
    o.kind = Observation::Kind::angle;
    o.a = corner;
    o.b = network.next(corner);
    o.c = network.before(corner);
    return gradient_of(o, outline.corners_mm);
}

double sd_of(const FitCovariance& covariance, const Gradient& gradient) {
    const std::vector<double> column = covariance.column(gradient);
    return std::sqrt(dot_of(column, column));
}

void fill_readings(Outline& outline, const std::vector<Reading>& readings, const Fitted& fitted) {
    for (std::size_t i = 0; i < fitted.network.observations.size(); ++i) {
        const Observation& o = fitted.network.observations[i];
        outline.readings.push_back({readings[o.line].text, readings[o.line].kind, o.value, fitted.judgement.readings[i].fitted});
    }
    for (const Reading& r : readings) {  // reported, not fitted
        if (r.kind == Reading::Kind::bow && r.value) outline.readings.push_back({r.text, r.kind, r.value, *r.value});
        if (r.kind != Reading::Kind::width || !r.value) continue;
        const auto middle = [&](std::size_t side) {
            return 0.5 * (outline.corners_mm[side] + outline.corners_mm[outline.corner_after(side)]);
        };
        outline.readings.push_back({r.text, r.kind, r.value, length(middle(r.second) - middle(r.first))});
    }
}

double root_mean_square(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double v : values) sum += v * v;
    return std::sqrt(sum / static_cast<double>(values.size()));
}

bool is_read(const Network& network, std::size_t a, std::size_t b) {
    return std::any_of(network.observations.begin(), network.observations.end(), [&](const Observation& o) {
        return o.kind == Observation::Kind::distance && std::minmax(o.a, o.b) == std::minmax(a, b);
    });
}

// What runs from outside line to inside line at an end of a mitred board: how far its outside mark lies beyond its inside mark.
double run_mm(double own_mm, double other_mm, double turn_deg) {
    return (other_mm - own_mm * cos_deg(turn_deg)) / sin_deg(turn_deg);
}

}  // namespace

SlipContext slip_context(const Project& project, const Outline& outline) {
    SlipContext context{project.style(), {}};
    const auto& readings = std::get<ReadingsOutline>(project.outline.form).readings;
    if (project.boards.size() != outline.boards() || project.joints.size() != outline.corners_mm.size()) return context;
    constexpr double kLeastTurnDeg = 5.0;
    context.other_lines.resize(readings.size());
    for (std::size_t line = 0; line < readings.size(); ++line) {
        const Reading& r = readings[line];
        if (r.kind != Reading::Kind::side) continue;
        const std::size_t ends[2] = {r.first, outline.corner_after(r.first)};
        double more_mm = 0.0;
        bool known = true;
        for (const std::size_t corner : ends) {
            known = known && outline.is_joint(corner) && is_mitred(project.joints[corner].kind) &&
                    std::abs(outline.turn_deg[corner]) > kLeastTurnDeg;
            if (!known) break;
            const std::size_t before = outline.board_before(corner), after = outline.board_after(corner);
            more_mm += run_mm(project.width_in_joint_mm(r.first), project.width_in_joint_mm(before == r.first ? after : before),
                              outline.turn_deg[corner]);
        }
        if (!known) continue;
        auto& lines = context.other_lines[line];
        switch (project.outline.line) {
            case OutlineLine::inside:
                lines = {{SideSlip::outside_taken, -more_mm}, {SideSlip::middle_taken, -0.5 * more_mm}};
                break;
            case OutlineLine::outside:
                lines = {{SideSlip::outside_taken, more_mm}, {SideSlip::middle_taken, 0.5 * more_mm}};
                break;
            case OutlineLine::middle:
                lines = {{SideSlip::middle_taken, 0.5 * more_mm}, {SideSlip::middle_taken, -0.5 * more_mm}};
                break;
        }
    }
    return context;
}

std::optional<NextReading> best_next_reading(const Network& network, const NetworkFit& fit, const FitCovariance& covariance,
                                             double sigma_mm) {
    if (network.points > kMostForNext) return std::nullopt;
    const double n = static_cast<double>(network.corners);
    const double now = root_mean_square(covariance.corner_sd_mm());
    Vec2 middle;
    for (std::size_t c = 0; c < network.corners; ++c) middle = middle + (1.0 / n) * fit.points_mm[c];
    double arms = 0.0;
    for (std::size_t c = 0; c < network.corners; ++c) arms += dot(fit.points_mm[c] - middle, fit.points_mm[c] - middle);
    std::optional<NextReading> best;
    double most = 0.0;
    for (std::size_t a = 0; a < network.points; ++a) {
        for (std::size_t b = a + 1; b < network.points; ++b) {
            if (is_read(network, a, b)) continue;
            Observation o;
            o.a = a;
            o.b = b;
            const Gradient gradient = gradient_of(o, fit.points_mm);
            const std::vector<Vec2> moves = covariance.influence(gradient);
            // Of the corners' covariance with the new reading only what changes their shape counts: mean place and turn taken
            // off.
            Vec2 mean;
            double turn = 0.0;
            for (std::size_t c = 0; c < network.corners; ++c) mean = mean + (1.0 / n) * moves[c];
            for (std::size_t c = 0; c < network.corners; ++c) turn += cross(fit.points_mm[c] - middle, moves[c]) / arms;
            double squares = 0.0;
            for (std::size_t c = 0; c < network.corners; ++c) {
                const Vec2 own = moves[c] - mean - turn * left_of(fit.points_mm[c] - middle);
                squares += dot(own, own);
            }
            const double sd = sd_of(covariance, gradient);
            const double gain = squares / (sigma_mm * sigma_mm + sd * sd);
            if (gain <= most * (1.0 + 1e-9)) continue;
            most = gain;
            best = NextReading{a, b, predicted(o, fit.points_mm), 0.0};
        }
    }
    if (!best) return std::nullopt;
    // The sum over both directions of all corners falls by `most`; shown is the larger direction, in proportion.
    double trace = 0.0;
    for (const double sd : covariance.corner_sd_mm()) trace += sd * sd;
    best->corners_sd_mm = now * std::sqrt(std::max(0.0, 1.0 - most / trace));
    if (best->corners_sd_mm > kWorthwhile * now) return std::nullopt;
    return best;
}

Result<Outline> locate_found(const Project& project) {
    Fitted fitted;
    fitted.network = open_network(project);
    UprightFit upright = fit_upright(fitted.network, project.outline.letters_clockwise);
    fitted.fit = std::move(upright.fit);
    const auto covariance = FitCovariance::of(fitted.network, fitted.fit.points_mm);
    if (!covariance) return too_few_finding(project, fitted.network, fitted.fit.points_mm);
    const auto corners = static_cast<std::ptrdiff_t>(fitted.network.corners);
    Outline outline = build_corners({fitted.fit.points_mm.begin(), fitted.fit.points_mm.begin() + corners}, project.outline.open);
    outline.letters_clockwise = project.outline.letters_clockwise;
    fitted.judgement = judge_fit(fitted.network, fitted.fit, slip_context(project, outline));
    if (fitted.fit.stop == FitStop::too_many_steps) {
        // One reading far out may keep the whole from settling; the rest without it has.
        const bool one_explains = !fitted.judgement.suspects.empty() && !fitted.judgement.more_than_one;
        Findings named = one_explains ? judgement_findings(project, fitted) : Findings{};
        if (has_error(named)) return named;
        return not_settled_finding(fitted.network);
    }
    fitted.corner_sd_mm = covariance->corner_sd_mm();
    for (std::size_t k = 0; k < outline.boards(); ++k) fitted.side_sd_mm.push_back(sd_of(*covariance, side_gradient(outline, k)));
    for (std::size_t c = 0; c < outline.corners_mm.size(); ++c) {
        const bool joint = outline.is_joint(c);
        fitted.angle_sd_deg.push_back(joint ? sd_of(*covariance, angle_gradient(fitted.network, outline, c)) : 0.0);
    }
    fitted.next = best_next_reading(fitted.network, fitted.fit, *covariance, project.accuracy.diagonal_mm);
    Findings findings = judgement_findings(project, fitted);
    append(findings, sill_findings(project, fitted.network, fitted.fit));
    if (has_error(findings)) return findings;
    fill_readings(outline, std::get<ReadingsOutline>(project.outline.form).readings, fitted);
    const bool levelled = fitted.network.levelled();
    outline.fitted = std::move(fitted);
    append(findings, hang_outline(outline, project, levelled, upright.way, *covariance));
    if (has_error(findings)) return findings;
    return {std::move(outline), std::move(findings)};
}

}  // namespace boardring
