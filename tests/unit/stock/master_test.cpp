#include "stock/master.hpp"

#include <cmath>
#include <optional>
#include <vector>

#include "stock/dive.hpp"
#include "stock/search.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

/// Offers patterns one after the other, each worth a hair more than asked, and counts how often it is asked.
class Offering final : public PatternSource {
public:
    explicit Offering(std::vector<Counts> patterns) : patterns_(std::move(patterns)) {}

    std::vector<std::optional<PricedPattern>> best(const std::vector<std::int64_t>&, const std::vector<std::int64_t>& more_than, const Counts&,
                                                   StepBudget&) override {
        std::vector<std::optional<PricedPattern>> found(more_than.size());
        if (asked_ < patterns_.size()) found[0] = PricedPattern{patterns_[asked_], more_than[0] + 1};
        ++asked_;
        return found;
    }
    bool fits(std::size_t, const Counts&) override { return true; }
    [[nodiscard]] bool fits_is_exact() const override { return true; }
    [[nodiscard]] std::size_t asked() const { return asked_; }

private:
    std::vector<Counts> patterns_;
    std::size_t asked_ = 0;
};

/// Four pieces, two on a bar of 10: 20 whatever else there is, and no bar less will do.
struct FourPieces {
    Offering source{{{1, 0}, {0, 1}, {1, 1}}};
    std::vector<BarKind> bars{{1000.0, 10, 4}};
    BarLimits limits{{0}, {4}};
    Master master{source, bars, {2, 2}, {400.0, 400.0}, std::int64_t{1} << 20, 1000};

    FourPieces() {
        master.add(0, {2, 0});
        master.add(0, {0, 2});
    }
    Master::Relaxed relaxed(std::int64_t enough, bool to_the_end) {
        StepBudget budget{1'000'000, {}};
        return master.relax(master.demand(), limits, AttainableSums(bars, 1000), enough, to_the_end, budget);
    }
};

}  // namespace

TEST_CASE("Columns are asked for until the bound cannot be raised, or to the end where that is wanted") {
    for (const bool to_the_end : {false, true}) {
        FourPieces four;
        const Master::Relaxed relaxed = four.relaxed(1000, to_the_end);
        CAPTURE(to_the_end);
        CHECK(four.master.price_of(relaxed.bound.scaled) == 20);
        CHECK(four.source.asked() == (to_the_end ? 4 : 1));
        CHECK(relaxed.converged == to_the_end);
        CHECK(relaxed.missing < 1e-9);
    }
    // Once the bound is enough nothing more is asked for, wanted to the end or not.
    FourPieces four;
    (void)four.relaxed(20, true);
    CHECK(four.source.asked() == 1);
}

TEST_CASE("A bound in fractions is lifted to the next whole price, and a whole one stays") {
    FourPieces four;
    const std::int64_t one = four.master.scale();
    CHECK(four.master.price_of(0) == 0);
    CHECK(four.master.price_of(-5) == 0);
    CHECK(four.master.price_of(1) == 1);
    CHECK(four.master.price_of(20 * one - 1) == 20);
    CHECK(four.master.price_of(20 * one) == 20);
    CHECK(four.master.price_of(20 * one + 1) == 21);
}

TEST_CASE("Whole bars of a relaxed plan are taken at once") {
    // Two bars of {1, 1} hold everything: one relaxation, and nothing is left to ask for.
    FourPieces four;
    four.master.add(0, {1, 1});
    const AttainableSums sums(four.bars, 1000);
    StepBudget budget{1'000'000, {}};
    const Master::Relaxed relaxed = four.master.relax({2, 2}, four.limits, sums, 1000, true, budget);
    for (const double amount : relaxed.amounts) REQUIRE(std::abs(amount - std::round(amount)) < 1e-9);
    const std::size_t asked = four.source.asked();
    const auto filling = dive(four.master, four.limits, sums, 1000, 0, budget);
    REQUIRE(filling);
    CHECK(filling->price == 20);
    CHECK(four.source.asked() == asked + 1);
}

namespace {

/// Finds the best pattern but cannot tell that it fits: `fits` is a guess.
class Guessing final : public PatternSource {
public:
    std::vector<std::optional<PricedPattern>> best(const std::vector<std::int64_t>& value, const std::vector<std::int64_t>& more_than, const Counts&,
                                                   StepBudget&) override {
        std::vector<std::optional<PricedPattern>> found(more_than.size());
        const std::int64_t worth = value[0] + value[1];
        if (worth > more_than[0]) found[0] = PricedPattern{{1, 1}, worth};
        return found;
    }
    bool fits(std::size_t, const Counts& counts) override { return counts[0] + counts[1] <= 1; }
    [[nodiscard]] bool fits_is_exact() const override { return false; }
};

}  // namespace

TEST_CASE("Where a mix of bars had to be given up, nothing above its price is called proven") {
    // Two pieces a bar by the generous length, one by what is sure: 20 may do, 40 will.
    Guessing source;
    const std::vector<BarKind> bars{{1000.0, 10, 4}};
    Master master(source, bars, {2, 2}, {400.0, 400.0}, std::int64_t{1} << 20, 1000);
    master.add(0, {1, 0});
    master.add(0, {0, 1});
    const BarLimits limits{{0}, {4}};
    const auto start = fill_greedily(master, limits);
    REQUIRE(start);
    CHECK(start->price == 40);
    StepBudget budget{1'000'000, {}};
    const SearchResult result = search(master, limits, *start, budget, {});
    CHECK(result.best.price == 40);
    CHECK(result.bound == 20);
}
