#include "closure/simulate.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

struct Ring {
    Project project;
    Frame frame;
    RingErrors errors;
};

// Mitres, a butt and a half-lap; `times` the usual errors of garden work.
Ring mixed_ring(double times) {
    const Outline outline = outline_through({{0, 0}, {900, 0}, {1000, 500}, {500, 900}, {-100, 450}});
    Project project = project_for(outline, {38.0, 38.0, 28.0});
    project.joints[1].kind = JointKind::butt;
    project.joints[3].kind = JointKind::half_lap;
    project.accuracy.mark_mm = 0.5 * times;
    project.accuracy.cut_angle_deg = 0.3 * times;
    Frame frame = build_frame(project, outline).value();
    RingErrors errors(project, frame, SlopeBy::bevel, boards_as_meant(project, frame, SlopeBy::bevel));
    return {std::move(project), std::move(frame), std::move(errors)};
}

}  // namespace

TEST_CASE("rings that are walked in packs and rings that are drawn in one by one are the same on any number of threads") {
    for (const double times : {1.0, 8.0}) {
        const Ring ring = mixed_ring(times);
        TrialOptions options;
        options.runs = 21'003;
        options.seed = 77;
        const Simulation one = simulate(ring.frame, ring.errors, 2, 1.0, options);
        // Of the larger errors many rings open more than a pack is good for.
        double least_face_mm = HUGE_VAL;
        for (const RingMotion::JointPlace& joint : ring.errors.ring.joints) least_face_mm = std::min(least_face_mm, joint.face_mm);
        CHECK((one.widest.quantile(0.7) > kPackOpens * least_face_mm) == (times > 1.0));
        for (const std::size_t threads : {2U, 3U, 8U}) {
            options.threads = threads;
            const Simulation other = simulate(ring.frame, ring.errors, 2, 1.0, options);
            CHECK(other.widest.sorted == one.widest.sorted);
            CHECK(other.stiff.sorted == one.stiff.sorted);
            CHECK(other.widest.mean == one.widest.mean);
            CHECK(other.within == one.within);
        }
    }
}

TEST_CASE("the share within the wanted gap is counted, with the standard error of a count") {
    const Ring ring = mixed_ring(1.0);
    TrialOptions options;
    options.runs = 10'000;
    const double wanted_mm = simulate(ring.frame, ring.errors, 0, 1.0, options).widest.quantile(0.7);
    options.seed = 9;
    const Simulation trials = simulate(ring.frame, ring.errors, 0, wanted_mm, options);
    std::size_t in = 0;
    for (const double x : trials.widest.sorted) in += x <= wanted_mm ? 1U : 0U;
    CHECK(trials.within == static_cast<double>(in) / 10'000.0);
    CHECK(std::abs(trials.within_error - std::sqrt(trials.within * (1.0 - trials.within) / 10'000.0)) < 1e-4);
    // Ten other seeds scatter by it.
    double sum = 0.0, squares = 0.0;
    for (std::uint64_t seed = 20; seed < 30; ++seed) {
        options.seed = seed;
        const double share = simulate(ring.frame, ring.errors, 0, wanted_mm, options).within;
        sum += share;
        squares += share * share;
    }
    const double sd = std::sqrt((squares - sum * sum / 10.0) / 9.0);
    // A standard deviation of ten is good to a quarter of itself: chi-squared of 9, one of ten thousand on each side.
    CHECK(sd > 0.27 * trials.within_error);
    CHECK(sd < 1.94 * trials.within_error);
}
