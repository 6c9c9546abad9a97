#pragma once
#include <compare>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "stock/end_line.hpp"
#include "stock/pattern_source.hpp"
#include "stock/strip.hpp"

namespace boardring {

/// Patterns found by a bounded knapsack over (length, value), for sections with too many patterns to list.
///
/// Slanted ends: an order of pieces is a walk along a line of ends (end_line.hpp). The knapsack carries which gaps of the line are crossed
/// an odd number of times and which points hang together; closing the walk then costs a known length. With more than kMostPoints
/// different ends the narrowest gaps count as nothing. So lengths are never too long and bounds are valid; how far they may be too short
/// end_line.hpp says. All-square sections need none of this and are exact.
class Knapsack final : public PatternSource {
public:
    static constexpr std::size_t kMostPoints = 6;

    /// \param order_steps  work allowed for exact orders of single bars; once it is used up, a pattern no quick order makes fit is refused
    ///                     and fits_is_exact() is false
    Knapsack(const Strip& strip, const std::vector<StripPiece>& kinds, const std::vector<BarKind>& bars, std::uint64_t order_steps);

    std::vector<std::optional<PricedPattern>> best(const std::vector<std::int64_t>& value, const std::vector<std::int64_t>& more_than,
                                                   const Counts& most, StepBudget& budget) override;
    bool fits(std::size_t bar, const Counts& counts) override;
    [[nodiscard]] bool fits_is_exact() const override { return !guessed_order_; }

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

    std::size_t walk_number(Walk walk);
    [[nodiscard]] double closing_mm(const Walk& walk) const;
    std::size_t after(std::size_t walk, std::size_t kind);
    [[nodiscard]] std::int64_t hope(std::size_t from, std::int64_t room, const std::vector<std::int64_t>& value, const Counts& most) const;
    [[nodiscard]] std::size_t kinds() const { return kind_length_.size(); }

    EndLine all_ends_;
    EndLine line_;                                    ///< with few enough points to carry walks
    std::vector<BarKind> bars_;
    std::uint64_t order_steps_;
    bool guessed_order_ = false;
    std::vector<std::int64_t> kind_length_;           ///< own lengths in whole ten-thousandths of a millimetre, never rounded up
    std::vector<std::int64_t> bar_length_;
    std::vector<Walk> walks_;
    std::map<Walk, std::size_t> walk_index_;
    std::vector<std::int64_t> closing_;
    std::vector<std::vector<std::int64_t>> after_;    ///< walk x kind, -1 = not worked out yet
    std::vector<std::size_t> order_;                  ///< kinds by value per length, of the running search
    std::map<std::pair<double, Counts>, bool> known_fits_;  ///< by usable length
};

}  // namespace boardring
