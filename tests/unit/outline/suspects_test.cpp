#include "outline/suspects.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <variant>
#include <vector>

#include "base/angle.hpp"
#include "outline/build.hpp"
#include "support/catch.hpp"
#include "support/outline_project.hpp"
#include "support/random.hpp"
#include "support/random_frame.hpp"

using namespace boardring;
using boardring_test::project_of;
using boardring_test::Random;

namespace {

const std::vector<Reading>& readings_of(const Project& project) {
    return std::get<ReadingsOutline>(project.outline.form).readings;
}

Chain random_chain(Random& random, double size_mm) {
    for (;;) {
        std::optional<std::vector<Vec2>> points = boardring_test::random_frame::star(random, 3 + random.index(9));
        if (!points) continue;
        for (Vec2& p : *points) p = size_mm * p;
        const Outline o = build_points({*points}, false, false);
        const std::vector<double> mm(o.boards(), 0.5), deg(o.boards(), 0.5);
        return {true, o.sides_mm, o.interior_deg, mm, deg};
    }
}

bool has(const std::vector<Slip>& slips, Slip slip) {
    return std::find(slips.begin(), slips.end(), slip) != slips.end();
}

}  // namespace

TEST_CASE("what a corner leaves open is the same by one turn about it as by walking the corrected ring") {
    Random random(31);
    for (int round = 0; round < 300; ++round) {
        Chain given = random_chain(random, random.log_between(100.0, 5000.0));
        given.interior_deg[random.index(given.sides())] += random.between(-20.0, 20.0);
        const Project project = project_of(given.sides_mm, given.interior_deg, 0.5, 0.5);
        const Notebook book = open_notebook(project.outline);
        const double misfit = angle_misfit_deg(given);
        for (const CornerSuspect& s : corner_suspects(book, readings_of(project), given.sides())) {
            Chain corrected = given;
            corrected.interior_deg[s.corner] -= misfit;
            CHECK(s.would_be_deg == corrected.interior_deg[s.corner]);
            CHECK_THAT(s.miss_mm, within_mm(length(walk(corrected).end_mm), 1e-9 * perimeter_mm(given)));
        }
    }
}

TEST_CASE("the wrong corner of an exact ring is the nearest suspect and leaves nothing open") {
    Random random(32);
    for (int round = 0; round < 1000; ++round) {
        Chain given = random_chain(random, 1000.0);
        const std::size_t wrong = random.index(given.sides());
        given.interior_deg[wrong] += random.chance(0.5) ? 5.0 : -5.0;
        const Project project = project_of(given.sides_mm, given.interior_deg, 0.5, 0.5);
        const std::vector<CornerSuspect> suspects = corner_suspects(open_notebook(project.outline), readings_of(project), 2);
        CHECK(suspects.front().corner == wrong);
        CHECK(suspects.front().miss_mm < 1e-8);
        CHECK(suspects.front().fits());
    }
}

TEST_CASE("the noise of a suspect is what random errors of the other values leave open") {
    // Monte Carlo: errors of one `within` (as standard deviation) in all values but the suspect's, the suspect taking up the sum.
    Random random(33);
    const auto bell = [&] {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) sum += random.unit();
        return sum;
    };
    for (int ring = 0; ring < 5; ++ring) {
        const Chain exact = random_chain(random, 1000.0);
        const std::size_t wrong = random.index(exact.sides());
        Chain given = exact;
        given.interior_deg[wrong] += 7.0;
        const Project project = project_of(given.sides_mm, given.interior_deg, 0.5, 0.5);
        const CornerSuspect suspect = corner_suspects(open_notebook(project.outline), readings_of(project), 1).front();
        REQUIRE(suspect.corner == wrong);
        double squares = 0.0;
        constexpr int kRounds = 20000;
        for (int round = 0; round < kRounds; ++round) {
            Chain noisy = exact;
            for (std::size_t k = 0; k < exact.sides(); ++k) {
                noisy.sides_mm[k] += 0.5 * bell();
                if (k != wrong) noisy.interior_deg[k] += 0.5 * bell();
            }
            noisy.interior_deg[wrong] -= angle_misfit_deg(noisy);
            const Vec2 end = walk(noisy).end_mm;
            squares += dot(end, end);
        }
        // 20,000 rounds give the root mean square to about 0.7 %; the first-order formula adds less than that.
        CHECK_THAT(suspect.noise_mm / std::sqrt(squares / kRounds), WithinAbs(1.0, 0.03));
    }
}

