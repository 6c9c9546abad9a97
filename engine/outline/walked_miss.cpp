#include "outline/walked_miss.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/angle.hpp"

namespace boardring {
namespace {

// Sides and angles by corner; nothing where one is missing or read twice, or anything else was read.
struct SidesAndAngles {
    std::vector<double> side_mm, angle_deg;
};

std::optional<SidesAndAngles> sides_and_angles(const Network& network) {
    const std::size_t n = network.corners;
    if (!network.closed || network.points != n || network.observations.size() != 2 * n) return std::nullopt;
    SidesAndAngles read{std::vector<double>(n, -1.0), std::vector<double>(n, -1.0)};
    for (const Observation& o : network.observations) {
        double* place = nullptr;
        if (o.kind == Observation::Kind::angle) place = &read.angle_deg[o.a];
        if (o.kind == Observation::Kind::distance && network.next(o.a) == o.b) place = &read.side_mm[o.a];
        if (o.kind == Observation::Kind::distance && network.next(o.b) == o.a) place = &read.side_mm[o.b];
        if (place == nullptr || *place >= 0.0) return std::nullopt;
        *place = o.value;
    }
    return read;
}

struct Walk {
    std::vector<Vec2> at;  // by corner, from the start on
    Vec2 end;
};

Walk walk(const SidesAndAngles& read, std::size_t start) {
    const std::size_t n = read.side_mm.size();
    Walk walk{std::vector<Vec2>(n), {}};
    double direction = 0.0;
    for (std::size_t step = 0; step < n; ++step) {
        const std::size_t c = (start + step) % n;
        walk.at[c] = walk.end;
        if (step > 0) direction += 180.0 - read.angle_deg[c];
        walk.end = walk.end + read.side_mm[c] * unit_deg(direction);
    }
    return walk;
}

void balance(std::vector<double>& angle_deg) {
    const double n = static_cast<double>(angle_deg.size());
    double left = 180.0 * (n - 2.0);
    for (const double a : angle_deg) left -= a;
    for (double& a : angle_deg) a += left / n;
}

WalkedMiss judged(double length_mm, const std::vector<double>& off, std::size_t asked) {
    return {length_mm, off[asked], *std::min_element(off.begin(), off.end()) == off[asked]};
}

}  // namespace

std::optional<WalkedMiss> walked_miss(const Network& network, std::size_t observation) {
    std::optional<SidesAndAngles> read = sides_and_angles(network);
    if (!read) return std::nullopt;
    const std::size_t n = network.corners;
    const Observation& o = network.observations[observation];
    std::vector<double> off(n, 0.0);
    if (o.kind == Observation::Kind::distance) {
        balance(read->angle_deg);
        const Walk round = walk(*read, 0);
        const double miss = length(round.end);
        if (!(miss > 0.0)) return std::nullopt;
        for (std::size_t k = 0; k < n; ++k) {
            const Vec2 side = (k + 1 < n ? round.at[k + 1] : round.end) - round.at[k];
            off[k] = degrees(std::atan2(std::abs(cross(side, round.end)), std::abs(dot(side, round.end))));
        }
        return judged(miss, off, network.next(o.a) == o.b ? o.a : o.b);
    }
    const std::size_t start = (o.a + n / 2) % n;
    const Walk round = walk(*read, start);
    const double miss = length(round.end);
    if (!(miss > 0.0)) return std::nullopt;
    for (std::size_t c = 0; c < n; ++c) off[c] = std::abs(dot(round.at[c] - 0.5 * round.end, (1.0 / miss) * round.end));
    return judged(miss, off, o.a);
}

}  // namespace boardring
