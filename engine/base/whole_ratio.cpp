#include "base/whole_ratio.hpp"

#include <cmath>
#include <limits>
#include <numeric>

#include "base/ensure.hpp"

namespace boardring {
namespace {

using Whole = std::uint64_t;

std::optional<Whole> product(Whole a, Whole b) {
    if (b != 0 && a > std::numeric_limits<Whole>::max() / b) return std::nullopt;
    return a * b;
}

WholeRatio reduced(Whole num, Whole den) {
    const Whole common = std::gcd(num, den);
    return {num / common, den / common};
}

// Both over one denominator.
struct Alike {
    Whole a, b, den;
};

std::optional<Alike> alike(WholeRatio a, WholeRatio b) {
    const Whole common = std::gcd(a.den, b.den);
    const auto den = product(a.den / common, b.den);
    const auto first = product(a.num, b.den / common), second = product(b.num, a.den / common);
    if (!den || !first || !second) return std::nullopt;
    return Alike{*first, *second, *den};
}

}  // namespace

std::optional<WholeRatio> WholeRatio::of(double num, double den) {
    constexpr double kExact = 9007199254740992.0;  // 2^53
    const auto whole = [&](double x) { return x >= 0.0 && x <= kExact && std::floor(x) == x; };
    if (!whole(num) || !whole(den) || den == 0.0) return std::nullopt;
    return reduced(static_cast<Whole>(num), static_cast<Whole>(den));
}

std::optional<WholeRatio> operator+(WholeRatio a, WholeRatio b) {
    const auto both = alike(a, b);
    if (!both || both->a > std::numeric_limits<Whole>::max() - both->b) return std::nullopt;
    return reduced(both->a + both->b, both->den);
}

std::optional<WholeRatio> operator-(WholeRatio a, WholeRatio b) {
    const auto both = alike(a, b);
    if (!both || both->b > both->a) return std::nullopt;
    return reduced(both->a - both->b, both->den);
}

std::optional<WholeRatio> operator*(WholeRatio a, WholeRatio b) {
    const WholeRatio one = reduced(a.num, b.den), other = reduced(b.num, a.den);
    const auto num = product(one.num, other.num), den = product(one.den, other.den);
    if (!num || !den) return std::nullopt;
    return WholeRatio{*num, *den};
}

double nearest_double(WholeRatio ratio) {
    ENSURE(ratio.den > 0);
    if (ratio.num == 0) return 0.0;
    // Long division bit by bit until the quotient has more bits than a double; whether anything is left over then decides a half.
    constexpr Whole kEnough = Whole{1} << 55;
    Whole quotient = ratio.num / ratio.den, rest = ratio.num % ratio.den;
    int shift = 0;
    while (quotient < kEnough && rest != 0) {
        const bool one = rest >= ratio.den - rest;  // twice the rest would need a 65th bit
        rest = one ? rest - (ratio.den - rest) : rest + rest;
        quotient = 2 * quotient + (one ? 1U : 0U);
        ++shift;
    }
    return std::ldexp(static_cast<double>(quotient | (rest != 0 ? 1U : 0U)), -shift);
}

}  // namespace boardring