TEST_CASE("the noise of a ring whose angles add up is what random errors leave open") {
    Random random(34);
    const auto bell = [&] {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) sum += random.unit();
        return sum;
    };
    const Chain exact = random_chain(random, 1000.0);
    double squares = 0.0;
    constexpr int kRounds = 20000;
    for (int round = 0; round < kRounds; ++round) {
        Chain noisy = exact;
        for (std::size_t k = 0; k < exact.sides(); ++k) {
            noisy.sides_mm[k] += 0.5 * bell();
            noisy.interior_deg[k] += 0.5 * bell();
        }
        const double misfit = angle_misfit_deg(noisy);
        for (double& interior : noisy.interior_deg) interior -= misfit / static_cast<double>(exact.sides());
        const Vec2 end = walk(noisy).end_mm;
        squares += dot(end, end);
    }
    CHECK_THAT(closing_noise_mm(exact) / std::sqrt(squares / kRounds), WithinAbs(1.0, 0.03));
}

TEST_CASE("usual slips at one corner are known by the number they make") {
    CHECK(angle_slips(65.0, 115.0, 1e-6) == std::vector<Slip>{Slip::turn});
    CHECK(angle_slips(54.0, 108.0, 1e-6) == std::vector<Slip>{Slip::half});
    CHECK(angle_slips(36.0, 108.0, 1e-6) == std::vector<Slip>{Slip::saw});
    CHECK(angle_slips(90.0, 270.0, 1e-6).front() == Slip::outside_ring);
    CHECK(angle_slips(79.0, 97.0, 1e-6) == std::vector<Slip>{Slip::swapped});
    CHECK(angle_slips(40.0, 220.0, 1e-6) == std::vector<Slip>{Slip::turn});  // inward: the boards turn 40 the other way
    CHECK(angle_slips(22.5, 225.0, 1e-6) == std::vector<Slip>{Slip::saw});   // inward: 180 + 2 * 22.5
    CHECK(has(angle_slips(60.0, 120.0, 1e-6), Slip::half));                  // a hexagon's 60 is both
    CHECK(has(angle_slips(60.0, 120.0, 1e-6), Slip::turn));
    CHECK(angle_slips(102.0, 97.0, 1e-6).empty());
    CHECK(angle_slips(65.0, 115.4, 0.5) == std::vector<Slip>{Slip::turn});
}

TEST_CASE("a slip at every corner is known by the sum and by the sides") {
    Random random(35);
    int tried = 0;
    while (tried < 200) {
        Chain given = random_chain(random, 800.0);
        // A slip must be writable at every corner: outward corners only.
        if (std::any_of(given.interior_deg.begin(), given.interior_deg.end(), [](double i) { return i >= 179.0; })) continue;
        ++tried;
        const std::size_t n = given.sides();
        const Slip slip = std::vector<Slip>{Slip::turn, Slip::half, Slip::saw, Slip::outside_ring}[random.index(4)];
        // Four turns add up like four corners, three saw settings like three corners: nothing would be amiss.
        if ((slip == Slip::turn && n == 4) || (slip == Slip::saw && n == 3)) continue;
        for (double& i : given.interior_deg) {
            i = slip == Slip::turn ? 180.0 - i : slip == Slip::half ? 0.5 * i : slip == Slip::saw ? 90.0 - 0.5 * i : 360.0 - i;
        }
        const std::optional<AllCornersSuspect> found = all_corners_suspect(given);
        REQUIRE(found);
        CHECK(found->slip == slip);
        CHECK(found->miss_mm < 1e-8);
    }
    CHECK_FALSE(all_corners_suspect(
        open_notebook(
            project_of({"AB 900", "BC 820", "CD 760", "DE 936", "EA 774", "A 108", "B 115", "C 102", "D 122", "E 98"}).outline)
            .chain));
}

TEST_CASE("two inward corners written from outside are found by the sides") {
    // A U: the two corners at the foot of the gap point into the ring.
    const Project project = project_of({"AB 1200", "BC 600", "CD 300", "DE 200", "EF 600", "FG 200", "GH 300", "HA 600", "A 90",
                                        "B 90", "C 90", "D 90", "E 90", "F 90", "G 90", "H 90"});
    const std::optional<ExchangeSuspect> found = two_inward_suspect(open_notebook(project.outline).chain);
    REQUIRE(found);
    CHECK((found->first == 4 || found->first == 3));
    CHECK(found->miss_mm < 1e-9);
}

TEST_CASE("the wrong side of an exact ring leaves nothing open across it, and what it should be is said") {
    Random random(36);
    for (int round = 0; round < 500; ++round) {
        Chain given = random_chain(random, 1000.0);
        const std::size_t wrong = random.index(given.sides());
        const double right_mm = given.sides_mm[wrong];
        given.sides_mm[wrong] += random.between(50.0, 150.0);
        const std::vector<SideSuspect> suspects = side_suspects(given, {Unit::mm, 0.5});
        const auto found = std::find_if(suspects.begin(), suspects.end(), [&](const SideSuspect& s) { return s.side == wrong; });
        REQUIRE(found != suspects.end());
        CHECK(found->fits());
        CHECK(suspects.front().unlikely + suspects.front().vague <= found->unlikely + found->vague);
        CHECK(found->miss_mm < 1e-8);
        CHECK_THAT(found->would_be_mm, within_mm(right_mm, 1e-8));
    }
}

