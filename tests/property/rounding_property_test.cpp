// Rounding that closes against walking every way. The second construction knows nothing of the engine's rounding or walking: it
// makes boards as loose quadrilaterals from rounded numbers and lays them one against the other.
#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "closure/rounding.hpp"
#include "frame/frame.hpp"
#include "project/joint_kinds.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

using Point = std::complex<double>;

constexpr std::size_t kMostTried = 12;

// A loose board: inside marks at y = 0, outside marks at y = -w, x along.
struct Loose {
    Point first_in, first_out, second_in, second_out;
};

// What has to be rounded on a board: readings from the left long point, in steps. Order: left run, right run, length; by marks the
// runs are those of two marks.
struct Reading {
    double exact = 0.0;
    double down = 0.0, up = 0.0;
    bool between = false;
};

Reading reading(double exact, double step) {
    Reading r{exact, std::floor(exact / step) * step, std::ceil(exact / step) * step, true};
    const double nearest = std::round(exact / step) * step;
    if (std::abs(exact - nearest) < 1e-8) r = {exact, nearest, nearest, false};
    return r;
}

struct Numbers {
    std::array<Reading, 3> of;  // left slope, right slope, right long point
};

class Bench2 {
public:
    Bench2(const Tools& tools, const Frame& frame) : tools_(tools), frame_(frame) {}

    [[nodiscard]] Numbers numbers(std::size_t k) const {
        const Board& b = frame_.boards[k];
        const double left = b.ends[0].run_mm, right = b.ends[1].run_mm, w = b.width_mm;
        const double length = std::max(b.ends[1].inside_mm, b.ends[1].outside_mm) - std::min(b.ends[0].inside_mm, b.ends[0].outside_mm);
        switch (tools_.slope_by) {
            case SlopeBy::saw:
                return {{reading(degrees(std::atan(std::abs(left) / w)), tools_.saw_step_deg),
                         reading(degrees(std::atan(std::abs(right) / w)), tools_.saw_step_deg), reading(length, tools_.rule_step_mm)}};
            case SlopeBy::bevel:
                return {{reading(300.0 * std::abs(left) / w, tools_.rule_step_mm), reading(300.0 * std::abs(right) / w, tools_.rule_step_mm),
                         reading(length, tools_.rule_step_mm)}};
            case SlopeBy::marks: break;
        }
        return {{reading(std::abs(left), tools_.rule_step_mm), reading(length - std::abs(right), tools_.rule_step_mm),
                 reading(length, tools_.rule_step_mm)}};
    }

    // By chosen values of the three numbers.
    [[nodiscard]] Loose make(std::size_t k, const std::array<double, 3>& value) const {
        const Board& b = frame_.boards[k];
        const double w = b.width_mm;
        double left = value[0], right = tools_.slope_by == SlopeBy::marks ? value[2] - value[1] : value[1];
        if (tools_.slope_by == SlopeBy::saw) {
            left = w * std::tan(radians(left));
            right = w * std::tan(radians(right));
        }
        if (tools_.slope_by == SlopeBy::bevel) {
            left *= w / 300.0;
            right *= w / 300.0;
        }
        Loose loose{{0, 0}, {0, -w}, {value[2], 0}, {value[2], -w}};
        (b.ends[0].run_mm >= 0.0 ? loose.first_in : loose.first_out) += left;    // the short mark lies inwards
        (b.ends[1].run_mm >= 0.0 ? loose.second_in : loose.second_out) -= right;
        return loose;
    }

private:
    const Tools& tools_;
    const Frame& frame_;
};

