// Every piece of advice against boards made with random errors and laid by other code than the budget's: boards as loose
// quadrilaterals in the complex plane, or the exact chain one build at a time.
#include "closure/advice.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "closure/closure.hpp"
#include "closure/simulate.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

using Point = std::complex<double>;

// Five boards of one thickness and one that is slimmer; errors small enough for first order, 40 times finer than common practice in
// the garden.
struct Planter {
    Project project;
    Frame frame;
    RingErrors errors;
};

Project careful(Project project, double times) {
    project.accuracy.mark_mm = 0.025 * times;
    project.accuracy.cut_angle_deg = 0.0125 * times;
    project.accuracy.common_angle_deg = 0.0125 * times;
    project.accuracy.rule_scale_mm_per_m = 0.0075 * times;
    project.accuracy.stop_mm = 0.025 * times;
    project.accuracy.thickness_mm = 0.0125 * times;
    return project;
}

std::vector<MadeBoard> exact_of(const Frame& frame) {
    std::vector<MadeBoard> made;
    for (const Board& board : frame.boards) made.push_back(exact_board(board));
    return made;
}

Planter planter(double times = 1.0) {
    const Outline outline = regular_ring(6, 369.5);
    Project project = careful(project_for(outline, {38.0, 38.0, 38.0, 28.0, 38.0, 38.0}), times);
    Frame frame = build_frame(project, outline).value();
    RingErrors errors(project, frame, SlopeBy::bevel, exact_of(frame));
    return {std::move(project), std::move(frame), std::move(errors)};
}

double normal(Random& random) { return std::sqrt(-2.0 * std::log(1.0 - random.unit())) * std::cos(2.0 * kPi * random.unit()); }

std::vector<MadeBoard> made_by_chance(const ErrorModel& model, Random& random) {
    std::vector<double> z;
    for (std::size_t j = 0; j < model.inputs.size(); ++j) z.push_back(normal(random));
    const std::vector<BoardDeviation> by = deviations_of(model, z);
    std::vector<MadeBoard> made;
    for (std::size_t k = 0; k < by.size(); ++k) made.push_back(deviated(model.base[k], by[k], model.way));
    return made;
}

Advice advice_for(const Planter& p, double wanted_mm) {
    Wanted wanted;
    wanted.gap_mm = wanted_mm;
    const Budget budget = budget_of(p.errors, 5, wanted, kBuildsOfPage);
    return advise(p.frame, p.errors, budget, wanted_mm, std::pair<std::size_t, std::size_t>{2, 5});
}

// A board of a half: inner and outer mark of both ends.
struct Quad {
    Point first_in, first_out, second_in, second_out;
};

Quad quad_of(const MadeBoard& board) {
    const double w = board.width_mm;
    return {{board.ends[0].inside_mm, 0.0}, {board.ends[0].outside_mm, -w}, {board.ends[1].inside_mm, 0.0}, {board.ends[1].outside_mm, -w}};
}

// The two end faces of boards glued face to face, inner points together.
struct Faces {
    Quad ends;  // first end of the first board, second end of the last
    double turn_rad = 0.0;  // by which the ends miss one line, + open at the outside
};

Faces glued(const std::vector<Quad>& boards) {
    Point at = 0.0, along = 1.0;
    for (std::size_t k = 1; k < boards.size(); ++k) {
        const Point inner = at + along * boards[k - 1].second_in;
        const Point face = along * (boards[k - 1].second_out - boards[k - 1].second_in);
        const Point own = boards[k].first_out - boards[k].first_in;
        along = face / own / std::abs(face / own);
        at = inner - along * boards[k].first_in;
    }
    Faces faces;
    faces.ends = {boards.front().first_in, boards.front().first_out, at + along * boards.back().second_in, at + along * boards.back().second_out};
    // Ends on one line point opposite ways from inside to outside.
    faces.turn_rad = std::arg(-(faces.ends.first_out - faces.ends.first_in) / (faces.ends.second_out - faces.ends.second_in));
    return faces;
}