TEST_CASE("usual slips at a side are known by how far it is out") {
    const auto slip_of = [](double ab_mm, const LengthStyle& style) {
        // A rectangle of 1200 by 600, exact corners.
        Chain ring{true, {ab_mm, 600.0, 1200.0, 600.0}, {90.0, 90.0, 90.0, 90.0}, {0.5, 0.5, 0.5, 0.5}, {0.0, 0.0, 0.0, 0.0}};
        return side_suspects(ring, style).front().slip;
    };
    const LengthStyle mm{Unit::mm, 0.5}, inch{Unit::inch, 25.4 / 16.0};
    CHECK(slip_of(1300.0, mm) == SideSlip::hundred);
    CHECK(slip_of(1210.0, mm) == SideSlip::ten);
    CHECK(slip_of(1225.4, mm) == SideSlip::inch);
    CHECK(slip_of(1225.4, inch) == SideSlip::inch);
    CHECK(slip_of(1300.0, inch) == SideSlip::none);
    CHECK(slip_of(2100.0, mm) == SideSlip::swapped);
    CHECK(slip_of(120.0, mm) == SideSlip::factor_ten);
    CHECK(slip_of(1200.0 * 25.4, mm) == SideSlip::factor_inch);
    CHECK(slip_of(1250.0, mm) == SideSlip::none);
}

TEST_CASE("values in each other's place are found, by the same miss as walking the mended ring") {
    Random random(37);
    int sides = 0, corners = 0;
    for (int round = 0; round < 300; ++round) {
        Chain given = random_chain(random, 1000.0);
        const std::size_t j = random.index(given.sides()), k = random.index(given.sides());
        if (j == k) continue;
        const bool swap_sides = random.chance(0.5);
        std::vector<double>& values = swap_sides ? given.sides_mm : given.interior_deg;
        if (std::abs(values[j] - values[k]) < (swap_sides ? 100.0 : 10.0)) continue;
        std::swap(values[j], values[k]);
        const std::vector<ExchangeSuspect> found = exchange_suspects(given);
        const auto it = std::find_if(found.begin(), found.end(), [&](const ExchangeSuspect& e) {
            return e.sides == swap_sides && e.first == std::min(j, k) && e.second == std::max(j, k);
        });
        REQUIRE(it != found.end());
        CHECK(it->miss_mm < 1e-8);
        (swap_sides ? sides : corners) += 1;
        for (const ExchangeSuspect& e : found) {
            Chain mended = given;
            std::vector<double>& v = e.sides ? mended.sides_mm : mended.interior_deg;
            std::swap(v[e.first], v[e.second]);
            CHECK_THAT(e.miss_mm, within_mm(length(walk(mended).end_mm), 1e-8));
        }
    }
    CHECK(sides > 30);
    CHECK(corners > 30);
}

TEST_CASE("across a corner: the law of cosines, flat and sharp corners included") {
    Chain ring{true, {900, 820, 760, 936, 774}, {108, 115, 97, 122, 98}, {}, {}};
    CHECK_THAT(across_corner_mm(ring, 2, 97.0), within_mm(1184.02, 0.005));
    CHECK_THAT(across_corner_mm(ring, 2, 102.0), within_mm(1228.47, 0.005));
    CHECK_THAT(across_corner_mm(ring, 0, 90.0), within_mm(std::hypot(774.0, 900.0), 1e-12));
    CHECK_THAT(across_corner_mm(ring, 1, 180.0), within_mm(1720.0, 1e-12));
    CHECK_THAT(across_corner_mm(ring, 1, 0.0), within_mm(80.0, 1e-12));
}

TEST_CASE("a slip at all corners is named where the digits leave room for it, on either side") {
    // Settings 30 all round mean 120. Half a degree at each of six settings, doubled, is 6 degrees of sum: 30.4 leaves -4.8 and 29.6
    // leaves 4.8, 30.6 and 29.4 leave 7.2 too little or too much. Equal sides close whatever the equal corners are.
    const auto named = [](double setting) {
        const std::vector<double> half(6, 0.5);
        return all_corners_suspect({true, std::vector<double>(6, 400.0), std::vector<double>(6, setting), half, half});
    };
    for (const double setting : {29.6, 30.0, 30.4}) {
        CAPTURE(setting);
        REQUIRE(named(setting));
        CHECK(named(setting)->slip == Slip::saw);
    }
    for (const double setting : {20.0, 29.4, 30.6, 40.0}) {
        CAPTURE(setting);
        CHECK_FALSE(named(setting));
    }
}
