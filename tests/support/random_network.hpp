#pragma once
// Random rings as somebody measures them: true places, readings with errors, one of them wrong.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "outline/network.hpp"
#include "support/random.hpp"

namespace boardring_test {

inline double normal(Random& random) {
    const double r = std::sqrt(-2.0 * std::log(1.0 - random.unit()));
    return r * std::cos(2.0 * boardring::kPi * random.unit());
}

/// Corners in directions 360/n apart give or take, as far out as makes sides of 0.3 to 3 m; counter-clockwise, no sides cross,
/// inward corners among them.
inline std::vector<boardring::Vec2> random_ring(Random& random, std::size_t corners) {
    for (;;) {
        std::vector<boardring::Vec2> ring;
        const double radius_mm = random.log_between(300.0, 2500.0);
        const double step_deg = 360.0 / static_cast<double>(corners);
        for (std::size_t c = 0; c < corners; ++c) {
            const double deg = step_deg * (static_cast<double>(c) + random.between(-0.35, 0.35));
            ring.push_back(radius_mm * random.between(0.55, 1.3) * boardring::unit_deg(deg));
        }
        bool good = true;
        for (std::size_t c = 0; c < corners; ++c) {
            const boardring::Vec2 side = ring[(c + 1) % corners] - ring[c];
            const boardring::Vec2 before = ring[c] - ring[(c + corners - 1) % corners];
            const double turn = boardring::degrees(std::atan2(boardring::cross(before, side), boardring::dot(before, side)));
            good = good && boardring::length(side) >= 300.0 && boardring::length(side) <= 3000.0 && std::abs(turn) < 150.0;
        }
        if (good) return ring;
    }
}

struct Sigmas {
    double side_mm = 2.0, angle_deg = 0.5, diagonal_mm = 3.0;
};

/// Every side, every angle and the first `diagonals` of the diagonals in a random order, exact.
inline boardring::Network exact_network(Random& random, const std::vector<boardring::Vec2>& ring, std::size_t diagonals,
                                        const Sigmas& sigmas = {}) {
    using boardring::Observation;
    boardring::Network network;
    network.corners = network.points = ring.size();
    for (std::size_t c = 0; c < ring.size(); ++c) network.letters.push_back(c);
    const auto add = [&](Observation::Kind kind, std::size_t a, std::size_t b, std::size_t c, double sigma) {
        Observation o;
        o.kind = kind;
        o.a = a;
        o.b = b;
        o.c = c;
        o.sigma = sigma;
        o.line = network.observations.size();
        o.value = boardring::predicted(o, ring);
        network.observations.push_back(o);
    };
    for (std::size_t c = 0; c < ring.size(); ++c) add(Observation::Kind::distance, c, network.next(c), 0, sigmas.side_mm);
    for (std::size_t c = 0; c < ring.size(); ++c) {
        add(Observation::Kind::angle, c, network.next(c), network.before(c), sigmas.angle_deg);
    }
    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    for (std::size_t a = 0; a < ring.size(); ++a) {
        for (std::size_t b = a + 2; b < ring.size(); ++b) {
            if (a != 0 || b + 1 != ring.size()) pairs.emplace_back(a, b);
        }
    }
    for (std::size_t i = 0; i + 1 < pairs.size(); ++i) std::swap(pairs[i], pairs[i + random.index(pairs.size() - i)]);
    for (std::size_t i = 0; i < std::min(diagonals, pairs.size()); ++i) {
        add(Observation::Kind::distance, pairs[i].first, pairs[i].second, 0, sigmas.diagonal_mm);
    }
    return network;
}

inline void add_noise(Random& random, boardring::Network& network) {
    for (boardring::Observation& o : network.observations) o.value += o.sigma * normal(random);
}

}  // namespace boardring_test