// The span between the inner edges once both faces are planed to one line: through the two corners that are planed least.
double trued_span(const Faces& faces, double turn_of_last_rad) {
    const bool by_outer = faces.turn_rad > 0.0;
    const Point a = by_outer ? faces.ends.first_out : faces.ends.first_in, b = by_outer ? faces.ends.second_out : faces.ends.second_in;
    const Point line = (b - a) / std::abs(b - a);
    // Where the inner edge through `from` along `edge` meets the line.
    const auto meets = [&](Point from, Point edge) {
        const double off = std::imag((from - a) / line);
        return from - off / std::imag(edge / line) * edge;
    };
    return std::abs(meets(faces.ends.second_in, std::polar(1.0, turn_of_last_rad)) - meets(faces.ends.first_in, 1.0));
}

double root_mean_square(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double x : values) sum += x * x;
    return std::sqrt(sum / static_cast<double>(values.size()));
}

}  // namespace

TEST_CASE("as accurate as the advice says, 95 of 100 rings keep the wanted gap: all sources, and each one alone") {
    const Planter usual = planter();
    const double wanted_mm = 0.5 * usual.errors.odds({}, 1.0, kBuildsOfAdvice).most_mm;
    const Advice advice = advice_for(usual, wanted_mm);
    REQUIRE(advice.all_times);
    CHECK(*advice.all_times < 0.6);
    TrialOptions options;
    options.runs = 20'000;
    // The advice rests on 1024 builds, whose share is good to 0.7 of 100; three of these, and three of the trials'.
    const double error = 3.0 * (share_error(0.95, kBuildsOfPage) + share_error(0.95, options.runs));
    const Planter better = planter(*advice.all_times);
    CHECK(std::abs(simulate(better.frame, better.errors, 0, wanted_mm, options).within - 0.95) < error);

    const double easier_mm = 0.85 * usual.errors.odds({}, 1.0, kBuildsOfAdvice).most_mm;
    std::size_t single = 0;
    for (const Needed& one : advice_for(usual, easier_mm).needed) {
        if (!one.sd || one.source.kind != ErrorKind::cut) continue;
        ++single;
        CHECK(*one.sd < one.source.sd);
        Project project = usual.project;
        project.accuracy.cut_angle_deg = *one.sd;
        const RingErrors errors(project, usual.frame, SlopeBy::bevel, exact_of(usual.frame));
        CHECK(std::abs(simulate(usual.frame, errors, 0, easier_mm, options).within - 0.95) < error);
    }
    CHECK(single == 1);
}

TEST_CASE("left as long as the advice says, the last board is too short in one of a hundred rings, and so much comes off") {
    const Planter p = planter();
    const LeaveLong leave = advice_for(p, 1.0).leave_long;
    REQUIRE(leave.corner == 0);
    Random random(3);
    constexpr int kBuilds = 4000;
    int too_short = 0;
    double off = 0.0, squares = 0.0;
    std::vector<double> lips;
    for (int build = 0; build < kBuilds; ++build) {
        std::vector<MadeBoard> made = made_by_chance(p.errors.model, random);
        lips.push_back(std::abs(stiff_at(p.frame, made, 0).lip_in_mm));
        made[5].ends[1].inside_mm += leave.long_mm;
        made[5].ends[1].outside_mm += leave.long_mm;
        const JointMisfit last = stiff_at(p.frame, made, 0);
        const double wood_mm = -std::max(last.gap_in_mm, last.gap_out_mm) / cos_deg(30.0);
        too_short += wood_mm < 0.0 ? 1 : 0;
        off += wood_mm / kBuilds, squares += wood_mm * wood_mm / kBuilds;
    }
    std::sort(lips.begin(), lips.end());
    const double sd = std::sqrt(squares - off * off), builds = kBuilds;
    CHECK(std::abs(too_short / builds - 0.01) < 4.0 * std::sqrt(0.0099) * std::sqrt(1.0 / builds + 1.0 / 8192.0));
    CHECK(std::abs(off - leave.trimmed_mm) < 4.0 * sd * std::sqrt(1.0 / builds + 1.0 / 8192.0));
    CHECK(std::abs(lips[kBuilds * 95 / 100] / leave.lip_mm - 1.0) < 4.0 * std::sqrt(0.0475) / 0.1169 / 1.96 * std::sqrt(1.0 / builds + 1.0 / 8192.0));
}

