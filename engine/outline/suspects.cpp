#include "outline/suspects.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

#include "base/angle.hpp"
#include "base/inch_units.hpp"
#include "base/length_text.hpp"

namespace boardring {
namespace {

constexpr double kExactDeg = 1e-6;
constexpr double kSlipFromDeg = 9.0;  // nearer than that, "the very number" is as often chance
constexpr double kRoundingMm = 1e-9;
constexpr std::size_t kMostForPairs = 60;
constexpr std::size_t kMostForExchanges = 200;

double square(double x) {
    return x * x;
}

// Covariance of the point where the walk ends [mm^2].
struct Spreading {
    double xx = 0.0, xy = 0.0, yy = 0.0;

    void add(double variance, Vec2 v) {
        xx += variance * v.x * v.x;
        xy += variance * v.x * v.y;
        yy += variance * v.y * v.y;
    }
    [[nodiscard]] double along(Vec2 unit) const { return unit.x * (xx * unit.x + 2.0 * xy * unit.y) + yy * unit.y * unit.y; }
    [[nodiscard]] double determinant() const { return std::max(xx * yy - xy * xy, 0.0); }
    /// v' C^-1 v
    [[nodiscard]] double squares(Vec2 v) const {
        return (yy * v.x * v.x - 2.0 * xy * v.x * v.y + xx * v.y * v.y) / determinant();
    }
    [[nodiscard]] double root_mean_square() const { return std::sqrt(xx + yy); }
};

// Errors of all sides stretch the end along them; errors of the corners swing it about their middle `about`: what the others turn
// too much, whatever takes up the sum (one suspect corner, or equal shares of all: their centre) turns back.
Spreading end_spreading(const Chain& chain, const Walk& walked, Vec2 about) {
    Spreading sum;
    for (std::size_t k = 0; k < chain.sides(); ++k) sum.add(square(chain.side_within_mm[k]), walked.along[k]);
    for (std::size_t k = 0; k < chain.sides(); ++k)
        sum.add(square(radians(chain.angle_within_deg[k])), left_of(walked.corners_mm[k] - about));
    // Values without any error leave the rounding of the walk itself.
    sum.xx += square(kRoundingMm);
    sum.yy += square(kRoundingMm);
    return sum;
}

Vec2 centre(const std::vector<Vec2>& corners_mm) {
    Vec2 sum;
    for (const Vec2 p : corners_mm) sum = sum + p;
    return (1.0 / static_cast<double>(corners_mm.size())) * sum;
}

double miss_mm(const Chain& chain) {
    return length(walk(chain).end_mm);
}

SideSlip side_slip(double given_mm, double would_be_mm, double within_mm, const LengthStyle& style) {
    const double change = std::abs(would_be_mm - given_mm);
    const auto near = [&](double expected, double found) {
        return std::abs(expected - found) <= std::min(within_mm, 0.2 * std::abs(expected));
    };
    const bool inches = in_inches(style.unit);
    if (!inches && near(100.0, change)) return SideSlip::hundred;
    if (near(25.4, change)) return SideSlip::inch;
    if (!inches && near(10.0, change)) return SideSlip::ten;
    const double unit_mm = unit_in_mm(style.unit);
    for (const double swapped : with_digits_swapped(given_mm / unit_mm)) {
        if (std::abs(swapped * unit_mm - would_be_mm) <= std::min(within_mm, 0.2 * change)) return SideSlip::swapped;
    }
    const double ratio = would_be_mm > given_mm ? would_be_mm / given_mm : given_mm / would_be_mm;
    const auto by = [&](double factor) { return std::abs(ratio - factor) <= 0.02 * factor; };
    if (by(10.0)) return SideSlip::factor_ten;
    if (by(25.4)) return SideSlip::factor_inch;
    if (by(12.0) && inches) return SideSlip::factor_twelve;
    return SideSlip::none;
}

}  // namespace

double corner_that_gives(Slip slip, double given_deg, bool inward) {
    switch (slip) {
        case Slip::outside_ring:
            return 360.0 - given_deg;
        case Slip::turn:
            return inward ? 180.0 + given_deg : 180.0 - given_deg;
        case Slip::half:
            return 2.0 * given_deg;
        case Slip::saw:
            return inward ? 180.0 + 2.0 * given_deg : 180.0 - 2.0 * given_deg;
        case Slip::swapped:
            break;
    }
    return given_deg;
}

std::vector<double> with_digits_swapped(double value) {
    const std::string text = show_number(value, 3);
    std::vector<double> made;
    for (std::size_t i = 0; i < text.size(); ++i) {
        for (std::size_t j = i + 1; j < text.size(); ++j) {
            std::string other = text;
            const bool digits = text[i] >= '0' && text[i] <= '9' && text[j] >= '0' && text[j] <= '9';
            if (!digits || text[i] == text[j]) continue;
            std::swap(other[i], other[j]);
            made.push_back(std::stod(other));
        }
    }
    return made;
}

std::vector<Slip> angle_slips(double given_deg, double would_be_deg, double within_deg) {
    std::vector<std::pair<double, Slip>> found;
    const auto offer = [&](Slip slip, double corner_deg) {
        const double off = std::abs(corner_deg - would_be_deg);
        const bool known = std::any_of(found.begin(), found.end(), [&](const auto& f) { return f.second == slip; });
        if (off <= within_deg && !known && corner_deg > 0.0 && corner_deg < 360.0) found.emplace_back(off, slip);
    };
    for (const bool inward : {false, true}) {
        if (given_deg == 180.0) break;
        for (const Slip slip : {Slip::outside_ring, Slip::turn, Slip::half, Slip::saw}) {
            // At a right angle the turn and the angle outside are one number: the angle outside is what people read.
            if (inward && slip == Slip::turn && given_deg == 90.0) continue;
            offer(slip, corner_that_gives(slip, given_deg, inward));
        }
    }
    for (const double swapped : with_digits_swapped(given_deg)) offer(Slip::swapped, swapped);
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<Slip> slips;
    for (const auto& [off, slip] : found) slips.push_back(slip);
    return slips;
}

std::vector<CornerSuspect> corner_suspects(const Notebook& book, const std::vector<Reading>& readings, std::size_t detailed) {
    const Chain& given = book.chain;
    const double misfit_deg = angle_misfit_deg(given);
    const Walk walked = walk(given);
    const double cosine = cos_deg(misfit_deg);
    const double sine = sin_deg(misfit_deg);
    std::vector<CornerSuspect> suspects;
    for (std::size_t k = 0; k < given.sides(); ++k) {
        const double would_be = given.interior_deg[k] - misfit_deg;
        if (!(would_be > 0.0 && would_be < 360.0)) continue;
        // A smaller corner turns more: all that follows swings about it by the misfit.
        const Vec2 p = walked.corners_mm[k];
        CornerSuspect s;
        s.corner = k;
        s.would_be_deg = would_be;
        s.miss_mm = length(p + turned(walked.end_mm - p, cosine, sine));
        suspects.push_back(std::move(s));
    }
    std::stable_sort(suspects.begin(), suspects.end(),
                     [](const CornerSuspect& a, const CornerSuspect& b) { return a.miss_mm < b.miss_mm; });
    double within = 0.0;
    for (const double w : given.angle_within_deg) within += square(w);
    within = std::sqrt(within);
    for (std::size_t i = 0; i < std::min(detailed, suspects.size()); ++i) {
        CornerSuspect& s = suspects[i];
        Chain corrected = given;
        corrected.interior_deg[s.corner] = s.would_be_deg;
        const Walk mended = walk(corrected);
        const Spreading noise = end_spreading(corrected, mended, mended.corners_mm[s.corner]);
        s.noise_mm = noise.root_mean_square();
        s.unlikely = 0.5 * noise.squares(mended.end_mm);
        s.vague = 0.5 * std::log(noise.determinant());
        const Reading& r = readings[book.angle_line[s.corner]];
        const double given_deg = given.interior_deg[s.corner];
        s.slips = angle_slips(given_deg, s.would_be_deg, kExactDeg);
        s.slip_exact = !s.slips.empty() && std::abs(misfit_deg) >= kSlipFromDeg;
        if (s.slips.empty()) s.slips = angle_slips(given_deg, s.would_be_deg, within);
        if (r.inward) std::erase_if(s.slips, [](Slip slip) { return slip != Slip::outside_ring; });
    }
    return suspects;
}

std::optional<AllCornersSuspect> all_corners_suspect(const Chain& given) {
    double within = 0.0;
    for (const double w : given.angle_within_deg) within += w;
    const double plain_misfit = angle_misfit_deg(given);
    std::optional<AllCornersSuspect> best;
    for (const Slip slip : {Slip::turn, Slip::half, Slip::saw, Slip::outside_ring}) {
        Chain meant = given;
        for (double& interior : meant.interior_deg) interior = corner_that_gives(slip, interior, false);
        const bool halved = slip == Slip::half || slip == Slip::saw;
        const double misfit = angle_misfit_deg(meant);
        // A slip that leaves as much as it takes away explains nothing: four turns add up to 360 as four corners do.
        if (std::abs(misfit) > 0.5 * std::abs(plain_misfit) || std::abs(misfit) > kExactDeg + (halved ? 2.0 : 1.0) * within)
            continue;
        if (!std::all_of(meant.interior_deg.begin(), meant.interior_deg.end(), [](double i) { return i > 0.0 && i < 360.0; }))
            continue;
        if (halved) {
            for (double& w : meant.angle_within_deg) w *= 2.0;
        }
        for (double& interior : meant.interior_deg) interior -= misfit / static_cast<double>(given.sides());
        const double miss = miss_mm(meant);
        if (miss <= 3.0 * closing_noise_mm(meant) && (!best || miss < best->miss_mm)) best = AllCornersSuspect{slip, miss};
    }
    return best;
}

std::optional<ExchangeSuspect> two_inward_suspect(const Chain& given) {
    const std::size_t n = given.sides();
    if (n > kMostForPairs) return std::nullopt;
    const double misfit_deg = angle_misfit_deg(given);
    double within = 0.0;
    for (const double w : given.angle_within_deg) within += w;
    std::optional<ExchangeSuspect> best;
    for (std::size_t j = 0; j < n; ++j) {
        for (std::size_t k = j + 1; k < n; ++k) {
            const double gain = 720.0 - 2.0 * (given.interior_deg[j] + given.interior_deg[k]);
            const double left = misfit_deg + gain;
            if (std::abs(left) > kExactDeg + within) continue;
            Chain meant = given;
            for (const std::size_t c : {j, k}) meant.interior_deg[c] = 360.0 - meant.interior_deg[c];
            for (double& interior : meant.interior_deg) interior -= left / static_cast<double>(n);
            const double miss = miss_mm(meant);
            if (miss > 3.0 * closing_noise_mm(meant)) continue;
            if (!best || miss < best->miss_mm) best = ExchangeSuspect{false, j, k, miss};
        }
    }
    return best;
}

std::vector<SideSuspect> side_suspects(const Chain& balanced, const LengthStyle& style) {
    const Walk walked = walk(balanced);
    const Spreading noise = end_spreading(balanced, walked, centre(walked.corners_mm));
    std::vector<SideSuspect> suspects;
    for (std::size_t k = 0; k < balanced.sides(); ++k) {
        SideSuspect s;
        s.side = k;
        s.would_be_mm = balanced.sides_mm[k] - dot(walked.end_mm, walked.along[k]);
        if (!(s.would_be_mm > 0.0)) continue;
        s.miss_mm = std::abs(cross(walked.end_mm, walked.along[k]));
        const double across = noise.along(left_of(walked.along[k]));
        s.unlikely = 0.5 * square(s.miss_mm) / across;
        s.vague = 0.5 * std::log(across);
        s.slip = side_slip(balanced.sides_mm[k], s.would_be_mm,
                           std::max(noise.root_mean_square(), 3.0 * balanced.side_within_mm[k]), style);
        suspects.push_back(s);
    }
    std::stable_sort(suspects.begin(), suspects.end(),
                     [](const SideSuspect& a, const SideSuspect& b) { return a.unlikely + a.vague < b.unlikely + b.vague; });
    return suspects;
}

std::vector<ExchangeSuspect> exchange_suspects(const Chain& balanced) {
    const std::size_t n = balanced.sides();
    std::vector<ExchangeSuspect> found;
    if (n > kMostForExchanges) return found;
    const Walk walked = walk(balanced);
    const double enough = 3.0 * closing_noise_mm(balanced);
    for (std::size_t j = 0; j < n; ++j) {
        for (std::size_t k = j + 1; k < n; ++k) {
            const double longer = balanced.sides_mm[k] - balanced.sides_mm[j];
            const double sides_miss = length(walked.end_mm + longer * (walked.along[j] - walked.along[k]));
            if (longer != 0.0 && sides_miss <= enough) found.push_back({true, j, k, sides_miss});
            // Corner j takes what k had: all between them swings by what j turns less, and k swings it back.
            const double larger = balanced.interior_deg[k] - balanced.interior_deg[j];
            const Vec2 between = walked.corners_mm[k] - walked.corners_mm[j];
            const double angles_miss = length(walked.end_mm - between + turned(between, cos_deg(larger), -sin_deg(larger)));
            if (larger != 0.0 && angles_miss <= enough) found.push_back({false, j, k, angles_miss});
        }
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const ExchangeSuspect& a, const ExchangeSuspect& b) { return a.miss_mm < b.miss_mm; });
    return found;
}

double closing_noise_mm(const Chain& chain) {
    const Walk walked = walk(chain);
    return end_spreading(chain, walked, centre(walked.corners_mm)).root_mean_square();
}

double across_corner_mm(const Chain& chain, std::size_t corner, double interior_deg) {
    const double before = chain.sides_mm[corner == 0 ? chain.sides() - 1 : corner - 1];
    const double after = chain.sides_mm[corner];
    // (a - b)^2 + 4 a b sin^2(I/2): no loss of digits at flat corners.
    return std::hypot(before - after, 2.0 * std::sqrt(before * after) * sin_deg(0.5 * interior_deg));
}

}  // namespace boardring
