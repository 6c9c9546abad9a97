#include "closure/random.hpp"

#include <cmath>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

// Probability that a standard normal number falls below z.
double normal_below(double z) { return 0.5 * std::erfc(-z * 0.70710678118654752440); }

}  // namespace

TEST_CASE("the counter generator gives its published known answers") {
    // From the authors' file of known answers for philox4x32-10: all zeros, all ones, digits of pi.
    using Words = std::array<std::uint32_t, 4>;
    CHECK(philox({0, 0, 0, 0}, {0, 0}) == Words{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
    CHECK(philox({0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}, {0xffffffff, 0xffffffff}) ==
          Words{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd});
    CHECK(philox({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}) ==
          Words{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1});
}

TEST_CASE("eight counters at once are eight counters one by one") {
    const auto eight = philox8({40, 7, 3, 0}, {11, 12});
    for (std::uint32_t i = 0; i < 8; ++i) {
        const auto one = philox({40 + i, 7, 3, 0}, {11, 12});
        for (std::size_t w = 0; w < 4; ++w) CHECK(eight[w][i] == one[w]);
    }
}

TEST_CASE("units lie inside 0 and 1, never on an end") {
    CHECK(unit_from_bits(0, 0) == 0x1p-53);
    CHECK(unit_from_bits(0xffffffff, 0xffffffff) < 1.0);
    CHECK(unit_from_bits(0x80000000, 0) == 0.5 + 0x1p-53);
}

TEST_CASE("the inverse normal turns the normal distribution back") {
    // Printed with the algorithm: p 0.25, 0.001, 1e-20.
    CHECK(std::abs(inverse_normal(0.25) + 0.6744897501960817) < 1e-15);
    CHECK(std::abs(inverse_normal(0.001) + 3.090232306167814) < 4e-15);
    CHECK(std::abs(inverse_normal(1e-20) + 9.262340089798408) < 1e-14);
    CHECK(inverse_normal(0.5) == 0.0);
    boardring_test::Random random(5);
    for (int i = 0; i < 20000; ++i) {
        const double p = random.chance(0.3) ? random.log_between(1e-16, 0.5) : random.between(1e-6, 1.0 - 1e-6);
        const double z = inverse_normal(p);
        // erfc loses digits of its argument far out: relative error z^2 times that of z.
        REQUIRE(std::abs(normal_below(z) - p) <= 1e-14 * p * (1.0 + z * z));
        if (p < 0.5 && p > 1e-6) REQUIRE(std::abs(inverse_normal(1.0 - p) + z) <= 1e-9);
    }
}
