#include "base/whole_ratio.hpp"

#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

constexpr std::uint64_t kMost = std::numeric_limits<std::uint64_t>::max();

bool is(const std::optional<WholeRatio>& ratio, std::uint64_t num, std::uint64_t den) {
    return ratio && ratio->num == num && ratio->den == den;
}

}  // namespace

TEST_CASE("whole ratios add, take off and multiply in lowest terms") {
    CHECK(is(WholeRatio{1, 2} + WholeRatio{1, 3}, 5, 6));
    CHECK(is(WholeRatio{1, 6} + WholeRatio{1, 3}, 1, 2));
    CHECK(is(WholeRatio{7, 1} - WholeRatio{1, 4}, 27, 4));
    CHECK(is(WholeRatio{7, 4} - WholeRatio{7, 4}, 0, 1));
    CHECK(is(WholeRatio{5, 127} * WholeRatio{127, 10}, 1, 2));
    CHECK_FALSE((WholeRatio{1, 4} - WholeRatio{1, 3}).has_value());
}

TEST_CASE("what does not fit 64 bits is nothing, what just fits is there") {
    CHECK_FALSE((WholeRatio{kMost, 1} + WholeRatio{1, 1}).has_value());
    CHECK_FALSE((WholeRatio{kMost, 1} * WholeRatio{2, 1}).has_value());
    CHECK_FALSE((WholeRatio{1, kMost} * WholeRatio{1, 2}).has_value());
    CHECK(is(WholeRatio{kMost, 1} * WholeRatio{1, 1}, kMost, 1));
    CHECK(is(WholeRatio{kMost, 2} * WholeRatio{2, 1}, kMost, 1));
    CHECK(is(WholeRatio{kMost - 1, 1} + WholeRatio{1, 1}, kMost, 1));
}

TEST_CASE("only whole numbers that a double holds exactly are taken") {
    CHECK(is(WholeRatio::of(25.0, 10.0), 5, 2));
    CHECK(WholeRatio::of(9007199254740992.0, 1.0).has_value());
    CHECK_FALSE(WholeRatio::of(9007199254740994.0, 1.0).has_value());
    CHECK_FALSE(WholeRatio::of(0.5, 1.0).has_value());
    CHECK_FALSE(WholeRatio::of(-1.0, 1.0).has_value());
    CHECK_FALSE(WholeRatio::of(1.0, 0.0).has_value());
    CHECK_FALSE(WholeRatio::of(std::nan(""), 1.0).has_value());
}

TEST_CASE("halves go to the even double, all else to the nearest") {
    const std::uint64_t bit54 = std::uint64_t{1} << 53;
    CHECK(nearest_double({0, 7}) == 0.0);
    CHECK(nearest_double({bit54 + 1, 1}) == 9007199254740992.0);
    CHECK(nearest_double({bit54 + 3, 1}) == 9007199254740996.0);
    CHECK(nearest_double({2 * bit54 + 5, 2}) == 9007199254740994.0);  // bit54 + 2.5
    CHECK(nearest_double({kMost, 1}) == 18446744073709551616.0);
    CHECK(nearest_double({1, kMost}) == 0x1p-64);
    CHECK(nearest_double({1, 3}) == 1.0 / 3.0);
    // The quotient of numbers that a double holds is what IEEE division rounds correctly.
    Random random(31);
    for (int i = 0; i < 200000; ++i) {
        const std::uint64_t num = random.bits() >> (11 + random.index(50)), den = 1 + (random.bits() >> (12 + random.index(50)));
        if (nearest_double({num, den}) != static_cast<double>(num) / static_cast<double>(den)) FAIL_CHECK(num << " / " << den);
    }
    // Larger ones: no double beside it is nearer, the distance in one rounding.
    for (int i = 0; i < 200000; ++i) {
        const std::uint64_t num = random.bits() >> random.index(8), den = 1 + (random.bits() >> (1 + random.index(40)));
        const double got = nearest_double({num, den});
        const auto off = [&](double x) { return std::abs(std::fma(static_cast<long double>(x), static_cast<long double>(den), -static_cast<long double>(num))); };
        const double up = std::nextafter(got, HUGE_VAL), down = std::nextafter(got, 0.0);
        if (off(got) > off(up) || off(got) > off(down)) FAIL_CHECK(num << " / " << den);
    }
}
