#include "closure/least_miss.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <tuple>

#include "closure/best_ways.hpp"
#include "closure/ways_in_halves.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

MissProblem random_problem(Random& random, std::size_t n) {
    MissProblem problem;
    const double size = random.log_between(0.01, 10.0);
    for (double& b : problem.base) b = random.between(-3.0, 3.0) * size;
    for (std::size_t i = 0; i < n; ++i) {
        problem.change.push_back({random.between(-1.0, 1.0) * size, random.between(-1.0, 1.0) * size, random.between(-1.0, 1.0) * size});
        problem.squares.push_back(random.unit());
    }
    for (std::size_t j = 0; j + 1 < n; ++j) {
        if (random.chance(0.4)) continue;
        JointRule rule;
        rule.choices = {j, j + 1};
        for (std::size_t row = 0; row < 4; ++row) {
            rule.mismatch_mm.push_back(random.unit());
            rule.allowed.push_back(row == 0 || random.chance(0.7) ? 1 : 0);
        }
        problem.joints.push_back(rule);
    }
    problem.near_mm = 0.2 * size;
    return problem;
}

// What makes the search hard: joints of up to four choices anywhere among the others that refuse nearly all ways, a number that no choice can
// change so that many ways leave the same, and choices that change nothing.
MissProblem hard_problem(Random& random, std::size_t n) {
    MissProblem problem = random_problem(random, n);
    problem.joints.clear();
    const double refused = random.between(0.1, 0.97);
    for (std::size_t j = random.index(5); j > 0; --j) {
        JointRule rule;
        while (rule.choices.size() < std::min<std::size_t>(n, 1 + random.index(4))) {
            const std::size_t choice = random.index(n);
            if (std::find(rule.choices.begin(), rule.choices.end(), choice) == rule.choices.end()) rule.choices.push_back(choice);
        }
        for (std::size_t row = 0; row < (std::size_t{1} << rule.choices.size()); ++row) {
            rule.mismatch_mm.push_back(random.chance(0.5) ? 0.0 : random.unit());
            rule.allowed.push_back(row == 0 || !random.chance(refused) ? 1 : 0);
        }
        problem.joints.push_back(rule);
    }
    if (random.chance(0.4)) {
        for (Miss& change : problem.change) change[0] = 0.0;
    }
    for (std::size_t i = 0; i < n; ++i) {
        if (random.chance(0.15)) problem.change[i] = {};
    }
    problem.keep = 1 + random.index(70);
    return problem;
}

// Every way in turn, straight from the words of the header: the key of the best, empty ways if none is allowed.
struct Judged {
    std::tuple<long long, long long, long long> key;
    Ways ways;
    double miss_mm = 0.0;
};

Judged by_trying_all(const MissProblem& problem) {
    const std::size_t n = problem.change.size();
    Judged best;
    for (std::uint64_t bits = 0; bits < (std::uint64_t{1} << n); ++bits) {
        Ways ways(n);
        for (std::size_t i = 0; i < n; ++i) ways[i] = static_cast<std::uint8_t>((bits >> i) & 1U);
        double widest = 0.0, squares = 0.0, mismatch = 0.0;
        for (std::size_t r = 0; r < 3; ++r) {
            double left = problem.base[r];
            for (std::size_t i = 0; i < n; ++i) left += ways[i] * problem.change[i][r];
            widest = std::max(widest, std::abs(left));
        }
        for (std::size_t i = 0; i < n; ++i) squares += ways[i] * problem.squares[i];
        bool allowed = true;
        for (const JointRule& rule : problem.joints) {
            std::size_t row = 0;
            for (std::size_t i = 0; i < rule.choices.size(); ++i) row += static_cast<std::size_t>(ways[rule.choices[i]]) << i;
            allowed = allowed && rule.allowed[row] != 0;
            mismatch = std::max(mismatch, rule.mismatch_mm[row]);
        }
        const std::tuple key{std::llround(widest / kSameMiss), std::llround(mismatch / kSameMiss), std::llround(squares / kSameMiss)};
        if (allowed && (best.ways.empty() || std::tie(key, ways) < std::tie(best.key, best.ways))) best = {key, ways, widest};
    }
    return best;
}

}  // namespace

