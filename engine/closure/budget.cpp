#include "closure/budget.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "closure/matrix3.hpp"
#include "closure/opening_map.hpp"
#include "closure/trials.hpp"

namespace boardring {
namespace {

// Builds of the budget are always the same ones, so that a page changes only when the project does.
constexpr std::uint64_t kBudgetSeed = 0x0b0a2d2e;
constexpr double kTooShort = 0.01;
constexpr double kShut = 1e-9;        // of the widest opening: less is a gap that is shut
constexpr double kNothingMm = 1e-6;   // boards that leave less are meant to close

// As take_root, but directions without scatter give columns of zeros.
Matrix3 root_of(const Matrix3& m) {
    Matrix3 l{};
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t k = 0; k <= i; ++k) {
            double rest = m[i][k];
            for (std::size_t p = 0; p < k; ++p) rest -= l[i][p] * l[k][p];
            if (i == k) {
                l[i][i] = rest > 1e-13 * m[i][i] ? std::sqrt(rest) : 0.0;
            } else {
                l[i][k] = l[k][k] > 0.0 ? rest / l[k][k] : 0.0;
            }
        }
    }
    return l;
}

// Twists of random builds, eight at a time.
template <typename Visit>
void each_build(const Twist& mean, const std::array<Twist, 3>& columns, std::size_t builds, Visit&& visit) {
    static const std::vector<Scatter> kThree(3, Scatter::normal);
    for (std::size_t t = 0; t < builds; t += kLanes) {
        std::array<Lanes, 3> z;
        draw_inputs(kThree, kBudgetSeed, t, z.data());
        TwistLanes twist;
        for (std::size_t i = 0; i < 3; ++i) twist[i] = mean[i] + columns[0][i] * z[0] + columns[1][i] * z[1] + columns[2][i] * z[2];
        visit(twist);
    }
}

Lanes widest_of(const std::vector<OpeningLanes::Opened>& opened) {
    Lanes most(0.0);
    for (const OpeningLanes::Opened& joint : opened) most = larger(most, larger(joint.gap_in, joint.gap_out));
    return most;
}

double at_share(std::vector<double>& values, double p) {
    const auto nth = values.begin() + static_cast<std::ptrdiff_t>(p * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), nth, values.end());
    return *nth;
}

}  // namespace

RingErrors::RingErrors(const Project& project, const Frame& frame, SlopeBy way, std::vector<MadeBoard> base)
    : model(error_model(project, frame, way, std::move(base))),
      ring(ring_motion(frame)),
      openings(opening_columns(ring)),
      twists(error_twists(frame, ring, model)),
      mean(twist_of(frame, ring, model.base)) {}

std::array<Twist, 3> RingErrors::root_of_covariance(const std::vector<double>& factor) const {
    Matrix3 covariance{};
    for (std::size_t j = 0; j < twists.size(); ++j) {
        Twist scaled = twists[j];
        if (!factor.empty()) {
            for (double& x : scaled) x *= factor[model.inputs[j].source];
        }
        add_square(covariance, scaled);
    }
    const Matrix3 l = root_of(covariance);
    return {Twist{l[0][0], l[1][0], l[2][0]}, Twist{0.0, l[1][1], l[2][1]}, Twist{0.0, 0.0, l[2][2]}};
}

OpeningOdds RingErrors::odds(const std::vector<double>& factor, double wanted_mm, std::size_t builds) const {
    ENSURE(ready());
    std::vector<double> widest;
    widest.reserve(builds);
    std::vector<OpeningLanes::Opened> opened(ring.joints.size());
    each_build(mean, root_of_covariance(factor), builds, [&](const TwistLanes& twist) {
        TwistLanes guess;
        openings.solve({-twist[0], -twist[1], -twist[2]}, guess, opened);
        const Lanes most = widest_of(opened);
        widest.insert(widest.end(), most.v.begin(), most.v.end());
    });
    OpeningOdds odds;
    const auto count = static_cast<double>(widest.size());
    for (const double x : widest) odds.mean_mm += x / count;
    for (const double x : widest) odds.sd_mm += (x - odds.mean_mm) * (x - odds.mean_mm) / (count - 1.0);
    odds.sd_mm = std::sqrt(odds.sd_mm);
    const auto in = std::count_if(widest.begin(), widest.end(), [wanted_mm](double x) { return x <= wanted_mm; });
    odds.within = static_cast<double>(in) / count;
    odds.typical_mm = at_share(widest, 0.5);
    odds.most_mm = at_share(widest, 0.95);
    return odds;
}

