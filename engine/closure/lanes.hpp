#pragma once
#include <array>
#include <cmath>
#include <cstddef>

namespace boardring {

/// Eight builds reckoned side by side: plain loops of fixed length over an array, which compilers turn into the machine's own
/// instructions for several numbers at once. Only +, -, *, / and square roots, so the digits are the same with or without them.
inline constexpr std::size_t kLanes = 8;

struct Lanes {
    std::array<double, kLanes> v{};

    Lanes() = default;
    Lanes(double all) { v.fill(all); }  // NOLINT: a number stands for eight equal ones
    double& operator[](std::size_t i) { return v[i]; }
    double operator[](std::size_t i) const { return v[i]; }
};

#define BOARDRING_EACH_LANE(expression)                              \
    Lanes r;                                                         \
    for (std::size_t i = 0; i < kLanes; ++i) r.v[i] = (expression);  \
    return r

inline Lanes operator+(const Lanes& a, const Lanes& b) { BOARDRING_EACH_LANE(a.v[i] + b.v[i]); }
inline Lanes operator-(const Lanes& a, const Lanes& b) { BOARDRING_EACH_LANE(a.v[i] - b.v[i]); }
inline Lanes operator*(const Lanes& a, const Lanes& b) { BOARDRING_EACH_LANE(a.v[i] * b.v[i]); }
inline Lanes operator/(const Lanes& a, const Lanes& b) { BOARDRING_EACH_LANE(a.v[i] / b.v[i]); }
inline Lanes operator*(double s, const Lanes& b) { BOARDRING_EACH_LANE(s * b.v[i]); }
inline Lanes operator*(const Lanes& b, double s) { return s * b; }
inline Lanes operator-(const Lanes& a) { BOARDRING_EACH_LANE(-a.v[i]); }
inline Lanes root(const Lanes& a) { BOARDRING_EACH_LANE(std::sqrt(a.v[i])); }
inline Lanes size(const Lanes& a) { BOARDRING_EACH_LANE(std::abs(a.v[i])); }
inline Lanes larger(const Lanes& a, const Lanes& b) { BOARDRING_EACH_LANE(a.v[i] > b.v[i] ? a.v[i] : b.v[i]); }
inline Lanes smaller(const Lanes& a, const Lanes& b) { BOARDRING_EACH_LANE(a.v[i] < b.v[i] ? a.v[i] : b.v[i]); }

#undef BOARDRING_EACH_LANE

/// Points or directions of eight builds.
struct LanesVec {
    Lanes x, y;
};
inline LanesVec operator+(const LanesVec& a, const LanesVec& b) { return {a.x + b.x, a.y + b.y}; }
inline LanesVec operator-(const LanesVec& a, const LanesVec& b) { return {a.x - b.x, a.y - b.y}; }
inline LanesVec operator*(const Lanes& s, const LanesVec& a) { return {s * a.x, s * a.y}; }
inline Lanes dot(const LanesVec& a, const LanesVec& b) { return a.x * b.x + a.y * b.y; }
inline Lanes cross(const LanesVec& a, const LanesVec& b) { return a.x * b.y - a.y * b.x; }
inline LanesVec right_of(const LanesVec& a) { return {a.y, -a.x}; }
/// a turned by the angle whose cosine and sine are `by`.
inline LanesVec turned(const LanesVec& a, const LanesVec& by) { return {a.x * by.x - a.y * by.y, a.x * by.y + a.y * by.x}; }
/// a turned back by that angle.
inline LanesVec turned_back(const LanesVec& a, const LanesVec& by) { return {a.x * by.x + a.y * by.y, a.y * by.x - a.x * by.y}; }

/// Cosine and sine of a small angle [rad]: 1e-15 up to 1 rad, 1e-10 up to 2, where cuts are no cuts any more.
inline LanesVec small_unit(const Lanes& rad) {
    const Lanes s = rad * rad;
    Lanes c(1.0), n(1.0);
    for (int k = 18; k >= 2; k -= 2) {
        c = 1.0 - (1.0 / (k * (k - 1))) * s * c;
        n = 1.0 - (1.0 / (k * (k + 1))) * s * n;
    }
    return {c, rad * n};
}

}  // namespace boardring
