#include "stock/dive.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace boardring {
namespace {

constexpr std::size_t kWaysBack = 30;  // choices taken back in one dive before it is called off
constexpr std::uint64_t kFractionsFirst = 3;
constexpr double kWhole = 1e-6;  // a fraction this near a whole number is that number

bool empty(const Counts& counts) {
    return std::all_of(counts.begin(), counts.end(), [](int c) { return c == 0; });
}

/// Small numbers that look random and never change: splitmix64.
double shake(std::uint64_t variant, std::uint64_t step, std::uint64_t column) {
    std::uint64_t z = variant * 0x9e3779b97f4a7c15ULL + step * 0xd1b54a32d192ed03ULL + column * 0x8cb92ba72f3d8dd7ULL;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return static_cast<double>((z ^ (z >> 31)) >> 11) * 0x1.0p-53;
}

struct Rest {
    Counts demand;
    BarLimits limits;
    Filling filling;

    /// True if every piece of the pattern is still wanted.
    [[nodiscard]] bool wants_all(const Counts& pattern) const {
        for (std::size_t i = 0; i < pattern.size(); ++i) {
            if (pattern[i] > demand[i]) return false;
        }
        return true;
    }

    /// Takes one bar with as much of the pattern as is still wanted; false if that is nothing, or there is no such bar.
    bool take(const Master& master, std::size_t bar, const Counts& pattern) {
        if (limits.high[bar] == 0) return false;
        Counts counts = pattern;
        for (std::size_t i = 0; i < counts.size(); ++i) counts[i] = std::min(counts[i], demand[i]);
        if (empty(counts)) return false;
        for (std::size_t i = 0; i < counts.size(); ++i) demand[i] -= counts[i];
        --limits.high[bar];
        filling.price += master.bars()[bar].price;
        filling.bars.push_back({bar, std::move(counts)});
        return true;
    }
};

Rest everything(const Master& master, const BarLimits& limits) {
    Rest rest{master.demand(), limits, {}};
    // A dive fills what it needs; bars bought for nothing only matter to bounds.
    std::fill(rest.limits.low.begin(), rest.limits.low.end(), 0);
    return rest;
}

/// As many of each kind as fit, in this order of kinds.
Counts fill_bar(Master& master, std::size_t bar, const Counts& demand, const std::vector<std::size_t>& order,
                const std::vector<double>& length) {
    Counts counts(demand.size(), 0);
    double used = 0.0;
    for (const std::size_t kind : order) {
        while (counts[kind] < demand[kind] && used + length[kind] <= master.bars()[bar].usable_mm * 1.1) {
            ++counts[kind];
            if (!master.source().fits(bar, counts)) {
                --counts[kind];
                break;
            }
            used += length[kind];
        }
    }
    return counts;
}

}  // namespace

std::optional<Filling> fill_greedily(Master& master, const BarLimits& limits) {
    Rest rest = everything(master, limits);
    const std::vector<double>& length = master.lengths_mm();
    std::vector<std::size_t> order(length.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t one, std::size_t other) { return length[one] > length[other]; });
    while (!empty(rest.demand)) {
        double best = 0.0;
        std::optional<FilledBar> best_bar;
        for (std::size_t bar = 0; bar < master.bars().size(); ++bar) {
            if (rest.limits.high[bar] == 0) continue;
            Counts counts = fill_bar(master, bar, rest.demand, order, length);
            if (empty(counts)) continue;
            double filled = 0.0;
            for (std::size_t k = 0; k < counts.size(); ++k) filled += counts[k] * length[k];
            const double score = static_cast<double>(master.bars()[bar].price) / filled;
            if (best_bar && score >= best) continue;
            best = score;
            best_bar = FilledBar{bar, std::move(counts)};
        }
        if (!best_bar || !rest.take(master, best_bar->bar, best_bar->counts)) return std::nullopt;
    }
    return rest.filling;
}

