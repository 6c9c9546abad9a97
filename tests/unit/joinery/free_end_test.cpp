#include "joinery/free_end.hpp"

#include <cmath>
#include <limits>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "support/catch.hpp"

using namespace boardring;

TEST_CASE("a square free end has both marks at the outline's end point", "[unit][free-end]") {
    const EndCut end = free_end(0.0, {6.0, 145.0});
    CHECK(end.inside_mm == 0.0);
    CHECK_FALSE(std::signbit(end.inside_mm));
    CHECK(end.outside_mm == 0.0);
    CHECK(end.run_mm == 0.0);
    CHECK(end.face_mm == 145.0);
}

TEST_CASE("a sloped free end passes through the outline's end point", "[unit][free-end]") {
    // tan 15 = 0.267949
    const EndCut inside_line = free_end(15.0, {0.0, 100.0});
    CHECK(inside_line.inside_mm == 0.0);
    CHECK_THAT(inside_line.outside_mm, within_mm(-26.794919, 1e-6));
    CHECK_THAT(inside_line.run_mm, within_mm(26.794919, 1e-6));
    const EndCut outside_line = free_end(15.0, {-100.0, 100.0});
    CHECK(outside_line.outside_mm == 0.0);
    CHECK_THAT(outside_line.inside_mm, within_mm(26.794919, 1e-6));
}

TEST_CASE("a free end of the opposite slope is the mirror image", "[unit][free-end]") {
    const EndCut one = free_end(22.5, {-30.0, 100.0});
    const EndCut two = free_end(-22.5, {-30.0, 100.0});
    CHECK(one.inside_mm == -two.inside_mm);
    CHECK(one.outside_mm == -two.outside_mm);
    CHECK(one.run_mm == -two.run_mm);
    CHECK(one.face_mm == two.face_mm);
    CHECK(one.square_first_mm == -one.run_mm);
    CHECK(one.square_second_mm == 0.0);
}

TEST_CASE("free ends keep the stated digits", "[unit][free-end]") {
    const double eps = std::numeric_limits<double>::epsilon();
    for (int i = -889; i <= 889; ++i) {
        const double saw = 0.1 * i;
        const long double exact =
            -45.0L * std::tan(static_cast<long double>(saw) * 3.14159265358979323846264338327950288L / 180.0L);
        CHECK_THAT(free_end(saw, {45.0, 100.0}).inside_mm,
                   within_mm(static_cast<double>(exact), 4.0 * eps * static_cast<double>(std::abs(exact))));
    }
}

TEST_CASE("free ends as flat as the board are our bug", "[unit][free-end]") {
    CHECK_THROWS_AS(free_end(89.0, {0.0, 100.0}), BrokenInvariant);
}
