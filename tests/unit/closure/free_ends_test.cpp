// Errors at the free ends of open chains: by pencil, by differences, and by chains of loose boards laid by other code.
#include "closure/free_ends.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <limits>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"
#include "support/random_frame.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

using Point = std::complex<double>;

constexpr double kLegMm = 800.0, kHeadMm = 600.0, kWidthMm = 50.0;

struct Built {
    Project project;
    Frame frame;
};

Built chain_through(const std::vector<Vec2>& points) {
    const Outline outline = outline_through(points, false);
    Built chain{project_for(outline, {kWidthMm}), {}};
    chain.frame = build_frame(chain.project, outline).value();
    return chain;
}

// Two legs and a head, the inside at the left hand.
Built door() { return chain_through({{kHeadMm, 0.0}, {kHeadMm, kLegMm}, {0.0, kLegMm}, {0.0, 0.0}}); }

// Crooked, so that no two terms fall together.
Built crooked() { return chain_through({{1200.0, 0.0}, {1100.0, 500.0}, {600.0, 800.0}, {100.0, 650.0}, {-50.0, 100.0}}); }

void nothing_but(Accuracy& accuracy, double Accuracy::* source, double value) {
    for (double Accuracy::* other : {&Accuracy::mark_mm, &Accuracy::cut_angle_deg, &Accuracy::common_angle_deg,
                                     &Accuracy::rule_scale_mm_per_m, &Accuracy::stop_mm, &Accuracy::thickness_mm})
        accuracy.*other = 0.0;
    accuracy.*source = value;
}

std::vector<MadeBoard> exact_of(const Frame& frame) {
    std::vector<MadeBoard> made;
    for (const Board& board : frame.boards) made.push_back(exact_board(board));
    return made;
}

double normal(Random& random) { return std::sqrt(-2.0 * std::log(1.0 - random.unit())) * std::cos(2.0 * kPi * random.unit()); }

// Mitred boards glued face to face, inner points together; both ends' inner and outer points.
struct Glued {
    Point first_in, first_out, last_in, last_out;
};
Glued glued(const std::vector<MadeBoard>& boards) {
    const auto face = [](const MadeBoard& board, std::size_t e) {
        return std::pair{Point(board.ends[e].inside_mm, 0.0), Point(board.ends[e].outside_mm, -board.width_mm)};
    };
    Point at = 0.0, along = 1.0;
    for (std::size_t k = 1; k < boards.size(); ++k) {
        const auto [other_in, other_out] = face(boards[k - 1], 1);
        const auto [own_in, own_out] = face(boards[k], 0);
        const Point inner = at + along * other_in;
        along = along * (other_out - other_in) / (own_out - own_in);
        along /= std::abs(along);
        at = inner - along * own_in;
    }
    const auto [first_in, first_out] = face(boards.front(), 0);
    const auto [last_in, last_out] = face(boards.back(), 1);
    return {first_in, first_out, at + along * last_in, at + along * last_out};
}

}  // namespace

TEST_CASE("a saw's scale out by d: both legs of a door casing lean in by 2 d, their feet stand off the floor by 3 d") {
    Built casing = door();
    nothing_but(casing.project.accuracy, &Accuracy::common_angle_deg, 0.05);
    const ChainErrors errors(casing.project, casing.frame, SlopeBy::saw, exact_of(casing.frame));
    const FreeEndsBudget budget = budget_of_free_ends(errors);
    const double d = radians(0.05);
    // Each leg turns by 2 d about the outer point of its mitre; its foot, cut steeper by d itself, turns by 3 d in all.
    CHECK_THAT(budget.span_sd_mm, within_mm(4.0 * d * (kLegMm + kWidthMm), 1e-9));
    CHECK_THAT(budget.face_sd_mm[0], within_mm(3.0 * d * kWidthMm, 1e-9));
    CHECK_THAT(budget.face_sd_mm[1], within_mm(3.0 * d * kWidthMm, 1e-9));
    REQUIRE(budget.lines.size() == 1);
    CHECK(budget.lines[0].source.kind == ErrorKind::scale);
    CHECK_THAT(budget.lines[0].span_share, within_mm(1.0, 1e-12));
    CHECK_THAT(budget.lines[0].face_share, within_mm(1.0, 1e-12));
}