TEST_CASE("halves with trued faces: what is planed off and the lip that stays, by gluing two halves of loose boards") {
    const Planter p = planter();
    const Advice advice = advice_for(p, 1.0);
    REQUIRE(advice.halves);
    Random random(4);
    constexpr int kBuilds = 4000;
    std::vector<double> lips, turns[2];
    for (int build = 0; build < kBuilds; ++build) {
        const std::vector<MadeBoard> made = made_by_chance(p.errors.model, random);
        double span[2] = {};
        for (std::size_t half = 0; half < 2; ++half) {
            std::vector<Quad> boards;
            for (std::size_t i = 0; i < 3; ++i) boards.push_back(quad_of(made[(2 + 3 * half + i) % 6]));
            const Faces faces = glued(boards);
            const Quad& last = boards.back();
            const double turned_rad = std::arg((faces.ends.second_out - faces.ends.second_in) / (last.second_out - last.second_in));
            span[half] = trued_span(faces, turned_rad);
            turns[half].push_back(faces.turn_rad);
        }
        lips.push_back(0.5 * (span[0] - span[1]));
    }
    // A root mean square of 4000 is good to 1.1 of 100; four of these.
    const double error = 4.0 / std::sqrt(2.0 * kBuilds);
    const double face_mm = std::max(p.errors.ring.joints[2].face_mm, p.errors.ring.joints[5].face_mm);
    const double turn_rad = std::max(root_mean_square(turns[0]), root_mean_square(turns[1]));
    CHECK(std::abs(turn_rad * 0.5 * face_mm / advice.halves->skim_sd_mm - 1.0) < error);
    CHECK(std::abs(root_mean_square(lips) / advice.halves->lip_sd_mm - 1.0) < error);
}

TEST_CASE("a half-ring of scrap shows 2N times the error of one cut: alike ends, unlike ends, a square cut turned over") {
    for (const double d : {-0.2, 0.1, 0.3}) {
        for (const auto& [saw_deg, other_deg] : {std::pair{30.0, 30.0}, {45.0, 45.0}, {52.0, 38.0}, {22.5, 22.5}, {90.0 - 27.0, 27.0}}) {
            // A frame with that corner all round, boards of two widths where the ends are unlike.
            const auto n = static_cast<std::size_t>(std::lround(360.0 / (saw_deg + other_deg)));
            std::vector<double> widths;
            for (std::size_t k = 0; k < n; ++k) widths.push_back(k % 2 == 0 ? 40.0 : 40.0 * cos_deg(other_deg) / cos_deg(saw_deg));
            const Outline outline = regular_ring(n, 400.0);
            const Project project = careful(project_for(outline, widths), 1.0);
            const Frame frame = build_frame(project, outline).value();
            const RingErrors errors(project, frame, SlopeBy::bevel, exact_of(frame));
            const Advice advice = advise(frame, errors, budget_of(errors, n - 1, Wanted{}, kBuildsOfPage), 1.0, std::nullopt);
            REQUIRE(advice.tests.size() == 1);
            const TestRing& test = advice.tests.front();
            CHECK(std::abs(test.saw_deg - saw_deg) < 1e-9);
            CHECK(std::abs(test.other_deg - other_deg) < 1e-9);
            CHECK(2 * test.pieces == n);
            // The pieces, all ends out by d, of one width.
            const double w = test.face_mm * cos_deg(saw_deg);
            const double first = w * tan_deg(other_deg + d), second = w * tan_deg(saw_deg + d);
            const std::vector<Quad> pieces(test.pieces, Quad{{0.0, 0.0}, {-first, -w}, {200.0, 0.0}, {200.0 + second, -w}});
            const Faces faces = glued(pieces);
            // The first end flat: how much farther from its line one edge of the other end's face lies than the other.
            const Point line = (faces.ends.first_out - faces.ends.first_in) / std::abs(faces.ends.first_out - faces.ends.first_in);
            const double reading = std::imag((faces.ends.second_out - faces.ends.second_in) / line);
            // To first order in d: the face is as wide as it should be but for d tan S of it.
            CHECK(std::abs(std::abs(reading) * test.deg_per_mm - std::abs(d)) < 0.02 * std::abs(d));
            CHECK(std::abs(test.shim_per_mm - kShimAtMm * radians(test.deg_per_mm)) < 1e-12);
            // Cut too small it opens at the outside, as the page says.
            CHECK((faces.turn_rad > 0.0) == (d < 0.0));
        }
    }
}

