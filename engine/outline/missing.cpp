#include "outline/missing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {
namespace {

constexpr double kSumRightDeg = 1e-6;    // angles that go round once more are 360 off
constexpr double kJustReaches = 1e-12;   // of the lengths compared: a stretch drawn out straight

using Column = std::array<double, 3>;

double determinant(const Column& a, const Column& b, const Column& c) {
    return a[0] * (b[1] * c[2] - b[2] * c[1]) - b[0] * (a[1] * c[2] - a[2] * c[1]) + c[0] * (a[1] * b[2] - a[2] * b[1]);
}

bool among(const std::vector<std::size_t>& list, std::size_t value) {
    return std::find(list.begin(), list.end(), value) != list.end();
}

// An angle in (0, 360) for what is known up to whole turns.
double as_interior(double deg) {
    const double wrapped = wrapped_deg(deg);
    return wrapped <= 0.0 ? wrapped + 360.0 : wrapped;
}

// A stiff stretch of the ring between two corners, its first side along +x.
struct Stretch {
    std::size_t from = 0;
    std::size_t to = 0;
    Vec2 chord_mm;            // an open side counts as 0 long
    double finish_deg = 0.0;  // direction of its last side
    std::optional<Vec2> open_along;

    [[nodiscard]] double length_mm() const { return length(chord_mm); }
};

Stretch stretch(const Chain& chain, const Unknowns& open, std::size_t from, std::size_t to) {
    const std::size_t n = chain.sides();
    Stretch s{from, to, {}, 0.0, {}};
    CarefulSum direction, x, y;
    std::size_t k = from;
    do {
        if (k != from) direction.add(turn_of(chain.interior_deg[k]));
        const Vec2 along = unit_deg(direction.value());
        if (among(open.sides, k)) {
            s.open_along = along;
        } else {
            x.add(chain.sides_mm[k] * along.x);
            y.add(chain.sides_mm[k] * along.y);
        }
        k = k + 1 == n ? 0 : k + 1;
    } while (k != to);
    s.chord_mm = {x.value(), y.value()};
    s.finish_deg = direction.value();
    return s;
}

// The open angles once every stretch has its chord in the direction `chord_deg` of one picture.
void turn_stretches(Chain& chain, const std::vector<Stretch>& stretches, const std::vector<double>& chord_deg) {
    const std::size_t m = stretches.size();
    std::vector<double> heading(m);
    for (std::size_t i = 0; i < m; ++i) heading[i] = chord_deg[i] - direction_deg(stretches[i].chord_mm);
    for (std::size_t i = 0; i < m; ++i) {
        const std::size_t next = i + 1 == m ? 0 : i + 1;
        const double turn = heading[next] - heading[i] - stretches[i].finish_deg;
        chain.interior_deg[stretches[i].to] = as_interior(180.0 - turn);
    }
}

// Where a value moves the end of the walk: the sum of the angles (times the perimeter, so that rows compare), x and y.
std::vector<Column> columns_of(const Chain& chain, bool of_angles) {
    const Walk walked = walk(chain);
    const double size_mm = perimeter_mm(chain);
    std::vector<Column> columns;
    for (std::size_t k = 0; k < chain.sides(); ++k) {
        const Vec2 swing = -left_of(walked.end_mm - walked.corners_mm[k]);
        if (of_angles) {
            columns.push_back({size_mm, swing.x, swing.y});
        } else {
            columns.push_back({0.0, walked.along[k].x, walked.along[k].y});
        }
    }
    return columns;
}

// Fills the leverage: what a given side moves the open values, by the rule of determinants.
void find_leverage(FilledChain& way, const Unknowns& open) {
    const std::vector<Column> sides = columns_of(way.chain, false);
    const std::vector<Column> angles = columns_of(way.chain, true);
    const std::size_t n = way.chain.sides();
    std::vector<Column> unknown;
    for (const std::size_t k : open.sides) unknown.push_back(sides[k]);
    for (const std::size_t c : open.angles) unknown.push_back(angles[c]);
    if (unknown.size() == 2) unknown.push_back({1.0, 0.0, 0.0});  // the angles stand; only the sides have to meet
    const double all = determinant(unknown[0], unknown[1], unknown[2]);
    for (std::size_t k = 0; k < n; ++k) {
        if (among(open.sides, k)) continue;
        for (std::size_t u = 0; u < open.count(); ++u) {
            std::array<Column, 3> replaced{unknown[0], unknown[1], unknown[2]};
            replaced[u] = sides[k];
            const bool is_angle = u >= open.sides.size();
            const std::size_t which = is_angle ? open.angles[u - open.sides.size()] : open.sides[u];
            const std::size_t before = which == 0 ? n - 1 : which - 1;
            const double arm_mm = is_angle ? std::max(way.chain.sides_mm[before], way.chain.sides_mm[which]) : 1.0;
            const double moved = std::abs(determinant(replaced[0], replaced[1], replaced[2]) / all) * arm_mm;
            if (!(moved > way.leverage)) continue;
            way.leverage = moved;
            way.lever_side = k;
            way.levered = which;
            way.levers_angle = is_angle;
        }
    }
}

FilledChain checked(Chain chain, const Unknowns& open) {
    FilledChain way{std::move(chain)};
    way.buildable = std::abs(angle_misfit_deg(way.chain)) <= kSumRightDeg;
    for (const std::size_t k : open.sides) way.buildable = way.buildable && way.chain.sides_mm[k] > 0.0;
    for (const std::size_t c : open.angles)
        way.buildable = way.buildable && way.chain.interior_deg[c] > 0.0 && way.chain.interior_deg[c] < 360.0;
    if (open.exactly_fixed() && way.buildable) find_leverage(way, open);
    return way;
}

// What the sum leaves for one open angle; with none open the sum is shared equally.
void settle_sum(Chain& chain, const Unknowns& open) {
    if (open.angles.empty()) {
        chain = with_equal_shares(std::move(chain));
        return;
    }
    chain.interior_deg[open.angles[0]] = 180.0;
    chain.interior_deg[open.angles[0]] -= angle_misfit_deg(chain);
}

ChainFilling fill_two_sides(Chain chain, const Unknowns& open) {
    const std::size_t first = open.sides[0], second = open.sides[1];
    settle_sum(chain, open);
    chain.sides_mm[first] = chain.sides_mm[second] = 0.0;
    const Walk walked = walk(chain);
    const Vec2 e = walked.along[first], f = walked.along[second];
    const double sine = cross(e, f);
    ChainFilling filling;
    filling.between_deg = degrees(std::atan2(std::abs(sine), std::abs(dot(e, f))));
    filling.parallel = filling.between_deg < kParallelDeg;
    if (filling.parallel) return filling;
    chain.sides_mm[first] = cross(f, walked.end_mm) / sine;
    chain.sides_mm[second] = -cross(e, walked.end_mm) / sine;
    filling.ways.push_back(checked(std::move(chain), open));
    return filling;
}

// One open side whose ends are where the sum puts them: as long as brings the ends nearest.
ChainFilling fill_one_side(Chain chain, const Unknowns& open) {
    settle_sum(chain, open);
    const std::size_t side = open.sides[0];
    chain.sides_mm[side] = 0.0;
    const Walk walked = walk(chain);
    chain.sides_mm[side] = -dot(walked.end_mm, walked.along[side]);
    ChainFilling filling;
    filling.ways.push_back(checked(std::move(chain), open));
    return filling;
}

ChainFilling fill_one_angle(Chain chain, const Unknowns& open) {
    settle_sum(chain, open);
    ChainFilling filling;
    filling.ways.push_back(checked(std::move(chain), open));
    return filling;
}

// Two open angles: two chords that have to be equally long (side open), or are nearly so.
ChainFilling fill_two_angles(const Chain& chain, const Unknowns& open) {
    const std::size_t p = open.angles[0], q = open.angles[1];
    std::vector<Stretch> parts{stretch(chain, open, p, q), stretch(chain, open, q, p)};
    ChainFilling filling;
    if (open.sides.empty()) {
        Chain filled = chain;
        turn_stretches(filled, parts, {0.0, 180.0});
        filling.ways.push_back(checked(std::move(filled), open));
        return filling;
    }
    const std::size_t with_side = parts[0].open_along ? 0 : 1;
    const Vec2 e = *parts[with_side].open_along;
    const Vec2 rest = parts[with_side].chord_mm;
    const double across = cross(e, rest);
    const double must_be = parts[1 - with_side].length_mm();
    const double to_spare = must_be - std::abs(across);
    if (to_spare < -kJustReaches * must_be) {
        filling.short_mm = -to_spare;
        filling.short_corner[0] = p;
        filling.short_corner[1] = q;
        return filling;
    }
    const double half = std::sqrt(std::max(to_spare, 0.0) * (must_be + std::abs(across)));
    const double foot = -dot(e, rest);
    for (const double side_mm : {foot + half, foot - half}) {
        std::vector<Stretch> closed = parts;
        closed[with_side].chord_mm = rest + side_mm * e;
        Chain filled = chain;
        filled.sides_mm[open.sides[0]] = side_mm;
        turn_stretches(filled, closed, {0.0, 180.0});
        filling.ways.push_back(checked(std::move(filled), open));
        if (half == 0.0) break;
    }
    return filling;
}

// The angle of a triangle opposite c, from the three sides: by half-angles, good to the last digits in slim triangles too. For that the
// shorter of two sides is taken off the longer first, whichever they are (Kahan, Miscalculating area and angles of a needle-like triangle).
double angle_opposite_deg(double c, double a, double b) {
    if (a < b) std::swap(a, b);
    const double excess = std::max(((a - b) + c) * (b >= c ? c - (a - b) : b - (a - c)), 0.0);
    const double other = std::max((a + (b + c)) * ((a - c) + b), 0.0);
    return 2.0 * degrees(std::atan2(std::sqrt(excess), std::sqrt(other)));
}

ChainFilling fill_three_angles(const Chain& chain, const Unknowns& open) {
    std::vector<Stretch> parts;
    for (std::size_t i = 0; i < 3; ++i) parts.push_back(stretch(chain, open, open.angles[i], open.angles[(i + 1) % 3]));
    const std::array<double, 3> d{parts[0].length_mm(), parts[1].length_mm(), parts[2].length_mm()};
    ChainFilling filling;
    for (std::size_t i = 0; i < 3; ++i) {
        const double to_spare = d[(i + 1) % 3] + d[(i + 2) % 3] - d[i];
        if (to_spare >= -kJustReaches * d[i]) continue;
        filling.short_mm = -to_spare;
        filling.short_corner[0] = parts[i].from;
        filling.short_corner[1] = parts[i].to;
        return filling;
    }
    const double turn_second = 180.0 - angle_opposite_deg(d[2], d[0], d[1]);
    const double turn_third = 180.0 - angle_opposite_deg(d[0], d[1], d[2]);
    for (const double hand : {1.0, -1.0}) {
        Chain filled = chain;
        turn_stretches(filled, parts, {0.0, hand * turn_second, hand * (turn_second + turn_third)});
        filling.ways.push_back(checked(std::move(filled), open));
    }
    return filling;
}

}  // namespace

ChainFilling fill_in(const Chain& given, const Unknowns& open) {
    ENSURE(given.closed && given.sides() >= 3);
    ENSURE(open.count() >= 1 && open.count() <= 3 && open.sides.size() <= 2);
    if (open.sides.size() == 2) return fill_two_sides(given, open);
    if (open.angles.size() == 3) return fill_three_angles(given, open);
    if (open.angles.size() == 2) return fill_two_angles(given, open);
    return open.sides.empty() ? fill_one_angle(given, open) : fill_one_side(given, open);
}

}  // namespace boardring
