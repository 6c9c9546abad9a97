#include "outline/fit_judge.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include "base/angle.hpp"
#include "outline/fit_unknowns.hpp"
#include "outline/laws.hpp"

namespace boardring {
namespace {

constexpr double kChecked = 1e-7;           // redundancy below which a reading has no check
constexpr double kApart = 1e-3;             // 1 - squared correlation; below, only errors over 100 deviations could be told
constexpr std::size_t kMostSampled = 1200;  // readings; beyond, the plain bounds
constexpr std::size_t kSamples = 160;
constexpr std::size_t kMostRefitted = 8;
constexpr double kWorthRefitting = 0.45;  // of the largest standardised residual
constexpr double kUnexplained = 1e-6;     // chance of the rest below which taking out a reading has explained nothing
constexpr std::size_t kMostLeftOut = 60;  // readings; beyond, only those worth refitting are taken out
// Readings that fit are found from a start near them in a few steps; more would only be spent on those that do not.
constexpr std::size_t kStartsOfRest = 4;
constexpr std::size_t kStepsOfRest = 25;

// Standard normal numbers, the same everywhere: splitmix64, and Box-Muller's pairs.
class Normals {
public:
    double next() {
        has_spare_ = !has_spare_;
        if (!has_spare_) return spare_;
        const double r = std::sqrt(-2.0 * std::log(unit()));
        const double turn_deg = 360.0 * unit();
        spare_ = r * sin_deg(turn_deg);
        return r * cos_deg(turn_deg);
    }
    /// (0, 1]
    double unit() {
        std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
        return (static_cast<double>((z ^ (z >> 31)) >> 11) + 1.0) * 0x1.0p-53;
    }

private:
    std::uint64_t state_ = 20;
    double spare_ = 0.0;
    bool has_spare_ = false;
};

// A normal number whose absolute value exceeds `limit`, drawn by a uniform number.
double beyond(double limit, double unit) {
    return limit_outside(unit * chance_outside(limit));
}

Network without(const Network& network, std::size_t observation) {
    Network less = network;
    less.observations.erase(less.observations.begin() + static_cast<std::ptrdiff_t>(observation));
    return less;
}

struct Checks {
    std::vector<std::vector<double>> columns;
    std::vector<double> redundancy;
    std::vector<double> most_alike;  // largest correlation of its standardised residual with another's, absolute
};

// How alike the tests of the readings are: with |correlation| 1 no error of one can be told from an error of the other.
std::vector<double> most_alike_of(const Checks& checks) {
    const std::size_t m = checks.columns.size();
    std::vector<double> most(m, m > kMostSampled ? 1.0 : 0.0);
    if (m > kMostSampled) return most;
    for (std::size_t i = 0; i < m; ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            if (checks.redundancy[i] <= 0.0 || checks.redundancy[j] <= 0.0) continue;
            const double alike =
                std::abs(dot_of(checks.columns[i], checks.columns[j])) / std::sqrt(checks.redundancy[i] * checks.redundancy[j]);
            most[i] = std::max(most[i], alike);
            most[j] = std::max(most[j], alike);
        }
    }
    return most;
}

Checks checks_of(const Network& network, const FitCovariance& covariance) {
    Checks checks;
    for (const Observation& o : network.observations) {
        checks.columns.push_back(covariance.column(o));
        const double share = 1.0 - dot_of(checks.columns.back(), checks.columns.back());
        checks.redundancy.push_back(share > kChecked ? share : 0.0);
    }
    checks.most_alike = most_alike_of(checks);
    return checks;
}

std::vector<Judged> judged_readings(const Network& network, const NetworkFit& fit, const Checks& checks, double limit) {
    const double power = limit_outside(2.0 * (1.0 - kPower));
    const double noncentral = limit + power;
    const double told = power + std::sqrt(power * power + kTie);
    std::vector<Judged> readings;
    for (std::size_t i = 0; i < network.observations.size(); ++i) {
        const Observation& o = network.observations[i];
        Judged judged;
        judged.fitted = predicted(o, fit.points_mm);
        judged.residual = fit.residual[i];
        judged.redundancy = checks.redundancy[i];
        judged.fitted_sd = o.sigma * std::sqrt(dot_of(checks.columns[i], checks.columns[i]));
        if (judged.redundancy > 0.0) {
            judged.standardised = judged.residual / (o.sigma * std::sqrt(judged.redundancy));
            judged.findable = o.sigma * noncentral / std::sqrt(judged.redundancy);
            const double apart = 1.0 - checks.most_alike[i] * checks.most_alike[i];
            if (apart > kApart) judged.tellable = o.sigma * told / std::sqrt(judged.redundancy * apart);
        }
        readings.push_back(judged);
    }
    return readings;
}

// Taken out and `refit` without it: what the linear theory calls chi-square less the squared standardised residual, here exact
// however large the error is. Nothing if the rest does not hold without it.
std::optional<ReadingSuspect> suspect_of(const Network& network, std::size_t i, const Network& rest, const NetworkFit& refit,
                                         const SlipContext& slips) {
    const auto covariance = FitCovariance::of(rest, refit.points_mm);
    if (!covariance) return std::nullopt;
    const Observation& o = network.observations[i];
    ReadingSuspect suspect;
    suspect.observation = i;
    suspect.would_be = predicted(o, refit.points_mm);
    const std::vector<double> column = covariance->column(o);
    suspect.would_be_sd = o.sigma * std::sqrt(dot_of(column, column));
    suspect.chi_square = refit.chi_square;
    WeighedSlips weighed = weigh_slips(o, suspect.would_be, suspect.would_be_sd, slips);
    suspect.badness = suspect.chi_square - weighed.speaks_for;
    suspect.slips = std::move(weighed.fitting);
    suspect.points_mm = refit.points_mm;
    return suspect;
}

// Observations worth taking out, largest standardised residual first.
std::vector<std::size_t> worth_refitting(const std::vector<Judged>& readings, double worst) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        if (readings[i].standardised && std::abs(*readings[i].standardised) >= kWorthRefitting * worst) order.push_back(i);
    }
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return std::abs(*readings[a].standardised) > std::abs(*readings[b].standardised);
    });
    return order;
}

