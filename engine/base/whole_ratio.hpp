#pragma once
#include <cstdint>
#include <optional>

namespace boardring {

/// A ratio of two whole numbers, kept exactly and in lowest terms, so that what people write comes out rounded once however many units
/// and fractions it is made of. The functions give nothing where a number would not fit 64 bits.
struct WholeRatio {
    std::uint64_t num = 0;
    std::uint64_t den = 1;  ///< > 0

    /// num / den where both are whole numbers that a double holds exactly, num >= 0, den > 0.
    static std::optional<WholeRatio> of(double num, double den);
};

std::optional<WholeRatio> operator+(WholeRatio a, WholeRatio b);
/// Nothing where b > a.
std::optional<WholeRatio> operator-(WholeRatio a, WholeRatio b);
std::optional<WholeRatio> operator*(WholeRatio a, WholeRatio b);

/// The double nearest to it, the even one of two that are equally near [whole_ratio_test].
double nearest_double(WholeRatio ratio);

}  // namespace boardring
