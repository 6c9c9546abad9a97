#include "closure/budget.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

struct Ring {
    Project project;
    Frame frame;
};

Ring regular(std::size_t n, double side_mm, double width_mm) {
    const Outline outline = regular_ring(n, side_mm);
    Ring ring{project_for(outline, {width_mm}), {}};
    ring.frame = build_frame(ring.project, outline).value();
    return ring;
}

std::vector<MadeBoard> exact_of(const Frame& frame) {
    std::vector<MadeBoard> made;
    for (const Board& board : frame.boards) made.push_back(exact_board(board));
    return made;
}

Project only(Project project, double Accuracy::* source, double value) {
    project.accuracy = Accuracy{};
    for (double Accuracy::* other : {&Accuracy::mark_mm, &Accuracy::cut_angle_deg, &Accuracy::common_angle_deg,
                                     &Accuracy::rule_scale_mm_per_m, &Accuracy::stop_mm, &Accuracy::thickness_mm})
        project.accuracy.*other = 0.0;
    project.accuracy.*source = value;
    return project;
}

}  // namespace

TEST_CASE("a saw's scale out by d leaves 2N d at the last joint and 2N d times the inner radius, by its own source") {
    for (const std::size_t n : {4u, 5u, 6u, 8u, 12u}) {
        const Ring ring = regular(n, 300.0, 40.0);
        const Project project = only(ring.project, &Accuracy::common_angle_deg, 0.1);
        const RingErrors errors(project, ring.frame, SlopeBy::saw, exact_of(ring.frame));
        const Budget budget = budget_of(errors, n - 1, 1.0, kBuildsOfPage);
        REQUIRE(budget.lines.size() == 1);
        CHECK(budget.lines[0].source.kind == ErrorKind::scale);
        const double cuts = 2.0 * static_cast<double>(n);
        CHECK(std::abs(budget.angle_left_sd_deg - cuts * 0.1) < 1e-9);
        // The long points are held, so the inner corners move too: the mean of inner and outer radius is what the lever is to the middle
        // of the face; at the inner end the published figure for kept inner marks is 2N d R_in, at the outer 2N d R_out.
        const double inner = 300.0 / (2.0 * std::sin(kPi / static_cast<double>(n)));
        const double outer = inner + 40.0 / std::cos(kPi / static_cast<double>(n));
        CHECK(budget.gap_in_sd_mm > cuts * radians(0.1) * inner * 0.99);
        CHECK(budget.gap_out_sd_mm < cuts * radians(0.1) * (outer + 40.0));
        // Drawn in, one standard deviation opens every joint 2 d w / cos S; the 95th of 100 lies at 1.96 of them.
        const double face = 40.0 / std::cos(kPi / static_cast<double>(n));
        CHECK(std::abs(budget.spread.most_mm / (1.96 * 2.0 * radians(0.1) * face) - 1.0) < 0.05);
    }
}

TEST_CASE("a rule that is long all over does no harm where slopes are set by bevel") {
    const Ring ring = regular(6, 369.5, 38.0);
    const RingErrors errors(only(ring.project, &Accuracy::rule_scale_mm_per_m, 0.3), ring.frame, SlopeBy::bevel, exact_of(ring.frame));
    CHECK(budget_of(errors, 5, 1.0, kBuildsOfPage).spread.most_mm < 1e-9);
}

TEST_CASE("one stop for all boards of a regular ring does no harm, each board on its own does") {
    const Ring ring = regular(6, 369.5, 38.0);
    const RingErrors set(only(ring.project, &Accuracy::mark_mm, 1.0), ring.frame, SlopeBy::saw, exact_of(ring.frame));
    CHECK(budget_of(set, 5, 1.0, kBuildsOfPage).spread.most_mm < 1e-9);
    const RingErrors each(only(ring.project, &Accuracy::stop_mm, 1.0), ring.frame, SlopeBy::saw, exact_of(ring.frame));
    CHECK(budget_of(each, 5, 1.0, kBuildsOfPage).spread.most_mm > 0.1);
}

TEST_CASE("slopes by two marks on a narrow board are out by e cos^2 S / w each") {
    const Ring ring = regular(6, 369.5, 38.0);
    const RingErrors errors(only(ring.project, &Accuracy::mark_mm, 0.5), ring.frame, SlopeBy::marks, exact_of(ring.frame));
    // 24 marks; each turns its cut by e cos^2 S / w, and all add up by the root of the sum of squares.
    const double one = 0.5 * 0.75 / 38.0;
    CHECK(std::abs(radians(budget_of(errors, 5, 1.0, kBuildsOfPage).angle_left_sd_deg) - std::sqrt(24.0) * one) < 1e-9);
}

TEST_CASE("shares add up to one, scale with the square of the source, and stand in order") {
    const Ring ring = regular(5, 400.0, 60.0);
    const RingErrors errors(ring.project, ring.frame, SlopeBy::bevel, exact_of(ring.frame));
    const Budget budget = budget_of(errors, 4, 1.0, kBuildsOfPage);
    double spread = 0.0, stiff = 0.0;
    for (std::size_t i = 0; i < budget.lines.size(); ++i) {
        spread += budget.lines[i].spread_share;
        stiff += budget.lines[i].stiff_share;
        if (i > 0) CHECK(budget.lines[i - 1].spread_share >= budget.lines[i].spread_share);
    }
    CHECK(std::abs(spread - 1.0) < 1e-12);
    CHECK(std::abs(stiff - 1.0) < 1e-12);
    const double wanted = budget.spread.most_mm;
    const std::vector<double> half(errors.model.sources.size(), 0.5);
    CHECK(std::abs(errors.odds(half, wanted, kBuildsOfPage).most_mm - 0.5 * wanted) < 1e-9 * wanted);
    CHECK(errors.odds(half, wanted, kBuildsOfPage).within > 0.99);
}

TEST_CASE("the board fitted last is too short in one of a hundred builds") {
    const Ring ring = regular(6, 369.5, 38.0);
    const RingErrors errors(ring.project, ring.frame, SlopeBy::bevel, exact_of(ring.frame));
    const LeaveLong leave = errors.leave_long(5);
    CHECK(leave.corner == 0);
    const Budget budget = budget_of(errors, 5, 1.0, kBuildsOfPage);
    // The larger of two gaps that move together: between one of them and both apart.
    const double sd = std::max(budget.gap_in_sd_mm, budget.gap_out_sd_mm) / cos_deg(30.0);
    CHECK(leave.long_mm > 2.3 * sd);
    CHECK(leave.long_mm < 2.8 * sd);
    CHECK(leave.trimmed_mm > 0.8 * leave.long_mm - sd);
    CHECK(leave.trimmed_mm < leave.long_mm);
}
