#include "closure/budget.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "closure/closure.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"
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
        const Budget budget = budget_of(errors, n - 1, Wanted{}, kBuildsOfPage);
        REQUIRE(budget.lines.size() == 1);
        CHECK(budget.lines[0].source.kind == ErrorKind::scale);
        const double cuts = 2.0 * static_cast<double>(n);
        CHECK(std::abs(budget.angle_left_sd_deg - cuts * 0.1) < 1e-9);
        // Both faces of a joint turn about the long point by d, which moves what follows by 2 d about it; over the ring that is a turn of 2N d
        // about the mean of all long points, the middle. So the gaps are 2N d R at the inner and the outer corner.
        const double inner = 300.0 / (2.0 * std::sin(kPi / static_cast<double>(n)));
        const double outer = inner + 40.0 / std::cos(kPi / static_cast<double>(n));
        CHECK(std::abs(budget.gap_in_sd_mm / (cuts * radians(0.1) * inner) - 1.0) < 1e-9);
        CHECK(std::abs(budget.gap_out_sd_mm / (cuts * radians(0.1) * outer) - 1.0) < 1e-9);
        // Drawn in, one standard deviation opens every joint 2 d w / cos S, inside or outside: 95 of 100 at 1.96 of them, the mean at
        // the root of 2 / pi, the standard deviation at that of 1 - 2 / pi. Of 8192 builds a quantile is good to 0.0240 standard
        // deviations (density of 95 of 100 being 0.117), a mean to 0.0067: four of these.
        const double face = 40.0 / std::cos(kPi / static_cast<double>(n));
        const double opens = 2.0 * radians(0.1) * face;
        const OpeningOdds odds = errors.odds({}, 1.0, kBuildsOfAdvice);
        CHECK(std::abs(odds.most_mm / opens - 1.95996) < 4.0 * std::sqrt(0.95 * 0.05 / 8192.0) / 0.1169);
        CHECK(std::abs(odds.mean_mm / opens - std::sqrt(2.0 / kPi)) < 4.0 * 0.6028 / std::sqrt(8192.0));
        CHECK(std::abs(odds.sd_mm / opens - std::sqrt(1.0 - 2.0 / kPi)) < 4.0 * 0.6028 / std::sqrt(8192.0));
    }
}

TEST_CASE("a rule that is long all over does no harm where slopes are set by bevel") {
    const Ring ring = regular(6, 369.5, 38.0);
    const RingErrors errors(only(ring.project, &Accuracy::rule_scale_mm_per_m, 0.3), ring.frame, SlopeBy::bevel, exact_of(ring.frame));
    CHECK(budget_of(errors, 5, Wanted{}, kBuildsOfPage).spread.most_mm < 1e-9);
}

TEST_CASE("one stop for all boards of a regular ring does no harm, each board on its own does") {
    const Ring ring = regular(6, 369.5, 38.0);
    const RingErrors set(only(ring.project, &Accuracy::mark_mm, 1.0), ring.frame, SlopeBy::saw, exact_of(ring.frame));
    CHECK(budget_of(set, 5, Wanted{}, kBuildsOfPage).spread.most_mm < 1e-9);
    const RingErrors each(only(ring.project, &Accuracy::stop_mm, 1.0), ring.frame, SlopeBy::saw, exact_of(ring.frame));
    // Against lengths drawn by another hand and rings made and drawn in one by one: the medians of 600 and 8192 builds.
    Random random(17);
    std::vector<double> widest;
    for (int build = 0; build < 600; ++build) {
        std::vector<MadeBoard> made = exact_of(ring.frame);
        for (MadeBoard& board : made) {
            const double longer_mm = std::sqrt(-2.0 * std::log(1.0 - random.unit())) * std::cos(2.0 * kPi * random.unit());
            board.ends[1].inside_mm += longer_mm;
            board.ends[1].outside_mm += longer_mm;
        }
        widest.push_back(close_made(ring.frame, made).spread->widest_mm);
    }
    std::sort(widest.begin(), widest.end());
    const OpeningOdds odds = each.odds({}, 1.0, kBuildsOfAdvice);
    // A median's standard error is 1.2533 standard deviations over the root of the builds where the shape is near a normal one.
    CHECK(std::abs(widest[300] - odds.typical_mm) < 4.0 * 1.2533 * odds.sd_mm * std::sqrt(1.0 / 600.0 + 1.0 / 8192.0));
    CHECK(odds.typical_mm > 10.0 * budget_of(set, 5, Wanted{}, kBuildsOfPage).spread.most_mm);
}

TEST_CASE("slopes by two marks on a narrow board are out by e cos^2 S / w each") {
    const Ring ring = regular(6, 369.5, 38.0);
    const RingErrors errors(only(ring.project, &Accuracy::mark_mm, 0.5), ring.frame, SlopeBy::marks, exact_of(ring.frame));
    // 24 marks; each turns its cut by e cos^2 S / w, and all add up by the root of the sum of squares.
    const double one = 0.5 * 0.75 / 38.0;
    CHECK(std::abs(radians(budget_of(errors, 5, Wanted{}, kBuildsOfPage).angle_left_sd_deg) - std::sqrt(24.0) * one) < 1e-9);
}

TEST_CASE("shares add up to one, scale with the square of the source, and stand in order") {
    const Ring ring = regular(5, 400.0, 60.0);
    const RingErrors errors(ring.project, ring.frame, SlopeBy::bevel, exact_of(ring.frame));
    const Budget budget = budget_of(errors, 4, Wanted{}, kBuildsOfPage);
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
    // The same builds: half as wide under this is as they are under twice as much.
    CHECK(errors.odds(half, wanted, kBuildsOfPage).within == errors.odds({}, 2.0 * wanted, kBuildsOfPage).within);
}

