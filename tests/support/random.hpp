#pragma once
#include <cmath>
#include <cstddef>
#include <cstdint>

namespace boardring_test {

/// Seeded random numbers that are the same on every library: splitmix64 and our own mappings (standard
/// distributions differ between libraries).
class Random {
public:
    explicit Random(std::uint64_t seed) : state_(seed) {}

    std::uint64_t bits() {
        std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
        return z ^ (z >> 31);
    }
    double unit() { return static_cast<double>(bits() >> 11) * 0x1.0p-53; }               ///< [0, 1)
    double between(double low, double high) { return low + (high - low) * unit(); }
    double log_between(double low, double high) { return low * std::exp(std::log(high / low) * unit()); }
    std::size_t index(std::size_t n) { return static_cast<std::size_t>(bits() % n); }      ///< 0..n-1
    bool chance(double p) { return unit() < p; }

private:
    std::uint64_t state_;
};

}  // namespace boardring_test
