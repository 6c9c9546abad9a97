#pragma once
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "stock/sequence.hpp"

namespace boardring {

/// A long board of a section as the search sees it.
struct BarKind {
    double usable_mm = 0.0;   ///< length without the trimmed ends
    std::int64_t price = 0;   ///< whole numbers of the smallest amount
    std::int64_t at_most = 0; ///< how many there are, or as many as could ever be wanted
};

/// What goes on one bar, and what it is worth at the prices asked about.
struct PricedPattern {
    Counts counts;
    std::int64_t value = 0;
};

/// Work left, counted in elementary steps so that the same input always stops at the same place; `keep_going` is asked now and then and
/// belongs to the caller, who may look at a clock.
struct StepBudget {
    std::uint64_t steps_left = 0;
    std::function<bool()> keep_going;
    bool spent = false;

    /// Takes `steps`; false once the work is used up or the caller wants to stop.
    bool take(std::uint64_t steps) {
        since_asked += steps;
        if (steps_left <= steps) spent = true;
        steps_left -= spent ? 0 : steps;
        if (since_asked > kAskEvery) {
            since_asked = 0;
            if (keep_going && !keep_going()) spent = true;
        }
        return !spent;
    }

    static constexpr std::uint64_t kAskEvery = 1'000'000;
    std::uint64_t since_asked = 0;
};

/// Which patterns a bar can hold: finds the one worth most, in whole numbers, so that what it rules out is ruled out exactly.
class PatternSource {
public:
    virtual ~PatternSource() = default;

    /// For every kind of bar a pattern of greatest value above `more_than`, with at most `most` pieces of each kind. Nothing there means:
    /// no pattern that fits that bar is worth more than `more_than` (unless the budget is spent).
    /// A pattern returned may turn out not to fit (see fits): the search for the greatest value may only err on the generous side.
    virtual std::vector<std::optional<PricedPattern>> best(const std::vector<std::int64_t>& value,
                                                           const std::vector<std::int64_t>& more_than, const Counts& most,
                                                           StepBudget& budget) = 0;

    /// True if these pieces can be cut from this bar: least length known, to kFitMm.
    virtual bool fits(std::size_t bar, const Counts& counts) = 0;

    /// False if `fits` may call a pattern too long that some order would make short enough.
    [[nodiscard]] virtual bool fits_is_exact() const = 0;
};

}  // namespace boardring