TEST_CASE("each cut out on its own: a leg's two cuts swing its foot, and its length tips the casing on the floor") {
    Built casing = door();
    nothing_but(casing.project.accuracy, &Accuracy::cut_angle_deg, 0.05);
    const ChainErrors by_cuts(casing.project, casing.frame, SlopeBy::bevel, exact_of(casing.frame));
    const double d = radians(0.05);
    const FreeEndsBudget budget = budget_of_free_ends(by_cuts);
    // Four cuts at mitres, each turning a leg about the corner's outer point by d and sliding it along the face by w tan 45 / cos 45 d, out
    // for a head's cut and in for a leg's: a foot goes sideways by (leg + 2 w) d or leg d, and up by 2 w d or not at all, which tips the
    // casing. A foot's own cut turns about its outside mark: it lifts the inside one by w d.
    CHECK_THAT(budget.span_sd_mm, within_mm(d * std::sqrt(2.0) * std::hypot(kLegMm + 2.0 * kWidthMm, kLegMm), 1e-9));
    const double tip = kWidthMm / kHeadMm;
    const auto square = [](double x) { return x * x; };
    const double face_mm = d * kWidthMm * std::sqrt(square(1.0 + 2.0 * tip) + 1.0 + square(2.0 * tip) + square(1.0 + tip) + square(tip));
    CHECK_THAT(budget.face_sd_mm[0], within_mm(face_mm, 1e-9));
    CHECK_THAT(budget.face_sd_mm[1], within_mm(face_mm, 1e-9));
    // A leg that is too long by e tips the casing by e / head: nothing on the span, e w / head at each foot.
    nothing_but(casing.project.accuracy, &Accuracy::stop_mm, 1.0);
    const FreeEndsBudget by_length = budget_of_free_ends(ChainErrors(casing.project, casing.frame, SlopeBy::saw, exact_of(casing.frame)));
    CHECK_THAT(by_length.span_sd_mm, within_mm(1.0, 1e-9));  // the head
    CHECK_THAT(by_length.face_sd_mm[0], within_mm(std::sqrt(2.0) * kWidthMm / kHeadMm, 1e-9));
}

TEST_CASE("what an error does at the far end is the difference of two exact chains, all kinds of joints and three ways of working") {
    constexpr std::array kWays{SlopeBy::marks, SlopeBy::bevel, SlopeBy::saw};
    std::size_t seen = 0, laps = 0, butts = 0;
    for (std::uint64_t seed = 1; seen < 60; ++seed) {
        FrameCase made = random_frame_case(seed, 2);
        if (made.outline.closed) continue;
        const Result<Frame> frame = build_frame(made.project, made.outline);
        if (!frame.ok() || frame.value().boards.size() > 14) continue;
        double perimeter_mm = 0.0, narrowest_mm = HUGE_VAL, steepest_deg = 0.0;
        for (const Board& board : frame.value().boards) {
            perimeter_mm += board.side_mm;
            narrowest_mm = std::min(narrowest_mm, board.width_mm);
            for (const BoardEnd& end : board.ends) steepest_deg = std::max(steepest_deg, std::abs(end.saw_deg));
        }
        if (steepest_deg > 80.0) continue;  // nothing is sawn like that
        ++seen;
        for (const Joint& joint : frame.value().joints) {
            laps += joint.kind == JointKind::half_lap ? 1U : 0U;
            butts += joint.kind == JointKind::butt ? 1U : 0U;
        }
        Accuracy& a = made.project.accuracy;
        a.mark_mm = a.stop_mm = a.thickness_mm = narrowest_mm / 400.0;
        a.cut_angle_deg = a.common_angle_deg = 0.1;
        const ChainErrors errors(made.project, frame.value(), kWays[seed % 3], exact_of(frame.value()));
        for (std::size_t j = 0; j < errors.model.inputs.size(); ++j) {
            constexpr double kStep = 1e-4;
            std::vector<double> z(errors.model.inputs.size(), 0.0);
            z[j] = kStep;
            const SpanMiss up = errors.walked(z);
            z[j] = -kStep;
            const SpanMiss down = errors.walked(z);
            const SpanMiss by = errors.first_order(errors.model.inputs[j]);
            const double off = std::max({std::abs((up.off_mm - down.off_mm) / (2.0 * kStep) - by.off_mm),
                                         std::abs((up.across_mm - down.across_mm) / (2.0 * kStep) - by.across_mm),
                                         perimeter_mm * std::abs((up.angle_rad - down.angle_rad) / (2.0 * kStep) - by.angle_rad)});
            const double of = std::max({std::abs(by.off_mm), std::abs(by.across_mm), perimeter_mm * std::abs(by.angle_rad)});
            INFO("seed " << seed << " input " << j << " kind " << static_cast<int>(errors.model.sources[errors.model.inputs[j].source].kind));
            // Two chains' ends, good to the rounding of their length, are taken from each other.
            const double rounding = std::numeric_limits<double>::epsilon() * perimeter_mm / kStep;
            REQUIRE(off <= 1e-6 * of + 1e-8 * narrowest_mm + 4.0 * rounding);
        }
    }
    CHECK(laps > 10);
    CHECK(butts > 10);
}

