#include "outline/missing.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "outline/build.hpp"
#include "outline/fill_notebook.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/outline_project.hpp"
#include "support/random.hpp"
#include "support/random_frame.hpp"

using namespace boardring;
using boardring_test::cases;
using boardring_test::find;
using boardring_test::project_of;
using boardring_test::Random;

namespace {

Chain chain_of(const std::vector<Vec2>& points) {
    const Outline o = build_points({points}, false, false);
    const std::vector<double> zero(points.size(), 0.0);
    return {true, o.sides_mm, o.interior_deg, zero, zero};
}

Chain true_ring(Random& random) {
    for (;;) {
        std::optional<std::vector<Vec2>> points = boardring_test::random_frame::star(random, 3 + random.index(8));
        if (!points) continue;
        const double size_mm = random.log_between(100.0, 4000.0);
        for (Vec2& p : *points) p = size_mm * p;
        return chain_of(*points);
    }
}

// Numbers 0 to n - 1, `count` of them, ascending.
std::vector<std::size_t> some_of(Random& random, std::size_t n, std::size_t count) {
    std::vector<std::size_t> picked;
    while (picked.size() < count) {
        const std::size_t one = random.index(n);
        if (std::find(picked.begin(), picked.end(), one) == picked.end()) picked.push_back(one);
    }
    std::sort(picked.begin(), picked.end());
    return picked;
}

// What stands at the open places must not matter.
Chain with_nonsense(Chain chain, const Unknowns& open) {
    for (const std::size_t k : open.sides) chain.sides_mm[k] = std::numeric_limits<double>::quiet_NaN();
    for (const std::size_t c : open.angles) chain.interior_deg[c] = std::numeric_limits<double>::quiet_NaN();
    return chain;
}

// A walk of its own: turns as products of complex numbers in long double. How far it is from closing, place and direction.
double off_closing(const Chain& chain) {
    using Complex = std::complex<long double>;
    Complex heading{1.0L, 0.0L}, at{};
    for (std::size_t k = 0; k < chain.sides(); ++k) {
        at += static_cast<long double>(chain.sides_mm[k]) * heading;
        const std::size_t next = k + 1 == chain.sides() ? 0 : k + 1;
        const long double turn = (180.0L - static_cast<long double>(chain.interior_deg[next])) * 3.14159265358979323846264L / 180.0L;
        heading *= Complex{std::cos(turn), std::sin(turn)};
    }
    const long double size = static_cast<long double>(perimeter_mm(chain));
    return static_cast<double>(std::max(std::abs(at) / size, std::abs(heading - Complex{1.0L, 0.0L})));
}

double largest_difference(const Chain& a, const Chain& b) {
    double most = 0.0;
    for (std::size_t k = 0; k < a.sides(); ++k) {
        most = std::max(most, std::abs(a.sides_mm[k] - b.sides_mm[k]) / perimeter_mm(b));
        most = std::max(most, std::abs(radians(a.interior_deg[k] - b.interior_deg[k])));
    }
    return most;
}

// Every admissible set of open values of one random ring.
const std::vector<std::pair<std::size_t, std::size_t>> kSets{{2, 1}, {2, 0}, {1, 2}, {0, 3}, {1, 1}, {1, 0}, {0, 1}, {0, 2}};

}  // namespace