std::optional<OpeningAsMeant> RingErrors::as_meant(std::size_t builds) const {
    const std::optional<OpeningMap> map = opening_map(openings.columns(), {-mean[0], -mean[1], -mean[2]});
    if (!map) return std::nullopt;
    OpeningAsMeant meant;
    Twist row{};
    for (std::size_t c = 0; c < map->joints.size(); ++c) {
        for (const bool inside : {true, false}) {
            const double gap_mm = inside ? map->openings[c].gap_in : map->openings[c].gap_out;
            if (gap_mm <= meant.meant_mm) continue;
            meant = {c, inside, gap_mm, 0.0, 0.0};
            row = inside ? map->joints[c].gap_in : map->joints[c].gap_out;
        }
    }
    if (meant.meant_mm < kNothingMm) return std::nullopt;
    std::vector<double> per_sd;
    for (const Twist& twist : twists) per_sd.push_back(row[0] * twist[0] + row[1] * twist[1] + row[2] * twist[2]);
    meant.sd_mm = propagate(per_sd).sd;
    std::vector<OpeningLanes::Opened> opened(ring.joints.size());
    std::size_t same = 0;
    each_build(mean, root_of_covariance({}), builds, [&](const TwistLanes& twist) {
        TwistLanes guess;
        openings.solve({-twist[0], -twist[1], -twist[2]}, guess, opened);
        const Lanes shut = kShut * widest_of(opened);
        for (std::size_t i = 0; i < kLanes; ++i) {
            bool alike = true;
            for (std::size_t c = 0; c < opened.size() && alike; ++c)
                alike = (opened[c].gap_in[i] > shut[i]) == (map->open[2 * c] != 0) && (opened[c].gap_out[i] > shut[i]) == (map->open[2 * c + 1] != 0);
            same += alike ? 1 : 0;
        }
    });
    meant.same_shut = static_cast<double>(same) / static_cast<double>(builds);
    return meant;
}

LeaveLong RingErrors::leave_long(std::size_t board, double told_mm) const {
    LeaveLong leave;
    leave.board = board;
    leave.corner = (board + 1) % ring.joints.size();
    leave.told_mm = told_mm;
    const RingMotion::JointPlace& at = ring.joints[leave.corner];
    // Along the board a gap is longer than across the face.
    const double along = 1.0 / std::max(kLeastCosine, cos_deg(at.saw_before_deg));
    std::vector<double> short_by, lips;
    double sum = 0.0;
    each_build(mean, root_of_covariance({}), kBuildsOfAdvice, [&](const TwistLanes& twist) {
        for (std::size_t i = 0; i < kLanes; ++i) {
            const StiffShown shown = shown_at(ring, leave.corner, {twist[0][i], twist[1][i], twist[2][i]});
            short_by.push_back(along * std::max(shown.gap_in_mm, shown.gap_out_mm));
            lips.push_back(std::abs(shown.lip_in_mm));
            sum += short_by.back();
        }
    });
    const auto builds = static_cast<double>(short_by.size());
    const auto too_short = std::count_if(short_by.begin(), short_by.end(), [told_mm](double x) { return x > told_mm; });
    leave.too_short = static_cast<double>(too_short) / builds;
    leave.long_mm = std::max(0.0, at_share(short_by, 1.0 - kTooShort));
    leave.trimmed_mm = leave.long_mm - sum / builds;
    leave.lip_mm = at_share(lips, 0.95);
    return leave;
}

Budget budget_of(const RingErrors& errors, std::size_t fit_last, const Wanted& wanted, std::size_t builds) {
    ENSURE(errors.ready() && fit_last < errors.ring.joints.size());
    Budget budget;
    budget.way = errors.model.way;
    budget.corner = (fit_last + 1) % errors.ring.joints.size();
    for (const ErrorSource& source : errors.model.sources) budget.lines.push_back({source, 0.0, 0.0});
    std::vector<double> in, out;
    Matrix3 covariance{};
    double efforts = 0.0;
    std::vector<double> effort_of_source(budget.lines.size(), 0.0);
    for (std::size_t j = 0; j < errors.twists.size(); ++j) {
        const StiffShown shown = shown_at(errors.ring, budget.corner, errors.twists[j]);
        in.push_back(shown.gap_in_mm);
        out.push_back(shown.gap_out_mm);
        add_square(covariance, {shown.gap_in_mm, shown.lip_in_mm, degrees(shown.angle_left_rad)});
        const double effort = errors.openings.effort(errors.twists[j]);
        effort_of_source[errors.model.inputs[j].source] += effort;
        efforts += effort;
    }
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t k = 0; k < 3; ++k) budget.covariance[i][k] = covariance[std::max(i, k)][std::min(i, k)];
    }
    const FirstOrder gap_in = propagate(in), gap_out = propagate(out);
    budget.gap_in_sd_mm = gap_in.sd;
    budget.gap_out_sd_mm = gap_out.sd;
    budget.lip_in_sd_mm = std::sqrt(budget.covariance[1][1]);
    budget.angle_left_sd_deg = std::sqrt(budget.covariance[2][2]);
    const double both = gap_in.sd * gap_in.sd + gap_out.sd * gap_out.sd;
    for (std::size_t j = 0; j < in.size() && both > 0.0; ++j)
        budget.lines[errors.model.inputs[j].source].stiff_share += (in[j] * in[j] + out[j] * out[j]) / both;
    for (std::size_t s = 0; s < budget.lines.size() && efforts > 0.0; ++s) budget.lines[s].spread_share = effort_of_source[s] / efforts;
    std::stable_sort(budget.lines.begin(), budget.lines.end(),
                     [](const BudgetLine& a, const BudgetLine& b) { return a.spread_share > b.spread_share * (1.0 + 1e-9); });
    budget.spread = errors.odds({}, wanted.gap_mm, builds);
    budget.as_meant = errors.as_meant(builds);
    budget.leave_long = errors.leave_long(fit_last, wanted.leave_long_mm);
    return budget;
}

}  // namespace boardring