namespace {

/// One step of a dive and the choices it has not tried.
struct Level {
    Rest rest;
    std::vector<std::size_t> choices;  ///< columns, best last
};

/// Columns to round up, best last.
std::vector<std::size_t> choices_of(const Master& master, const Master::Relaxed& relaxed, std::size_t variant, std::uint64_t step) {
    std::vector<std::pair<double, std::size_t>> fractions;
    for (std::size_t c = 0; c < relaxed.amounts.size(); ++c) {
        if (!master.columns()[c].fits || relaxed.amounts[c] <= kWhole) continue;
        fractions.emplace_back(relaxed.amounts[c] - std::floor(relaxed.amounts[c] + kWhole) + (variant == 0 ? 0.0 : 0.5 * shake(variant, step, c)), c);
    }
    std::stable_sort(fractions.begin(), fractions.end(), [](const auto& one, const auto& other) { return one.first < other.first; });
    std::vector<std::size_t> choices;
    for (const auto& [score, column] : fractions) choices.push_back(column);
    return choices;
}

/// All whole bars of the relaxed plan.
bool take_whole_bars(const Master& master, const Master::Relaxed& relaxed, Rest& rest) {
    bool took = false;
    for (std::size_t c = 0; c < relaxed.amounts.size(); ++c) {
        const Master::Column& column = master.columns()[c];
        if (!column.fits) continue;
        for (double left = relaxed.amounts[c]; left >= 1.0 - kWhole; left -= 1.0) {
            if (!rest.wants_all(column.counts)) break;  // the next relaxation will know what goes there instead
            took = rest.take(master, column.bar, column.counts) || took;
        }
    }
    return took;
}

/// The next choice nobody tried, walking back over levels that have none left.
bool take_next_choice(const Master& master, std::vector<Level>& levels, Rest& rest) {
    while (!levels.empty()) {
        Level& level = levels.back();
        while (!level.choices.empty()) {
            const Master::Column& column = master.columns()[level.choices.back()];
            level.choices.pop_back();
            rest = level.rest;
            if (rest.take(master, column.bar, column.counts)) return true;
        }
        levels.pop_back();
    }
    return false;
}

}  // namespace

std::optional<Filling> dive(Master& master, const BarLimits& limits, const AttainableSums& sums, std::int64_t must_beat,
                            std::size_t variant, StepBudget& budget) {
    Rest rest = everything(master, limits);
    std::vector<Level> levels;
    std::size_t ways_back = kWaysBack;
    for (std::uint64_t step = 1; !empty(rest.demand); ++step) {
        const std::int64_t enough = must_beat - rest.filling.price;
        const Master::Relaxed relaxed = master.relax(rest.demand, rest.limits, sums, enough, true, budget);
        if (budget.spent) return std::nullopt;
        const bool hopeless = sums.at_least(rest.filling.price + master.price_of(relaxed.bound.scaled)) >= must_beat;
        // Later variants first round some fractions up, so that the whole bars that follow are other ones.
        const bool whole_bars_wait = step <= kFractionsFirst * variant;
        if (!hopeless && !whole_bars_wait && take_whole_bars(master, relaxed, rest)) continue;
        if (hopeless) {
            if (ways_back-- == 0) return std::nullopt;
        } else {
            levels.push_back({rest, choices_of(master, relaxed, variant, step)});
        }
        if (!take_next_choice(master, levels, rest)) return std::nullopt;
    }
    return rest.filling;
}

void take_cheaper_bars(Master& master, const BarLimits& limits, Filling& filling) {
    std::vector<std::int64_t> left = limits.high;
    for (const FilledBar& filled : filling.bars) --left[filled.bar];
    for (FilledBar& filled : filling.bars) {
        for (std::size_t bar = 0; bar < master.bars().size(); ++bar) {
            if (left[bar] <= 0 || master.bars()[bar].price >= master.bars()[filled.bar].price) continue;
            if (!master.source().fits(bar, filled.counts)) continue;
            filling.price += master.bars()[bar].price - master.bars()[filled.bar].price;
            ++left[filled.bar];
            --left[bar];
            filled.bar = bar;
        }
    }
}

}  // namespace boardring
