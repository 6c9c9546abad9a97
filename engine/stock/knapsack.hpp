#pragma once
#include <array>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <map>
#include <vector>

#include "stock/pattern_source.hpp"
#include "stock/strip.hpp"

namespace boardring {

/// Patterns found by a bounded knapsack over (length, value), for sections with too many patterns to list.
///
/// Slanted ends: half of every kerf belongs to the pieces' own ends; what is left of a loss is half the distance of two points on a
/// line, so the least length of a set of pieces is that of a closed walk along the line. The knapsack carries which gaps of the line
/// are crossed an odd number of times and which points hang together; closing the walk then costs a known length.
/// That length is exact where pieces may be turned all four ways, and never too long otherwise:
///   ends swapped only (end_for_end)   too short by at most a kerf's slant, kerf * (1/cos S - 1), for each pair of unlike hands
///   ends never swapped freely         taken as if all turnings were allowed: a valid bound, often a weak one
/// With more than kMostRuns different ends the walk counts as nothing: again a valid bound.
/// All-square sections need none of this and are exact.
class Knapsack final : public PatternSource {
public:
    static constexpr std::size_t kMostRuns = 6;

    Knapsack(const Strip& strip, const std::vector<StripPiece>& kinds, const std::vector<BarKind>& bars);

    std::vector<std::optional<PricedPattern>> best(const std::vector<std::int64_t>& value, const std::vector<std::int64_t>& more_than,
                                                   const Counts& most, StepBudget& budget) override;
    bool fits(std::size_t bar, const Counts& counts) override;
    [[nodiscard]] bool fits_is_exact() const override { return !guessed_order_; }

    /// Least length of a set of pieces as the knapsack counts it [mm]; the true least length is never below it [knapsack_test].
    [[nodiscard]] double walk_length_mm(const Counts& counts) const;

private:
    struct Walk {                       ///< what a set of pieces leaves to be closed
        std::uint32_t odd = 0;          ///< bit g: gap g is crossed an odd number of times
        std::vector<std::uint8_t> part; ///< per point: 0 = untouched, else its component, numbered by first appearance
        auto operator<=>(const Walk&) const = default;
    };
    struct Node {
        std::int64_t length = 0;
        std::int64_t value = 0;
        std::int32_t parent = -1;
        std::uint32_t kind = 0;
    };
    struct Item {                       ///< one end of a list: node and its key numbers, kept together for speed
        std::int64_t length = 0;
        std::int64_t value = 0;
        std::int32_t node = -1;
    };
    using Line = std::vector<Item>;     ///< longer and worth more from front to back

    void lay_out_line();
    std::size_t walk_number(Walk walk);
    [[nodiscard]] double closing_mm(const Walk& walk) const;
    std::size_t after(std::size_t walk, std::size_t kind);
    [[nodiscard]] std::int64_t hope(std::size_t from, std::int64_t room, const std::vector<std::int64_t>& value, const Counts& most) const;
    [[nodiscard]] double least_mm(const Counts& counts);

    Strip strip_;
    std::vector<StripPiece> kinds_;
    std::vector<BarKind> bars_;
    bool square_ = true;
    bool guessed_order_ = false;
    bool walking_ = false;
    std::vector<double> points_;                      ///< transformed ends, ascending, the square one among them
    std::size_t square_point_ = 0;
    std::vector<double> gap_cut_;                     ///< how much shorter a gap counts (signed ends only)
    std::vector<std::array<std::size_t, 2>> ends_at_; ///< per kind: points of its two ends
    double bar_base_mm_ = 0.0;
    std::vector<double> kind_mm_;                     ///< length with its share of the kerfs
    std::vector<std::int64_t> kind_length_;           ///< the same in whole ten-thousandths of a millimetre, never rounded up
    std::vector<std::int64_t> bar_length_;
    std::vector<Walk> walks_;
    std::map<Walk, std::size_t> walk_index_;
    std::vector<std::int64_t> closing_;
    std::vector<std::vector<std::int64_t>> after_;    ///< walk x kind, -1 = not worked out yet
    std::vector<std::size_t> order_;                  ///< kinds by value per length, of the running search
    std::map<Counts, double> known_mm_;
};

}  // namespace boardring