// Each next board laid with its face along the face before, inner points together; what is left at the first joint.
double left_over(const std::vector<Loose>& boards) {
    Point at = 0.0, turn = 1.0;
    std::vector<std::array<Point, 2>> poses{{at, turn}};
    for (std::size_t k = 1; k < boards.size(); ++k) {
        const Point face = (boards[k - 1].second_out - boards[k - 1].second_in) * turn;
        const Point own = boards[k].first_out - boards[k].first_in;
        const Point inner = at + turn * boards[k - 1].second_in;
        turn = (face / own) / std::abs(face / own);
        at = inner - turn * boards[k].first_in;
    }
    const Point c = at + turn * boards.back().second_in, d = at + turn * boards.back().second_out;
    const Point p = boards.front().first_in, q = boards.front().first_out;
    const Point e = (q - p) / std::abs(q - p), m = e * Point(0, -1);
    const auto along = [](Point v, Point axis) { return v.real() * axis.real() + v.imag() * axis.imag(); };
    return std::max({std::abs(along(c - p, m)), std::abs(along(d - q, m)), std::abs(along(c - p, e))});
}

double turned_deg(Point v) { return degrees(std::arg(v)); }

struct Joined {
    double mismatch_mm, turn_rad;
};

Joined joined(const Frame& frame, const std::vector<Loose>& boards, std::size_t c) {
    const std::size_t n = boards.size();
    const Loose &before = boards[(c + n - 1) % n], &after = boards[c];
    const Point other = before.second_out - before.second_in, own = after.first_out - after.first_in;
    const double turn = turned_deg(other / own) - (180.0 - frame.joints[c].interior_deg);
    return {std::abs(std::abs(other) - std::abs(own)), radians(std::abs(std::remainder(turn, 360.0)))};
}

struct Brute {
    double nearest_mm = 0.0, least_mm = 0.0;
    std::size_t choices = 0;
};

// Every way of every number; every board for itself.
Brute try_every_way(const Project& project, const Frame& frame) {
    const Bench2 bench(project.tools, frame);
    const std::size_t n = frame.boards.size();
    std::vector<Numbers> numbers;
    std::vector<std::array<std::size_t, 2>> free;  // board, number
    std::vector<std::array<double, 3>> value(n);
    for (std::size_t k = 0; k < n; ++k) {
        numbers.push_back(bench.numbers(k));
        for (std::size_t i = 0; i < 3; ++i) {
            if (numbers[k].of[i].between) free.push_back({k, i});
            value[k][i] = numbers[k].of[i].exact - numbers[k].of[i].down < numbers[k].of[i].up - numbers[k].of[i].exact ? numbers[k].of[i].down
                                                                                                                         : numbers[k].of[i].up;
        }
    }
    const auto make = [&] {
        std::vector<Loose> boards;
        for (std::size_t k = 0; k < n; ++k) boards.push_back(bench.make(k, value[k]));
        return boards;
    };
    const std::vector<Loose> nearest = make();
    double narrowest = 1e9;
    for (const Board& b : frame.boards) narrowest = std::min(narrowest, b.width_mm);
    std::vector<Joined> most(n);
    for (std::size_t c = 0; c < n; ++c) {
        const Joined plain = joined(frame, nearest, c);
        most[c] = {std::max(plain.mismatch_mm, 0.5 * project.tools.rule_step_mm) + 1e-6,
                   std::max(plain.turn_rad, project.tools.rule_step_mm / narrowest) + 1e-9};
    }
    Brute brute;
    brute.choices = free.size();
    brute.nearest_mm = brute.least_mm = left_over(nearest);
    if (free.size() > kMostTried) return brute;
    for (std::uint32_t bits = 0; bits < (1U << free.size()); ++bits) {
        for (std::size_t i = 0; i < free.size(); ++i) {
            const Reading& r = numbers[free[i][0]].of[free[i][1]];
            value[free[i][0]][free[i][1]] = ((bits >> i) & 1U) != 0 ? r.up : r.down;
        }
        const std::vector<Loose> boards = make();
        bool allowed = true;
        for (std::size_t c = 0; c < n && allowed; ++c) {
            const Joined now = joined(frame, boards, c);
            allowed = now.mismatch_mm <= most[c].mismatch_mm && now.turn_rad <= most[c].turn_rad;
        }
        if (allowed) brute.least_mm = std::min(brute.least_mm, left_over(boards));
    }
    return brute;
}

struct Ring {
    Project project;
    Frame frame;
};

