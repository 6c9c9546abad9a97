#pragma once
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "stock/sequence.hpp"
#include "stock/strip.hpp"

namespace boardring {

// What to buy and how to saw it: the cheapest long boards that hold all pieces (docs/theory/stock.md).

/// A length on sale or at home.
struct BarOffer {
    double length_mm = 0.0;
    std::optional<double> price;        ///< empty: unknown, or for an offcut nothing
    std::optional<std::size_t> count;   ///< empty: as many as wanted
    bool offcut = false;                ///< already owned: costs nothing unless it has a price
};

/// All pieces and boards of one section.
struct BuyingSection {
    Strip strip;
    std::vector<StripPiece> pieces;
    double end_trim_mm = 0.0;           ///< cut off both ends of every bar on sale, kerf included; offcuts are taken as they are
    std::vector<BarOffer> offers;
};

/// When to stop looking. Steps are counted, not timed, so that the same input gives the same plan everywhere.
struct BuyingLimits {
    std::uint64_t steps = 2'000'000'000;
    /// Slanted pieces: up to so many patterns are written down one by one, which is exact for all turnings; beyond that the knapsack
    /// with its sometimes shorter lengths takes over.
    std::size_t most_listed = 60'000;
    bool price_only = false;            ///< no wishes among plans of one price: not even fewer boards
    std::function<bool()> keep_going;   ///< asked now and then; false stops the search. Empty: go on
    std::function<void(double best, double bound)> progress;
};

/// One bar and what is cut from it, from its left end to the right.
struct CutBar {
    std::size_t offer = 0;
    std::vector<PlacedPiece> pieces;    ///< `kind` is an index into BuyingSection::pieces
    double used_mm = 0.0;               ///< of the usable length, losses and kerfs included
    double left_over_mm = 0.0;          ///< what is left in one piece behind the last cut, far trim not counted
};

enum class BuyingOutcome {
    cheapest,    ///< proven: nothing cheaper exists among the offers
    bounded,     ///< a plan, and a proven bound below it
    too_long,    ///< some pieces fit no board
    too_few,     ///< the boards that are there do not suffice
    no_offers,   ///< no lengths were given
};

struct SectionBuy {
    BuyingOutcome outcome = BuyingOutcome::no_offers;
    std::vector<CutBar> bars;             ///< longest first, then as filled; empty unless there is a plan
    bool by_length = false;               ///< some price is unknown: what is least is the length bought, `price` and `bound` are mm
    double price = 0.0;
    double bound = 0.0;                   ///< no plan costs less; equal to price when proven
    bool fewest_bars = false;             ///< proven: no plan of this price has fewer boards
    std::vector<std::size_t> too_long;    ///< pieces that fit no offer
    double longest_usable_mm = 0.0;
    std::size_t bars_missing = 0;         ///< too_few: so many more of the longest length would do
    bool too_few_proven = false;          ///< too_few: proven that the boards there are cannot hold the pieces
};

/// Finds the cheapest plan for one section.
/// Laws  every piece is cut `count` times; on every bar lengths, kerfs and what is left add up to the bar; never more bars than there
///       are; adding an offer, a turning or shortening a piece never raises a proven price; the order of pieces and offers changes
///       nothing about the price [buying_test, property_buying_test]
/// "Proven" rests on whole numbers only (master.hpp): prices to six decimals, lengths in their place to four; a fit is to kFitMm.
SectionBuy buy_section(const BuyingSection& section, const BuyingLimits& limits = {});

/// Length of a bar that pieces may come from.
double usable_mm(const BuyingSection& section, const BarOffer& offer);

/// Where the cuts of one piece fall on its bar, measured from the bar's left end, ends as bought [mm].
struct BarMarks {
    double left_upper_mm = 0.0, left_lower_mm = 0.0;
    double right_upper_mm = 0.0, right_lower_mm = 0.0;
};
std::vector<BarMarks> bar_marks(const BuyingSection& section, const CutBar& bar);

}  // namespace boardring