TEST_CASE("chains of loose boards scatter as the budget and the trials say") {
    Built chain = crooked();
    Accuracy& a = chain.project.accuracy;
    a.mark_mm = 0.1, a.cut_angle_deg = 0.05, a.thickness_mm = 0.05, a.rule_scale_mm_per_m = 0.1;
    const ChainErrors errors(chain.project, chain.frame, SlopeBy::bevel, exact_of(chain.frame));
    const FreeEndsBudget budget = budget_of_free_ends(errors);
    const Glued meant = glued(exact_of(chain.frame));
    const double span_mm = std::abs(meant.last_in - meant.first_in);
    const Point line = (meant.last_in - meant.first_in) / span_mm;
    Random random(31);
    constexpr int kBuilds = 4000;
    std::vector<double> longer, first, last, widest;
    for (int build = 0; build < kBuilds; ++build) {
        std::vector<double> z;
        for (std::size_t j = 0; j < errors.model.inputs.size(); ++j) z.push_back(normal(random));
        const std::vector<BoardDeviation> by = deviations_of(errors.model, z);
        std::vector<MadeBoard> made;
        for (std::size_t k = 0; k < by.size(); ++k) made.push_back(deviated(errors.model.base[k], by[k], SlopeBy::bevel));
        const Glued lies = glued(made);
        const Point now = (lies.last_in - lies.first_in) / std::abs(lies.last_in - lies.first_in);
        // Faces as wide as they should be, turned as they are: edge against edge.
        const auto turned_face = [&](Point in, Point out, Point meant_in, Point meant_out) {
            const double face = std::abs(meant_out - meant_in);
            const double turn = std::arg((out - in) / now) - std::arg((meant_out - meant_in) / line);
            return face * std::sin(turn);
        };
        longer.push_back(std::abs(lies.last_in - lies.first_in) - span_mm);
        first.push_back(turned_face(lies.first_in, lies.first_out, meant.first_in, meant.first_out));
        last.push_back(turned_face(lies.last_in, lies.last_out, meant.last_in, meant.last_out));
        widest.push_back(std::max(std::abs(first.back()), std::abs(last.back())));
    }
    const auto root_mean_square = [](const std::vector<double>& values) {
        double sum = 0.0;
        for (const double x : values) sum += x * x;
        return std::sqrt(sum / static_cast<double>(values.size()));
    };
    // A root mean square of 4000 is good to 1.1 of 100; four of these.
    const double error = 4.0 / std::sqrt(2.0 * kBuilds);
    CHECK(std::abs(root_mean_square(longer) / budget.span_sd_mm - 1.0) < error);
    CHECK(std::abs(root_mean_square(first) / budget.face_sd_mm[0] - 1.0) < error);
    CHECK(std::abs(root_mean_square(last) / budget.face_sd_mm[1] - 1.0) < error);

    TrialOptions options;
    options.runs = 20'000;
    std::sort(widest.begin(), widest.end());
    const FreeEndsTrials trials = try_free_ends(errors, widest[kBuilds / 2], options);
    CHECK(std::abs(trials.within - 0.5) < 4.0 * 0.5 * std::sqrt(1.0 / kBuilds + 1.0 / 20'000.0));
    CHECK(std::abs(trials.longer.sd / budget.span_sd_mm - 1.0) < 4.0 / std::sqrt(2.0 * 20'000.0) + 0.005);
    CHECK(trials.off.quantile(0.95) / budget.span_sd_mm > 1.9);
    CHECK(trials.off.quantile(0.95) / budget.span_sd_mm < 2.02);
    options.threads = 3;
    CHECK(try_free_ends(errors, 1.0, options).face.sorted == trials.face.sorted);
}

TEST_CASE("shares of all sources add up to one, sources twice as large give twice the scatter, and boards as meant lie where they should") {
    Built chain = crooked();
    const FreeEndsBudget once = budget_of_free_ends(ChainErrors(chain.project, chain.frame, SlopeBy::bevel, exact_of(chain.frame)));
    double span = 0.0, face = 0.0;
    for (const FreeEndsLine& line : once.lines) span += line.span_share, face += line.face_share;
    CHECK_THAT(span, within_mm(1.0, 1e-12));
    CHECK_THAT(face, within_mm(1.0, 1e-12));
    for (double Accuracy::* one : {&Accuracy::mark_mm, &Accuracy::cut_angle_deg, &Accuracy::rule_scale_mm_per_m, &Accuracy::thickness_mm})
        chain.project.accuracy.*one *= 2.0;
    const ChainErrors doubled(chain.project, chain.frame, SlopeBy::bevel, exact_of(chain.frame));
    CHECK_THAT(budget_of_free_ends(doubled).span_sd_mm, within_mm(2.0 * once.span_sd_mm, 1e-9));
    const SpanMiss none = doubled.walked(std::vector<double>(doubled.model.inputs.size(), 0.0));
    CHECK(std::hypot(none.off_mm, none.across_mm) < 1e-9);
    CHECK(std::abs(none.angle_rad) < 1e-12);
}

TEST_CASE("one board alone has two free ends: its length, and each end's own cut") {
    Built board = chain_through({{0.0, 0.0}, {1000.0, 0.0}});
    nothing_but(board.project.accuracy, &Accuracy::cut_angle_deg, 0.1);
    const FreeEndsBudget budget = budget_of_free_ends(ChainErrors(board.project, board.frame, SlopeBy::bevel, exact_of(board.frame)));
    // An end turns about its outside mark, so its inside mark moves by w d.
    CHECK_THAT(budget.span_sd_mm, within_mm(std::sqrt(2.0) * radians(0.1) * kWidthMm, 1e-9));
    CHECK_THAT(budget.face_sd_mm[0], within_mm(radians(0.1) * kWidthMm, 1e-9));
    CHECK_THAT(budget.face_sd_mm[1], within_mm(radians(0.1) * kWidthMm, 1e-9));
}