TEST_CASE("values taken out of a ring that closes come back, and every way closes by a walk of its own") {
    Random random(20261125);
    std::size_t two_ways = 0;
    for (std::size_t i = 0; i < cases(4000, 200'000); ++i) {
        const Chain truth = true_ring(random);
        const std::size_t n = truth.sides();
        for (const auto& [sides, angles] : kSets) {
            const Unknowns open{some_of(random, n, sides), some_of(random, n, angles)};
            const ChainFilling filling = fill_in(with_nonsense(truth, open), open);
            if (filling.between_deg < 0.1) continue;
            REQUIRE_FALSE(filling.parallel);
            REQUIRE_FALSE(filling.ways.empty());
            double nearest = 1e300, leverage = 1.0;
            for (const FilledChain& way : filling.ways) {
                // Ways that nobody can build close as well, but with sides that run backwards: their perimeter is no scale.
                const double off = largest_difference(way.chain, truth);
                if (off < nearest) leverage = way.leverage;
                nearest = std::min(nearest, off);
                if (!way.buildable) continue;
                CHECK(off_closing(way.chain) < 1e-11);
                for (std::size_t k = 0; k < n; ++k) {
                    if (std::find(open.sides.begin(), open.sides.end(), k) == open.sides.end())
                        CHECK(way.chain.sides_mm[k] == truth.sides_mm[k]);
                }
            }
            // Near a double root the rounding of the sides counts with the root of it.
            const double allowed = leverage < 1e4 ? 1e-12 * std::max(10.0, leverage) : 1e-5;
            CHECK(nearest < allowed);
            if (filling.ways.size() == 2 && filling.ways[0].buildable && filling.ways[1].buildable) ++two_ways;
        }
    }
    CHECK(two_ways > cases(200, 10'000));
}

TEST_CASE("a quadratic has two roots: where two ways are given they differ, and one way alone is a double root or none is needed") {
    Random random(7);
    for (std::size_t i = 0; i < cases(2000, 50'000); ++i) {
        const Chain truth = true_ring(random);
        const Unknowns open{some_of(random, truth.sides(), 1), some_of(random, truth.sides(), 2)};
        const ChainFilling filling = fill_in(truth, open);
        REQUIRE(filling.ways.size() == 2);
        CHECK(filling.ways[0].chain.sides_mm[open.sides[0]] > filling.ways[1].chain.sides_mm[open.sides[0]]);
    }
}

TEST_CASE("leverage is what a slightly longer side really does to the open values") {
    Random random(11);
    std::size_t tried = 0;
    while (tried < cases(300, 20'000)) {
        const Chain truth = true_ring(random);
        const std::size_t kind = random.index(4);
        const Unknowns open{some_of(random, truth.sides(), kSets[kind].first), some_of(random, truth.sides(), kSets[kind].second)};
        const ChainFilling filling = fill_in(truth, open);
        if (filling.ways.empty() || !filling.ways.front().buildable) continue;
        const FilledChain& way = filling.ways.front();
        if (way.leverage > 100.0) continue;
        ++tried;
        const double step_mm = 1e-6 * perimeter_mm(truth);
        double most = 0.0;
        for (const double sign : {1.0, -1.0}) {
            Chain longer = way.chain;
            longer.sides_mm[way.lever_side] += sign * step_mm;
            const ChainFilling again = fill_in(longer, open);
            REQUIRE_FALSE(again.ways.empty());
            const Chain& now = again.ways.front().chain;
            const std::size_t w = way.levered;
            const std::size_t before = w == 0 ? truth.sides() - 1 : w - 1;
            const double moved = way.levers_angle ? std::abs(radians(now.interior_deg[w] - way.chain.interior_deg[w])) *
                                                        std::max(way.chain.sides_mm[before], way.chain.sides_mm[w])
                                                  : std::abs(now.sides_mm[w] - way.chain.sides_mm[w]);
            most += 0.5 * moved / step_mm;
        }
        CHECK_THAT(most, WithinAbs(way.leverage, 1e-3 * way.leverage));
    }
}

TEST_CASE("a triangle of three sides: the angles of 3, 4 and 5") {
    const Chain given{true, {3.0, 4.0, 5.0}, {0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}};
    const ChainFilling filling = fill_in(given, {{}, {0, 1, 2}});
    REQUIRE(filling.ways.size() == 2);
    CHECK(filling.ways[0].buildable);
    CHECK_FALSE(filling.ways[1].buildable);  // the mirror image winds the other way
    CHECK_THAT(filling.ways[0].chain.interior_deg[1], WithinAbs(90.0, 1e-12));
    CHECK_THAT(filling.ways[0].chain.interior_deg[2], WithinAbs(degrees(std::atan2(3.0, 4.0)), 1e-12));
}

TEST_CASE("three sides that reach only just make a slim triangle that closes") {
    // Two short ones a rounding longer than the third: with the short one taken off the long one first, the three angles were good to half
    // their digits and the ring missed by 2e-9 of its perimeter.
    const auto filled = [](std::vector<double> sides) {
        return fill_in({true, std::move(sides), {0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}}, {{}, {0, 1, 2}});
    };
    CHECK(off_closing(filled({18.370136862692366, 33.631555250506928, 52.00169211319929}).ways.at(0).chain) < 1e-15);
    Random random(13);
    for (std::size_t i = 0; i < cases(20'000, 200'000); ++i) {
        const double first = random.log_between(1.0, 1e4), second = random.log_between(1.0, 1e4);
        const double spare = random.chance(0.3) ? 0.0 : random.log_between(1e-16, 1e-3);
        std::vector<double> sides{first, second, (first + second) * (1.0 - spare)};
        std::rotate(sides.begin(), sides.begin() + static_cast<std::ptrdiff_t>(random.index(3)), sides.end());
        for (const FilledChain& way : filled(sides).ways) {
            if (way.buildable) CHECK(off_closing(way.chain) < 1e-11);
        }
    }
}

TEST_CASE("sides that cannot meet are told by how much, and just reaching is enough") {
    const auto short_of = [](double longest) {
        const Chain given{true, {100.0, 200.0, longest}, {0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}};
        return fill_in(given, {{}, {0, 1, 2}});
    };
    const ChainFilling beyond = short_of(312.5);
    CHECK(beyond.ways.empty());
    CHECK_THAT(beyond.short_mm, WithinAbs(12.5, 1e-12));
    CHECK(beyond.short_corner[0] == 2);
    CHECK(beyond.short_corner[1] == 0);
    CHECK_FALSE(short_of(300.0).ways.empty());
}

TEST_CASE("two open sides that run alike are refused, nearly alike ones are told by their leverage") {
    const auto between = [](double c_deg) {
        const Chain given{true, {900.0, 1.0, 900.0, 1.0}, {90.0, 90.0, c_deg, 0.0}, {0.0, 0.0, 0.0, 0.0}, {0.0, 0.0, 0.0, 0.0}};
        return fill_in(given, {{1, 3}, {3}});
    };
    CHECK(between(90.0).parallel);
    CHECK(between(89.0).parallel);  // BC and DA stand square on AB whatever C is
    const Chain slim{true, {900.0, 1.0, 850.0, 1.0}, {88.5, 88.5, 91.5, 0.0}, {0.0, 0.0, 0.0, 0.0}, {0.0, 0.0, 0.0, 0.0}};
    const ChainFilling filling = fill_in(slim, {{1, 3}, {3}});
    CHECK_THAT(filling.between_deg, WithinAbs(3.0, 1e-9));
    CHECK_THAT(filling.ways.front().leverage, WithinAbs(sin_deg(88.5) / sin_deg(3.0), 1e-9));
}

// ---- as the maker sees it ----

namespace {

Project with_open(std::vector<std::string> lines, const std::vector<std::pair<std::string, std::string>>& open) {
    Project project = project_of(lines);
    auto& readings = std::get<ReadingsOutline>(project.outline.form).readings;
    for (const auto& [name, hint] : open) {
        for (Reading& r : readings) {
            if (r.text.substr(0, r.text.find(' ')) != name) continue;
            r.value.reset();
            if (hint == "inward") r.inward = true;
            if (!hint.empty() && hint != "inward") r.near = std::stod(hint);
        }
    }
    return project;
}

const std::vector<std::string> kBed{"AB 1150", "BC 860", "CD 940", "DE 1027", "EA 737", "A 106", "B 112", "C 98", "D 117", "E 107"};
// A square corner with B, C and D open: C lies outside or inside the line from B to D.
const std::vector<std::string> kDart{"AB 900", "BC 800", "CD 700", "DA 850", "A 90", "B 1", "C 1", "D 1"};

}  // namespace

TEST_CASE("what is left open is worked out and told") {
    const Result<Outline> located = locate_outline(with_open(kBed, {{"CD", ""}, {"C", ""}, {"D", ""}}));
    REQUIRE(located.ok());
    CHECK_THAT(located.value().sides_mm[2], WithinAbs(940.0, 1.0));
    CHECK_THAT(located.value().interior_deg[2], WithinAbs(98.0, 0.1));
    REQUIRE(find(located.findings(), "outline.filled-in") != nullptr);
    CHECK_THAT(find(located.findings(), "outline.filled-in")->message, ContainsSubstring("CD 9") && ContainsSubstring("C 98"));
    CHECK_FALSE(located.value().readings[2].given.has_value());
    CHECK(located.value().readings[2].used == located.value().sides_mm[2]);
}

TEST_CASE("of two answers the file chooses: near, inward, a length across; else fewer inward corners, with a warning") {
    const auto locate = [](const Project& project) {
        const Result<Outline> located = locate_outline(project);
        REQUIRE(located.ok());
        const Finding* told = find(located.findings(), "outline.two-answers");
        REQUIRE(told != nullptr);
        return std::pair(located.value().interior_deg[2], told->severity);
    };
    const auto [convex, warned] = locate(with_open(kDart, {{"B", ""}, {"C", ""}, {"D", ""}}));
    CHECK(convex < 180.0);
    CHECK(warned == Severity::warning);
    const auto [near, noted] = locate(with_open(kDart, {{"B", ""}, {"C", "250"}, {"D", ""}}));
    CHECK_THAT(near, WithinAbs(360.0 - convex, 1e-9));
    CHECK(noted == Severity::note);
    CHECK(locate(with_open(kDart, {{"B", ""}, {"C", "inward"}, {"D", ""}})).first == near);
    std::vector<std::string> across = kDart;
    const std::vector<Vec2> dart = locate_outline(with_open(kDart, {{"B", ""}, {"C", "250"}, {"D", ""}})).value().corners_mm;
    across.push_back("AC " + std::to_string(length(dart[2] - dart[0])).substr(0, 6));
    CHECK(locate(with_open(across, {{"B", ""}, {"C", ""}, {"D", ""}})).first == near);
}

TEST_CASE("open values that the rest says more than enough about have to agree with it") {
    for (const auto& open : std::vector<std::vector<std::pair<std::string, std::string>>>{
             {{"AB", ""}}, {{"C", ""}}, {{"C", ""}, {"D", ""}}, {{"CD", ""}, {"A", ""}}}) {
        const Result<Outline> located = locate_outline(with_open(kBed, open));
        REQUIRE(located.ok());
        CHECK_THAT(located.value().sides_mm[0], WithinAbs(1150.0, 1.0));
        const Vec2 last = located.value().corners_mm[4];
        CHECK_THAT(length(last), WithinAbs(located.value().sides_mm[4], 1e-9));
    }
    std::vector<std::string> wrong = kBed;
    wrong[1] = "BC 500";
    CHECK(find(locate_outline(with_open(wrong, {{"CD", ""}})).findings(), "outline.unknown-misfit") != nullptr);
    wrong = kBed;
    wrong[5] = "A 110";
    const Result<Outline> sum_off = locate_outline(with_open(wrong, {{"AB", ""}, {"CD", ""}}));
    CHECK_THAT(sum_off.findings().front().message, ContainsSubstring("544: 4 too much"));
    CHECK(locate_outline(with_open(wrong, {{"AB", ""}, {"CD", ""}, {"C", ""}})).ok());
}

TEST_CASE("open sides that would have no length, and corners nothing is left for, are refused") {
    std::vector<std::string> lines = kBed;
    lines[7] = "C 230";
    CHECK(find(locate_outline(with_open(lines, {{"D", ""}, {"CD", ""}})).findings(), "outline.unknown-impossible") != nullptr);
    // 106, 112, 330 and 107 leave 540 - 655 for D.
    lines[7] = "C 330";
    const Findings findings = locate_outline(with_open(lines, {{"D", ""}})).findings();
    const Finding* finding = find(findings, "outline.unknown-impossible");
    REQUIRE(finding != nullptr);
    CHECK_THAT(finding->message, ContainsSubstring("D would have to be -115"));
}

TEST_CASE("an open side takes up what it can, however widely the others were read") {
    // What runs along the open side costs nothing, so one condition is left, across it: sum v_k (u_k x u) = -(r x u). The least
    // squares with equal weights: v_k = c_k l, l = -(r x u) / sum c_k^2, none of it along CD. By hand for this ring: corners are kept.
    const std::vector<std::string> lines{"AB 1150 +-300", "BC 860 +-300", "CD 1", "DE 1127 +-300", "EA 737 +-300",
                                         "A 106 +-0.001", "B 112 +-0.001", "C 98 +-0.001", "D 117 +-0.001", "E 107 +-0.001"};
    const Result<Outline> located = locate_outline(with_open(lines, {{"CD", ""}}));
    REQUIRE(located.ok());
    const std::vector<double> given{1150.0, 860.0, 0.0, 1127.0, 737.0};
    const std::vector<double> heading{0.0, 68.0, 68.0 + 82.0, 68.0 + 82.0 + 63.0, 68.0 + 82.0 + 63.0 + 73.0};
    std::vector<double> across;
    double off = 0.0, squares = 0.0;
    for (std::size_t k = 0; k < 5; ++k) {
        across.push_back(sin_deg(heading[2] - heading[k]));
        off += given[k] * across[k];
        squares += across[k] * across[k];
    }
    CHECK(std::abs(off) > 50.0);
    for (const std::size_t k : {0U, 1U, 3U, 4U}) {
        INFO("side " << k);
        CHECK_THAT(located.value().sides_mm[k], within_mm(given[k] - across[k] * off / squares, 1e-3));
    }
}

TEST_CASE("of two answers one that crosses itself is none") {
    // A box 1000 by 300 with a gable of 45 degrees on it, 500 high; its mirror image, tip down, comes out through the floor 200 below.
    const std::vector<std::string> gable{"AB 1000", "BC 300", "CD 707.1", "DE 707.1", "EA 300", "A 90", "B 90", "C 1", "D 1", "E 1"};
    for (const char* near : {"", "90", "270"}) {
        CAPTURE(near);
        const Result<Outline> located = locate_outline(with_open(gable, {{"C", ""}, {"D", near}, {"E", ""}}));
        REQUIRE(located.ok());
        CHECK(find(located.findings(), "outline.two-answers") == nullptr);
        CHECK_THAT(located.value().interior_deg[3], WithinAbs(90.0, 0.02));
        CHECK_THAT(located.value().interior_deg[2], WithinAbs(135.0, 0.02));
    }
    // A floor 600 lower leaves the tip inside: then there are two.
    std::vector<std::string> high = gable;
    high[1] = "BC 900";
    high[4] = "EA 900";
    const Result<Outline> located = locate_outline(with_open(high, {{"C", ""}, {"D", "270"}, {"E", ""}}));
    REQUIRE(located.ok());
    CHECK(find(located.findings(), "outline.two-answers") != nullptr);
    CHECK_THAT(located.value().interior_deg[3], WithinAbs(270.0, 0.02));
}
