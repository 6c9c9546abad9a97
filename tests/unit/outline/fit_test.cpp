#include "outline/fit.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include "outline/fit_start.hpp"
#include "support/catch.hpp"
#include "support/random_network.hpp"

using namespace boardring;
using boardring_test::add_noise;
using boardring_test::exact_network;
using boardring_test::Random;
using boardring_test::random_ring;

namespace {

Observation between(Observation::Kind kind, std::size_t a, std::size_t b, std::size_t c = 0) {
    Observation o;
    o.kind = kind;
    o.a = a;
    o.b = b;
    o.c = c;
    return o;
}

Network four_sides() {
    Network network;
    network.corners = network.points = 4;
    network.letters = {0, 1, 2, 3};
    for (std::size_t c = 0; c < 4; ++c) {
        Observation o = between(Observation::Kind::distance, c, network.next(c));
        o.value = c % 2 == 0 ? 900.0 : 800.0;
        network.observations.push_back(o);
    }
    return network;
}

}  // namespace

TEST_CASE("derivatives of every kind of reading agree with differences", "[fit]") {
    Random random(301);
    for (int round = 0; round < 200; ++round) {
        const std::vector<Vec2> points = random_ring(random, 5);
        for (const Observation& o : {between(Observation::Kind::distance, 0, 3), between(Observation::Kind::angle, 2, 3, 1),
                                     between(Observation::Kind::height, 1, 4), between(Observation::Kind::sideways, 4, 2)}) {
            const Gradient g = gradient_of(o, points);
            std::vector<Vec2> sum(points.size());
            for (std::size_t k = 0; k < g.count; ++k) sum[g.point[k]] = sum[g.point[k]] + g.by[k];
            for (std::size_t p = 0; p < points.size(); ++p) {
                for (const bool along_x : {true, false}) {
                    const double h = 1e-3;
                    std::vector<Vec2> more = points, less = points;
                    (along_x ? more[p].x : more[p].y) += h;
                    (along_x ? less[p].x : less[p].y) -= h;
                    Observation at = o;
                    at.value = predicted(o, points);
                    const double difference = (residual_of(at, less) - residual_of(at, more)) / (2.0 * h);
                    CHECK_THAT(along_x ? sum[p].x : sum[p].y, WithinAbs(difference, 1e-6 * (1.0 + std::abs(difference))));
                }
            }
        }
    }
}

TEST_CASE("exact readings return the exact ring", "[fit]") {
    Random random(302);
    for (int round = 0; round < 300; ++round) {
        const std::vector<Vec2> ring = random_ring(random, 4 + random.index(7));
        const Network network = exact_network(random, ring, random.index(8));
        const NetworkFit fit = fit_network(network);
        REQUIRE(fit.stop == FitStop::settled);
        for (std::size_t a = 0; a < ring.size(); ++a) {
            for (std::size_t b = a + 1; b < ring.size(); ++b) {
                CHECK_THAT(length(fit.points_mm[b] - fit.points_mm[a]), within_mm(length(ring[b] - ring[a]), 1e-7));
            }
        }
        CHECK(fit.points_mm[0] == Vec2{});
        CHECK(fit.points_mm[1].y == 0.0);
    }
}

TEST_CASE("lengths alone hold a ring and give it the right way round", "[fit]") {
    Random random(303);
    std::size_t found = 0;
    constexpr std::size_t kRounds = 200;
    for (std::size_t round = 0; round < kRounds; ++round) {
        const std::vector<Vec2> ring = random_ring(random, 4 + random.index(5));
        Network network = exact_network(random, ring, 1000);
        std::erase_if(network.observations, [](const Observation& o) { return o.kind == Observation::Kind::angle; });
        const NetworkFit fit = fit_network(network);
        if (fit.chi_square < 1e-6) ++found;
        double area = 0.0;
        for (std::size_t c = 0; c < ring.size(); ++c) area += cross(fit.points_mm[c], fit.points_mm[network.next(c)]);
        CHECK(area > 0.0);
    }
    CHECK(found == kRounds);
}