// Three or four boards round a middle, sides on whole steps of the rule where that is wanted so that the choices stay few.
std::optional<Ring> random_ring(Random& random) {
    const std::size_t n = 3 + random.index(2);
    std::vector<Vec2> points;
    for (std::size_t k = 0; k < n; ++k) {
        const double at = 360.0 * (static_cast<double>(k) + random.between(-0.25, 0.25)) / static_cast<double>(n);
        points.push_back(random.between(200.0, 500.0) * unit_deg(at));
    }
    const Outline outline = outline_through(points);
    Project project = project_for(outline, {random.between(20.0, 60.0), random.between(20.0, 60.0)});
    project.tools.slope_by = std::array{SlopeBy::bevel, SlopeBy::marks, SlopeBy::saw}[random.index(3)];
    project.tools.rule_step_mm = random.chance(0.3) ? 25.4 / 16.0 : 0.5;
    project.tools.rounding = Rounding::singly;
    project.wanted.gap_mm = 1e-9;  // so that it always matters
    const Result<Frame> frame = build_frame(project, outline);
    if (!frame.ok()) return std::nullopt;
    return Ring{std::move(project), frame.value()};
}

}  // namespace

TEST_CASE("the way chosen leaves what the best of all ways leaves, and the nearest steps leave what a second hand finds") {
    Random random(11);
    int judged = 0;
    double worst = 0.0;
    for (std::size_t i = 0; i < cases(1000, 10000); ++i) {
        const std::optional<Ring> ring = random_ring(random);
        if (!ring) continue;
        const Brute brute = try_every_way(ring->project, ring->frame);
        const ClosingRounding rounding = round_to_close(ring->project, ring->frame, {});
        CHECK_THAT(rounding.before_mm, within_mm(brute.nearest_mm, 1e-8));
        // A bevel is set once for one angle, so equal angles make fewer choices than numbers.
        if (rounding.choices != brute.choices || brute.choices > kMostTried) continue;
        CHECK(rounding.exact);
        CHECK(rounding.value_mm >= brute.least_mm - 2e-6);
        // The ways are compared on the linear chain and the best few are walked: what that can miss is of second order.
        worst = std::max(worst, (rounding.value_mm - brute.least_mm) / ring->project.tools.rule_step_mm);
        ++judged;
    }
    INFO("worst over the least of all ways, in steps: " << worst);
    CHECK(judged > 300);
    CHECK(worst < 0.02);
}

TEST_CASE("rounding is never worse than the nearest steps, and the spread it tells is that of the boards so set") {
    Random random(12);
    for (int i = 0; i < 60; ++i) {
        const std::optional<Ring> ring = random_ring(random);
        if (!ring) continue;
        const ClosingRounding rounding = round_to_close(ring->project, ring->frame, {});
        CHECK(rounding.value_mm <= rounding.before_mm + 1e-9);
        CHECK(rounding.bound_mm <= rounding.linear_mm + 1e-6);
        const Closure closure = close_frame(ring->project, ring->frame, rounding.nudges);
        const JointMisfit& last = closure.set.stiff->last;
        CHECK_THAT(std::max({std::abs(last.gap_in_mm), std::abs(last.gap_out_mm), std::abs(last.lip_in_mm)}),
                   within_mm(rounding.applied ? rounding.value_mm : rounding.before_mm, 1e-8));
        CHECK_THAT(closure.set.spread->widest_mm,
                   within_mm(rounding.applied ? rounding.spread_after_mm : rounding.spread_before_mm, 1e-8));
    }
}

namespace {

// Three boards with joints of any kind, by marks: every mark of a line that meets a mate goes down or up, from the datum at the long point
// of the left end.
struct MarkedRing {
    const Frame& frame;
    double step_mm;
    struct Mark {
        std::size_t board, end;
        bool inside;
        Reading reading;
    };
    std::vector<Mark> marks;

    MarkedRing(const Frame& f, double step) : frame(f), step_mm(step) {
        for (std::size_t k = 0; k < f.boards.size(); ++k) {
            for (std::size_t e = 0; e < 2; ++e) {
                for (const bool inside : {true, false}) marks.push_back({k, e, inside, reading(x_of(k, e, inside) - datum(k), step)});
            }
        }
    }