TEST_CASE("a square cut is tested by a piece sawn through, one half turned over") {
    const Outline outline = outline_through({{0, 0}, {900, 0}, {900, 500}, {0, 500}});
    Project project = project_for(outline, {60.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::butt;
    project = careful(project, 1.0);
    const Frame frame = build_frame(project, outline).value();
    const RingErrors errors(project, frame, SlopeBy::saw, exact_of(frame));
    const Advice advice = advise(frame, errors, budget_of(errors, 3, Wanted{}, kBuildsOfPage), 1.0, std::nullopt);
    REQUIRE(advice.tests.size() == 1);
    const TestRing& test = advice.tests.front();
    CHECK(test.saw_deg == 0.0);
    CHECK(test.pieces == 1);
    for (const double d : {-0.3, 0.2}) {
        // One cut through a board of that width, seen from above: what ends there, and what starts there, turned over on its long axis.
        const double w = test.face_mm;
        const Point near{0.0, 0.0}, far{w * tan_deg(d), w};
        const Point near_over{far.real(), 0.0}, far_over{near.real(), w};
        const double at_near = near_over.real() - near.real(), at_far = far_over.real() - far.real();
        // Pushed together they touch at one edge and part at the other.
        const double reading = std::abs(at_near - at_far);
        CHECK(std::abs(reading * test.deg_per_mm - std::abs(d)) < 1e-4 * std::abs(d));
    }
}

TEST_CASE("at a butt the cut of the board that stops is tested, whichever runs through: 90 - 360 / n") {
    for (const std::size_t n : {5U, 6U, 8U}) {
        const Outline outline = regular_ring(n, 400.0);
        for (const bool after_runs_through : {false, true}) {
            Project project = project_for(outline, {40.0});
            for (std::size_t c = 0; c < n; ++c) {
                project.joints[c].kind = JointKind::butt;
                project.joints[c].through = after_runs_through ? outline.board_after(c) : outline.board_before(c);
            }
            const double saw_deg = std::abs(90.0 - 360.0 / static_cast<double>(n));
            const double pieces = 180.0 / (2.0 * saw_deg);
            const std::vector<TestRing> tests = test_rings(build_frame(project, outline).value());
            CAPTURE(n, after_runs_through);
            if (std::abs(pieces - std::round(pieces)) > 1e-9) {
                CHECK(tests.empty());
                continue;
            }
            REQUIRE(tests.size() == 1);
            CHECK(std::abs(tests.front().saw_deg - saw_deg) < 1e-9);
            CHECK(std::abs(tests.front().other_deg - saw_deg) < 1e-9);
            CHECK(static_cast<double>(tests.front().pieces) == std::round(pieces));
        }
    }
}

TEST_CASE("the face of a test piece is one the ring has, from whichever corner it is lettered") {
    const Outline outline = regular_ring(6, 400.0);
    for (const bool thin_first : {false, true}) {
        Project project = project_for(outline, {40.0});
        for (std::size_t k = 0; k < 6; ++k) project.boards[k].thickness_mm = project.boards[k].width_mm = (k % 2 == 0) == thin_first ? 28.0 : 38.0;
        const Frame frame = build_frame(project, outline).value();
        const std::vector<TestRing> tests = test_rings(frame);
        CAPTURE(thin_first);
        REQUIRE(tests.size() == 1);
        CHECK(tests.front().pieces == 3);
        const std::array<Vec2, 4> board = frame.boards[0].plan_mm();  // both faces of a mitre are as long
        CHECK(std::abs(tests.front().face_mm - length(board[1] - board[0])) < 1e-9);
    }
}
