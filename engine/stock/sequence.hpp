#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <unordered_map>
#include <vector>

#include "stock/strip.hpp"

namespace boardring {

/// How many pieces of each kind lie on one bar.
using Counts = std::vector<int>;

/// A length fits when it is not longer than the bar by more than this [mm]: sums of a hundred lengths are good to 1e-10.
inline constexpr double kFitMm = 1e-6;

/// One piece in its place on a bar.
struct PlacedPiece {
    std::size_t kind = 0;
    Turning turning = Turning::as_first;
};

/// An order of pieces on one bar and the length it uses, losses at both ends included.
struct Sequence {
    std::vector<PlacedPiece> pieces;
    double used_mm = 0.0;
};

/// Least length of every multiset of pieces that fits a bar: exact dynamic programming over (multiset, run of the last cut), whatever
/// the turnings allow.
class SequenceTable {
public:
    /// All multisets of at most `most` pieces that need no more than `longest_mm`. Nothing when there are more than `most_sets` of them:
    /// then nobody should hold them all.
    static std::optional<SequenceTable> build(const Strip& strip, const std::vector<StripPiece>& kinds, const Counts& most,
                                              double longest_mm, std::size_t most_sets);

    [[nodiscard]] std::size_t size() const { return used_.size(); }
    /// Multiset `set`; number 0 is the empty one.
    [[nodiscard]] const std::uint16_t* counts(std::size_t set) const { return &counts_[set * kinds_.size()]; }
    [[nodiscard]] double used_mm(std::size_t set) const { return used_[set]; }
    [[nodiscard]] std::optional<std::size_t> find(const Counts& counts) const;
    /// A shortest order of multiset `set`; the same one in every run.
    [[nodiscard]] Sequence sequence(std::size_t set) const;
    /// Elementary steps taken to build it: a measure of work without a clock.
    [[nodiscard]] std::size_t steps() const { return steps_; }

private:
    struct Way {  ///< one kind turned one way
        std::size_t kind;
        Turning turning;
        std::size_t left, right;  ///< indices of runs
    };
    SequenceTable(const Strip& strip, const std::vector<StripPiece>& kinds, const Counts& most);
    bool grow(double longest_mm, std::size_t most_sets);
    void extend(std::size_t set);
    [[nodiscard]] std::uint64_t key(const std::uint16_t* counts) const;
    [[nodiscard]] double least_used(std::size_t set) const;
    [[nodiscard]] std::pair<std::size_t, std::size_t> step_back(std::size_t set, std::size_t right, std::size_t smaller,
                                                                const Way& way) const;

    Strip strip_;
    std::vector<StripPiece> kinds_;
    Counts most_;
    std::vector<std::uint64_t> radix_;
    bool countable_ = true;               ///< every multiset has a 64-bit number
    std::vector<double> runs_;            ///< distinct runs; runs_[0] stands for the bar's start
    std::vector<Way> ways_;
    std::vector<double> between_;         ///< loss [right][left]
    std::vector<std::uint16_t> counts_;   ///< sets x kinds
    std::vector<double> last_;            ///< sets x runs: least length up to a last cut of that run, without the finish
    std::vector<double> used_;
    std::unordered_map<std::uint64_t, std::uint32_t> index_;
    std::size_t steps_ = 0;
};

/// Length used by pieces in this order.
double used_mm(const Strip& strip, const std::vector<StripPiece>& kinds, const std::vector<PlacedPiece>& pieces);

}  // namespace boardring
