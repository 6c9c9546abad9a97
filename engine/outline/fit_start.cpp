#include "outline/fit_start.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "base/angle.hpp"

namespace boardring {
namespace {

// What was read, looked up by corner and by point: the first reading of each kind.
struct ByPlace {
    std::vector<std::optional<double>> side_mm;                          // from corner k to the next
    std::vector<std::optional<double>> angle_deg;                        // at corner k
    std::vector<std::vector<std::pair<std::size_t, double>>> distances;  // from point p

    explicit ByPlace(const Network& network) : side_mm(network.corners), angle_deg(network.corners), distances(network.points) {
        for (const Observation& o : network.observations) {
            if (o.kind == Observation::Kind::angle && !angle_deg[o.a]) angle_deg[o.a] = o.value;
            if (o.kind != Observation::Kind::distance) continue;
            distances[o.a].emplace_back(o.b, o.value);
            distances[o.b].emplace_back(o.a, o.value);
            if (o.a >= network.corners || o.b >= network.corners) continue;
            if (network.next(o.a) == o.b && !side_mm[o.a]) side_mm[o.a] = o.value;
            if (network.next(o.b) == o.a && !side_mm[o.b]) side_mm[o.b] = o.value;
        }
    }
};

// Values for what was not read: the mean side, and an equal share of what the angle sum leaves.
struct Usual {
    double side_mm = 0.0;
    double angle_deg = 0.0;

    Usual(const Network& network, const ByPlace& read) {
        double length_sum = 0.0, angle_sum = 0.0;
        std::size_t lengths = 0, angles = 0;
        for (const auto& side : read.side_mm) {
            if (side) length_sum += *side, ++lengths;
        }
        for (const auto& angle : read.angle_deg) {
            if (angle) angle_sum += *angle, ++angles;
        }
        if (lengths == 0) {
            for (const Observation& o : network.observations) {
                if (o.kind == Observation::Kind::distance) length_sum += o.value, ++lengths;
            }
        }
        side_mm = lengths > 0 ? length_sum / static_cast<double>(lengths) : 1000.0;
        const double n = static_cast<double>(network.corners);
        const double left = 180.0 * (n - 2.0) - angle_sum;
        angle_deg = angles < network.corners ? left / (n - static_cast<double>(angles)) : 90.0;
        if (!(angle_deg > 20.0 && angle_deg < 340.0)) angle_deg = 180.0 - 360.0 / n;
    }
};

// Builds the points one after another, each by what is best known of it.
class Placing {
public:
    Placing(const Network& network, const ByPlace& read, const Usual& usual, std::size_t first, unsigned branches)
        : network_(network),
          read_(read),
          usual_(usual),
          branches_(branches),
          at_(network.points),
          placed_(network.points, false) {
        const std::size_t second = network.next(first);
        put(first, {});
        put(second, {read.side_mm[first].value_or(usual.side_mm), 0.0});
        while (count_ < network.points) {
            if (!by_angle_and_side() && !by_distances() && !as_usual()) put_anywhere();
        }
    }

    // A at the origin, B along +x.
    [[nodiscard]] std::vector<Vec2> points() const {
        std::vector<Vec2> points = at_;
        const Vec2 way = at_[1] - at_[0];
        const double size = length(way);
        for (Vec2& p : points) {
            const Vec2 arm = p - at_[0];
            p = size > 0.0 ? Vec2{dot(arm, way) / size, cross(way, arm) / size} : arm;
        }
        points[0] = {};
        points[1].y = 0.0;
        if (points[1].x <= 0.0) points[1].x = usual_.side_mm;
        return points;
    }

private:
    void put(std::size_t point, Vec2 at) {
        at_[point] = at;
        placed_[point] = true;
        ++count_;
    }

    [[nodiscard]] std::optional<double> side_between(std::size_t a, std::size_t b) const {
        return network_.next(a) == b ? read_.side_mm[a] : read_.side_mm[b];
    }

    // The corner beside `corner` on its `ahead` side, seen from the one on its other side, `angle_deg` at the corner.
    void put_beside(std::size_t corner, bool ahead, double side_mm, double angle_deg) {
        const std::size_t known = ahead ? network_.before(corner) : network_.next(corner);
        const std::size_t wanted = ahead ? network_.next(corner) : network_.before(corner);
        const double seen_deg = direction_deg(at_[known] - at_[corner]);
        // From the next corner left round by the angle lies the one before.
        put(wanted, at_[corner] + side_mm * unit_deg(ahead ? seen_deg - angle_deg : seen_deg + angle_deg));
    }