TEST_CASE("the least miss is that of trying every way, rules of the joints included") {
    Random random(5);
    for (int i = 0; i < 400; ++i) {
        MissProblem problem = random_problem(random, 1 + random.index(12));
        problem.keep = 1 + random.index(20);
        const MissAnswer answer = least_miss(problem);
        const Judged judged = by_trying_all(problem);
        CHECK(answer.exact);
        CHECK(answer.best.front() == judged.ways);
        CHECK_THAT(answer.least_mm, within_mm(judged.miss_mm, 2.0 * kSameMiss));
        CHECK(answer.bound_mm == answer.least_mm);
    }
}

TEST_CASE("sixteen choices, more than are listed in full, give the least miss too") {
    Random random(6);
    for (int i = 0; i < 6; ++i) {
        const MissProblem problem = random_problem(random, 16);
        CHECK(least_miss(problem).best.front() == by_trying_all(problem).ways);
    }
}

TEST_CASE("branched over and counted in part, the least miss is still that of trying every way") {
    Random random(8);
    for (int i = 0; i < 200; ++i) {
        MissProblem problem = random_problem(random, 6 + random.index(8));
        problem.counted = 1 + random.index(5);
        problem.leaves = std::size_t{1} << 14;
        problem.near_mm *= random.chance(0.5) ? 0.0 : 1.0;
        const MissAnswer answer = least_miss(problem);
        const Judged judged = by_trying_all(problem);
        CHECK(answer.exact);
        CHECK_THAT(answer.least_mm, within_mm(judged.miss_mm, 2.0 * kSameMiss));
        CHECK(answer.best.front() == judged.ways);
    }
}

TEST_CASE("where the counts run out it is said, the bound holds, and what is found is allowed") {
    Random random(9);
    int open = 0;
    for (int i = 0; i < 200; ++i) {
        MissProblem problem = random_problem(random, 12);
        problem.counted = 3;
        problem.leaves = 1;
        const MissAnswer answer = least_miss(problem);
        const Judged judged = by_trying_all(problem);
        CHECK(answer.least_mm >= judged.miss_mm - 2.0 * kSameMiss);
        CHECK(answer.bound_mm <= judged.miss_mm + 2.0 * kSameMiss);
        if (answer.exact) CHECK_THAT(answer.least_mm, within_mm(judged.miss_mm, 2.0 * kSameMiss));
        open += answer.exact ? 0 : 1;
    }
    CHECK(open > 50);
}

TEST_CASE("hard cases: counted in full the best way is found; cut short, exact means just what trying every way finds, and the bound is one") {
    Random random(10);
    std::size_t exact = 0, open = 0;
    for (int i = 0; i < 1500; ++i) {
        MissProblem problem = hard_problem(random, 1 + random.index(11));
        const Judged judged = by_trying_all(problem);
        const MissAnswer full = least_miss(problem);
        CHECK(full.exact);
        CHECK(full.best.front() == judged.ways);
        CHECK_THAT(full.least_mm, within_mm(judged.miss_mm, 2.0 * kSameMiss));
        CHECK(full.bound_mm == full.least_mm);
        problem.counted = 1 + random.index(4);
        problem.leaves = 1 + random.index(12);
        const MissAnswer cut_short = least_miss(problem);
        CHECK(cut_short.bound_mm <= judged.miss_mm + 2.0 * kSameMiss);
        CHECK(cut_short.bound_mm <= cut_short.least_mm);
        CHECK(cut_short.least_mm >= judged.miss_mm - 2.0 * kSameMiss);
        if (cut_short.exact) CHECK_THAT(cut_short.least_mm, within_mm(judged.miss_mm, 2.0 * kSameMiss));
        (cut_short.exact ? exact : open) += 1;
    }
    CHECK(exact > 300);
    CHECK(open > 100);
}

