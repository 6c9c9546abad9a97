// Laws of budget and simulation on random rings: the analytic twists against differences of the exact chain, and packs of eight
// builds against one board after another. BOARDRING_FULL=1 takes ten times as many.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <optional>
#include <vector>

#include "base/angle.hpp"
#include "closure/budget.hpp"
#include "closure/closure.hpp"
#include "closure/simulate.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"
#include "support/random_frame.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

int cases(int small) { return std::getenv("BOARDRING_FULL") != nullptr ? 10 * small : small; }

struct Built {
    Project project;
    Frame frame;
    double perimeter = 0.0, narrowest = HUGE_VAL;
};

// Every other ring has boards that taper.
void taper_boards(std::uint64_t seed, Project& project) {
    if (seed % 2 == 0) return;
    Random random(seed);
    for (std::size_t k = 0; k < project.boards.size(); ++k) project.boards[k].taper_mm = random.between(-0.05, 0.05) * project.width_in_joint_mm(k);
}

// A random closed frame, its errors in proportion to its boards.
std::optional<Built> random_ring(std::uint64_t seed) {
    for (int slimmer = 0; slimmer < 6; ++slimmer) {
        FrameCase made = random_frame_case(seed, slimmer);
        if (!made.outline.closed) return std::nullopt;
        taper_boards(seed, made.project);
        const Result<Frame> frame = build_frame(made.project, made.outline);
        if (!frame.ok()) continue;
        Built built{std::move(made.project), frame.value()};
        for (const Board& board : built.frame.boards) {
            built.perimeter += board.side_mm;
            built.narrowest = std::min(built.narrowest, board.width_mm);
            // Cuts along the board are outside the domain: nothing is sawn like that, and deviated() ends there.
            if (std::abs(board.ends[0].saw_deg) > 80.0 || std::abs(board.ends[1].saw_deg) > 80.0) return std::nullopt;
        }
        Accuracy& a = built.project.accuracy;
        a.mark_mm = a.stop_mm = a.thickness_mm = built.narrowest / 400.0;
        a.cut_angle_deg = a.common_angle_deg = 0.1;
        built.project.tools.rule_step_mm = built.narrowest * 1e-7;
        built.project.tools.saw_step_deg = 1e-7;
        return built;
    }
    return std::nullopt;
}

std::vector<MadeBoard> made_with(const ErrorModel& model, const std::vector<double>& errors) {
    const std::vector<BoardDeviation> by = deviations_of(model, errors);
    std::vector<MadeBoard> made;
    for (std::size_t k = 0; k < by.size(); ++k) made.push_back(deviated(model.base[k], by[k], model.way));
    return made;
}

constexpr std::array kWays{SlopeBy::marks, SlopeBy::bevel, SlopeBy::saw};

}  // namespace

TEST_CASE("the analytic twist of every error is the difference of two exact chains") {
    int seen = 0;
    for (std::uint64_t seed = 1; seen < cases(120); ++seed) {
        const std::optional<Built> built = random_ring(seed);
        if (!built || built->frame.boards.size() > 14) continue;
        ++seen;
        const SlopeBy way = kWays[seed % 3];
        std::vector<MadeBoard> exact;
        for (const Board& board : built->frame.boards) exact.push_back(exact_board(board));
        const RingErrors errors(built->project, built->frame, way, exact);
        const double radius = built->perimeter / (2.0 * kPi);
        for (std::size_t j = 0; j < errors.model.inputs.size(); ++j) {
            constexpr double kStep = 1e-4;
            std::vector<double> z(errors.model.inputs.size(), 0.0);
            z[j] = kStep;
            const Twist up = twist_of(built->frame, errors.ring, made_with(errors.model, z));
            z[j] = -kStep;
            const Twist down = twist_of(built->frame, errors.ring, made_with(errors.model, z));
            const Twist& a = errors.twists[j];
            double off = 0.0, of = 1e-12 * built->perimeter;
            for (std::size_t i = 0; i < 3; ++i) {
                const double unit = i == 2 ? radius : 1.0;
                off = std::max(off, unit * std::abs((up[i] - down[i]) / (2.0 * kStep) - a[i]));
                of = std::max(of, unit * std::abs(a[i]));
            }
            INFO("seed " << seed << " input " << j << " kind " << static_cast<int>(errors.model.sources[errors.model.inputs[j].source].kind));
            // Two chains' ends, good to the rounding of their length, are taken from each other.
            const double rounding = 0.5 * std::numeric_limits<double>::epsilon() * built->perimeter / kStep;
            REQUIRE(off <= 1e-6 * of + 1e-8 * built->narrowest + rounding);
        }
    }
}