    // Corners at which one neighbour is placed and the other is not.
    template <class Use>
    bool at_ends(Use use) {
        for (std::size_t c = 0; c < network_.corners; ++c) {
            if (!placed_[c]) continue;
            for (const bool ahead : {true, false}) {
                const std::size_t known = ahead ? network_.before(c) : network_.next(c);
                const std::size_t wanted = ahead ? network_.next(c) : network_.before(c);
                if (placed_[known] && !placed_[wanted] && use(c, ahead, side_between(c, wanted))) return true;
            }
        }
        return false;
    }

    bool by_angle_and_side() {
        return at_ends([&](std::size_t c, bool ahead, std::optional<double> side_mm) {
            if (!side_mm || !read_.angle_deg[c]) return false;
            put_beside(c, ahead, *side_mm, *read_.angle_deg[c]);
            return true;
        });
    }

    bool as_usual() {
        for (const int wanted : {1, 0}) {  // one value short, then both
            const bool done = at_ends([&](std::size_t c, bool ahead, std::optional<double> side_mm) {
                if ((side_mm ? 1 : 0) + (read_.angle_deg[c] ? 1 : 0) < wanted) return false;
                put_beside(c, ahead, side_mm.value_or(usual_.side_mm), read_.angle_deg[c].value_or(usual_.angle_deg));
                return true;
            });
            if (done) return true;
        }
        return false;
    }

    [[nodiscard]] double off_by_distances(std::size_t point, Vec2 at) const {
        double sum = 0.0;
        for (const auto& [other, mm] : read_.distances[point]) {
            if (placed_[other]) sum += std::abs(length(at - at_[other]) - mm);
        }
        return sum;
    }

    // + where the three points run left round in ring order, as a ring without inward corners does.
    [[nodiscard]] bool in_ring_order(std::size_t a, std::size_t b, std::size_t point, Vec2 at) const {
        if (std::max({a, b, point}) >= network_.corners) return true;
        const double turn = cross(at_[b] - at_[a], at - at_[a]);
        const bool cyclic = (a < b && (point > b || point < a)) || (a > b && point > b && point < a);
        return cyclic ? turn > 0.0 : turn < 0.0;
    }

    bool by_distances() {
        for (std::size_t p = 0; p < network_.points; ++p) {
            if (placed_[p]) continue;
            // The two widest apart cross at the best angle.
            std::vector<std::pair<std::size_t, double>> from;
            for (const auto& d : read_.distances[p]) {
                const bool again = std::any_of(from.begin(), from.end(), [&](const auto& f) { return f.first == d.first; });
                if (placed_[d.first] && !again) from.push_back(d);
            }
            if (from.size() < 2) continue;
            std::size_t i = 0, j = 1;
            double widest = -1.0;
            for (std::size_t a = 0; a < from.size(); ++a) {
                for (std::size_t b = a + 1; b < from.size(); ++b) {
                    const double apart = length(at_[from[a].first] - at_[from[b].first]);
                    if (apart > widest) widest = apart, i = a, j = b;
                }
            }
            if (!(widest > 0.0)) continue;
            const Vec2 a = at_[from[i].first];
            const Vec2 e = (1.0 / widest) * (at_[from[j].first] - a);
            const double r = from[i].second, s = from[j].second;
            const double along = 0.5 * (widest + (r * r - s * s) / widest);
            const double across = std::sqrt(std::max(r * r - along * along, 1e-4 * r * r));
            const Vec2 left = a + along * e + across * left_of(e);
            const Vec2 right = a + along * e - across * left_of(e);
            bool take_left = in_ring_order(from[i].first, from[j].first, p, left);
            const double off_left = off_by_distances(p, left), off_right = off_by_distances(p, right);
            const bool told = from.size() > 2 && std::abs(off_left - off_right) > 0.02 * widest;
            if (told) take_left = off_left < off_right;
            if (!told && (branches_ & (1U << guesses_++)) != 0) take_left = !take_left;
            put(p, take_left ? left : right);
            return true;
        }
        return false;
    }

