#include "closure/random.hpp"

#include <cmath>
#include <cstddef>

namespace boardring {
namespace {

constexpr int kRounds = 10;
constexpr std::uint32_t kMultiply0 = 0xD2511F53, kMultiply1 = 0xCD9E8D57;
constexpr std::uint32_t kWeyl0 = 0x9E3779B9, kWeyl1 = 0xBB67AE85;

double polynomial(const double (&c)[8], double x) {
    return ((((((c[7] * x + c[6]) * x + c[5]) * x + c[4]) * x + c[3]) * x + c[2]) * x + c[1]) * x + c[0];
}

// The coefficients of AS 241: near the middle, in the tails, and far out.
constexpr double kMiddleAbove[8] = {3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3, 1.3731693765509461125e4,
                                    4.5921953931549871457e4, 6.7265770927008700853e4, 3.3430575583588128105e4, 2.5090809287301226727e3};
constexpr double kMiddleBelow[8] = {1.0, 4.2313330701600911252e1, 6.8718700749205790830e2, 5.3941960214247511077e3,
                                    2.1213794301586595867e4, 3.9307895800092710610e4, 2.8729085735721942674e4, 5.2264952788528545610e3};
constexpr double kTailAbove[8] = {1.42343711074968357734e0, 4.63033784615654529590e0, 5.76949722146069140550e0, 3.64784832476320460504e0,
                                  1.27045825245236838258e0, 2.41780725177450611770e-1, 2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr double kTailBelow[8] = {1.0, 2.05319162663775882187e0, 1.67638483018380384940e0, 6.89767334985100004550e-1,
                                  1.48103976427480074590e-1, 1.51986665636164571966e-2, 5.47593808499534494600e-4, 1.05075007164441684324e-9};
constexpr double kFarAbove[8] = {6.65790464350110377720e0, 5.46378491116411436990e0, 1.78482653991729133580e0, 2.96560571828504891230e-1,
                                 2.65321895265761230930e-2, 1.24266094738807843860e-3, 2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr double kFarBelow[8] = {1.0, 5.99832206555887937690e-1, 1.36929880922735805310e-1, 1.48753612908506148525e-2,
                                 7.86869131145613259100e-4, 1.84631831751005468180e-5, 1.42151175831644588870e-7, 2.04426310338993978564e-15};

// The C library's logarithm takes other instructions on other processors; this one takes the same everywhere. x > 0, normal.
double natural_log(double x) {
    int exponent = 0;
    double m = std::frexp(x, &exponent);  // [0.5, 1)
    if (m < 0.70710678118654752440) {
        m *= 2.0;
        --exponent;
    }
    const double z = (m - 1.0) / (m + 1.0);  // |z| < 0.1716: the series below ends at 1e-18
    const double s = z * z;
    double sum = 0.0;
    for (int k = 23; k >= 1; k -= 2) sum = sum * s + 1.0 / k;
    return 2.0 * z * sum + exponent * 0.69314718055994530942;
}

}  // namespace

std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> c, std::array<std::uint32_t, 2> key) {
    for (int round = 0; round < kRounds; ++round) {
        const std::uint64_t p0 = static_cast<std::uint64_t>(kMultiply0) * c[0];
        const std::uint64_t p1 = static_cast<std::uint64_t>(kMultiply1) * c[2];
        c = {static_cast<std::uint32_t>(p1 >> 32) ^ c[1] ^ key[0], static_cast<std::uint32_t>(p1),
             static_cast<std::uint32_t>(p0 >> 32) ^ c[3] ^ key[1], static_cast<std::uint32_t>(p0)};
        key = {key[0] + kWeyl0, key[1] + kWeyl1};
    }
    return c;
}

std::array<std::array<std::uint32_t, 8>, 4> philox8(std::array<std::uint32_t, 4> first, std::array<std::uint32_t, 2> key) {
    std::array<std::array<std::uint32_t, 8>, 4> c;
    for (std::size_t i = 0; i < 8; ++i) {
        c[0][i] = first[0] + static_cast<std::uint32_t>(i);
        c[1][i] = first[1];
        c[2][i] = first[2];
        c[3][i] = first[3];
    }
    for (int round = 0; round < kRounds; ++round) {
        for (std::size_t i = 0; i < 8; ++i) {
            const std::uint64_t p0 = static_cast<std::uint64_t>(kMultiply0) * c[0][i];
            const std::uint64_t p1 = static_cast<std::uint64_t>(kMultiply1) * c[2][i];
            c[0][i] = static_cast<std::uint32_t>(p1 >> 32) ^ c[1][i] ^ key[0];
            c[2][i] = static_cast<std::uint32_t>(p0 >> 32) ^ c[3][i] ^ key[1];
            c[1][i] = static_cast<std::uint32_t>(p1);
            c[3][i] = static_cast<std::uint32_t>(p0);
        }
        key = {key[0] + kWeyl0, key[1] + kWeyl1};
    }
    return c;
}

double inverse_normal(double p) {
    const double q = p - 0.5;
    if (std::abs(q) <= 0.425) {
        const double r = 0.180625 - q * q;
        return q * polynomial(kMiddleAbove, r) / polynomial(kMiddleBelow, r);
    }
    const double r = std::sqrt(-natural_log(q < 0.0 ? p : 1.0 - p));
    const double size = r <= 5.0 ? polynomial(kTailAbove, r - 1.6) / polynomial(kTailBelow, r - 1.6)
                                 : polynomial(kFarAbove, r - 5.0) / polynomial(kFarBelow, r - 5.0);
    return q < 0.0 ? -size : size;
}

}  // namespace boardring
