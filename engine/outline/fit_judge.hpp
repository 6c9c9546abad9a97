#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/length_text.hpp"
#include "outline/fit.hpp"
#include "outline/fit_slips.hpp"

namespace boardring {

// Which reading is wrong, and how surely (docs/theory/fit.md section 4). No text here.

/// Chance that a set of readings without any wrong one is accused all the same.
inline constexpr double kFalseAlarm = 0.05;
/// Chance that an error of the size called findable is found.
inline constexpr double kPower = 0.80;
/// Suspects whose fits differ by less than 20 to 1 in likelihood are a tie: 2 ln 20 in chi-square.
inline constexpr double kTie = 5.99;

/// One observation, judged.
struct Judged {
    double fitted = 0.0;      ///< mm or deg
    double residual = 0.0;    ///< given less fitted
    double fitted_sd = 0.0;   ///< standard deviation of the fitted value
    double redundancy = 0.0;  ///< share of an error of this reading that shows in its own residual: 0 no check, 1 fully checked
    std::optional<double> standardised;  ///< residual over its standard deviation; none without a check
    /// Smallest error, mm or deg, that is put down to this reading alone four times in five, against the reading whose test is most
    /// like its own; none without a check, where that test is the same, and beyond 1200 readings. docs/theory/fit.md section 4.
    std::optional<double> tellable;
    std::optional<double> findable;      ///< smallest error found four times in five, mm or deg; none without a check
};

/// One observation taken out as wrong, and what the others then say.
struct ReadingSuspect {
    std::size_t observation = 0;
    double would_be = 0.0;  ///< what the others make of it, mm or deg
    double would_be_sd = 0.0;
    double chi_square = 0.0;         ///< of the others alone
    std::vector<FittingSlip> slips;  ///< the usual slips that explain it, nearest first
    double badness = 0.0;            ///< chi_square less what slips speak for it: lowest is likeliest
    std::vector<Vec2> points_mm;     ///< the outline without it
};

struct Judgement {
    std::size_t freedoms = 0;      ///< readings more than needed
    double global_chance = 1.0;    ///< chance of so large a chi-square without any wrong reading
    double limit = 0.0;            ///< largest standardised residual that a clean set exceeds once in twenty; 0 without a check
    double worst = 0.0;            ///< largest of this set, in absolute size
    double chance = 1.0;           ///< bound on the chance of so large a one in a clean set
    std::vector<Judged> readings;  ///< one per observation
    std::vector<ReadingSuspect> suspects;     ///< likeliest first; empty: no alarm
    std::size_t tied = 0;                     ///< how many of them cannot be told apart; 1: the first is named
    bool more_than_one = false;               ///< even without the first the rest does not fit
    std::optional<std::size_t> second_wrong;  ///< then: the observation that, taken out as well, makes the rest fit
};

/// Judges a fit. `style` and `digits` serve the slips: what was written, in the maker's unit.
/// Laws      false alarms in 5 % of clean sets within 1 point, rates of finding: docs/accuracy.md [fit_blunders_test].
Judgement judge_fit(const Network& network, const NetworkFit& fit, const SlipContext& slips);

/// The largest standardised residual that a set without a wrong reading exceeds with the chance `false_alarm`, correlation
/// between the residuals included. `columns`: hat columns (FitCovariance::column of the observations), `redundancy` theirs.
/// Error of the chance: below half a point, seeded sampling [fit_judge_test].
double set_limit(const std::vector<std::vector<double>>& columns, const std::vector<double>& redundancy, double false_alarm,
                 std::size_t freedoms);

}  // namespace boardring