TEST_CASE("a ring of four sides can lean, and a length across holds it", "[fit]") {
    Network network = four_sides();
    const std::vector<Vec2> square{{0, 0}, {900, 0}, {900, 800}, {0, 800}};
    CHECK_FALSE(FitCovariance::of(network, square));
    const Looseness loose = looseness_of(network, square);
    CHECK(loose.freedoms == 1);
    CHECK(loose.loose == std::vector<std::size_t>{2, 3});
    REQUIRE(loose.hold_with);
    CHECK(loose.hold_with->kind == Observation::Kind::distance);
    network.observations.push_back(*loose.hold_with);
    CHECK(FitCovariance::of(network, square));
    CHECK(looseness_of(network, square).freedoms == 0);
}

TEST_CASE("what can still move does not hang on how well things were read", "[fit]") {
    // A fan of lengths from corner 0 to the corners up to `held` makes triangles of these; each corner behind hangs by its two sides,
    // and n - 2 - held of them are one length short.
    Random random(305);
    for (int round = 0; round < 200; ++round) {
        const std::size_t n = 4 + random.index(6), held = 1 + random.index(n - 2);
        const std::vector<Vec2> ring = random_ring(random, n);
        Network network;
        network.corners = network.points = n;
        for (std::size_t c = 0; c < n; ++c) network.letters.push_back(c);
        for (std::size_t c = 0; c < n; ++c) network.observations.push_back(between(Observation::Kind::distance, c, network.next(c)));
        for (std::size_t c = 2; c <= held; ++c) network.observations.push_back(between(Observation::Kind::distance, 0, c));
        for (Observation& o : network.observations) {
            o.value = predicted(o, ring);
            o.sigma = random.log_between(0.2, 5.0);
        }
        const Looseness loose = looseness_of(network, ring);
        CHECK(loose.freedoms == n - 2 - held);
        if (held == n - 2) {
            CHECK(loose.loose.empty());
            continue;
        }
        std::vector<std::size_t> behind;
        for (std::size_t c = held + 1; c < n; ++c) behind.push_back(c);
        CHECK(loose.loose == behind);
        REQUIRE(loose.hold_with);
        network.observations.push_back(*loose.hold_with);
        CHECK(looseness_of(network, ring).freedoms == n - 3 - held);
    }
}

