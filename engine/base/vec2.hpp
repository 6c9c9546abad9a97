#pragma once
#include <cmath>

namespace boardring {

/// A point or a direction in the plan, millimetres; x to the right, y up, seen from above (or from the room).
struct Vec2 {
    double x = 0.0;
    double y = 0.0;
    friend constexpr bool operator==(const Vec2&, const Vec2&) = default;
};

constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
constexpr Vec2 operator-(Vec2 a) { return {-a.x, -a.y}; }
constexpr Vec2 operator*(double s, Vec2 a) { return {s * a.x, s * a.y}; }

constexpr double dot(Vec2 a, Vec2 b) { return a.x * b.x + a.y * b.y; }
/// z of the cross product: positive when b lies to the left of a.
constexpr double cross(Vec2 a, Vec2 b) { return a.x * b.y - a.y * b.x; }
inline double length(Vec2 a) { return std::hypot(a.x, a.y); }
/// A quarter turn to the left (counter-clockwise).
constexpr Vec2 left_of(Vec2 a) { return {-a.y, a.x}; }
/// A quarter turn to the right: the outward side of a side walked counter-clockwise.
constexpr Vec2 right_of(Vec2 a) { return {a.y, -a.x}; }
/// a turned by the angle whose cosine and sine are given.
constexpr Vec2 turned(Vec2 a, double cosine, double sine) {
    return {a.x * cosine - a.y * sine, a.x * sine + a.y * cosine};
}

}  // namespace boardring
