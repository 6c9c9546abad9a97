#include "outline/build.hpp"

#include <cmath>
#include <cstddef>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {
namespace {

// A row of equal chords on a circle, each turned by 2h against the one before.
void put_equal_chords(Outline& outline, std::size_t corners, double side_mm, double half_turn_parts, double half_turn_of) {
    // h = half_turn_parts / half_turn_of, kept as a quotient so that k h is rounded once.
    const double sine = sin_deg(half_turn_parts / half_turn_of);
    for (std::size_t k = 0; k < corners; ++k) {
        if (k < 2) {
            outline.corners_mm.push_back({k == 0 ? 0.0 : side_mm, 0.0});
            continue;
        }
        const double chord_mm = side_mm * (sin_deg(static_cast<double>(k) * half_turn_parts / half_turn_of) / sine);
        outline.corners_mm.push_back(chord_mm * unit_deg(static_cast<double>(k - 1) * half_turn_parts / half_turn_of) +
                                     Vec2{});  // no -0
    }
}

double regular_side_mm(const RegularOutline& asked) {
    const double h = 180.0 / static_cast<double>(asked.corners);
    switch (asked.of) {
        case RegularOutline::Of::side:
            return asked.size_mm;
        case RegularOutline::Of::over_flats:
        case RegularOutline::Of::inscribed:
            return asked.size_mm * (asked.corners == 4 ? 1.0 : tan_deg(h));
        case RegularOutline::Of::over_points:
        case RegularOutline::Of::circumscribed:
            return asked.size_mm * sin_deg(h);
    }
    ENSURE(false);
    return 0.0;
}

void expect_right_sum(Outline& outline) {
    const double expected = (static_cast<double>(outline.boards()) - 2.0) * 180.0;
    outline.misclosure.angle_sum_deg = expected;
    outline.misclosure.angle_sum_expected_deg = expected;
}

}  // namespace

Outline build_regular(const RegularOutline& asked) {
    ENSURE(asked.corners >= 3);
    const auto n = static_cast<double>(asked.corners);
    const double side_mm = regular_side_mm(asked);
    const double turn_deg = 360.0 / n;
    Outline outline;
    put_equal_chords(outline, asked.corners, side_mm, 180.0, n);
    outline.sides_mm.assign(asked.corners, side_mm);
    outline.turn_deg.assign(asked.corners, turn_deg);
    outline.interior_deg.assign(asked.corners, 180.0 - turn_deg);
    for (std::size_t k = 0; k < asked.corners; ++k) {
        outline.direction_deg.push_back(wrapped_deg(static_cast<double>(k) * 360.0 / n));
    }
    expect_right_sum(outline);
    return outline;
}

Outline build_rectangle(const RectangleOutline& asked) {
    const double l = asked.length_mm;
    const double w = asked.width_mm;
    Outline outline;
    outline.corners_mm = {{0.0, 0.0}, {l, 0.0}, {l, w}, {0.0, w}};
    outline.sides_mm = {l, w, l, w};
    outline.interior_deg.assign(4, 90.0);
    outline.turn_deg.assign(4, 90.0);
    outline.direction_deg = {0.0, 90.0, 180.0, -90.0};
    expect_right_sum(outline);
    return outline;
}

double twice_area_mm2(const std::vector<Vec2>& ring) {
    CarefulSum sum;
    for (std::size_t k = 1; k + 1 < ring.size(); ++k) sum.add(cross(ring[k] - ring[0], ring[k + 1] - ring[0]));
    return sum.value();
}

Outline build_corners(const std::vector<Vec2>& corners_mm, bool open) {
    const std::size_t corners = corners_mm.size();
    Outline outline;
    outline.closed = !open;
    outline.corners_mm = corners_mm;
    const std::size_t n = open ? corners - 1 : corners;
    std::vector<Vec2> side;
    for (std::size_t k = 0; k < n; ++k) {
        side.push_back(outline.corners_mm[(k + 1) % corners] - outline.corners_mm[k]);
        outline.sides_mm.push_back(length(side[k]));
        outline.direction_deg.push_back(wrapped_deg(direction_deg(side[k])));
    }
    for (std::size_t c = 0; c < corners; ++c) {
        double turn_deg = 0.0;
        if (outline.is_joint(c)) {
            const Vec2 before = side[outline.board_before(c)];
            const Vec2 after = side[outline.board_after(c)];
            turn_deg = degrees(std::atan2(cross(before, after), dot(before, after))) + 0.0;  // no -0
        }
        outline.turn_deg.push_back(turn_deg);
        outline.interior_deg.push_back(180.0 - turn_deg);
    }
    if (!open) expect_right_sum(outline);
    return outline;
}

Outline build_points(const PointsOutline& asked, bool open, bool letters_clockwise) {
    const std::size_t corners = asked.points_mm.size();
    ENSURE(corners >= (open ? 2U : 3U));
    Outline outline;
    outline.corners_mm = asked.points_mm;
    // Of an open chain: with the gap between its free ends closed, so that the middle lies where the chain bends to.
    const double area = twice_area_mm2(outline.corners_mm);
    outline.letters_clockwise = area == 0.0 ? letters_clockwise : area < 0.0;
    if (outline.letters_clockwise) {
        for (Vec2& corner : outline.corners_mm) corner.y = 0.0 - corner.y;  // no -0: it would reach the papers
    }
    Outline built = build_corners(outline.corners_mm, open);
    built.letters_clockwise = outline.letters_clockwise;
    return built;
}

Outline build_arc(const ArcOutline& asked) {
    ENSURE(asked.pieces >= 1);
    const auto n = static_cast<double>(asked.pieces);
    const double h = asked.span_deg / (2.0 * n);
    const bool flats = asked.fits == ArcOutline::Fits::flats;
    ENSURE(!flats || h < 90.0);
    const double side_mm = 2.0 * asked.radius_mm * (flats ? tan_deg(h) : sin_deg(h));
    Outline outline;
    outline.closed = false;
    put_equal_chords(outline, asked.pieces + 1, side_mm, asked.span_deg, 2.0 * n);
    outline.sides_mm.assign(asked.pieces, side_mm);
    outline.turn_deg.assign(asked.pieces + 1, asked.span_deg / n);
    outline.turn_deg.front() = outline.turn_deg.back() = 0.0;
    for (std::size_t k = 0; k < asked.pieces; ++k) {
        outline.direction_deg.push_back(wrapped_deg(static_cast<double>(k) * asked.span_deg / n));
    }
    for (const double turn_deg : outline.turn_deg) outline.interior_deg.push_back(180.0 - turn_deg);
    return outline;
}

Outline build_chain(const Chain& chain) {
    Walk walked = walk(chain);
    Outline outline;
    outline.closed = chain.closed;
    outline.corners_mm = std::move(walked.corners_mm);
    outline.direction_deg = std::move(walked.direction_deg);
    outline.sides_mm = chain.sides_mm;
    outline.interior_deg = chain.interior_deg;
    for (const double interior_deg : chain.interior_deg) outline.turn_deg.push_back(turn_of(interior_deg));
    return outline;
}

}  // namespace boardring
