#include "closure/refit.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstddef>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "closure/closure.hpp"
#include "closure/last_joint.hpp"
#include "outline/build.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"
#include "support/random_frame.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::cases;
using boardring_test::Random;

namespace {

using Shapes = std::vector<std::optional<BoardShape>>;

struct Ring {
    Project project;
    Outline outline;
    Frame frame;
};

Ring random_ring(Random& random, std::size_t most) {
    for (;;) {
        std::optional<std::vector<Vec2>> points = boardring_test::random_frame::star(random, 4 + random.index(most - 3));
        if (!points) continue;
        const double size_mm = random.between(400.0, 1500.0);
        for (Vec2& p : *points) p = size_mm * p;
        Ring ring;
        ring.outline = boardring_test::outline_through(*points);
        std::vector<double> widths;
        for (std::size_t k = 0; k < points->size(); ++k) widths.push_back(random.between(20.0, 60.0));
        ring.project = boardring_test::project_for(ring.outline, widths);
        Result<Frame> built = build_frame(ring.project, ring.outline);
        if (!built.ok()) continue;
        const bool sharp = std::any_of(ring.outline.turn_deg.begin(), ring.outline.turn_deg.end(),
                                       [](double turn) { return std::abs(turn) > 140.0 || std::abs(turn) < 5.0; });
        if (sharp) continue;
        ring.frame = std::move(built).value();
        return ring;
    }
}

Shapes some_cut(Random& random, const Frame& frame, std::size_t open_at_least, double off_mm, double off_deg) {
    const std::size_t n = frame.boards.size();
    Shapes cut(n);
    std::size_t open = 0;
    for (std::size_t k = 0; k < n; ++k) {
        const bool stays = random.chance(0.4) || n - k <= open_at_least - std::min(open, open_at_least);
        if (stays) {
            ++open;
            continue;
        }
        BoardShape shape = BoardShape::of(frame.boards[k]);
        shape.inside_mm += off_mm * random.between(-1.0, 1.0);
        for (std::size_t e = 0; e < 2; ++e) {
            const double width = frame.boards[k].width_mm;
            shape.run_mm[e] = width * std::tan(std::atan2(shape.run_mm[e], width) + radians(off_deg * random.between(-1.0, 1.0)));
        }
        cut[k] = shape;
    }
    return cut;
}

// Nothing where the errors make boards collide, or a cut would have to lie past its board's own line.
std::optional<Frame> refitted_frame(const Ring& ring, const Outline& outline, const Shapes& cut) {
    Project inside = ring.project;
    inside.outline.line = OutlineLine::inside;
    inside.outline.margin_mm.assign(inside.boards.size(), 0.0);
    Result<Frame> built = build_frame(inside, outline);
    if (!built.ok()) return std::nullopt;
    Frame frame = std::move(built).value();
    if (!put_cut_boards(frame, cut)) return std::nullopt;
    return frame;
}

// Boards put together face on face, from their marks alone: complex numbers in long double, no engine.
double misses_by(const Frame& frame) {
    using Complex = std::complex<long double>;
    Complex heading{1.0L, 0.0L}, at{};
    long double perimeter = 0.0L;
    const std::size_t n = frame.boards.size();
    for (std::size_t k = 0; k < n; ++k) {
        const Board& board = frame.boards[k];
        const Board& next = frame.boards[k + 1 == n ? 0 : k + 1];
        const long double edge = static_cast<long double>(board.ends[1].inside_mm) - static_cast<long double>(board.ends[0].inside_mm);
        at += edge * heading;
        perimeter += edge;
        const auto face = [](const Board& b, double run) { return Complex{static_cast<long double>(b.width_mm), static_cast<long double>(run)}; };
        const Complex turn = face(board, board.ends[1].outside_mm - board.ends[1].inside_mm) *
                             face(next, next.ends[0].inside_mm - next.ends[0].outside_mm);
        heading *= turn / std::abs(turn);
    }
    return static_cast<double>(std::max(std::abs(at) / perimeter, std::abs(heading - Complex{1.0L, 0.0L})));
}

// ---- a general minimiser of sums of squares under conditions: Newton steps of the whole system, differences for derivatives ----

using Vector = std::vector<double>;
using Function = std::function<Vector(const Vector&)>;

std::vector<Vector> differences(const Function& f, const Vector& x) {
    std::vector<Vector> columns;
    for (std::size_t i = 0; i < x.size(); ++i) {
        Vector up = x, down = x;
        up[i] += 1e-3;
        down[i] -= 1e-3;
        Vector a = f(up);
        const Vector b = f(down);
        for (std::size_t j = 0; j < a.size(); ++j) a[j] = (a[j] - b[j]) / 2e-3;
        columns.push_back(a);
    }
    return columns;
}

Vector solved(std::vector<Vector> a, Vector b) {
    const std::size_t m = b.size();
    for (std::size_t i = 0; i < m; ++i) {
        std::size_t p = i;
        for (std::size_t j = i; j < m; ++j) {
            if (std::abs(a[j][i]) > std::abs(a[p][i])) p = j;
        }
        std::swap(a[i], a[p]);
        std::swap(b[i], b[p]);
        for (std::size_t j = i + 1; j < m; ++j) {
            const double factor = a[j][i] / a[i][i];
            for (std::size_t k = i; k < m; ++k) a[j][k] -= factor * a[i][k];
            b[j] -= factor * b[i];
        }
    }
    for (std::size_t i = m; i-- > 0;) {
        for (std::size_t j = i + 1; j < m; ++j) b[i] -= a[i][j] * b[j];
        b[i] /= a[i][i];
    }
    return b;
}

// Minimises |r(x)|^2 with c(x) = 0; a trace of the identity stands for motions that change neither.
Vector least(const Function& r, const Function& c, Vector x) {
    for (int step = 0; step < 40; ++step) {
        const Vector rest = r(x), misses = c(x);
        const std::vector<Vector> jr = differences(r, x), jc = differences(c, x);
        const std::size_t n = x.size(), m = misses.size();
        std::vector<Vector> kkt(n + m, Vector(n + m, 0.0));
        Vector right(n + m, 0.0);
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < n; ++j) {
                for (std::size_t q = 0; q < rest.size(); ++q) kkt[i][j] += jr[i][q] * jr[j][q];
            }
            kkt[i][i] += 1e-9;
            for (std::size_t q = 0; q < rest.size(); ++q) right[i] -= jr[i][q] * rest[q];
            for (std::size_t q = 0; q < m; ++q) kkt[i][n + q] = kkt[n + q][i] = jc[i][q];
        }
        for (std::size_t q = 0; q < m; ++q) {
            right[n + q] = -misses[q];
            kkt[n + q][n + q] = -1e-14;  // conditions that say the same
        }
        const Vector move = solved(kkt, right);
        double size = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            x[i] += move[i];
            size = std::max(size, std::abs(move[i]));
        }
        if (size < 1e-9) break;
    }
    return x;
}