TEST_CASE("what holds a leaning ring or chain best is the reading that changes most in its own accuracy", "[fit]") {
    // A step of the one free motion, exact: D turned about A by 1e-7, C where its two sides meet; of the chain C alone bends. Small rings,
    // so that tapes are too short to tell; an angle counts half.
    constexpr double kStep = 1e-7;
    Random random(307);
    std::size_t first_or_last = 0;
    for (int round = 0; round < 300; ++round) {
        const bool closed = round % 3 != 0;
        Network network;
        network.closed = closed;
        network.corners = network.points = 4;
        network.letters = {0, 1, 2, 3};
        std::vector<Vec2> places{{0, 0}, {60, 0}, {60, 60}, {0, 60}};
        for (Vec2& p : places) p = p + Vec2{random.between(-20.0, 20.0), random.between(-20.0, 20.0)};
        std::vector<Vec2> moved = places;
        const auto about = [&](std::size_t fixed, std::size_t p) {
            return places[fixed] + turned(places[p] - places[fixed], std::cos(kStep), std::sin(kStep));
        };
        if (closed) {
            moved[3] = about(0, 3);
            const Vec2 way = moved[3] - moved[1];
            const double near = length(places[2] - places[1]), far = length(places[3] - places[2]), across = length(way);
            const double along = (near * near - far * far + across * across) / (2.0 * across);
            moved[2] = moved[1] + (along / across) * way - (std::sqrt(near * near - along * along) / across) * left_of(way);
            if (length(moved[2] - places[2]) > 1e-4) continue;  // an inward corner: C on the other side of the line from B to D
        } else {
            moved[3] = about(2, 3);
            network.observations.push_back(between(Observation::Kind::angle, 1, 2, 0));
            network.observations.back().sigma = 0.5;
        }
        for (std::size_t c = 0; c + (closed ? 0 : 1) < 4; ++c) {
            network.observations.push_back(between(Observation::Kind::distance, c, network.next(c)));
            network.observations.back().sigma = 2.0;
        }
        std::vector<Observation> asked;
        for (std::size_t a = 0; a < 4; ++a) {
            for (std::size_t b = a + 1; b < 4; ++b) asked.push_back(between(Observation::Kind::distance, a, b));
        }
        for (std::size_t c = closed ? 0 : 1; c < (closed ? 4U : 3U); ++c) {
            asked.push_back(between(Observation::Kind::angle, c, network.next(c), network.before(c)));
        }
        double most = 0.0, second = 0.0;
        Observation best;
        for (Observation& o : asked) {
            o.value = predicted(o, places);
            const double change = std::abs(residual_of(o, moved)) * (o.kind == Observation::Kind::angle ? 0.5 / 0.5 : 1.0 / 2.0);
            if (change > most) best = o;
            second = std::max(std::min(change, most), second);
            most = std::max(most, change);
        }
        if (second > 0.99 * most) continue;  // alike but for what a step of that size rounds
        CAPTURE(round);
        const Looseness loose = looseness_of(network, places);
        CHECK(loose.freedoms == 1);
        REQUIRE(loose.hold_with);
        CHECK(loose.hold_with->kind == best.kind);
        CHECK(loose.hold_with->a == best.a);
        if (closed && best.kind == Observation::Kind::angle) first_or_last += best.a == 0 || best.a == 3 ? 1U : 0U;
        if (!closed) CHECK((best.kind == Observation::Kind::angle && best.a == 2));
    }
    CHECK(first_or_last > 20);
}

TEST_CASE("a start is turned as what was read against level says", "[fit]") {
    // Exact readings: the start is the ring itself, whichever way round it stands.
    Random random(306);
    for (int round = 0; round < 300; ++round) {
        std::vector<Vec2> ring = random_ring(random, 4 + random.index(4));
        const double turn = random.between(0.0, 360.0);
        for (Vec2& p : ring) p = turned(p, cos_deg(turn), sin_deg(turn));
        Network network = exact_network(random, ring, 0);
        for (const auto kind : {Observation::Kind::height, Observation::Kind::sideways}) {
            network.observations.push_back(between(kind, 0, 2));
            network.observations.back().value = predicted(network.observations.back(), ring);
        }
        const std::vector<Vec2> start = fit_starts(network, 1).front();
        for (std::size_t p = 1; p < ring.size(); ++p) CHECK(length(start[p] - start[0] - (ring[p] - ring[0])) < 1e-6);
    }
}

TEST_CASE("helper pegs are placed by their tapes, however many there are", "[fit]") {
    Random random(308);
    for (int round = 0; round < 100; ++round) {
        std::vector<Vec2> points = random_ring(random, 5 + random.index(3));
        const std::size_t corners = points.size(), pegs = 1 + random.index(3);
        Network network = exact_network(random, points, 0);
        for (std::size_t p = corners; p < corners + pegs; ++p) {
            points.push_back({random.between(-400.0, 400.0), random.between(-400.0, 400.0)});
            network.letters.push_back(p);
            for (const std::size_t c : {0U, 1U, 3U}) {
                network.observations.push_back(between(Observation::Kind::distance, c, p));
                network.observations.back().value = predicted(network.observations.back(), points);
            }
        }
        network.points = points.size();
        const NetworkFit fit = fit_network(network);
        REQUIRE(fit.points_mm.size() == points.size());
        for (std::size_t a = 0; a < points.size(); ++a) {
            for (std::size_t b = 0; b < a; ++b) CHECK_THAT(length(fit.points_mm[a] - fit.points_mm[b]), within_mm(length(points[a] - points[b]), 1e-5));
        }
    }
}

