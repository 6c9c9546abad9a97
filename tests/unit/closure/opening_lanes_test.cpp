#include "closure/opening_lanes.hpp"

#include <algorithm>
#include <cmath>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

TEST_CASE("eight motions at once take the same openings as one by one") {
    boardring_test::Random random(31);
    for (int ring = 0; ring < 300; ++ring) {
        std::vector<OpeningColumns> columns(3 + random.index(12));
        for (OpeningColumns& c : columns) {
            for (Twist* a : {&c.gap_in, &c.gap_out, &c.lip_in}) *a = {random.between(-1, 1), random.between(-1, 1), random.between(-0.02, 0.02)};
        }
        const OpeningLanes lanes(columns);
        REQUIRE(lanes.ready());
        TwistLanes wanted;
        for (Lanes& w : wanted) {
            for (double& x : w.v) x = random.between(-3.0, 3.0);
        }
        wanted[0][3] = wanted[1][3] = wanted[2][3] = 0.0;
        std::vector<OpeningLanes::Opened> opened(columns.size());
        TwistLanes guess;
        lanes.solve(wanted, guess, opened);
        for (std::size_t i = 0; i < kLanes; ++i) {
            const LeastOpening one = least_opening(columns, {wanted[0][i], wanted[1][i], wanted[2][i]});
            if (!one.met) continue;  // a motion no gap can make
            double most = 0.0;
            for (const Opening& x : one.openings) most = std::max({most, x.gap_in, x.gap_out, std::abs(x.lip_in)});
            for (std::size_t c = 0; c < columns.size(); ++c) {
                REQUIRE(std::abs(opened[c].gap_in[i] - one.openings[c].gap_in) <= 1e-9 * most);
                REQUIRE(std::abs(opened[c].gap_out[i] - one.openings[c].gap_out) <= 1e-9 * most);
                REQUIRE(std::abs(opened[c].lip_in[i] - one.openings[c].lip_in) <= 1e-9 * most);
            }
        }
    }
}

TEST_CASE("joints that all slide along one line are said not to be ready") {
    using Columns = std::vector<OpeningColumns>;
    CHECK(!OpeningLanes(Columns{}).ready());
    CHECK(!OpeningLanes(Columns{{{1, 0, 0}, {2, 0, 0}, {1, 0, 0}}}).ready());
}

TEST_CASE("the effort of a motion is the least sum of squares that makes it with either sign") {
    const OpeningLanes lanes(std::vector<OpeningColumns>{{{1, 0, 0}, {0, 2, 0}, {0, 0, 4}}});
    CHECK(std::abs(lanes.effort({3.0, 4.0, 8.0}) - (9.0 + 4.0 + 4.0)) < 1e-12);
}

TEST_CASE("motions that do not arrive by the steps of eight are opened as one by one, each by its own motion") {
    // Joints that hardly slide: of three such, one ring in four has a motion at which the steps go to and fro.
    boardring_test::Random random(32);
    for (int ring = 0; ring < 300; ++ring) {
        std::vector<OpeningColumns> columns(3);
        for (OpeningColumns& c : columns) {
            for (Twist* a : {&c.gap_in, &c.gap_out, &c.lip_in}) {
                const double size = a == &c.lip_in ? 0.01 : 1.0;
                *a = {size * random.between(-1, 1), size * random.between(-1, 1), size * random.between(-0.02, 0.02)};
            }
        }
        const OpeningLanes lanes(columns);
        REQUIRE(lanes.ready());
        TwistLanes wanted;
        for (Lanes& w : wanted) {
            for (double& x : w.v) x = random.between(-3.0, 3.0);
        }
        std::vector<OpeningLanes::Opened> opened(columns.size());
        TwistLanes guess;
        lanes.solve(wanted, guess, opened);
        for (std::size_t i = 0; i < kLanes; ++i) {
            if (!least_opening(columns, {wanted[0][i], wanted[1][i], wanted[2][i]}).met) continue;
            // Straight from the columns: these openings make this motion.
            for (std::size_t r = 0; r < 3; ++r) {
                double made = 0.0, size = 0.0;
                for (std::size_t c = 0; c < columns.size(); ++c) {
                    for (const double part : {columns[c].gap_in[r] * opened[c].gap_in[i], columns[c].gap_out[r] * opened[c].gap_out[i],
                                              columns[c].lip_in[r] * opened[c].lip_in[i]}) {
                        made += part;
                        size += std::abs(part);
                    }
                }
                REQUIRE(std::abs(made - wanted[r][i]) <= 1e-8 * (size + 3.0));
            }
        }
    }
}
