#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "base/names.hpp"
#include "outline/blame.hpp"
#include "outline/misfit.hpp"
#include "outline/speaker.hpp"

namespace boardring {
namespace {

constexpr double kSilentMm = 1e-6;  // smaller corrections are rounding, not news
constexpr double kSilentDeg = 1e-9;
constexpr std::size_t kNamed = 3;

// Corners of a design were bent to make the sides meet: allowed by their digits, hardly meant.
void mean_it_exactly(Finding& finding, const Chain& measured, const Speaker& say) {
    const std::vector<SideSuspect> fitting = fitting_sides(with_exact_corners(measured), say.style());
    std::vector<std::string> mends;
    for (std::size_t i = 0; i < std::min(kNamed, fitting.size()); ++i) {
        mends.push_back(fmt::format("{} would be {}", say.side(fitting[i].side), say.mm(fitting[i].would_be_mm)));
    }
    finding.message += " If you mean the corners exactly as written, ";
    finding.message += mends.empty() ? std::string("the sides do not meet.") : fmt::format("{}.", listed(mends, "or"));
    finding.fix = mends.empty()
                      ? std::string("Measure the sides again, or give the corners with one digit more.")
                      : fmt::format("Measure {} again, or give the corners with one digit more.", say.side(fitting.front().side));
}

}  // namespace

Findings spread_findings(const Notebook& book, const Project& project, const Misclosure& miss, const Spread& spread) {
    const Speaker say(book, project);
    const std::size_t n = book.chain.sides();
    double most_side = 0.0, most_angle = 0.0, least_angle = 1e300;
    std::size_t side = 0, corner = 0;
    for (std::size_t k = 0; k < n; ++k) {
        if (std::abs(spread.side_mm[k]) > most_side) most_side = std::abs(spread.side_mm[side = k]);
        if (std::abs(spread.angle_deg[k]) > most_angle) most_angle = std::abs(spread.angle_deg[corner = k]);
        least_angle = std::min(least_angle, std::abs(spread.angle_deg[k]));
    }
    const bool sides_moved = most_side > kSilentMm;
    const bool angles_moved = most_angle > kSilentDeg;
    const bool equal_angles = spread.angles_by_shares && most_angle - least_angle <= 1e-9;
    const std::string by_angle = equal_angles ? fmt::format("{} {} {} each corner", miss.angle_deg < 0.0 ? "added" : "took",
                                                            Speaker::small_deg(most_angle), miss.angle_deg < 0.0 ? "to" : "off")
                                              : fmt::format("changed no corner by more than {} ({})",
                                                            Speaker::small_deg(most_angle), corner_letter(corner));
    const std::string by_side = fmt::format("changed no side by more than {} ({})", say.small_mm(most_side), say.side(side));
    const std::string again =
        sides_moved
            ? fmt::format("Nothing to do. If you would rather decide it yourself, measure {} again.", say.side(side))
            : fmt::format("Nothing to do. If you would rather decide it yourself, measure {} again.", corner_letter(corner));
    Findings findings;
    const bool sum_off = std::abs(miss.angle_deg) > kSilentDeg;
    if (sum_off) {
        const std::string difference = Speaker::small_deg(std::abs(miss.angle_deg));
        findings.push_back(
            {Severity::note, "outline.angle-sum-spread", "/outline/readings",
             fmt::format("The corners add up to {}, {} {}: within the digits you gave; I {}.", show_number(miss.angle_sum_deg, 4),
                         difference, miss.angle_deg < 0.0 ? "short" : "too much", by_angle),
             fmt::format("Nothing to do. If you would rather decide it yourself, measure {} again.", corner_letter(corner))});
    }
    if (sides_moved) {
        const std::string what = angles_moved && !sum_off ? fmt::format("{} and {}", by_angle, by_side) : by_side;
        const bool bends_design = angles_moved && !sum_off && corners_by_design(book.chain);
        findings.push_back({bends_design ? Severity::warning : Severity::note, "outline.misclosure-spread", "/outline/readings",
                            fmt::format("{} {} from meeting (one in {}): within the digits you gave; I {}.",
                                        sum_off ? "With equal shares at the corners the sides are" : "The sides are",
                                        say.small_mm(miss.length_mm), show_number(miss.one_in, 0), what),
                            again});
        if (bends_design) mean_it_exactly(findings.back(), as_measured(book, project).chain, say);
    }
    return findings;
}

}  // namespace boardring