TEST_CASE("corners nobody read share what the others leave of the angle sum", "[fit]") {
    // Six equal sides and one corner of 120: the other five get (720 - 120) / 5, so the start is the regular hexagon.
    Network network;
    network.corners = network.points = 6;
    network.letters = {0, 1, 2, 3, 4, 5};
    for (std::size_t c = 0; c < 6; ++c) {
        network.observations.push_back(between(Observation::Kind::distance, c, network.next(c)));
        network.observations.back().value = 400.0;
    }
    network.observations.push_back(between(Observation::Kind::angle, 0, 1, 5));
    network.observations.back().value = 120.0;
    const std::vector<Vec2> start = fit_starts(network, 1).front();
    for (std::size_t c = 0; c < 6; ++c) {
        CHECK_THAT(predicted(between(Observation::Kind::distance, c, network.next(c)), start), within_mm(400.0, 1e-9));
        CHECK_THAT(predicted(between(Observation::Kind::angle, c, network.next(c), network.before(c)), start), within_deg(120.0, 1e-9));
    }
}

TEST_CASE("without any length nothing has a size", "[fit]") {
    Network network = four_sides();
    network.observations.clear();
    for (std::size_t c = 0; c < 4; ++c) {
        Observation o = between(Observation::Kind::angle, c, network.next(c), network.before(c));
        o.value = 90.0;
        network.observations.push_back(o);
    }
    const Looseness loose = looseness_of(network, fit_starts(network, 1).front());
    CHECK(loose.freedoms == 2);
    CHECK(loose.loose.size() == 3);
}

TEST_CASE("two readings of one length average, and know it better by the square root of two", "[fit]") {
    Network network;
    network.corners = network.points = 3;
    network.letters = {0, 1, 2};
    for (std::size_t c = 0; c < 3; ++c) {
        Observation o = between(Observation::Kind::distance, c, network.next(c));
        o.value = 1000.0;
        o.sigma = 2.0;
        network.observations.push_back(o);
    }
    network.observations.push_back(network.observations.front());
    network.observations.back().value = 1006.0;
    const NetworkFit fit = fit_network(network);
    CHECK_THAT(predicted(network.observations.front(), fit.points_mm), within_mm(1003.0, 1e-9));
    CHECK_THAT(fit.chi_square, WithinAbs(4.5, 1e-9));
    const auto covariance = FitCovariance::of(network, fit.points_mm);
    REQUIRE(covariance);
    const std::vector<double> column = covariance->column(network.observations.front());
    CHECK_THAT(dot_of(column, column), WithinAbs(0.5, 1e-9));
}

TEST_CASE("a known square: every corner is known alike", "[fit]") {
    Network network = four_sides();
    for (Observation& o : network.observations) o.value = 1000.0;
    for (const auto& [a, b] : {std::pair{0U, 2U}, {1U, 3U}}) {
        network.observations.push_back(between(Observation::Kind::distance, a, b));
        network.observations.back().value = 1000.0 * std::sqrt(2.0);
    }
    const auto covariance = FitCovariance::of(network, {{0, 0}, {1000, 0}, {1000, 1000}, {0, 1000}});
    REQUIRE(covariance);
    const std::vector<double> sd = covariance->corner_sd_mm();
    for (const double s : sd) CHECK_THAT(s, WithinAbs(sd.front(), 1e-9));
}

TEST_CASE("readings against level turn the ring", "[fit]") {
    const std::vector<Vec2> ring{{0, 0}, {996, 87}, {909, 1083}, {-87, 996}};  // a square turned by about 5 degrees
    Network network = four_sides();
    for (Observation& o : network.observations) o.value = predicted(o, ring);
    network.observations.push_back(between(Observation::Kind::distance, 0, 2));
    network.observations.push_back(between(Observation::Kind::height, 0, 1));
    for (Observation& o : network.observations) o.value = predicted(o, ring);
    const NetworkFit fit = fit_network(network);
    for (std::size_t p = 0; p < 4; ++p) CHECK(length(fit.points_mm[p] - ring[p]) < 1e-6);
}
