// Notation. Force F (two numbers) and moment M about the fixed point X go through every joint. At a joint whose other board
// lies known, C is that board's inner point; the moment about C is  t = left(X - C).F + M.  With the angle left d, the face
// direction e(d), m(d) and the lever l(d) = face cos d of the outer gap:
//     gap_out = cut(t / l)      gap_in = cut(-m.F - t / l)      lip_in = -e.F            (cut: below 0 is 0)
// and d itself is the root of  f(d) = gap_in + face sin d - gap_out.  All values carry their derivatives by (F, M).
#include "closure/force_walk.hpp"

#include <array>
#include <cmath>
#include <utility>

#include "base/angle.hpp"

namespace boardring {
namespace {

constexpr int kMostSteps = 12;
constexpr int kMostHalvings = 6;
constexpr int kMostLocalSteps = 30;

// A value and its derivatives by the three numbers of the force.
struct Graded {
    double value = 0.0;
    Twist by{};
};

Graded operator+(Graded a, const Graded& b) {
    a.value += b.value;
    for (std::size_t i = 0; i < 3; ++i) a.by[i] += b.by[i];
    return a;
}
Graded operator*(double s, Graded a) {
    a.value *= s;
    for (double& d : a.by) d *= s;
    return a;
}
Graded operator-(const Graded& a, const Graded& b) { return a + -1.0 * b; }
Graded operator*(const Graded& a, const Graded& b) {
    Graded product{a.value * b.value, {}};
    for (std::size_t i = 0; i < 3; ++i) product.by[i] = a.by[i] * b.value + a.value * b.by[i];
    return product;
}
// A function of a, given its value and derivative there.
Graded through(double value, double slope, const Graded& a) {
    Graded result = slope * a;
    result.value = value;
    return result;
}
Graded constant(double value) { return {value, {}}; }
Graded cut(const Graded& a) { return a.value > 0.0 ? a : Graded{}; }

struct GradedVec {
    Graded x;
    Graded y;
};

GradedVec operator+(const GradedVec& a, const GradedVec& b) { return {a.x + b.x, a.y + b.y}; }
GradedVec operator-(const GradedVec& a, const GradedVec& b) { return {a.x - b.x, a.y - b.y}; }
GradedVec operator*(const Graded& s, const GradedVec& a) { return {s * a.x, s * a.y}; }
Graded dot(const GradedVec& a, const GradedVec& b) { return a.x * b.x + a.y * b.y; }
GradedVec left_of(const GradedVec& a) { return {-1.0 * a.y, a.x}; }
GradedVec right_of(const GradedVec& a) { return {a.y, -1.0 * a.x}; }
GradedVec unit_rad(const Graded& rad) {
    const double c = std::cos(rad.value);
    const double s = std::sin(rad.value);
    return {through(c, -s, rad), through(s, c, rad)};
}
// An own point of a board whose x axis is `along`, from the board's origin.
GradedVec seen(Vec2 own, const GradedVec& along) {
    return {own.x * along.x - own.y * along.y, own.y * along.x + own.x * along.y};
}

struct Force {
    GradedVec force;
    Graded moment;
};

Force graded(const Twist& force) {
    return {{{force[0], {1.0, 0.0, 0.0}}, {force[1], {0.0, 1.0, 0.0}}}, {force[2], {0.0, 0.0, 1.0}}};
}

// f(d) of the notation, and its derivative by d, at a joint whose face has the direction face_rad + d.
struct Fit {
    double misfit_mm = 0.0;
    double slope_mm = 0.0;
    double gap_in_mm = 0.0;
};

Fit fit_at(double face_mm, double face_rad, double left_rad, Vec2 force, double moment) {
    const Vec2 e{std::cos(face_rad + left_rad), std::sin(face_rad + left_rad)};
    const Vec2 m = boardring::right_of(e);
    const double lever = face_mm * std::cos(left_rad);
    const double share = moment / lever;
    const double share_slope = share * std::tan(left_rad);
    Fit fit;
    fit.slope_mm = lever;
    double gap_out = 0.0;
    if (share > 0.0) {
        gap_out = share;
        fit.slope_mm -= share_slope;
    }
    const double press = -boardring::dot(m, force) - share;
    if (press > 0.0) {
        fit.gap_in_mm = press;
        fit.slope_mm += -boardring::dot(e, force) - share_slope;
    }
    fit.misfit_mm = fit.gap_in_mm + face_mm * std::sin(left_rad) - gap_out;
    return fit;
}

struct March {
    std::vector<JointState> states;
    std::array<Graded, 3> missed;  // dx, dy, turn, as in spread.cpp
    bool sound = true;
};

class Marcher {
public:
    Marcher(const std::vector<JointContact>& contacts, const std::vector<JointState>& states, Vec2 about_mm)
        : contacts_(contacts), starts_(states), about_mm_(about_mm) {}

    [[nodiscard]] March march(const Twist& twist) const {
        const std::size_t n = contacts_.size();
        March result;
        result.states.resize(n);
        Place place{{}, {}, {constant(1.0), {}}};
        for (std::size_t k = 1; k <= n && result.sound; ++k) place = next(place, k % n, graded(twist), result);
        const GradedVec shift = about() - place.origin - seen(about_mm_, place.along);
        result.missed = {shift.x, shift.y, constant(2.0 * kPi) - place.heading};
        return result;
    }

private:
    struct Place {
        GradedVec origin;
        Graded heading;
        GradedVec along;
    };

