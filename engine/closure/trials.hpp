#pragma once
#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

#include "closure/lanes.hpp"

namespace boardring {

// How the errors of inputs come through to a result, twice: to first order by sensitivities, and by trials with random inputs.
// Nothing in here knows of boards; the closure budget and the published examples go through the same two functions.

/// How an input may lie about its value. All have standard deviation 1 here.
enum class Scatter { normal, rectangular, arcsine };

/// Result of first-order propagation.
struct FirstOrder {
    double sd = 0.0;                  ///< root of the sum of squares
    std::vector<double> part;         ///< |sensitivity x sd| of each input
    std::vector<double> share;        ///< of the variance; they add up to 1 (all 0 if the variance is)
    double worst = 0.0;               ///< all at once the same bad way: the sum of the parts
};

/// \param per_sd  by how much one standard deviation of each input moves the result; inputs independent
/// Source  JCGM 100:2008 (GUM) 5.1.2
FirstOrder propagate(const std::vector<double>& per_sd);

/// What is worked out from eight trials: inputs in, as many results out as were asked for.
using TrialModel = std::function<void(const Lanes* inputs, Lanes* results)>;
/// Makes a model with room of its own to work in: one for each thread.
using TrialMaker = std::function<TrialModel()>;

struct TrialOptions {
    std::uint64_t seed = 1;
    std::size_t runs = 0;                 ///< exactly so many; 0: until the numbers stand still
    std::size_t most = 1'000'000;         ///< where `runs` is 0
    std::size_t threads = 1;              ///< the answer does not depend on them
    double digit_of_sd = 0.05;            ///< where `runs` is 0: stands still when known to this part of the standard deviation
    std::function<void(std::size_t done)> progress;  ///< called between batches; may be empty
};

/// One result over all trials.
struct TrialResult {
    double mean = 0.0;
    double sd = 0.0;
    std::vector<double> sorted;  ///< every trial's, ascending

    /// Below which the share p in (0, 1) of the trials lie: sorted trial ceil(p x runs).
    [[nodiscard]] double quantile(double p) const;
    /// Share of the trials at or under `limit`.
    [[nodiscard]] double share_within(double limit) const;
};

struct Trials {
    std::size_t runs = 0;
    bool still = false;  ///< the adaptive stop was met, or `runs` was asked for
    std::vector<TrialResult> results;
};

/// Standard error of a share p found in `runs` trials. Never 0: with none or all in, that of half a trial.
double share_error(double p, std::size_t runs);

/// Runs trials in batches of 10,000 until mean, standard deviation and the ends of the 95 % interval of every result are known to
/// `digit_of_sd` times its standard deviation, with twice the standard error of their batch averages.
///
/// \param scatter  of each input
/// Laws    input j of trial t depends on seed, t and j alone: more threads, more trials, another order change no number of it
/// Cost    about 20 ns a normal number [bench_last_joint], plus the model
/// Source  JCGM 101:2008 clause 7.9 (adaptive procedure)
Trials run_trials(const std::vector<Scatter>& scatter, std::size_t results, const TrialMaker& maker, const TrialOptions& options);

/// Inputs of trials first .. first + 7, as run_trials draws them. `first` is a multiple of 8.
void draw_inputs(const std::vector<Scatter>& scatter, std::uint64_t seed, std::uint64_t first, Lanes* inputs);

}  // namespace boardring
