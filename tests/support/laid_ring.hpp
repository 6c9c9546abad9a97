#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "base/vec2.hpp"
#include "closure/contact.hpp"
#include "frame/frame.hpp"

// A ring laid board by board with numbers of its own, to judge the engine's answer by: of engine/closure it knows nothing but where the
// faces of a joint touch.

namespace boardring_test::laid_ring {

using boardring::Board;
using boardring::cross;
using boardring::dot;
using boardring::Frame;
using boardring::JointContact;
using boardring::kPi;
using boardring::radians;
using boardring::Vec2;

struct Place {
    double x = 0.0;
    double y = 0.0;
    double turn = 0.0;
};

inline Vec2 put(const Place& place, Vec2 own) {
    const double c = std::cos(place.turn);
    const double s = std::sin(place.turn);
    return {place.x + c * own.x - s * own.y, place.y + s * own.x + c * own.y};
}

struct Misfit {
    double gap_in = 0.0;
    double gap_out = 0.0;
    double lip_in = 0.0;
};

inline Misfit seen(const Place& own, const Place& other, const JointContact& contact) {
    const Vec2 p = put(own, contact.own.inner_mm);
    const Vec2 q = put(own, contact.own.outer_mm);
    const Vec2 c = put(other, contact.other.inner_mm);
    const Vec2 d = put(other, contact.other.outer_mm);
    const double face = std::hypot(q.x - p.x, q.y - p.y);
    const Vec2 e{(q.x - p.x) / face, (q.y - p.y) / face};
    return {(c.x - p.x) * e.y - (c.y - p.y) * e.x, (d.x - q.x) * e.y - (d.y - q.y) * e.x, (c.x - p.x) * e.x + (c.y - p.y) * e.y};
}

// The own board's place so that the joint shows this misfit.
inline Place laid(const Place& other, const JointContact& contact, const Misfit& misfit) {
    const double left = std::asin((misfit.gap_out - misfit.gap_in) / contact.other.face_mm);
    Place own;
    own.turn = other.turn + contact.other.theta_rad - contact.own.theta_rad + left;
    const double face_rad = own.turn + contact.own.theta_rad;
    const Vec2 e{std::cos(face_rad), std::sin(face_rad)};
    const Vec2 c = put(other, contact.other.inner_mm);
    const Vec2 p{c.x - misfit.gap_in * e.y - misfit.lip_in * e.x, c.y + misfit.gap_in * e.x - misfit.lip_in * e.y};
    const Vec2 own_p = put({0.0, 0.0, own.turn}, contact.own.inner_mm);
    own.x = p.x - own_p.x;
    own.y = p.y - own_p.y;
    return own;
}

// Where the chain puts board 0 the second time, against where it lies: 0, 0, 0 if the ring closes.
inline std::array<double, 3> once_round(const std::vector<JointContact>& contacts, const std::vector<Misfit>& misfits, Vec2 about) {
    Place place;
    const std::size_t n = contacts.size();
    for (std::size_t k = 1; k <= n; ++k) place = laid(place, contacts[k % n], misfits[k % n]);
    const Vec2 there = put(place, about);
    return {there.x - about.x, there.y - about.y, place.turn - 2.0 * kPi};
}

using Row = std::vector<double>;

// Plain elimination with row choice. Nothing if singular.
inline std::optional<Row> solve(std::vector<Row> m, Row b) {
    const std::size_t n = b.size();
    for (std::size_t i = 0; i < n; ++i) {
        std::size_t best = i;
        for (std::size_t r = i + 1; r < n; ++r) {
            if (std::abs(m[r][i]) > std::abs(m[best][i])) best = r;
        }
        if (std::abs(m[best][i]) < 1e-11) return std::nullopt;
        std::swap(m[i], m[best]);
        std::swap(b[i], b[best]);
        for (std::size_t r = i + 1; r < n; ++r) {
            const double f = m[r][i] / m[i][i];
            if (f == 0.0) continue;
            for (std::size_t k = i; k < n; ++k) m[r][k] -= f * m[i][k];
            b[r] -= f * b[i];
        }
    }
    for (std::size_t i = n; i-- > 0;) {
        for (std::size_t k = i + 1; k < n; ++k) b[i] -= m[i][k] * b[k];
        b[i] /= m[i][i];
    }
    return b;
}

// The mean of all inner points.
inline Vec2 middle_of(const std::vector<JointContact>& contacts, const std::vector<Misfit>& misfits) {
    const std::size_t n = contacts.size();
    Vec2 sum;
    Place place;
    for (std::size_t k = 1; k <= n; ++k) {
        sum = sum + put(place, contacts[k % n].other.inner_mm);
        place = laid(place, contacts[k % n], misfits[k % n]);
    }
    return (1.0 / static_cast<double>(n)) * sum;
}

// The condition of a minimum (Karush, Kuhn, Tucker): one force for all joints. How each number moves the end of the chain is
// measured by moving it; the force is fitted to all lips and open gaps; then lips and open gaps must be what it says, and
// shut gaps must be pressed shut by it. Returns by how much that is not so, as a part of the largest opening; nothing if
// nothing opens, or if lips and open gaps do not determine the force.
inline std::optional<double> off_condition(const std::vector<JointContact>& contacts, std::vector<Misfit> misfits, Vec2 about,
                                    double perimeter) {
    const double radius = perimeter / (2.0 * kPi);
    double largest = 0.0;
    std::vector<std::array<double, 3>> moves;
    std::vector<double> values;
    for (std::size_t c = 0; c < misfits.size(); ++c) {
        for (double* x : {&misfits[c].gap_in, &misfits[c].gap_out, &misfits[c].lip_in}) {
            const double was = *x;
            const double h = 1e-5 * contacts[c].other.face_mm;
            *x = was + h;
            const auto up = once_round(contacts, misfits, about);
            *x = was - h;
            const auto down = once_round(contacts, misfits, about);
            *x = was;
            const double per = 1.0 / (2.0 * h);
            moves.push_back({per * (up[0] - down[0]), per * (up[1] - down[1]), per * radius * (up[2] - down[2])});
            values.push_back(was);
            largest = std::max(largest, std::abs(was));
        }
    }
    if (largest < 1e-9 * perimeter) return std::nullopt;
    const auto open = [&](std::size_t i) { return i % 3 == 2 || values[i] > 1e-7 * largest; };
    // Each row in its own scale: a gap moves the end R / face times as far as a lip does.
    std::vector<Row> square(3, Row(3));
    Row right(3);
    for (std::size_t i = 0; i < moves.size(); ++i) {
        if (!open(i)) continue;
        const double size2 = moves[i][0] * moves[i][0] + moves[i][1] * moves[i][1] + moves[i][2] * moves[i][2];
        for (std::size_t r = 0; r < 3; ++r) {
            right[r] += moves[i][r] * values[i] / size2;
            for (std::size_t k = 0; k < 3; ++k) square[r][k] += moves[i][r] * moves[i][k] / size2;
        }
    }
    const std::optional<Row> force = solve(square, right);
    if (!force) return std::nullopt;
    double worst = 0.0;
    for (std::size_t i = 0; i < moves.size(); ++i) {
        const double says = moves[i][0] * (*force)[0] + moves[i][1] * (*force)[1] + moves[i][2] * (*force)[2];
        worst = std::max(worst, open(i) ? std::abs(says - values[i]) : says - values[i]);
    }
    return worst / largest;
}

// ---- The spread problem in the places of the boards instead of the openings of the joints: no closure equations, board 0 fixed,
// every misfit a function of two places; and instead of a dual every set of shut gaps tried.

class BoardByBoard {
public:
    explicit BoardByBoard(const std::vector<JointContact>& contacts) : contacts_(contacts) {}

