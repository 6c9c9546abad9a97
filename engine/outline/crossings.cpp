#include "outline/crossings.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numeric>
#include <set>
#include <utility>

namespace boardring {
namespace {

// A sum of doubles kept exactly: parts that do not overlap, smallest first.
class ExactSum {
public:
    void add(double term) {
        std::size_t kept = 0;
        for (std::size_t i = 0; i < size_; ++i) {
            const double sum = term + part_[i];
            const double back = sum - term;
            const double lost = (term - (sum - back)) + (part_[i] - back);
            if (lost != 0.0) part_[kept++] = lost;
            term = sum;
        }
        // A nought would hide what is smaller: 2^60 + 1 less 2^60 leaves 1, then 0.
        if (term != 0.0) part_[kept++] = term;
        size_ = kept;
    }
    void add_product(double a, double b) {
        const double product = a * b;
        add(std::fma(a, b, -product));
        add(product);
    }
    [[nodiscard]] int sign() const {
        if (size_ == 0) return 0;
        return part_[size_ - 1] > 0.0 ? 1 : -1;
    }

private:
    std::array<double, 16> part_{};
    std::size_t size_ = 0;
};

bool before(Vec2 a, Vec2 b) {
    return a.x < b.x || (a.x == b.x && a.y < b.y);
}

// Sides of a line of corners, each known by its number.
class Sides {
public:
    Sides(const std::vector<Vec2>& corners_mm, bool closed) : corners_(corners_mm), closed_(closed) {}

    [[nodiscard]] std::size_t count() const { return closed_ ? corners_.size() : corners_.size() - 1; }
    [[nodiscard]] std::size_t last_corner(std::size_t side) const { return side + 1 == corners_.size() ? 0 : side + 1; }
    [[nodiscard]] Vec2 start(std::size_t side) const { return corners_[side]; }
    [[nodiscard]] Vec2 end(std::size_t side) const { return corners_[last_corner(side)]; }
    [[nodiscard]] Vec2 left(std::size_t side) const { return before(start(side), end(side)) ? start(side) : end(side); }
    [[nodiscard]] Vec2 right(std::size_t side) const { return before(start(side), end(side)) ? end(side) : start(side); }

    // Corner that a and b share as neighbours; sides of a triangle are neighbours at one corner a pair.
    [[nodiscard]] std::optional<std::size_t> shared_corner(std::size_t a, std::size_t b) const {
        if (last_corner(a) == b && b < count()) return b;
        if (last_corner(b) == a && a < count()) return a;
        return std::nullopt;
    }

    [[nodiscard]] std::optional<Crossing> meet(std::size_t a, std::size_t b) const {
        if (a > b) std::swap(a, b);
        if (const std::optional<std::size_t> corner = shared_corner(a, b)) return fold(a, b, *corner);
        const int a_start = side_of_line(start(b), end(b), start(a));
        const int a_end = side_of_line(start(b), end(b), end(a));
        const int b_start = side_of_line(start(a), end(a), start(b));
        const int b_end = side_of_line(start(a), end(a), end(b));
        if (a_start * a_end < 0 && b_start * b_end < 0) return Crossing{a, b, cut(a, b)};
        if (a_start == 0 && on(b, start(a))) return Crossing{a, b, start(a)};
        if (a_end == 0 && on(b, end(a))) return Crossing{a, b, end(a)};
        if (b_start == 0 && on(a, start(b))) return Crossing{a, b, start(b)};
        if (b_end == 0 && on(a, end(b))) return Crossing{a, b, end(b)};
        return std::nullopt;
    }

private:
    // A point of the side's line lies on the side itself.
    [[nodiscard]] bool on(std::size_t side, Vec2 p) const { return !before(p, left(side)) && !before(right(side), p); }

    [[nodiscard]] std::optional<Crossing> fold(std::size_t a, std::size_t b, std::size_t corner) const {
        const Vec2 p = corners_[corner];
        const Vec2 q = start(a) == p ? end(a) : start(a);
        const Vec2 r = start(b) == p ? end(b) : start(b);
        if (side_of_line(q, p, r) != 0 || before(p, q) != before(p, r)) return std::nullopt;
        return Crossing{a, b, p};
    }

    [[nodiscard]] Vec2 cut(std::size_t a, std::size_t b) const {
        const Vec2 along = end(a) - start(a);
        const Vec2 other = end(b) - start(b);
        const double part = cross(start(b) - start(a), other) / cross(along, other);
        return start(a) + std::clamp(part, 0.0, 1.0) * along;
    }

    const std::vector<Vec2>& corners_;
    bool closed_;
};

// Order of two sides where the sweep line cuts both: true if a lies below b. Right while no crossing has been passed.
class Below {
public:
    Below(const Sides& sides, std::optional<Crossing>& found) : sides_(&sides), found_(&found) {}

    bool operator()(std::size_t a, std::size_t b) const {
        if (a == b) return false;
        const Vec2 a_left = sides_->left(a);
        const Vec2 b_left = sides_->left(b);
        if (a_left == b_left) return decide(side_of_line(a_left, sides_->right(a), sides_->right(b)), a, b);
        if (before(a_left, b_left)) return decide(side_of_line(a_left, sides_->right(a), b_left), a, b);
        return decide(-side_of_line(b_left, sides_->right(b), a_left), a, b);
    }

private:
    bool decide(int b_above, std::size_t a, std::size_t b) const {
        if (b_above != 0) return b_above > 0;
        if (!*found_) *found_ = sides_->meet(a, b);
        return a < b;
    }