namespace {

// Probability that the larger of two normal numbers with these standard deviations and covariance stays under x: the one given the
// other, summed over the other in small steps.
double larger_below(double x, double sd_a, double sd_b, double covariance) {
    const double slope = covariance / (sd_a * sd_a), rest = std::sqrt(std::max(0.0, sd_b * sd_b - covariance * slope));
    constexpr int kSteps = 4000;
    double sum = 0.0;
    for (int i = 0; i < kSteps; ++i) {
        const double low = -8.0 * sd_a, a = low + (x - low) * (i + 0.5) / kSteps;
        const double density = std::exp(-0.5 * a * a / (sd_a * sd_a)) / (sd_a * std::sqrt(2.0 * kPi));
        sum += density * 0.5 * std::erfc(-(x - slope * a) / (rest * std::sqrt(2.0))) * (x - low) / kSteps;
    }
    return sum;
}

}  // namespace

TEST_CASE("the board fitted last is too short in one of a hundred builds: the larger of two gaps that move together") {
    const Ring ring = regular(6, 369.5, 38.0);
    const RingErrors errors(ring.project, ring.frame, SlopeBy::bevel, exact_of(ring.frame));
    const Budget budget = budget_of(errors, 5, Wanted{}, kBuildsOfPage);
    const LeaveLong leave = errors.leave_long(5, 10.0);
    CHECK(leave.corner == 0);
    const double face_mm = 38.0 / cos_deg(30.0);
    const double in = budget.gap_in_sd_mm, out = budget.gap_out_sd_mm;
    // gap out = gap in + face x angle left
    const double both = in * in + face_mm * radians(1.0) * budget.covariance[0][2];
    const double builds = 8192.0, error = 4.0 * std::sqrt(0.01 * 0.99 / builds);
    CHECK(std::abs(larger_below(leave.long_mm * cos_deg(30.0), in, out, both) - 0.99) < error);
    CHECK(std::abs(larger_below(10.0 * cos_deg(30.0), in, out, both) - (1.0 - leave.too_short)) < 4.0 * 0.5 / std::sqrt(builds));
    // C. E. Clark's mean of the larger of two (1961): the root of (a^2 + b^2 - 2 ab) / 2 pi.
    const double mean_mm = std::sqrt((in * in + out * out - 2.0 * both) / (2.0 * kPi)) / cos_deg(30.0);
    CHECK(std::abs(leave.long_mm - leave.trimmed_mm - mean_mm) < 4.0 * out / cos_deg(30.0) / std::sqrt(builds));
    CHECK(std::abs(leave.lip_mm / budget.lip_in_sd_mm - 1.95996) < 4.0 * std::sqrt(0.95 * 0.05 / builds) / 0.1169);
}

TEST_CASE("one linear map tells the scatter of the opening where the steps leave more than the errors do") {
    // Every cut a twentieth of a degree small, errors of a twenty-fifth of that: the same gaps are shut in nearly all builds.
    Ring ring = regular(6, 369.5, 38.0);
    std::vector<MadeBoard> small = exact_of(ring.frame);
    for (MadeBoard& board : small) {
        for (std::size_t e = 0; e < 2; ++e) {
            const double run_mm = 38.0 * tan_deg(29.95);
            board.ends[e].run_mm = run_mm;
            board.ends[e].inside_mm = board.ends[e].outside_mm + (e == 0 ? run_mm : -run_mm);
        }
    }
    const Project little = only(ring.project, &Accuracy::cut_angle_deg, 0.002);
    const RingErrors errors(little, ring.frame, SlopeBy::bevel, small);
    const std::optional<OpeningAsMeant> meant = errors.as_meant(kBuildsOfAdvice);
    REQUIRE(meant);
    CHECK(meant->same_shut > 0.9);
    // To first order in what the twelve cuts turn together.
    const double opens_mm = 2.0 * radians(0.05) * 38.0 / cos_deg(30.0);
    CHECK(std::abs(meant->meant_mm / opens_mm - 1.0) < 12.0 * radians(0.05));
    // The exact chain, drawn in, with the gap at that joint read off: an average over 400 builds.
    Random random(23);
    double sum = 0.0, squares = 0.0;
    constexpr int kBuilds = 400;
    for (int build = 0; build < kBuilds; ++build) {
        std::vector<double> z;
        for (std::size_t j = 0; j < errors.model.inputs.size(); ++j)
            z.push_back(std::sqrt(-2.0 * std::log(1.0 - random.unit())) * std::cos(2.0 * kPi * random.unit()));
        const std::vector<BoardDeviation> by = deviations_of(errors.model, z);
        std::vector<MadeBoard> made;
        for (std::size_t k = 0; k < by.size(); ++k) made.push_back(deviated(small[k], by[k], SlopeBy::bevel));
        const JointMisfit shown = close_made(ring.frame, made).spread->joints[meant->corner];
        const double gap_mm = meant->inside ? shown.gap_in_mm : shown.gap_out_mm;
        sum += gap_mm, squares += gap_mm * gap_mm;
    }
    const double sd_mm = std::sqrt(squares / kBuilds - sum / kBuilds * (sum / kBuilds));
    // A standard deviation of 400 builds is good to 3.5 of 100; four of these.
    CHECK(std::abs(sd_mm / meant->sd_mm - 1.0) < 4.0 / std::sqrt(2.0 * kBuilds));
    // Boards that are meant to close have no gap that the map could start from.
    CHECK(!RingErrors(little, ring.frame, SlopeBy::bevel, exact_of(ring.frame)).as_meant(kBuildsOfPage));
}