TEST_CASE("far beyond the choices counted in full the bound holds and the miss is small") {
    Random random(7);
    for (int i = 0; i < 5; ++i) {
        const MissProblem problem = random_problem(random, 40);
        const MissAnswer answer = least_miss(problem);
        CHECK_FALSE(answer.exact);
        CHECK(answer.bound_mm <= answer.least_mm);
        CHECK(answer.least_mm < 0.05 * widest_of(problem.base));
    }
}

TEST_CASE("what no choice can make up stays, and the bound proves it however many choices there are") {
    MissProblem problem;
    problem.base = {30.0, 0.0, 0.0};
    for (int i = 0; i < 30; ++i) {
        problem.change.push_back({-0.5, 0.0, 0.0});
        problem.squares.push_back(0.0);
    }
    const MissAnswer answer = least_miss(problem);
    CHECK(answer.exact);
    CHECK_THAT(answer.bound_mm, within_mm(15.0, 1e-5));
    CHECK_THAT(answer.least_mm, within_mm(15.0, 1e-5));
}

TEST_CASE("without choices what is left stays") {
    MissProblem problem;
    problem.base = {0.25, -0.5, 0.0};
    const MissAnswer answer = least_miss(problem);
    CHECK(answer.best == std::vector<Ways>{Ways{}});
    CHECK_THAT(answer.least_mm, within_mm(0.5, 1e-6));
}

TEST_CASE("of ways that leave the same the one with the smaller mismatch goes first, then the smaller moves, then the first in order") {
    MissProblem problem;
    problem.change = {{0, 0, 0}, {0, 0, 0}};
    problem.squares = {-0.1, -0.1};
    CHECK(least_miss(problem).best.front() == Ways{1, 1});
    problem.squares = {0.0, 0.0};
    CHECK(least_miss(problem).best.front() == Ways{0, 0});
    problem.joints = {{{0}, {0.3, 0.1}, {1, 1}}};
    problem.squares = {0.5, 0.5};
    CHECK(least_miss(problem).best.front() == Ways{1, 0});
}

TEST_CASE("no way that a joint refuses is looked at, wherever the joint's choices are listed") {
    // Where every way may be kept, those looked at are those that no joint refuses; the two halves are 0 to 4 and 5 to 9.
    Random random(12);
    for (int i = 0; i < 100; ++i) {
        MissProblem problem = random_problem(random, 10);
        problem.joints.clear();
        problem.keep = 2000;
        for (int j = 0; j < 3; ++j) {
            JointRule rule;
            while (rule.choices.size() < 2) {
                const std::size_t choice = random.index(10);
                if (std::find(rule.choices.begin(), rule.choices.end(), choice) == rule.choices.end()) rule.choices.push_back(choice);
            }
            rule.mismatch_mm.assign(4, 0.0);
            for (std::size_t row = 0; row < 4; ++row) rule.allowed.push_back(row == 0 || random.chance(0.5) ? 1 : 0);
            problem.joints.push_back(rule);
        }
        std::size_t allowed = 0;
        for (std::size_t bits = 0; bits < 1024; ++bits) {
            const bool refused = std::any_of(problem.joints.begin(), problem.joints.end(), [bits](const JointRule& rule) {
                return rule.allowed[(bits >> rule.choices[0] & 1U) | (bits >> rule.choices[1] & 1U) << 1U] == 0;
            });
            allowed += refused ? 0U : 1U;
        }
        BestWays best(problem);
        std::size_t looks = 5000;
        const std::vector<std::size_t> all{0, 1, 2, 3, 4, 5, 6, 7, 8, 9};
        REQUIRE(WaysInHalves(problem, all).count(problem.base, Ways(10, 0), best, looks));
        CHECK(5000 - looks == allowed);
        CHECK(best.found().size() == allowed);
    }
}
