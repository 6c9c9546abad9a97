#pragma once
#include <array>
#include <cmath>
#include <cstddef>

#include "closure/least_opening.hpp"

namespace boardring {

// Symmetric matrices of three rows by their square root; only the lower triangle counts.

using Matrix3 = std::array<std::array<double, 3>, 3>;

inline void add_square(Matrix3& to, const Twist& a) {
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t k = 0; k <= i; ++k) to[i][k] += a[i] * a[k];
    }
}

/// Lower triangle L with L L' = m, in place; false if m is not safely positive.
inline bool take_root(Matrix3& m) {
    for (std::size_t i = 0; i < 3; ++i) {
        const double whole = m[i][i];
        for (std::size_t k = 0; k < i; ++k) {
            for (std::size_t p = 0; p < k; ++p) m[i][k] -= m[i][p] * m[k][p];
            m[i][k] /= m[k][k];
            m[i][i] -= m[i][k] * m[i][k];
        }
        if (!(m[i][i] > 1e-14 * whole)) return false;
        m[i][i] = std::sqrt(m[i][i]);
    }
    return true;
}

/// L x = b
inline Twist solve_lower(const Matrix3& l, Twist b) {
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t k = 0; k < i; ++k) b[i] -= l[i][k] * b[k];
        b[i] /= l[i][i];
    }
    return b;
}

/// L' x = b
inline Twist solve_upper(const Matrix3& l, Twist b) {
    for (std::size_t i = 3; i-- > 0;) {
        for (std::size_t k = i + 1; k < 3; ++k) b[i] -= l[k][i] * b[k];
        b[i] /= l[i][i];
    }
    return b;
}

}  // namespace boardring
