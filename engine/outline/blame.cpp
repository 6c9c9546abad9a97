#include "outline/blame.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <variant>

#include "outline/adjust.hpp"

namespace boardring {
namespace {

constexpr std::size_t kAllDetailed = 60;  // rings in which every suspect is looked at closely; beyond, the nearest few
constexpr std::size_t kDetailed = 6;
constexpr double kSlipCounts = 4.0;      // a slip that gives the very number counts like 55 to 1
constexpr double kSideSlipCounts = 1.0;  // a side out by a usual amount: hardly more than a hint
constexpr double kSilentDeg = 1e-9;

// How badly a suspect fits, as a negative logarithm of its likelihood; diagonals in the notebook count, and so does an exact
// slip.
double badness(const Notebook& book, const std::vector<Reading>& readings, const CornerSuspect& s) {
    double value = s.unlikely + s.vague;
    if (s.slip_exact) value -= kSlipCounts;
    if (!book.diagonal_lines.empty()) {
        Chain corrected = book.chain;
        corrected.interior_deg[s.corner] = s.would_be_deg;
        const std::vector<Vec2> corners_mm = walk(corrected).corners_mm;
        for (const std::size_t line : book.diagonal_lines) {
            const Reading& r = readings[line];
            const double off = length(corners_mm[r.second] - corners_mm[r.first]) - *r.value;
            const double noise = std::hypot(r.accuracy.value_or(r.half_step), s.noise_mm);
            if (noise > 0.0) value += std::min(12.0, 0.5 * (off / noise) * (off / noise));
        }
    }
    return value;
}

}  // namespace

Notebook as_measured(const Notebook& book, const Project& project) {
    const std::vector<Reading>& readings = std::get<ReadingsOutline>(project.outline.form).readings;
    Notebook measured = book;
    for (std::size_t k = 0; k < book.chain.sides(); ++k) {
        if (!readings[book.side_line[k]].accuracy) {
            measured.chain.side_within_mm[k] = std::max(book.chain.side_within_mm[k], project.accuracy.side_mm);
        }
        if (!readings[book.angle_line[k]].accuracy) {
            measured.chain.angle_within_deg[k] = std::max(book.chain.angle_within_deg[k], project.accuracy.angle_deg);
        }
    }
    return measured;
}

bool corners_by_design(const Chain& chain) {
    return std::all_of(chain.interior_deg.begin(), chain.interior_deg.end(),
                       [](double i) { return std::remainder(i, 15.0) == 0.0; });
}

bool closes_as_measured(const Chain& measured) {
    return !corners_by_design(measured) && spread_within_digits(measured).has_value();
}

Chain with_exact_corners(Chain chain) {
    chain.angle_within_deg.assign(chain.angle_within_deg.size(), 0.0);
    return chain;
}

JudgedCorners judge_corners(const Notebook& measured, const std::vector<Reading>& readings) {
    JudgedCorners judged;
    const std::size_t detailed = measured.chain.sides() <= kAllDetailed ? measured.chain.sides() : kDetailed;
    judged.nearest = corner_suspects(measured, readings, detailed);
    std::vector<std::pair<double, std::size_t>> order;
    for (std::size_t i = 0; i < std::min(detailed, judged.nearest.size()); ++i) {
        if (judged.nearest[i].fits()) order.emplace_back(badness(measured, readings, judged.nearest[i]), i);
    }
    std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (const auto& [bad, i] : order) {
        judged.fitting.push_back(judged.nearest[i]);
        judged.badness.push_back(bad);
    }
    return judged;
}

double badness(const SideSuspect& s) {
    return s.unlikely + s.vague - (s.slip == SideSlip::none ? 0.0 : kSideSlipCounts);
}

std::vector<SideSuspect> fitting_sides(const Chain& measured, const LengthStyle& style) {
    std::vector<SideSuspect> suspects = side_suspects(with_equal_shares(measured), style);
    std::erase_if(suspects, [](const SideSuspect& s) { return !s.fits(); });
    std::stable_sort(suspects.begin(), suspects.end(),
                     [](const SideSuspect& a, const SideSuspect& b) { return badness(a) < badness(b); });
    return suspects;
}

// A wrong side leaves the angle sum to careful reading; a wrong corner may be out by anything. What each may be out by before
// anyone has looked: a side anywhere within about half a metre, a corner within about 60 degrees.
Weighed weigh(const Notebook& measured, const std::vector<Reading>& readings, const LengthStyle& style) {
    constexpr double kSideOut_mm = 500.0;
    constexpr double kCornerOut_deg = 60.0;
    constexpr double kOnlyOne = 1e6;
    const double misfit_deg = angle_misfit_deg(measured.chain);
    double variance = kSilentDeg * kSilentDeg;
    for (const double within : measured.chain.angle_within_deg) variance += within * within;
    const std::vector<SideSuspect> sides = fitting_sides(measured.chain, style);
    const JudgedCorners corners = judge_corners(measured, readings);
    Weighed weighed;
    if (!sides.empty()) weighed.side = sides.front();
    if (!corners.fitting.empty()) weighed.corner = corners.fitting.front();
    if (!weighed.side || misfit_deg * misfit_deg > 18.0 * variance) {
        weighed.side.reset();
        weighed.side_lead = -kOnlyOne;
    } else if (!weighed.corner || std::abs(misfit_deg) <= kSilentDeg) {
        weighed.corner.reset();
        weighed.side_lead = kOnlyOne;
    } else {
        const double side =
            badness(*weighed.side) + std::log(kSideOut_mm) + 0.5 * misfit_deg * misfit_deg / variance + 0.5 * std::log(variance);
        weighed.side_lead = corners.badness.front() + std::log(kCornerOut_deg) - side;
    }
    return weighed;
}

}  // namespace boardring