    const std::vector<JointContact>& contacts_;
    const std::vector<JointState>& starts_;
    Vec2 about_mm_;

    [[nodiscard]] GradedVec about() const { return {constant(about_mm_.x), constant(about_mm_.y)}; }

    // The root of f near where the first-order answer has it.
    static double solve_left(double face_mm, double face_rad, double left_rad, Vec2 force, double moment) {
        for (int i = 0; i < kMostLocalSteps; ++i) {
            const Fit fit = fit_at(face_mm, face_rad, left_rad, force, moment);
            const double step = fit.misfit_mm / fit.slope_mm;
            left_rad -= step;
            if (std::abs(step) <= 1e-15 || !std::isfinite(left_rad)) break;
        }
        return left_rad;
    }

    Place next(const Place& other, std::size_t c, const Force& f, March& result) const {
        const JointContact& contact = contacts_[c];
        const double face_mm = contact.other.face_mm;
        const GradedVec inner = other.origin + seen(contact.other.inner_mm, other.along);
        const Graded moment = dot(left_of(about() - inner), f.force) + f.moment;
        const Graded tight = other.heading + constant(contact.turn_rad());
        const double face_rad = tight.value + contact.own.theta_rad;
        const Vec2 force{f.force.x.value, f.force.y.value};
        const double left_rad = solve_left(face_mm, face_rad, starts_[c].left_rad, force, moment.value);
        const Fit fit = fit_at(face_mm, face_rad, left_rad, force, moment.value);
        result.sound = std::isfinite(left_rad) && std::abs(left_rad) < 0.5 * kPi && fit.slope_mm != 0.0;
        if (!result.sound) return other;

        // f(d, force) = 0 gives d's derivatives: f without d's own share, over f'.
        const Graded share_held = (1.0 / (face_mm * std::cos(left_rad))) * moment;
        const GradedVec m_held = right_of(unit_rad(tight + constant(contact.own.theta_rad + left_rad)));
        const Graded gap_in_held = cut(-1.0 * dot(m_held, f.force) - share_held);
        const Graded left = through(left_rad, -1.0 / fit.slope_mm, gap_in_held - cut(share_held));

        const double per_lever = 1.0 / (face_mm * std::cos(left_rad));
        const Graded share = moment * through(per_lever, per_lever * std::tan(left_rad), left);
        Place own;
        own.heading = tight + left;
        const GradedVec e = unit_rad(own.heading + constant(contact.own.theta_rad));
        const GradedVec m = right_of(e);
        const Graded gap_in = cut(-1.0 * dot(m, f.force) - share);
        const Graded lip_in = -1.0 * dot(e, f.force);
        own.along = unit_rad(own.heading);
        own.origin = inner - gap_in * m - lip_in * e - seen(contact.own.inner_mm, own.along);
        result.states[c] = {gap_in.value, lip_in.value, left_rad};
        return own;
    }
};

// Solves the 3 x 3 equations by elimination with row choice; false if they do not determine the answer.
bool solve(std::array<Graded, 3> rows, Twist& answer) {
    for (std::size_t i = 0; i < 3; ++i) {
        std::size_t best = i;
        for (std::size_t r = i + 1; r < 3; ++r) {
            if (std::abs(rows[r].by[i]) > std::abs(rows[best].by[i])) best = r;
        }
        std::swap(rows[i], rows[best]);
        if (rows[i].by[i] == 0.0) return false;
        for (std::size_t r = i + 1; r < 3; ++r) rows[r] = rows[r] - (rows[r].by[i] / rows[i].by[i]) * rows[i];
    }
    for (std::size_t i = 3; i-- > 0;) {
        double rest = -rows[i].value;
        for (std::size_t k = i + 1; k < 3; ++k) rest -= rows[i].by[k] * answer[k];
        answer[i] = rest / rows[i].by[i];
        if (!std::isfinite(answer[i])) return false;
    }
    return true;
}

double missed_mm(const March& m, double radius_mm) {
    return m.sound ? std::hypot(m.missed[0].value, m.missed[1].value, radius_mm * m.missed[2].value) : HUGE_VAL;
}

}  // namespace

std::optional<std::vector<JointState>> close_by_force(const std::vector<JointContact>& contacts,
                                                      const std::vector<JointState>& states, Twist force, Vec2 about_mm,
                                                      double enough_mm, double perimeter_mm) {
    const double radius_mm = perimeter_mm / (2.0 * kPi);
    const Marcher marcher(contacts, states, about_mm);
    March at = marcher.march(force);
    double miss = missed_mm(at, radius_mm);
    for (int step = 0; step < kMostSteps && miss > enough_mm; ++step) {
        Twist change{};
        if (!at.sound || !solve(at.missed, change)) return std::nullopt;
        double share = 1.0;
        bool nearer = false;
        for (int i = 0; i < kMostHalvings && !nearer; ++i, share *= 0.5) {
            Twist next = force;
            for (std::size_t k = 0; k < 3; ++k) next[k] += share * change[k];
            March there = marcher.march(next);
            const double miss_there = missed_mm(there, radius_mm);
            nearer = miss_there < miss;
            if (!nearer) continue;
            force = next;
            at = std::move(there);
            miss = miss_there;
        }
        if (!nearer) return std::nullopt;
    }
    if (!(miss <= enough_mm)) return std::nullopt;
    return std::move(at.states);
}

}  // namespace boardring
