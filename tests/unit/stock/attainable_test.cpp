#include "stock/attainable.hpp"

#include <algorithm>
#include <numeric>
#include <set>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

/// Every total that some choice of bars comes to, one bar added after the other.
std::set<std::int64_t> totals_of(const std::vector<BarKind>& bars) {
    std::set<std::int64_t> totals{0};
    for (const BarKind& bar : bars) {
        std::set<std::int64_t> more;
        for (const std::int64_t total : totals) {
            for (std::int64_t n = 0; n <= bar.at_most; ++n) more.insert(total + n * bar.price);
        }
        totals = std::move(more);
    }
    return totals;
}

}  // namespace

TEST_CASE("The least total from any amount on is that of writing all totals down") {
    Random random(61);
    std::size_t raised = 0;
    for (std::size_t i = 0; i < 300; ++i) {
        std::vector<BarKind> bars;
        const std::int64_t step = 1 + static_cast<std::int64_t>(random.index(4));
        for (std::size_t k = 0; k < 1 + random.index(4); ++k)
            bars.push_back({1000.0, step * static_cast<std::int64_t>(random.index(9)), static_cast<std::int64_t>(random.index(4))});
        std::int64_t divisor = 0;
        for (const BarKind& bar : bars) divisor = bar.at_most > 0 ? std::gcd(divisor, bar.price) : divisor;
        divisor = std::max<std::int64_t>(divisor, 1);
        const auto limit = static_cast<std::int64_t>(random.index(80));
        const AttainableSums sums(bars, limit);
        const std::set<std::int64_t> totals = totals_of(bars);
        for (std::int64_t least = -1; least <= limit; ++least) {
            CAPTURE(i, limit, least);
            const auto found = totals.lower_bound(least);
            if (found != totals.end() && *found <= limit) {
                REQUIRE(sums.at_least(least) == *found);
                raised += *found > least ? 1U : 0U;
            } else {
                // Beyond the limit nothing is known but the divisor.
                REQUIRE(sums.at_least(least) == (limit / divisor + 1) * divisor);
            }
        }
    }
    CHECK(raised > 1000);
}

TEST_CASE("As many steps as may be counted are counted; with one more every multiple of the divisor passes") {
    const std::vector<BarKind> bars{{1000.0, 6, 1}, {1000.0, 10, 1}};  // 0, 6, 10, 16
    const std::int64_t most = 2 * (AttainableSums::kMostCells - 1);
    CHECK(AttainableSums(bars, most).at_least(3) == 6);
    CHECK(AttainableSums(bars, most + 1).at_least(7) == 10);
    CHECK(AttainableSums(bars, most + 2).at_least(3) == 4);
    CHECK(AttainableSums(bars, most + 2).at_least(4) == 4);
}
