#include "outline/network.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>
#include <variant>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "outline/notebook.hpp"

namespace boardring {
namespace {

double sigma_of(const Reading& reading, const Accuracy& accuracy) {
    const double rounding = reading.half_step / std::sqrt(3.0);
    double sigma = 0.0;
    switch (reading.kind) {
        case Reading::Kind::side:
            sigma = accuracy.side_mm;
            break;
        case Reading::Kind::diagonal:
            sigma = accuracy.diagonal_mm;
            break;
        case Reading::Kind::angle:
            sigma = reading.deg_per_mm ? *reading.deg_per_mm * accuracy.side_mm : accuracy.angle_deg;
            break;
        case Reading::Kind::fall:
        case Reading::Kind::right:
        case Reading::Kind::width:
        case Reading::Kind::bow:
            sigma = accuracy.side_mm;
            break;
        case Reading::Kind::sill:
            ENSURE(false);  // measures nothing
            break;
    }
    return std::max(reading.accuracy.value_or(sigma), rounding);
}

}  // namespace

bool Network::levelled() const {
    return std::any_of(observations.begin(), observations.end(), [](const Observation& o) {
        return o.kind == Observation::Kind::height || o.kind == Observation::Kind::sideways;
    });
}

Network open_network(const Project& project) {
    const auto& notebook = std::get<ReadingsOutline>(project.outline.form);
    Network network;
    network.closed = !project.outline.open;
    network.corners = notebook.corners;
    ENSURE(network.corners >= (network.closed ? 3U : 2U));
    for (std::size_t c = 0; c < network.corners; ++c) network.letters.push_back(c);
    std::set<std::size_t> pegs;
    for (const Reading& r : notebook.readings) {
        for (const std::size_t letter : {r.first, r.second}) {
            if (letter >= network.corners) pegs.insert(letter);
        }
    }
    network.letters.insert(network.letters.end(), pegs.begin(), pegs.end());
    network.points = network.letters.size();
    const auto point_of = [&](std::size_t letter) {
        const auto at = std::lower_bound(network.letters.begin(), network.letters.end(), letter);
        return static_cast<std::size_t>(at - network.letters.begin());
    };
    for (std::size_t line = 0; line < notebook.readings.size(); ++line) {
        const Reading& r = notebook.readings[line];
        if (!r.value || r.kind == Reading::Kind::bow || r.kind == Reading::Kind::width) continue;
        if (r.kind == Reading::Kind::sill) {
            const bool mirrored = project.outline.letters_clockwise;  // kept upside down: its sill runs to the left
            network.sills.push_back(mirrored ? std::array{r.second, r.first} : std::array{r.first, r.second});
            continue;
        }
        Observation o;
        o.line = line;
        o.sigma = sigma_of(r, project.accuracy);
        if (r.kind == Reading::Kind::angle) {
            o.kind = Observation::Kind::angle;
            o.a = r.first;
            o.b = network.next(r.first);
            o.c = network.before(r.first);
            o.value = interior_meant_deg(r, *r.value);
        } else {
            o.a = point_of(r.first);
            o.b = point_of(r.second);
            o.value = *r.value;
            if (r.kind == Reading::Kind::fall) {
                o.kind = Observation::Kind::height;
                // The one that lies lower is the one below; where letters run clockwise the ring is kept upside down.
                if (!project.outline.letters_clockwise) std::swap(o.a, o.b);
            } else if (r.kind == Reading::Kind::right) {
                o.kind = Observation::Kind::sideways;
            }
        }
        network.observations.push_back(o);
    }
    return network;
}

double predicted(const Observation& o, const std::vector<Vec2>& p) {
    switch (o.kind) {
        case Observation::Kind::distance:
            return length(p[o.b] - p[o.a]);
        case Observation::Kind::angle: {
            const Vec2 next = p[o.b] - p[o.a];
            const Vec2 before = p[o.c] - p[o.a];
            const double deg = degrees(std::atan2(cross(next, before), dot(next, before)));
            return deg < 0.0 ? deg + 360.0 : deg;
        }
        case Observation::Kind::height:
            return p[o.b].y - p[o.a].y;
        case Observation::Kind::sideways:
            return p[o.b].x - p[o.a].x;
    }
    ENSURE(false);
    return 0.0;
}

double residual_of(const Observation& o, const std::vector<Vec2>& p) {
    const double off = o.value - predicted(o, p);
    return o.kind == Observation::Kind::angle ? wrapped_deg(off) : off;
}

Gradient gradient_of(const Observation& o, const std::vector<Vec2>& p) {
    Gradient g;
    const auto add = [&g](std::size_t point, Vec2 by) {
        g.point[g.count] = point;
        g.by[g.count] = by;
        ++g.count;
    };
    switch (o.kind) {
        case Observation::Kind::distance: {
            const Vec2 way = p[o.b] - p[o.a];
            const double size = length(way);
            if (!(size > 0.0)) break;
            add(o.a, (-1.0 / size) * way);
            add(o.b, (1.0 / size) * way);
            break;
        }
        case Observation::Kind::angle: {
            // A direction swings with what moves square to it, one radian a length.
            const Vec2 next = p[o.b] - p[o.a];
            const Vec2 before = p[o.c] - p[o.a];
            const double next2 = dot(next, next);
            const double before2 = dot(before, before);
            if (!(next2 > 0.0 && before2 > 0.0)) break;
            const Vec2 by_next = (-degrees(1.0) / next2) * left_of(next);
            const Vec2 by_before = (degrees(1.0) / before2) * left_of(before);
            add(o.a, -(by_next + by_before));
            add(o.b, by_next);
            add(o.c, by_before);
            break;
        }
        case Observation::Kind::height:
            add(o.a, {0.0, -1.0});
            add(o.b, {0.0, 1.0});
            break;
        case Observation::Kind::sideways:
            add(o.a, {-1.0, 0.0});
            add(o.b, {1.0, 0.0});
            break;
    }
    return g;
}

}  // namespace boardring