TEST_CASE("what a twist shows at joint A is what the stiff chain shows there") {
    int seen = 0;
    for (std::uint64_t seed = 500; seen < cases(100); ++seed) {
        const std::optional<Built> built = random_ring(seed);
        if (!built || built->frame.boards.size() > 14) continue;
        ++seen;
        const RingErrors errors(built->project, built->frame, kWays[seed % 3], boards_as_meant(built->project, built->frame, kWays[seed % 3]));
        Random random(seed);
        std::vector<double> z;
        Twist sum{};
        for (const Twist& twist : errors.twists) {
            z.push_back(1e-4 * random.between(-1.0, 1.0));
            for (std::size_t i = 0; i < 3; ++i) sum[i] += z.back() * twist[i];
        }
        const ClosureReport report = close_made(built->frame, made_with(errors.model, z));
        const StiffShown shown = shown_at(errors.ring, 0, sum);
        const double unit = 1e-4 * built->narrowest / 400.0 * static_cast<double>(z.size()) * built->perimeter / built->narrowest;
        INFO("seed " << seed);
        // Rounding to the fine steps of the rule is in the exact chain only.
        REQUIRE(std::abs(report.stiff->last.gap_in_mm - shown.gap_in_mm) <= 1e-2 * unit);
        REQUIRE(std::abs(report.stiff->last.gap_out_mm - shown.gap_out_mm) <= 1e-2 * unit);
        REQUIRE(std::abs(radians(report.stiff->last.angle_left_deg) - shown.angle_left_rad) <= 1e-2 * unit / built->narrowest);
    }
}

TEST_CASE("packs of eight builds are the builds one by one: stiff to all digits, drawn in to first order in the errors") {
    // Directions of the joints are those of the plan, so openings are shared out as if no board had turned: off by what the boards turn.
    // 0.1 degrees at a slope is joinery work, 0.5 garden work.
    struct Size {
        double times, at_most, seldom;  // of the errors of random_ring; of the widest opening, and one build in fifty may pass that
    };
    for (const Size& size : {Size{1.0, 0.02, 0.01}, Size{5.0, 0.06, 0.025}}) {
        int seen = 0, compared = 0, wide_off = 0, off_more = 0;
        double worst = 0.0, sum = 0.0;
        for (std::uint64_t seed = 2000; seen < cases(60); ++seed) {
            std::optional<Built> built = random_ring(seed);
            if (!built || built->frame.boards.size() > 14) continue;
            ++seen;
            Accuracy& a = built->project.accuracy;
            for (double* one : {&a.mark_mm, &a.stop_mm, &a.thickness_mm, &a.cut_angle_deg, &a.common_angle_deg}) *one *= size.times;
            const SlopeBy way = kWays[seed % 3];
            const RingErrors errors(built->project, built->frame, way, boards_as_meant(built->project, built->frame, way));
            if (!errors.ready()) continue;
            RingPack pack(built->frame, errors, 0);
            std::vector<Lanes> z(errors.model.inputs.size());
            draw_inputs(std::vector<Scatter>(z.size(), Scatter::normal), seed, 0, z.data());
            const Lanes stiff = pack.stiff(z.data());
            const Lanes widest = pack.widest(z.data());
            for (std::size_t i = 0; i < kLanes; ++i) {
                std::vector<double> one;
                for (const Lanes& input : z) one.push_back(input[i]);
                const ClosureReport report = close_made(built->frame, made_with(errors.model, one));
                const JointMisfit& last = report.stiff->last;
                INFO("seed " << seed << " build " << i);
                REQUIRE(std::abs(stiff[i] - std::max(std::abs(last.gap_in_mm), std::abs(last.gap_out_mm))) <= 1e-9 * built->perimeter);
                if (!report.spread->settled) continue;
                ++compared;
                const double off = (widest[i] - report.spread->widest_mm) / std::max(report.spread->widest_mm, 1e-4 * built->narrowest);
                worst = std::max(worst, std::abs(off));
                sum += off;
                wide_off += std::abs(off) > size.at_most ? 1 : 0;
                off_more += std::abs(off) > size.seldom ? 1 : 0;
            }
        }
        INFO(size.times << " times: worst " << worst << " of " << compared << ", mean " << sum / compared << ", over " << size.seldom << ": " << off_more);
        CHECK(compared > 300);
        CHECK(wide_off == 0);
        CHECK(50 * off_more <= compared);
        CHECK(std::abs(sum) <= 0.002 * compared);  // odds take the mean: it stays out of sight
    }
}

TEST_CASE("the trials of a six-board ring agree with first order where errors are small") {
    for (const SlopeBy way : kWays) {
        const std::optional<Built> built = [&] {
            for (std::uint64_t seed = 40;; ++seed) {
                const std::optional<Built> one = random_ring(seed);
                if (one && one->frame.boards.size() == 6) return one;
            }
        }();
        Project small = built->project;
        Accuracy& a = small.accuracy;
        a.mark_mm *= 1e-3, a.stop_mm *= 1e-3, a.thickness_mm *= 1e-3, a.cut_angle_deg *= 1e-3, a.common_angle_deg *= 1e-3;
        a.rule_scale_mm_per_m *= 1e-3;
        std::vector<MadeBoard> exact;
        for (const Board& board : built->frame.boards) exact.push_back(exact_board(board));
        const RingErrors errors(small, built->frame, way, exact);
        TrialOptions options;
        options.runs = 40'000;
        const Budget budget = budget_of(errors, 5, Wanted{}, kBuildsOfAdvice);
        const Simulation trials = simulate(built->frame, errors, 0, budget.spread.typical_mm, options);
        CHECK(std::abs(trials.within - 0.5) < 0.025);
        CHECK(std::abs(trials.widest.quantile(0.95) / budget.spread.most_mm - 1.0) < 0.05);
    }
}
