#include "closure/opening_lanes.hpp"

#include <algorithm>
#include <cmath>

#include "base/ensure.hpp"

namespace boardring {
namespace {

constexpr double kLift = 1e-12;  // as in least_opening.cpp
constexpr int kMostSteps = 24;
constexpr double kMet = 1e-11;

std::array<double, 3> scaled(const std::array<std::array<double, 3>, 3>& l, Twist b) {
    b[0] /= l[0][0];
    b[1] = (b[1] - l[1][0] * b[0]) / l[1][1];
    b[2] = (b[2] - l[2][0] * b[0] - l[2][1] * b[1]) / l[2][2];
    return b;
}

// Sums over what is open: the square H (lower triangle) and the product with the openings F.
struct Sums {
    Lanes f0, f1, f2, h00, h01, h02, h11, h12, h22;
};

// x with H x = F by the square root of H, eight at once.
TwistLanes solved(Sums s) {
    const Lanes l00 = root(s.h00 + kLift), i00 = 1.0 / l00;
    const Lanes l10 = s.h01 * i00, l20 = s.h02 * i00;
    const Lanes i11 = 1.0 / root(larger(s.h11 + kLift - l10 * l10, kLift));
    const Lanes l21 = (s.h12 - l20 * l10) * i11;
    const Lanes i22 = 1.0 / root(larger(s.h22 + kLift - l20 * l20 - l21 * l21, kLift));
    const Lanes y0 = s.f0 * i00, y1 = (s.f1 - l10 * y0) * i11, y2 = (s.f2 - l20 * y0 - l21 * y1) * i22;
    const Lanes x2 = y2 * i22, x1 = (y1 - l21 * x2) * i11, x0 = (y0 - l10 * x1 - l20 * x2) * i00;
    return {x0, x1, x2};
}

}  // namespace

OpeningLanes::OpeningLanes(std::vector<OpeningColumns> columns) : columns_(std::move(columns)) {
    auto& l = scale_;
    for (const OpeningColumns& c : columns_) {
        for (const Twist* a : {&c.gap_in, &c.gap_out, &c.lip_in}) {
            for (std::size_t i = 0; i < 3; ++i) {
                for (std::size_t k = 0; k <= i; ++k) l[i][k] += (*a)[i] * (*a)[k];
            }
        }
    }
    for (std::size_t i = 0; i < 3; ++i) {
        const double whole = l[i][i];
        for (std::size_t k = 0; k < i; ++k) {
            for (std::size_t p = 0; p < k; ++p) l[i][k] -= l[i][p] * l[k][p];
            l[i][k] /= l[k][k];
            l[i][i] -= l[i][k] * l[i][k];
        }
        if (!(l[i][i] > 1e-14 * whole)) return;
        l[i][i] = std::sqrt(l[i][i]);
    }
    ready_ = true;
    for (const OpeningColumns& c : columns_) {
        for (const Twist* gap : {&c.gap_in, &c.gap_out}) {
            const auto a = scaled(l, *gap);
            gaps_.push_back({a[0], a[1], a[2], a[0] * a[0], a[0] * a[1], a[0] * a[2], a[1] * a[1], a[1] * a[2], a[2] * a[2]});
        }
        const auto a = scaled(l, c.lip_in);
        lips_.push_back(a);
        const std::array<double, 6> square{a[0] * a[0], a[0] * a[1], a[0] * a[2], a[1] * a[1], a[1] * a[2], a[2] * a[2]};
        for (std::size_t i = 0; i < 6; ++i) lip_square_[i] += square[i];
    }
}

void OpeningLanes::solve(const TwistLanes& wanted, TwistLanes& guess, std::vector<Opened>& opened) const {
    ENSURE(ready_ && opened.size() == columns_.size());
    const Lanes b0 = wanted[0] * (1.0 / scale_[0][0]);
    const Lanes b1 = (wanted[1] - scale_[1][0] * b0) * (1.0 / scale_[1][1]);
    const Lanes b2 = (wanted[2] - scale_[2][0] * b0 - scale_[2][1] * b1) * (1.0 / scale_[2][2]);
    const Lanes enough = kMet * (size(b0) + size(b1) + size(b2)) + 1e-300;
    TwistLanes l = guess;
    Lanes over;
    bool met = false;
    for (int step = 0; step < kMostSteps; ++step) {
        Sums s;
        s.h00 = lip_square_[0];
        s.h01 = lip_square_[1];
        s.h02 = lip_square_[2];
        s.h11 = lip_square_[3];
        s.h12 = lip_square_[4];
        s.h22 = lip_square_[5];
        for (const Gap& g : gaps_) {
            for (std::size_t i = 0; i < kLanes; ++i) {
                const double x = g.a0 * l[0].v[i] + g.a1 * l[1].v[i] + g.a2 * l[2].v[i];
                const double on = x > 0.0 ? 1.0 : 0.0;
                s.h00.v[i] += on * g.a00;
                s.h01.v[i] += on * g.a01;
                s.h02.v[i] += on * g.a02;
                s.h11.v[i] += on * g.a11;
                s.h12.v[i] += on * g.a12;
                s.h22.v[i] += on * g.a22;
            }
        }
        // What is open is linear in l, so F = H l - b.
        s.f0 = s.h00 * l[0] + s.h01 * l[1] + s.h02 * l[2] - b0;
        s.f1 = s.h01 * l[0] + s.h11 * l[1] + s.h12 * l[2] - b1;
        s.f2 = s.h02 * l[0] + s.h12 * l[1] + s.h22 * l[2] - b2;
        over = size(s.f0) + size(s.f1) + size(s.f2) - enough;
        met = std::all_of(over.v.begin(), over.v.end(), [](double x) { return x <= 0.0; });
        if (met) break;
        const TwistLanes change = solved(s);
        for (std::size_t k = 0; k < 3; ++k) l[k] = l[k] - change[k];
    }
    guess = l;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        const Gap& in = gaps_[2 * c];
        const Gap& out = gaps_[2 * c + 1];
        const auto& lip = lips_[c];
        opened[c].gap_in = larger(in.a0 * l[0] + in.a1 * l[1] + in.a2 * l[2], 0.0);
        opened[c].gap_out = larger(out.a0 * l[0] + out.a1 * l[1] + out.a2 * l[2], 0.0);
        opened[c].lip_in = lip[0] * l[0] + lip[1] * l[1] + lip[2] * l[2];
    }
    if (met) return;
    for (std::size_t i = 0; i < kLanes; ++i) {
        if (over[i] <= 0.0) continue;
        slow_way(wanted, i, opened);
        for (Lanes& g : guess) g[i] = 0.0;
    }
}

double OpeningLanes::effort(const Twist& motion) const {
    const auto a = scaled(scale_, motion);
    return a[0] * a[0] + a[1] * a[1] + a[2] * a[2];
}

void OpeningLanes::slow_way(const TwistLanes& wanted, std::size_t i, std::vector<Opened>& opened) const {
    const LeastOpening least = least_opening(columns_, {wanted[0][i], wanted[1][i], wanted[2][i]});
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        opened[c].gap_in[i] = least.openings[c].gap_in;
        opened[c].gap_out[i] = least.openings[c].gap_out;
        opened[c].lip_in[i] = least.openings[c].lip_in;
    }
}

}  // namespace boardring