void likeliest_first(std::vector<ReadingSuspect>& suspects) {
    std::stable_sort(suspects.begin(), suspects.end(),
                     [](const ReadingSuspect& a, const ReadingSuspect& b) { return a.badness < b.badness; });
}

std::vector<ReadingSuspect> suspects_of(const Network& network, const NetworkFit& fit, const std::vector<Judged>& readings,
                                        double worst, const SlipContext& slips) {
    std::vector<ReadingSuspect> suspects;
    for (const std::size_t i : worth_refitting(readings, worst)) {
        if (suspects.size() == kMostRefitted) break;
        const Network rest = without(network, i);
        if (auto suspect = suspect_of(network, i, rest, fit_from(rest, fit.points_mm), slips)) suspects.push_back(*std::move(suspect));
    }
    likeliest_first(suspects);
    return suspects;
}

// A corner written as the angle outside the ring bends the whole fit into another shape, where its own residual need not be among
// the largest, and from where taking it out does not lead back. So where nothing is explained, every reading is taken out in turn
// and the rest fitted from the start. Only those that explain it.
std::vector<ReadingSuspect> suspects_from_the_start(const Network& network, std::size_t freedoms, const SlipContext& slips) {
    std::vector<ReadingSuspect> suspects;
    if (network.observations.size() > kMostLeftOut || freedoms < 2) return suspects;
    for (std::size_t i = 0; i < network.observations.size(); ++i) {
        const Network rest = without(network, i);
        const NetworkFit refit = fit_network(rest, kStartsOfRest, kStepsOfRest);
        if (chance_above(refit.chi_square, freedoms - 1) < kUnexplained) continue;
        if (auto suspect = suspect_of(network, i, rest, refit, slips)) suspects.push_back(*std::move(suspect));
    }
    likeliest_first(suspects);
    return suspects;
}

double worst_of(const std::vector<Judged>& readings) {
    double worst = 0.0;
    for (const Judged& r : readings) worst = std::max(worst, std::abs(r.standardised.value_or(0.0)));
    return worst;
}

// The rest without the first suspect, tested in turn; the second to leave it, if that mends it.
void look_for_a_second(const Network& network, Judgement& judgement, const SlipContext& slips) {
    const ReadingSuspect& first = judgement.suspects.front();
    if (judgement.freedoms < 2) return;
    const Network rest = without(network, first.observation);
    NetworkFit fit = fit_from(rest, first.points_mm);
    const auto covariance = FitCovariance::of(rest, fit.points_mm);
    if (!covariance) return;
    const Checks checks = checks_of(rest, *covariance);
    const double limit = set_limit(checks.columns, checks.redundancy, kFalseAlarm, judgement.freedoms - 1);
    const std::vector<Judged> readings = judged_readings(rest, fit, checks, limit);
    const double worst = worst_of(readings);
    if (worst <= limit) return;
    judgement.more_than_one = true;
    const std::vector<ReadingSuspect> seconds = suspects_of(rest, fit, readings, worst, slips);
    if (seconds.empty() || judgement.freedoms < 3) return;
    const bool alone = seconds.size() == 1 || seconds[1].badness - seconds[0].badness >= kTie;
    if (!alone || chance_above(seconds.front().chi_square, judgement.freedoms - 2) < kFalseAlarm) return;
    const std::size_t second = seconds.front().observation;
    judgement.second_wrong = second >= first.observation ? second + 1 : second;
}