    const Sides* sides_;
    std::optional<Crossing>* found_;
};

}  // namespace

int side_of_line(Vec2 a, Vec2 b, Vec2 c) {
    const double left = (a.x - c.x) * (b.y - c.y);
    const double right = (a.y - c.y) * (b.x - c.x);
    const double value = left - right;
    // Six roundings, each half a unit in the last place (u) of at most |left| + |right|: (3 + 16 u) u is enough.
    constexpr double kUnit = 0x1.0p-53;
    const double bound = (3.0 + 16.0 * kUnit) * kUnit * (std::abs(left) + std::abs(right));
    if (std::abs(value) > bound) return value > 0.0 ? 1 : -1;
    ExactSum sum;
    sum.add_product(a.x, b.y);
    sum.add_product(-a.x, c.y);
    sum.add_product(-c.x, b.y);
    sum.add_product(-a.y, b.x);
    sum.add_product(a.y, c.x);
    sum.add_product(c.y, b.x);
    return sum.sign();
}

std::optional<Crossing> first_crossing(const std::vector<Vec2>& corners_mm, bool closed) {
    const Sides sides(corners_mm, closed);
    std::vector<std::size_t> order(corners_mm.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return before(corners_mm[a], corners_mm[b]); });

    std::optional<Crossing> found;
    using Status = std::set<std::size_t, Below>;
    Status status(Below(sides, found));
    std::vector<Status::iterator> place(sides.count(), status.end());
    for (const std::size_t corner : order) {
        std::array<std::size_t, 2> at{};
        std::size_t number = 0;
        if (corner < sides.count()) at[number++] = corner;
        if (closed || corner > 0) at[number++] = corner == 0 ? corners_mm.size() - 1 : corner - 1;
        // What ends here leaves first, so that what starts here is compared with sides that run on.
        for (std::size_t i = 0; i < number; ++i) {
            const std::size_t side = at[i];
            if (!(sides.right(side) == corners_mm[corner])) continue;
            const auto next = std::next(place[side]);
            if (place[side] != status.begin() && next != status.end()) found = sides.meet(*std::prev(place[side]), *next);
            status.erase(place[side]);
            if (found) return found;
        }
        for (std::size_t i = 0; i < number; ++i) {
            const std::size_t side = at[i];
            if (!(sides.left(side) == corners_mm[corner])) continue;
            const auto put = status.insert(side).first;
            if (found) return found;
            place[side] = put;
            if (put != status.begin()) found = sides.meet(*std::prev(put), side);
            if (!found && std::next(put) != status.end()) found = sides.meet(side, *std::next(put));
            if (found) return found;
        }
    }
    return std::nullopt;
}

std::vector<Crossing> all_crossings(const std::vector<Vec2>& corners_mm, bool closed, std::size_t most) {
    const Sides sides(corners_mm, closed);
    std::vector<Crossing> found;
    for (std::size_t a = 0; a < sides.count(); ++a) {
        for (std::size_t b = a + 1; b < sides.count() && found.size() < most; ++b) {
            if (const std::optional<Crossing> crossing = sides.meet(a, b)) found.push_back(*crossing);
        }
    }
    return found;
}

std::vector<RepeatedCorner> repeated_corners(const std::vector<Vec2>& corners_mm, bool closed, double within_mm) {
    const std::size_t n = corners_mm.size();
    std::vector<std::size_t> order(n);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return before(corners_mm[a], corners_mm[b]) || (corners_mm[a] == corners_mm[b] && a < b);
    });
    // A strip as wide as the distance moves over the corners; those in it lie in order of y.
    std::set<std::pair<double, std::size_t>> strip;
    std::vector<RepeatedCorner> found;
    std::size_t oldest = 0;
    for (const std::size_t c : order) {
        const Vec2 p = corners_mm[c];
        for (; corners_mm[order[oldest]].x < p.x - within_mm; ++oldest) strip.erase({corners_mm[order[oldest]].y, order[oldest]});
        for (auto near = strip.lower_bound({p.y - within_mm, 0}); near != strip.end() && near->first <= p.y + within_mm; ++near) {
            const auto [low, high] = std::minmax(near->second, c);
            const bool neighbours = high - low == 1 || (closed && low == 0 && high + 1 == n);
            if (!neighbours && length(corners_mm[low] - corners_mm[high]) <= within_mm) found.push_back({low, high});
            if (found.size() > n) break;  // all corners in one place: enough said
        }
        strip.insert({p.y, c});
    }
    std::sort(found.begin(), found.end(), [](const RepeatedCorner& a, const RepeatedCorner& b) {
        return a.again != b.again ? a.again < b.again : a.first < b.first;
    });
    found.erase(std::unique(found.begin(), found.end(),
                            [](const RepeatedCorner& a, const RepeatedCorner& b) { return a.again == b.again; }),
                found.end());
    return found;
}

}  // namespace boardring