    // A peg with too few distances: beside what it hangs on.
    void put_anywhere() {
        for (std::size_t p = 0; p < network_.points; ++p) {
            if (placed_[p]) continue;
            const bool hangs = !read_.distances[p].empty() && placed_[read_.distances[p].front().first];
            const double reach_mm = hangs ? read_.distances[p].front().second : usual_.side_mm;
            put(p, (hangs ? at_[read_.distances[p].front().first] : Vec2{}) + reach_mm * unit_deg(-37.0));
            return;
        }
    }

    const Network& network_;
    const ByPlace& read_;
    const Usual& usual_;
    unsigned branches_;
    unsigned guesses_ = 0;
    std::vector<Vec2> at_;
    std::vector<bool> placed_;
    std::size_t count_ = 0;
};

// Turned about A so that what was read against level fits best: the best of the turns at which one of those readings does.
void turn_to_level(const Network& network, std::vector<Vec2>& points_mm) {
    const auto turned_by = [&](double deg) {
        std::vector<Vec2> there;
        for (const Vec2 p : points_mm) there.push_back(turned(p, cos_deg(deg), sin_deg(deg)));
        return there;
    };
    double best = 0.0, least = -1.0;
    for (const Observation& o : network.observations) {
        const bool rises = o.kind == Observation::Kind::height;
        if (!rises && o.kind != Observation::Kind::sideways) continue;
        const Vec2 way = points_mm[o.b] - points_mm[o.a];
        const double size = length(way);
        if (!(size > 0.0)) continue;
        const double slope = degrees(std::asin(std::clamp(o.value / size, -1.0, 1.0)));
        for (const double wanted : {rises ? slope : 90.0 - slope, rises ? 180.0 - slope : slope - 90.0}) {
            const double deg = wrapped_deg(wanted - direction_deg(way));
            const std::vector<Vec2> there = turned_by(deg);
            double sum = 0.0;
            for (const Observation& other : network.observations) {
                if (other.kind == Observation::Kind::distance || other.kind == Observation::Kind::angle) continue;
                const double off = residual_of(other, there) / other.sigma;
                sum += off * off;
            }
            const bool as_good = least >= 0.0 && std::abs(sum - least) <= 1e-6 * (1.0 + least);
            if (least < 0.0 || (as_good ? std::abs(deg) < std::abs(best) : sum < least)) best = deg, least = sum;
        }
    }
    points_mm = turned_by(best);
}

bool runs_clockwise(const Network& network, const std::vector<Vec2>& points_mm) {
    double area = 0.0;
    for (std::size_t c = 0; c < network.corners; ++c) area += cross(points_mm[c], points_mm[network.next(c)]);
    return area < 0.0;
}

}  // namespace

std::vector<std::vector<Vec2>> fit_starts(const Network& network, std::size_t most) {
    const ByPlace read(network);
    const Usual usual(network, read);
    std::vector<std::pair<std::size_t, unsigned>> ways;  // first corner, branches
    const std::size_t n = network.corners;
    const std::size_t last_first = network.closed ? n : n - 1;
    for (const auto& [part, branches] :
         {std::pair{0U, 0U}, {2U, 0U}, {1U, 0U}, {0U, 1U}, {0U, 2U}, {0U, 3U}, {3U, 0U}, {0U, 4U}}) {
        const std::pair way{part * last_first / 4 % n, branches};
        if (std::find(ways.begin(), ways.end(), way) == ways.end()) ways.push_back(way);
    }
    // The walk leaves the angles of two corners out. Whichever angle is badly wrong, some first corner leaves it out.
    for (std::size_t first = 0; first < last_first; ++first) {
        if (std::find(ways.begin(), ways.end(), std::pair{first, 0U}) == ways.end()) ways.emplace_back(first, 0U);
    }
    std::vector<std::vector<Vec2>> starts;
    for (const auto& [first, branches] : ways) {
        if (starts.size() == most) break;
        std::vector<Vec2> points = Placing(network, read, usual, first, branches).points();
        if (network.closed && runs_clockwise(network, points)) {
            for (Vec2& p : points) p.y = 0.0 - p.y;
        }
        if (network.levelled()) turn_to_level(network, points);
        if (std::find(starts.begin(), starts.end(), points) == starts.end()) starts.push_back(std::move(points));
    }
    return starts;
}

}  // namespace boardring