double sum_of_squares(const Vector& v) {
    double sum = 0.0;
    for (const double x : v) sum += x * x;
    return sum;
}

// The ring as 2n coordinates of its inside corners.
struct AsPoints {
    std::size_t n;
    [[nodiscard]] Vec2 at(const Vector& x, std::size_t c) const { return {x[2 * (c % n)], x[2 * (c % n) + 1]}; }
    [[nodiscard]] double side(const Vector& x, std::size_t k) const { return length(at(x, k + 1) - at(x, k)); }
    [[nodiscard]] double turn(const Vector& x, std::size_t c) const {
        const Vec2 a = at(x, c) - at(x, c + n - 1), b = at(x, c + 1) - at(x, c);
        return std::atan2(cross(a, b), dot(a, b));
    }
};

constexpr std::array kAllKeeps{Keep::outline, Keep::angles, Keep::lengths};

}  // namespace

TEST_CASE("boards cut as planned change nothing, whatever is kept") {
    Random random(1);
    for (std::size_t i = 0; i < cases(300, 10'000); ++i) {
        const Ring ring = random_ring(random, 10);
        const Shapes cut = some_cut(random, ring.frame, 1, 0.0, 0.0);
        for (const Keep keep : kAllKeeps) {
            const std::optional<Outline> outline = refit_outline(ring.frame, cut, keep);
            REQUIRE(outline.has_value());
            const Frame frame = refitted_frame(ring, *outline, cut).value();
            for (std::size_t k = 0; k < frame.boards.size(); ++k) {
                const BoardShape now = BoardShape::of(frame.boards[k]), was = BoardShape::of(ring.frame.boards[k]);
                CHECK_THAT(now.inside_mm, WithinAbs(was.inside_mm, 1e-8));
                CHECK_THAT(now.run_mm[0], WithinAbs(was.run_mm[0], 1e-8));
                CHECK_THAT(now.run_mm[1], WithinAbs(was.run_mm[1], 1e-8));
            }
            for (const double moved : corners_moved_mm(ring.frame, *outline)) CHECK(moved < 1e-8);
        }
    }
}

TEST_CASE("whatever the errors of the cuts, the ring closes with the boards as they were cut") {
    Random random(2);
    double worst = 0.0;
    std::size_t closed = 0;
    for (std::size_t i = 0; i < cases(500, 20'000); ++i) {
        const Ring ring = random_ring(random, 12);
        const Shapes cut = some_cut(random, ring.frame, 1, 3.0, 0.6);
        for (const Keep keep : kAllKeeps) {
            const std::optional<Outline> outline = refit_outline(ring.frame, cut, keep);
            REQUIRE(outline.has_value());
            const std::optional<Frame> built = refitted_frame(ring, *outline, cut);
            if (!built) continue;
            ++closed;
            const Frame& frame = *built;
            worst = std::max(worst, misses_by(frame));
            for (std::size_t k = 0; k < cut.size(); ++k) {
                if (!cut[k]) continue;
                CHECK_THAT(outline->sides_mm[k], WithinAbs(cut[k]->inside_mm, 1e-9));
                CHECK(frame.boards[k].ends[0].run_mm == cut[k]->run_mm[0]);
            }
            // The engine's own walk agrees.
            std::vector<MadeBoard> made;
            for (const Board& board : frame.boards) made.push_back(exact_board(board));
            const JointMisfit left = stiff_at(frame, made, 0);
            CHECK(std::hypot(left.gap_in_mm, left.lip_in_mm) < 1e-7);
            CHECK(std::abs(left.angle_left_deg) < 1e-9);
        }
    }
    CHECK(worst < 1e-10);
    CHECK(closed > 3 * cases(450, 18'000));
}

TEST_CASE("a board that would have to be cut past its own line is refused") {
    // One ring in 20,000 at full size: a slope of 90.5 became one of 89.5 the other way, and the ring ended half a turn off.
    std::vector<Vec2> hexagon;
    for (int c = 0; c < 6; ++c) hexagon.push_back(600.0 * unit_deg(60.0 * c));
    Ring ring;
    ring.outline = boardring_test::outline_through(hexagon);
    ring.project = boardring_test::project_for(ring.outline, std::vector<double>(6, 40.0));
    ring.frame = build_frame(ring.project, ring.outline).value();
    for (const double slope_deg : {-29.0, -31.0}) {  // the next board then needs 89, or 91
        Shapes cut(6);
        cut[0] = BoardShape::of(ring.frame.boards[0]);
        cut[0]->run_mm[1] = 40.0 * tan_deg(slope_deg);
        Frame frame = ring.frame;
        CHECK(put_cut_boards(frame, cut) == (slope_deg > -30.0));
    }
}

TEST_CASE("no ring with the boards that are cut changes less: a general minimiser finds the same") {
    Random random(3);
    std::size_t angles_kept = 0;
    for (std::size_t i = 0; i < cases(60, 2'000); ++i) {
        const Ring ring = random_ring(random, 7);
        const Shapes cut = some_cut(random, ring.frame, 2, 2.0, 0.4);
        const AsPoints points{cut.size()};
        const std::size_t n = cut.size();
        Vector planned;
        for (const Vec2 p : ring.frame.inside_mm) planned.insert(planned.end(), {p.x, p.y});
        const auto joint_given = [&](std::size_t c) { return cut[c] && cut[(c + n - 1) % n]; };
        double given_change = 0.0;
        std::size_t free_joints = 0;
        for (std::size_t c = 0; c < n; ++c) {
            if (!joint_given(c)) {
                ++free_joints;
                continue;
            }
            const std::size_t p = (c + n - 1) % n;
            given_change += radians(turn_face_to_face(cut[p]->run_mm[1], ring.frame.boards[p].width_mm, cut[c]->run_mm[0],
                                                      ring.frame.boards[c].width_mm)) -
                            points.turn(planned, c);
        }
        const Function given = [&](const Vector& x) {
            Vector miss;
            for (std::size_t k = 0; k < n; ++k) {
                if (cut[k]) miss.push_back(points.side(x, k) - cut[k]->inside_mm);
                const std::size_t p = (k + n - 1) % n;
                if (joint_given(k))
                    miss.push_back(300.0 * (points.turn(x, k) -
                                            radians(turn_face_to_face(cut[p]->run_mm[1], ring.frame.boards[p].width_mm, cut[k]->run_mm[0],
                                                                      ring.frame.boards[k].width_mm))));
            }
            return miss;
        };
        const auto coordinates = [](const Outline& o) {
            Vector x;
            for (const Vec2 p : o.corners_mm) x.insert(x.end(), {p.x, p.y});
            return x;
        };

        // Outline: the distances of the corners.
        const Function distances = [&](const Vector& x) {
            Vector d;
            for (std::size_t q = 0; q < x.size(); ++q) d.push_back(x[q] - planned[q]);
            return d;
        };
        const Vector ours = coordinates(*refit_outline(ring.frame, cut, Keep::outline));
        const Vector best = least(distances, given, planned);
        CHECK_THAT(sum_of_squares(distances(ours)), WithinAbs(sum_of_squares(distances(best)), 1e-5));

        // Lengths: open edges stay, the changes of the free turns are smallest.
        const Function turns = [&](const Vector& x) {
            Vector d;
            for (std::size_t c = 0; c < n; ++c) {
                if (!joint_given(c)) d.push_back(300.0 * (points.turn(x, c) - points.turn(planned, c)));
            }
            return d;
        };
        const Function given_and_lengths = [&](const Vector& x) {
            Vector miss = given(x);
            for (std::size_t k = 0; k < n; ++k) {
                if (!cut[k]) miss.push_back(points.side(x, k) - points.side(planned, k));
            }
            return miss;
        };
        const Vector by_turns = coordinates(*refit_outline(ring.frame, cut, Keep::lengths));
        CHECK(std::sqrt(sum_of_squares(given_and_lengths(by_turns))) < 1e-7);
        const Vector best_turns = least(turns, given_and_lengths, planned);
        CHECK_THAT(sum_of_squares(turns(by_turns)), WithinAbs(sum_of_squares(turns(best_turns)), 1e-5));

        // Angles: free corners share the sum, the changes of the open edges are smallest.
        const Vector by_lengths = coordinates(*refit_outline(ring.frame, cut, Keep::angles));
        const Function given_and_shares = [&](const Vector& x) {
            Vector miss = given(x);
            std::size_t said = 0;  // the last follows from the others
            for (std::size_t c = 0; c < n; ++c) {
                if (!joint_given(c) && ++said < free_joints)
                    miss.push_back(300.0 * (points.turn(x, c) - points.turn(planned, c) + given_change / static_cast<double>(free_joints)));
            }
            return miss;
        };
        if (std::sqrt(sum_of_squares(given_and_shares(by_lengths))) > 1e-7) continue;  // the lengths alone could not
        ++angles_kept;
        // With the angles settled the open edges close the ring linearly: the least squares of their changes are those that are one
        // force seen along each of them, d = force . u (the conditions of a minimum, which is the only one).
        std::vector<std::pair<Vec2, double>> changes;
        for (std::size_t k = 0; k < n; ++k) {
            const Vec2 along = (1.0 / points.side(by_lengths, k)) * (points.at(by_lengths, k + 1) - points.at(by_lengths, k));
            if (!cut[k]) changes.emplace_back(along, points.side(by_lengths, k) - points.side(planned, k));
        }
        double xx = 0.0, xy = 0.0, yy = 0.0, bx = 0.0, by = 0.0;
        for (const auto& [u, d] : changes) {
            xx += u.x * u.x, xy += u.x * u.y, yy += u.y * u.y;
            bx += u.x * d, by += u.y * d;
        }
        const double all = xx * yy - xy * xy;
        const Vec2 force{(yy * bx - xy * by) / all, (xx * by - xy * bx) / all};
        for (const auto& [u, d] : changes) CHECK_THAT(dot(force, u), WithinAbs(d, 1e-6));
    }
    CHECK(angles_kept > cases(30, 1'000));
}

TEST_CASE("a measured board: lengths and slopes as the maker has them") {
    Random random(4);
    const Ring ring = random_ring(random, 6);
    const Board& board = ring.frame.boards[1];
    const BoardShape planned = BoardShape::of(board);
    AsCutBoard measured;
    measured.board = 1;
    measured.long_mm = planned.long_mm() - 2.0;
    CHECK_THAT(shape_as_cut(board, measured, {}).inside_mm, WithinAbs(planned.inside_mm - 2.0, 1e-12));
    CHECK(shape_as_cut(board, measured, {}).run_mm == planned.run_mm);
    measured.short_mm = planned.short_mm() - 3.0;  // a millimetre more of slope, half at each end
    const BoardShape sloped = shape_as_cut(board, measured, {});
    CHECK_THAT(sloped.long_mm(), WithinAbs(*measured.long_mm, 1e-12));
    CHECK_THAT(sloped.short_mm(), WithinAbs(*measured.short_mm, 1e-12));
    CHECK_THAT(std::abs(sloped.run_mm[0]) - std::abs(planned.run_mm[0]), WithinAbs(0.5, 1e-12));
    measured.saw_deg = {std::abs(board.ends[0].saw_deg), std::abs(board.ends[1].saw_deg)};
    const BoardShape shared = shape_as_cut(board, measured, {0.5, 1e-9});  // slopes known exactly: the lengths give way, half each
    CHECK_THAT(shared.long_mm(), WithinAbs(*measured.long_mm - 0.5, 1e-6));
}

TEST_CASE("a diagonal across cut boards moves lengths and slopes just enough to agree with it") {
    const Outline outline = boardring_test::regular_ring(6, 400.0);
    const Project project = boardring_test::project_for(outline, std::vector<double>(6, 38.0));
    const Frame frame = build_frame(project, outline).value();
    Shapes cut(6);
    for (const std::size_t k : {0U, 1U, 2U, 3U}) cut[k] = BoardShape::of(frame.boards[k]);
    const Shapes before = cut;
    const double across = length(frame.inside_mm[2] - frame.inside_mm[0]);
    CHECK(settle_diagonals(frame, cut, {{0, 2, across, ""}, {0, 5, 400.0, ""}}, {}) == std::vector<std::size_t>{1});
    for (std::size_t k = 0; k < 4; ++k) CHECK_THAT(cut[k]->run_mm[0], WithinAbs(before[k]->run_mm[0], 1e-9));
    // 4 mm short: with slopes far less sure than lengths they take it nearly all. cos rule by hand: 2 x 400 sin(I/2).
    settle_diagonals(frame, cut, {{0, 2, across - 4.0, ""}}, {0.001, 0.2});
    const double turn = turn_face_to_face(cut[0]->run_mm[1], 38.0, cut[1]->run_mm[0], 38.0);
    CHECK_THAT(2.0 * 400.0 * sin_deg(0.5 * (180.0 - turn)), WithinAbs(across - 4.0, 0.01));
    CHECK(cut[2]->run_mm == before[2]->run_mm);
}

TEST_CASE("a board is trimmed by sliding it in its wood; too short is told by how much") {
    const BoardShape wood{400.0, {20.0, 20.0}};
    const std::optional<Trim> steeper = trim_to(wood, {399.0, {20.0, 20.5}});
    REQUIRE(steeper.has_value());
    CHECK(steeper->off_mm[0][0] == 0.0);
    CHECK(steeper->off_mm[0][1] == 0.0);
    CHECK_THAT(steeper->off_mm[1][0], WithinAbs(1.0, 1e-12));
    CHECK_THAT(steeper->off_mm[1][1], WithinAbs(0.5, 1e-12));
    CHECK_FALSE(trim_to(wood, {400.5, {20.0, 20.0}}).has_value());
    CHECK_THAT(too_short_mm(wood, {400.5, {20.0, 20.0}}), WithinAbs(0.5, 1e-12));
    CHECK_FALSE(trim_to(wood, {400.0, {20.5, 20.0}}).has_value());  // the outside would have to grow
}

TEST_CASE("a wedge off the last joint closes the angles: what is planed is the gap that showed") {
    const Outline outline = boardring_test::regular_ring(6, 400.0);
    const Project project = boardring_test::project_for(outline, std::vector<double>(6, 38.0));
    const Frame frame = build_frame(project, outline).value();
    const LastJoint last = last_joint(frame, 0, 5, DryFitGap{0, 0.0, 0.8, ""});
    CHECK_THAT(last.open.gap_in_mm, WithinAbs(0.0, 1e-9));
    CHECK_THAT(last.open.gap_out_mm, WithinAbs(0.8, 1e-9));
    CHECK(last.plane_inside);
    CHECK_THAT(last.plane_mm, WithinAbs(0.8, 1e-9));
    CHECK(last.plane_end == 1);
    CHECK(last.after.widest_mm < last.before.widest_mm);
    CHECK(last.after.widest_mm < 0.15);
}

TEST_CASE("where the last joint stands open all over, the wedge alone is planed off, on the side that is the tighter") {
    const Outline outline = boardring_test::regular_ring(6, 400.0);
    const Project project = boardring_test::project_for(outline, std::vector<double>(6, 38.0));
    const Frame frame = build_frame(project, outline).value();
    const LastJoint outside_wider = last_joint(frame, 0, 5, DryFitGap{0, 0.4, 1.0, ""});
    CHECK(outside_wider.plane_inside);
    CHECK_THAT(outside_wider.plane_mm, WithinAbs(0.6, 1e-9));
    const LastJoint inside_wider = last_joint(frame, 0, 5, DryFitGap{0, 1.0, 0.7, ""});
    CHECK_FALSE(inside_wider.plane_inside);
    CHECK_THAT(inside_wider.plane_mm, WithinAbs(0.3, 1e-9));
}

TEST_CASE("a board's short length is its inside less what its ends fall short there, its long one more by what they stand out") {
    // Inside 400: an end that runs 20 out, one that runs 12 in.
    CHECK(BoardShape{400.0, {20.0, 15.0}}.long_mm() == 435.0);
    CHECK(BoardShape{400.0, {20.0, 15.0}}.short_mm() == 400.0);
    CHECK(BoardShape{400.0, {-12.0, 20.0}}.long_mm() == 420.0);
    CHECK(BoardShape{400.0, {-12.0, 20.0}}.short_mm() == 388.0);
    CHECK(BoardShape{400.0, {20.0, -12.0}}.short_mm() == 388.0);
    CHECK(BoardShape{400.0, {-12.0, -7.0}}.long_mm() == 400.0);
    CHECK(BoardShape{400.0, {-12.0, -7.0}}.short_mm() == 381.0);
}

TEST_CASE("of a ring cut to the end, the board that is too long is found and trimmed") {
    const Outline outline = boardring_test::regular_ring(5, 400.0);
    const Project project = boardring_test::project_for(outline, {38.0, 38.0, 45.0, 38.0, 38.0});
    const Frame frame = build_frame(project, outline).value();
    Shapes cut;
    for (const Board& board : frame.boards) cut.emplace_back(BoardShape::of(board));
    cut[3]->inside_mm += 5.0;
    const std::optional<Recut> recut = best_recut(frame, cut);
    REQUIRE(recut.has_value());
    CHECK(recut->board == 3);
    REQUIRE(recut->trim.has_value());
    CHECK_THAT(recut->trim->most_mm, WithinAbs(5.0, 1e-9));
    CHECK_THAT(recut->shape.inside_mm, WithinAbs(400.0, 1e-9));
}