    [[nodiscard]] double datum(std::size_t k) const {
        const BoardEnd& left = frame.boards[k].ends[0];
        return std::min(left.inside_mm, left.outside_mm);
    }
    [[nodiscard]] double x_of(std::size_t k, std::size_t e, bool inside) const {
        const BoardEnd& end = frame.boards[k].ends[e];
        if (end.lap) return inside ? end.lap->shoulder_inside_mm : end.lap->shoulder_outside_mm;
        return inside ? end.inside_mm : end.outside_mm;
    }

    // What meets at a corner: own face, the other board's face, and whether outer points are held.
    struct Met {
        Point own_in, own_out, other_in, other_out;
        bool outer;
    };
    [[nodiscard]] Met met(const std::vector<Loose>& boards, std::size_t c) const {
        const Joint& joint = frame.joints[c];
        const Loose &own = boards[joint.after], &other = boards[joint.before];
        Met m{own.first_in, own.first_out, other.second_in, other.second_out, false};
        if (joint.kind == JointKind::butt) {
            m.outer = true;
            const bool own_runs = joint.through == joint.after;
            const double face = own_runs ? std::abs(m.other_out - m.other_in) : std::abs(m.own_out - m.own_in);
            if (own_runs) {
                m.own_out = own.first_in;
                m.own_in = own.first_in + face;
            } else {
                m.other_out = other.second_in;
                m.other_in = other.second_in - face;
            }
        }
        if (joint.kind == JointKind::half_lap) {
            const double turn_deg = 180.0 - joint.interior_deg;
            const double face = (frame.boards[joint.after].width_mm + frame.boards[joint.before].width_mm) / (2.0 * cos_deg(0.5 * turn_deg));
            const auto bisector = [](Point shoulder, Point edge) {
                const Point both = shoulder / std::abs(shoulder) + edge;
                return both / std::abs(both);
            };
            m.own_out = m.own_in + face * bisector(own.first_out - own.first_in, -1.0);
            m.other_out = m.other_in + face * bisector(other.second_out - other.second_in, 1.0);
        }
        return m;
    }

    [[nodiscard]] double left_at_a(const std::vector<Loose>& boards) const {
        Point at = 0.0, along = 1.0;
        for (std::size_t c = 1; c < boards.size(); ++c) {
            const Met m = met(boards, c);
            const Point held = at + along * (m.outer ? m.other_out : m.other_in);
            along *= (m.other_out - m.other_in) / (m.own_out - m.own_in);
            along /= std::abs(along);
            at = held - along * (m.outer ? m.own_out : m.own_in);
        }
        const Met m = met(boards, 0);
        const Point e = (m.own_out - m.own_in) / std::abs(m.own_out - m.own_in);
        const Point in = (at + along * m.other_in - m.own_in) / e, out = (at + along * m.other_out - m.own_out) / e;
        return std::max({std::abs(in.imag()), std::abs(out.imag()), std::abs(in.real())});
    }

    [[nodiscard]] Joined joined_at(const std::vector<Loose>& boards, std::size_t c) const {
        const Met m = met(boards, c);
        const double turn = turned_deg((m.other_out - m.other_in) / (m.own_out - m.own_in)) - (180.0 - frame.joints[c].interior_deg);
        const bool mitre = frame.joints[c].kind == JointKind::mitre;
        return {mitre ? std::abs(std::abs(m.other_out - m.other_in) - std::abs(m.own_out - m.own_in)) : 0.0,
                radians(std::abs(std::remainder(turn, 360.0)))};
    }

    // One bit for each mark that stands between two steps; without bits all go to their nearest.
    [[nodiscard]] std::vector<Loose> make(const std::vector<std::size_t>& free, std::optional<std::uint32_t> bits) const {
        std::vector<Loose> boards(frame.boards.size());
        for (std::size_t i = 0; i < marks.size(); ++i) {
            const Mark& mark = marks[i];
            const Reading& r = mark.reading;
            double x = r.exact - r.down < r.up - r.exact ? r.down : r.up;
            const auto at = std::find(free.begin(), free.end(), i);
            if (bits && at != free.end()) x = ((*bits >> (at - free.begin())) & 1U) != 0 ? r.up : r.down;
            Loose& board = boards[mark.board];
            Point& to = mark.end == 0 ? (mark.inside ? board.first_in : board.first_out) : (mark.inside ? board.second_in : board.second_out);
            to = Point(x, mark.inside ? 0.0 : -frame.boards[mark.board].width_mm);
        }
        return boards;
    }

