#include "closure/trials.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <thread>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "closure/random.hpp"

namespace boardring {
namespace {

constexpr std::size_t kBatch = 10'000;  // JCGM 101 7.9.4 b): the least it takes for 95 %
static_assert(kBatch % kLanes == 0);

double scattered(Scatter scatter, double unit) {
    switch (scatter) {
        case Scatter::normal: return inverse_normal(unit);
        case Scatter::rectangular: return (2.0 * unit - 1.0) * std::sqrt(3.0);
        case Scatter::arcsine: return std::sqrt(2.0) * std::sin(kPi * (unit - 0.5));
    }
    ENSURE(false);
    return 0.0;
}

using Columns = std::vector<std::vector<double>>;  // [result][trial]

// Trials begin .. end, both multiples of kLanes; what lies beyond `runs` is worked out and dropped.
void run_part(const std::vector<Scatter>& scatter, const TrialModel& model, std::uint64_t seed, std::size_t begin, std::size_t end,
              Columns& out) {
    std::vector<Lanes> inputs(scatter.size());
    std::vector<Lanes> results(out.size());
    for (std::size_t t = begin; t < end; t += kLanes) {
        draw_inputs(scatter, seed, t, inputs.data());
        model(inputs.data(), results.data());
        for (std::size_t r = 0; r < out.size(); ++r) {
            for (std::size_t i = 0; i < kLanes && t + i < out[r].size(); ++i) out[r][t + i] = results[r][i];
        }
    }
}

struct Moments {
    double mean = 0.0;
    double sd = 0.0;
};

Moments moments_of(const double* begin, std::size_t n) {
    Moments m;
    for (std::size_t i = 0; i < n; ++i) m.mean += begin[i];
    m.mean /= static_cast<double>(n);
    double sum = 0.0;
    for (std::size_t i = 0; i < n; ++i) sum += (begin[i] - m.mean) * (begin[i] - m.mean);
    m.sd = n > 1 ? std::sqrt(sum / static_cast<double>(n - 1)) : 0.0;
    return m;
}

double at_share(std::vector<double>& values, double p) {
    const auto nth = values.begin() + static_cast<std::ptrdiff_t>(p * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), nth, values.end());
    return *nth;
}

// Mean, standard deviation and both ends of the 95 % interval of one result in one batch.
using BatchNumbers = std::array<double, 4>;

BatchNumbers numbers_of(const double* begin) {
    const Moments m = moments_of(begin, kBatch);
    std::vector<double> values(begin, begin + kBatch);
    return {m.mean, m.sd, at_share(values, 0.025), at_share(values, 0.975)};
}

bool stands_still(const std::vector<BatchNumbers>& batches, double digit_of_sd) {
    if (batches.size() < 2) return false;
    const auto h = static_cast<double>(batches.size());
    double sd = 0.0;
    for (const BatchNumbers& b : batches) sd += b[1] / h;
    for (std::size_t k = 0; k < 4; ++k) {
        std::vector<double> values;
        for (const BatchNumbers& b : batches) values.push_back(b[k]);
        const double error = moments_of(values.data(), values.size()).sd / std::sqrt(h);
        if (2.0 * error > digit_of_sd * sd) return false;
    }
    return true;
}

}  // namespace

FirstOrder propagate(const std::vector<double>& per_sd) {
    FirstOrder result;
    double variance = 0.0;
    for (const double part : per_sd) {
        variance += part * part;
        result.part.push_back(std::abs(part));
        result.worst += std::abs(part);
    }
    result.sd = std::sqrt(variance);
    for (const double part : per_sd) result.share.push_back(variance > 0.0 ? part * part / variance : 0.0);
    return result;
}

double TrialResult::quantile(double p) const {
    ENSURE(!sorted.empty());
    const double at = std::ceil(p * static_cast<double>(sorted.size())) - 1.0;
    return sorted[std::min(sorted.size() - 1, static_cast<std::size_t>(std::max(0.0, at)))];
}

double TrialResult::share_within(double limit) const {
    const auto in = std::upper_bound(sorted.begin(), sorted.end(), limit) - sorted.begin();
    return static_cast<double>(in) / static_cast<double>(sorted.size());
}

double share_error(double p, std::size_t runs) {
    const auto n = static_cast<double>(runs);
    const double least = 0.5 / n;
    const double inside = std::clamp(p, least, 1.0 - least);
    return std::sqrt(inside * (1.0 - inside) / n);
}

void draw_inputs(const std::vector<Scatter>& scatter, std::uint64_t seed, std::uint64_t first, Lanes* inputs) {
    const std::array<std::uint32_t, 2> key{static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32)};
    for (std::size_t j = 0; j < scatter.size(); j += 2) {
        const auto words = philox8({static_cast<std::uint32_t>(first), static_cast<std::uint32_t>(first >> 32),
                                    static_cast<std::uint32_t>(j / 2), 0},
                                   key);
        for (std::size_t k = 0; k < 2 && j + k < scatter.size(); ++k) {
            Lanes& to = inputs[j + k];
            for (std::size_t i = 0; i < kLanes; ++i)
                to[i] = scattered(scatter[j + k], unit_from_bits(words[2 * k][i], words[2 * k + 1][i]));
        }
    }
}

Trials run_trials(const std::vector<Scatter>& scatter, std::size_t results, const TrialMaker& maker, const TrialOptions& options) {
    Trials trials;
    const std::size_t most = options.runs > 0 ? options.runs : options.most;
    Columns columns(results);
    std::vector<std::vector<BatchNumbers>> batches(results);
    const std::size_t threads = std::clamp<std::size_t>(options.threads, 1, 64);
    std::vector<TrialModel> models;
    for (std::size_t w = 0; w < threads; ++w) models.push_back(maker());
    while (trials.runs < most && !trials.still) {
        const std::size_t begin = trials.runs;
        const std::size_t end = std::min(most, begin + kBatch);
        for (std::vector<double>& column : columns) column.resize(end);
        // Every thread takes a run of trials of its own; where the cuts lie changes nothing.
        const std::size_t packs = (end - begin + kLanes - 1) / kLanes;
        std::vector<std::thread> helpers;
        const auto part = [&](std::size_t w) {
            const std::size_t from = begin + packs * w / threads * kLanes, to = begin + packs * (w + 1) / threads * kLanes;
            run_part(scatter, models[w], options.seed, from, to, columns);
        };
        for (std::size_t w = 1; w < threads; ++w) helpers.emplace_back(part, w);
        part(0);
        for (std::thread& helper : helpers) helper.join();
        trials.runs = end;
        if (options.progress) options.progress(end);
        if (options.runs > 0 || end - begin < kBatch) continue;
        trials.still = true;
        for (std::size_t r = 0; r < results; ++r) {
            batches[r].push_back(numbers_of(columns[r].data() + begin));
            trials.still = trials.still && stands_still(batches[r], options.digit_of_sd);
        }
    }
    trials.still = trials.still || options.runs > 0;
    for (std::vector<double>& column : columns) {
        const Moments m = moments_of(column.data(), column.size());
        std::sort(column.begin(), column.end());
        trials.results.push_back({m.mean, m.sd, std::move(column)});
    }
    return trials;
}

}  // namespace boardring