    [[nodiscard]] Row misfits(const std::vector<Place>& places) const {
        const std::size_t n = places.size();
        Row y;
        for (std::size_t c = 0; c < n; ++c) {
            const Misfit m = seen(places[c], places[c == 0 ? n - 1 : c - 1], contacts_[c]);
            y.insert(y.end(), {m.gap_in, m.gap_out, m.lip_in});
        }
        return y;
    }

    /// The step that solves the problem linearised at these places; turns in units of `radius`.
    [[nodiscard]] Row best_step(const std::vector<Place>& places, double radius) const {
        const std::size_t n = places.size();
        const std::size_t unknowns = 3 * (n - 1);
        const Row y = misfits(places);
        std::vector<Row> slope(y.size(), Row(unknowns));
        const double h = 1e-4 * radius;
        for (std::size_t u = 0; u < unknowns; ++u) {
            const Row up = misfits(moved(places, u, h, radius));
            const Row down = misfits(moved(places, u, -h, radius));
            for (std::size_t r = 0; r < y.size(); ++r) slope[r][u] = (up[r] - down[r]) / (2.0 * h);
        }
        std::vector<Row> square(unknowns, Row(unknowns));
        Row pull(unknowns);
        for (std::size_t r = 0; r < y.size(); ++r) {
            for (std::size_t i = 0; i < unknowns; ++i) {
                pull[i] -= slope[r][i] * y[r];
                for (std::size_t k = 0; k < unknowns; ++k) square[i][k] += slope[r][i] * slope[r][k];
            }
        }
        double best_size = HUGE_VAL;
        Row best;
        for (std::size_t shut = 0; shut < (std::size_t{1} << (2 * n)); ++shut) {
            std::vector<std::size_t> rows;
            for (std::size_t g = 0; g < 2 * n; ++g) {
                if (((shut >> g) & 1U) != 0) rows.push_back(3 * (g / 2) + g % 2);
            }
            if (rows.size() > unknowns) continue;
            const std::size_t size = unknowns + rows.size();
            std::vector<Row> m(size, Row(size));
            Row b(size);
            for (std::size_t i = 0; i < unknowns; ++i) {
                b[i] = pull[i];
                std::copy(square[i].begin(), square[i].end(), m[i].begin());
            }
            for (std::size_t i = 0; i < rows.size(); ++i) {
                b[unknowns + i] = -y[rows[i]];
                for (std::size_t k = 0; k < unknowns; ++k) m[unknowns + i][k] = m[k][unknowns + i] = slope[rows[i]][k];
            }
            const std::optional<Row> z = solve(std::move(m), std::move(b));
            if (!z) continue;
            double total = 0.0;
            bool fits = true;
            for (std::size_t r = 0; r < y.size() && fits; ++r) {
                double v = y[r];
                for (std::size_t k = 0; k < unknowns; ++k) v += slope[r][k] * (*z)[k];
                total += v * v;
                fits = r % 3 == 2 || v > -1e-9;
            }
            if (fits && total < best_size) {
                best_size = total;
                best = Row(z->begin(), z->begin() + static_cast<std::ptrdiff_t>(unknowns));
            }
        }
        return best;
    }

    static std::vector<Place> moved(std::vector<Place> places, std::size_t unknown, double by, double radius) {
        Place& place = places[1 + unknown / 3];
        if (unknown % 3 == 0) place.x += by;
        if (unknown % 3 == 1) place.y += by;
        if (unknown % 3 == 2) place.turn += by / radius;
        return places;
    }

private:
    const std::vector<JointContact>& contacts_;
};

// Where the plan has the boards, board 0 at the origin along +x.
inline std::vector<Place> planned(const Frame& frame) {
    std::vector<Place> places;
    const Board& first = frame.boards.front();
    double turn = 0.0;
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        if (k > 0) turn += radians(180.0 - frame.joints[k].interior_deg);
        const Vec2 d = frame.boards[k].corner_mm - first.corner_mm;
        places.push_back({dot(d, first.along), cross(first.along, d), turn});
    }
    return places;
}

}  // namespace boardring_test::laid_ring