    [[nodiscard]] std::vector<std::size_t> free() const {
        std::vector<std::size_t> indices;
        for (std::size_t i = 0; i < marks.size(); ++i) {
            if (marks[i].reading.between) indices.push_back(i);
        }
        return indices;
    }

    [[nodiscard]] double least_of_all(const std::vector<std::size_t>& free) const {
        const std::vector<Loose> nearest = make(free, std::nullopt);
        double narrowest = HUGE_VAL;
        for (const Board& b : frame.boards) narrowest = std::min(narrowest, b.width_mm);
        std::vector<Joined> most;
        for (std::size_t c = 0; c < frame.boards.size(); ++c) {
            const Joined plain = joined_at(nearest, c);
            most.push_back({std::max(plain.mismatch_mm, 0.5 * step_mm) + 1e-6, std::max(plain.turn_rad, step_mm / narrowest) + 1e-9});
        }
        double least = left_at_a(nearest);
        for (std::uint32_t bits = 0; bits < (1U << free.size()); ++bits) {
            const std::vector<Loose> boards = make(free, bits);
            bool allowed = true;
            for (std::size_t c = 0; c < most.size() && allowed; ++c) {
                const Joined now = joined_at(boards, c);
                allowed = now.mismatch_mm <= most[c].mismatch_mm && now.turn_rad <= most[c].turn_rad;
            }
            if (allowed) least = std::min(least, left_at_a(boards));
        }
        return least;
    }
};

}  // namespace

TEST_CASE("with butts and half-laps too the way chosen leaves what the best of all ways leaves") {
    Random random(13);
    std::size_t judged = 0, butts = 0, laps = 0;
    double worst = 0.0;
    for (std::size_t i = 0; i < cases(260, 2600); ++i) {
        std::vector<Vec2> points;
        for (int k = 0; k < 3; ++k) points.push_back(random.between(300.0, 500.0) * unit_deg(120.0 * (k + random.between(-0.2, 0.2))));
        const Outline outline = outline_through(points);
        Project project = project_for(outline, {random.between(20.0, 60.0), random.between(20.0, 60.0)});
        for (JointAsked& joint : project.joints) {
            joint.kind = kJointKinds[random.index(kJointKinds.size())];
        }
        project.tools.slope_by = SlopeBy::marks;
        project.tools.rounding = Rounding::singly;
        project.wanted.gap_mm = 1e-9;
        const Result<Frame> frame = build_frame(project, outline);
        if (!frame.ok()) continue;
        const MarkedRing ring(frame.value(), project.tools.rule_step_mm);
        const std::vector<std::size_t> free = ring.free();
        const ClosingRounding rounding = round_to_close(project, frame.value(), {});
        CHECK_THAT(rounding.before_mm, within_mm(ring.left_at_a(ring.make(free, std::nullopt)), 1e-8));
        CHECK(rounding.choices == free.size());
        if (free.size() > kMostTried) continue;
        ++judged;
        for (const Joint& joint : frame.value().joints) {
            butts += joint.kind == JointKind::butt ? 1 : 0;
            laps += joint.kind == JointKind::half_lap ? 1 : 0;
        }
        const double least = ring.least_of_all(free);
        CHECK(rounding.value_mm >= least - 2e-6);
        worst = std::max(worst, (rounding.value_mm - least) / project.tools.rule_step_mm);
    }
    INFO("worst over the least of all ways, in steps: " << worst << " of " << judged << " with " << butts << " butts, " << laps << " laps");
    CHECK(judged > 100);
    CHECK(butts > 50);
    CHECK(laps > 50);
    CHECK(worst < 0.02);
}
