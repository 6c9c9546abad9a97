#pragma once
#include <array>
#include <cstdint>

namespace boardring {

/// Four random 32-bit words that depend on nothing but counter and key: Philox4x32 with ten rounds. So every number of every trial
/// can be had alone, in any order, on any thread, and is the same on every machine.
///
/// Source  J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, Parallel random numbers: as easy as 1, 2, 3 (2011); the published
///         known answers are checked in tests/unit/closure/random_test.cpp
std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter, std::array<std::uint32_t, 2> key);

/// The same for eight counters that differ in their first word only: first, first + 1 ... first + 7 (which must not wrap round).
/// \return word w of counter i in [w][i]
std::array<std::array<std::uint32_t, 8>, 4> philox8(std::array<std::uint32_t, 4> first, std::array<std::uint32_t, 2> key);

/// The middle of one of 2^52 equal steps of (0, 1), from 64 random bits; with one step more the last middle would round to 1.
inline double unit_from_bits(std::uint32_t high, std::uint32_t low) {
    const std::uint64_t bits = (static_cast<std::uint64_t>(high) << 32 | low) >> 12;
    return (static_cast<double>(bits) + 0.5) * 0x1p-52;
}

/// The number below which a standard normal number falls with probability p.
///
/// \param p  in (0, 1)
/// Accuracy  1e-15 relative by its source, 1e-14 against integration of the density [random_test]; nothing but +, -, *, / and
///           square roots, so the same bits everywhere
/// Source    M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988), routine PPND16
double inverse_normal(double p);

}  // namespace boardring
