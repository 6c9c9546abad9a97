#include "outline/laws.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {
namespace {

constexpr double kEnough = 1e-16;

// Regularised incomplete gamma functions: the series of the lower one, the continued fraction (Lentz) of the upper one.
double lower_by_series(double a, double x) {
    double term = 1.0 / a;
    double sum = term;
    for (double k = a + 1.0; term > kEnough * sum; k += 1.0) {
        term *= x / k;
        sum += term;
    }
    return sum * std::exp(a * std::log(x) - x - std::lgamma(a));
}

double upper_by_fraction(double a, double x) {
    constexpr double kTiny = 1e-300;
    double b = x + 1.0 - a;
    double c = 1.0 / kTiny;
    double d = 1.0 / b;
    double h = d;
    for (int i = 1; i < 1000; ++i) {
        const double an = -i * (i - a);
        b += 2.0;
        d = an * d + b;
        if (std::abs(d) < kTiny) d = kTiny;
        c = b + an / c;
        if (std::abs(c) < kTiny) c = kTiny;
        d = 1.0 / d;
        h *= d * c;
        if (std::abs(d * c - 1.0) < kEnough) break;
    }
    return h * std::exp(a * std::log(x) - x - std::lgamma(a));
}

}  // namespace

double chance_outside(double w) {
    return std::erfc(std::abs(w) / std::sqrt(2.0));
}

double limit_outside(double chance) {
    ENSURE(chance > 0.0 && chance < 1.0);
    // The chance falls and is convex in w: Newton from 0 climbs to the limit and never passes it.
    double w = 0.0;
    for (int step = 0; step < 200; ++step) {
        const double density = std::sqrt(2.0 / kPi) * std::exp(-0.5 * w * w);
        const double more = (chance_outside(w) - chance) / density;
        w += more;
        if (std::abs(more) < 1e-13) break;
    }
    return w;
}

double chance_above(double value, std::size_t freedoms) {
    ENSURE(freedoms > 0);
    if (!(value > 0.0)) return 1.0;
    const double a = 0.5 * static_cast<double>(freedoms);
    const double x = 0.5 * value;
    return x < a + 1.0 ? 1.0 - lower_by_series(a, x) : upper_by_fraction(a, x);
}

}  // namespace boardring