// Standardised residuals of drawn readings, those with a check, and how they go with one drawn by lot.
struct DrawnSet {
    std::vector<double> residual, correlation;
    std::size_t lot = 0;
    double unit = 0.0;  // draws how far beyond the limit that one is put
};

// Drawn residuals are projections of drawn readings, so their correlation is right.
std::vector<DrawnSet> draw_sets(const std::vector<std::vector<double>>& columns, const std::vector<double>& redundancy,
                                const std::vector<std::size_t>& checked) {
    Normals normals;
    std::vector<DrawnSet> sets(kSamples);
    std::vector<double> drawn(columns.size());
    for (DrawnSet& set : sets) {
        for (double& d : drawn) d = normals.next();
        std::vector<double> fitted(columns.front().size(), 0.0);
        for (std::size_t i = 0; i < columns.size(); ++i) {
            for (std::size_t k = 0; k < fitted.size(); ++k) fitted[k] += columns[i][k] * drawn[i];
        }
        const double by_lot = normals.unit() * static_cast<double>(checked.size());
        set.lot = std::min(checked.size() - 1, static_cast<std::size_t>(by_lot));
        set.unit = normals.unit();
        const std::size_t lot = checked[set.lot];
        for (const std::size_t i : checked) {
            set.residual.push_back((drawn[i] - dot_of(columns[i], fitted)) / std::sqrt(redundancy[i]));
            set.correlation.push_back(-dot_of(columns[i], columns[lot]) / std::sqrt(redundancy[i] * redundancy[lot]));
        }
    }
    return sets;
}

}  // namespace

double set_limit(const std::vector<std::vector<double>>& columns, const std::vector<double>& redundancy, double false_alarm,
                 std::size_t freedoms) {
    std::vector<std::size_t> checked;
    for (std::size_t i = 0; i < redundancy.size(); ++i) {
        if (redundancy[i] > 0.0) checked.push_back(i);
    }
    if (checked.empty()) return 0.0;
    const auto m = static_cast<double>(checked.size());
    double limit = limit_outside(false_alarm / m);  // Bonferroni: never too low
    if (columns.size() > kMostSampled || freedoms == 0) return limit;
    // Chance of any residual beyond the limit = (sum of the single chances) * mean of 1 / (how many are beyond), the mean over
    // sets in which one drawn by lot is beyond.
    const std::vector<DrawnSet> sets = draw_sets(columns, redundancy, checked);
    double effective = m;
    for (int round = 0; round < 3; ++round) {
        double sum = 0.0;
        for (const DrawnSet& set : sets) {
            const double more = beyond(limit, set.unit) - set.residual[set.lot];
            std::size_t out = 1;
            for (std::size_t i = 0; i < checked.size(); ++i) {
                if (i != set.lot && std::abs(set.residual[i] + set.correlation[i] * more) > limit) ++out;
            }
            sum += 1.0 / static_cast<double>(out);
        }
        effective = std::max(1.0, m * sum / static_cast<double>(kSamples));
        limit = limit_outside(false_alarm / effective);
    }
    return limit;
}

Judgement judge_fit(const Network& network, const NetworkFit& fit, const SlipContext& slips) {
    Judgement judgement;
    const auto covariance = FitCovariance::of(network, fit.points_mm);
    if (!covariance) return judgement;
    const std::size_t unknowns = static_cast<std::size_t>(FitUnknowns(network).count());
    judgement.freedoms = network.observations.size() - unknowns;
    const Checks checks = checks_of(network, *covariance);
    judgement.limit = set_limit(checks.columns, checks.redundancy, kFalseAlarm, judgement.freedoms);
    judgement.readings = judged_readings(network, fit, checks, judgement.limit);
    judgement.worst = worst_of(judgement.readings);
    if (judgement.freedoms == 0) return judgement;
    judgement.global_chance = chance_above(fit.chi_square, judgement.freedoms);
    std::size_t checked = 0;
    for (const Judged& r : judgement.readings) checked += r.standardised ? 1U : 0U;
    judgement.chance = std::min(1.0, static_cast<double>(checked) * chance_outside(judgement.worst));
    if (judgement.worst <= judgement.limit) return judgement;
    judgement.suspects = suspects_of(network, fit, judgement.readings, judgement.worst, slips);
    if (judgement.suspects.empty() || (judgement.freedoms > 1 && chance_above(judgement.suspects.front().chi_square, judgement.freedoms - 1) < kUnexplained)) {
        std::vector<ReadingSuspect> others = suspects_from_the_start(network, judgement.freedoms, slips);
        if (!others.empty()) judgement.suspects = std::move(others);
    }
    if (judgement.suspects.empty()) return judgement;
    for (const ReadingSuspect& s : judgement.suspects) {
        if (s.badness - judgement.suspects.front().badness < kTie) ++judgement.tied;
    }
    look_for_a_second(network, judgement, slips);
    return judgement;
}

}  // namespace boardring
