#include "stock/buying.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <numeric>
#include <set>
#include <tuple>
#include <utility>

#include "base/ensure.hpp"
#include "stock/attainable.hpp"
#include "stock/best_sequence.hpp"
#include "stock/end_line.hpp"
#include "stock/knapsack.hpp"
#include "stock/listed_patterns.hpp"
#include "stock/master.hpp"
#include "stock/search.hpp"
#include "stock/tidy.hpp"

namespace boardring {
namespace {

/// Worths are whole numbers of 2^-20 of the smallest price step, coarser only where totals would not fit 62 bits.
constexpr std::int64_t kFinestScale = std::int64_t{1} << 20;
/// Effort spent on the second wish, fewer boards at the same price.
constexpr std::uint64_t kStepsForFewerBars = 50'000'000;
/// One step in so many may go into exact orders of slanted pieces.
constexpr std::uint64_t kShareForOrders = 20;
/// Multisets looked at for the best order of one bar of the finished plan.
constexpr std::size_t kSetsOfFinishedBar = 2'000;

/// The section as the search wants it: like pieces and like offers merged, prices whole.
struct Reduced {
    std::vector<StripPiece> kinds;
    std::vector<std::vector<std::size_t>> pieces_of_kind;
    std::vector<BarKind> bars;
    std::vector<std::vector<std::size_t>> offers_of_bar;
    Counts demand;
    std::int64_t pieces = 0;
    bool by_length = false;
    double price_step = 1.0;            ///< one whole number of price
    bool rounded = false;               ///< some price is no whole number of these, so up to half of one off
    std::optional<std::size_t> phantom; ///< a bar that cannot be bought: stands for what is missing
};

/// The first of the values seen that differs by rounding alone.
class Alike {
public:
    double of(double value) {
        const auto near = seen_.lower_bound(value - kSameMm);
        if (near != seen_.end() && *near <= value + kSameMm) return *near;
        seen_.insert(value);
        return value;
    }

private:
    static constexpr double kSameMm = 1e-9;
    std::set<double> seen_{0.0};
};

/// Length (longest first), left and right run of every piece; slants that mirror each other have the same size.
std::vector<std::tuple<double, double, double>> shapes_of(const BuyingSection& section) {
    Alike lengths, runs;
    std::vector<std::tuple<double, double, double>> shapes;
    for (const StripPiece& piece : section.pieces) {
        const auto run = [&runs](double value) { return std::copysign(runs.of(std::abs(value)), value) + 0.0; };
        shapes.emplace_back(-lengths.of(piece.length_mm), run(piece.left_run_mm), run(piece.right_run_mm));
    }
    return shapes;
}

void merge_pieces(const BuyingSection& section, Reduced& reduced) {
    const std::vector<std::tuple<double, double, double>> shapes = shapes_of(section);
    std::map<std::tuple<double, double, double>, std::size_t> known;
    for (std::size_t p = 0; p < section.pieces.size(); ++p) {
        if (section.pieces[p].count > 0) known.try_emplace(shapes[p], 0);
    }
    for (auto& [shape, number] : known) {  // longest first, whatever the order given
        number = reduced.kinds.size();
        reduced.kinds.push_back({-std::get<0>(shape), std::get<1>(shape), std::get<2>(shape), 0});
    }
    reduced.pieces_of_kind.resize(reduced.kinds.size());
    reduced.demand.assign(reduced.kinds.size(), 0);
    for (std::size_t p = 0; p < section.pieces.size(); ++p) {
        const StripPiece& piece = section.pieces[p];
        if (piece.count == 0) continue;
        const std::size_t kind = known.at(shapes[p]);
        reduced.kinds[kind].count += piece.count;
        reduced.pieces_of_kind[kind].push_back(p);
        reduced.demand[kind] += static_cast<int>(piece.count);
        reduced.pieces += static_cast<std::int64_t>(piece.count);
    }
}

/// Decimals of a length that stands for a price: finer than any rule, and coarse enough for sums of whole numbers.
constexpr int kDecimalsOfLength = 4;
constexpr int kDecimalsOfPrice = 6;

/// But for what quotient and step themselves are rounded by, no more: cents of a price of ten million are no dust.
bool is_whole(double steps) {
    return std::abs(steps - std::round(steps)) <= std::max(1e-9, 1e-14 * std::abs(steps));
}

/// Largest of 1, 0.1, 0.01 ... of which all prices are multiples; prices with more than `most_decimals` are rounded to that many.
double step_of(const std::vector<double>& prices, int most_decimals) {
    double step = 1.0;
    for (int decimals = 0; decimals < most_decimals; ++decimals) {
        if (std::all_of(prices.begin(), prices.end(), [&](double price) { return is_whole(price / step); })) return step;
        step /= 10.0;
    }
    return step;
}

/// As given, or the length where that stands for it.
double price_of(const BarOffer& offer, bool by_length) {
    if (by_length) return offer.offcut ? 0.0 : offer.length_mm;
    return offer.price.value_or(0.0);
}

void merge_offers(const BuyingSection& section, Reduced& reduced) {
    for (const BarOffer& offer : section.offers) reduced.by_length = reduced.by_length || (!offer.offcut && !offer.price);
    std::vector<double> prices;
    for (const BarOffer& offer : section.offers) prices.push_back(price_of(offer, reduced.by_length));
    reduced.price_step = step_of(prices, reduced.by_length ? kDecimalsOfLength : kDecimalsOfPrice);
    reduced.rounded = std::any_of(prices.begin(), prices.end(), [&](double price) { return !is_whole(price / reduced.price_step); });
    std::map<std::pair<double, std::int64_t>, std::vector<std::size_t>> known;
    for (std::size_t o = 0; o < section.offers.size(); ++o) {
        const double usable = usable_mm(section, section.offers[o]);
        if (usable <= 0.0 || section.offers[o].count == 0) continue;
        known[{-usable, std::llround(prices[o] / reduced.price_step)}].push_back(o);
    }
    for (const auto& [shape, offers] : known) {
        std::int64_t there = 0;
        for (const std::size_t o : offers) {
            const auto& count = section.offers[o].count;
            there = std::min(reduced.pieces, there + (count ? static_cast<std::int64_t>(*count) : reduced.pieces));
        }
        reduced.bars.push_back({-shape.first, shape.second, there});
        reduced.offers_of_bar.push_back(offers);
    }
}

bool fits_alone(const BuyingSection& section, const StripPiece& piece, double usable) {
    return loss_at_end_mm(section.strip, piece.left_run_mm) + piece.length_mm + loss_at_end_mm(section.strip, piece.right_run_mm) <=
           usable + kFitMm;
}

/// Where some piece fits counted boards alone, one more kind of board that is never short, at a price above all the others together.
void add_phantom(const BuyingSection& section, Reduced& reduced) {
    const auto may_run_short = [&](const StripPiece& kind) {
        return std::none_of(reduced.bars.begin(), reduced.bars.end(), [&](const BarKind& bar) {
            return bar.at_most >= reduced.pieces && fits_alone(section, kind, bar.usable_mm);
        });
    };
    if (std::none_of(reduced.kinds.begin(), reduced.kinds.end(), may_run_short)) return;
    std::int64_t all = 0, divisor = 0;
    for (const BarKind& bar : reduced.bars) {
        all += bar.price * bar.at_most;
        divisor = std::gcd(divisor, bar.price);
    }
    all += std::max<std::int64_t>(1, divisor);  // still a sum of the others' common step, so that bounds are lifted as without it
    reduced.phantom = reduced.bars.size();
    reduced.bars.push_back({reduced.bars.front().usable_mm, all, reduced.pieces});
}

std::unique_ptr<PatternSource> make_source(const BuyingSection& section, const Reduced& reduced, const BuyingLimits& limits) {
    const bool square = std::all_of(reduced.kinds.begin(), reduced.kinds.end(),
                                    [](const StripPiece& kind) { return kind.left_run_mm == 0.0 && kind.right_run_mm == 0.0; });
    if (!square) {
        // Every multiset costs so many steps at most: its pieces turned every way, behind every run.
        const std::uint64_t steps_a_set = reduced.kinds.size() * section.strip.turnings.size() * (2 * reduced.kinds.size() + 1);
        const std::size_t most = std::min<std::uint64_t>(limits.most_listed, limits.steps / kShareForOrders / steps_a_set);
        auto table = SequenceTable::build(section.strip, reduced.kinds, reduced.demand, reduced.bars.front().usable_mm, most);
        if (table) return std::make_unique<ListedPatterns>(std::move(*table), reduced.bars);
    }
    return std::make_unique<Knapsack>(section.strip, reduced.kinds, reduced.bars, limits.steps / kShareForOrders);
}

BarLimits limits_of(const std::vector<BarKind>& bars) {
    BarLimits limits;
    for (const BarKind& bar : bars) {
        // What costs nothing may as well be taken, left whole or not: then its number needs no branching.
        limits.low.push_back(bar.price == 0 ? bar.at_most : 0);
        limits.high.push_back(bar.at_most);
    }
    return limits;
}

/// A dearest plan: its price bounds what the search may multiply.
std::int64_t scale_for(const Reduced& reduced) {
    std::int64_t dearest = 1;
    for (const BarKind& bar : reduced.bars) dearest = std::max(dearest, bar.price);
    const double total = static_cast<double>(dearest) * static_cast<double>(reduced.pieces + 1) * static_cast<double>(reduced.pieces + 1) * 16.0;
    std::int64_t scale = kFinestScale;
    while (scale > 1 && total * static_cast<double>(scale) > 4e18) scale /= 2;
    return scale;
}

std::vector<double> lengths_of(const Reduced& reduced) {
    std::vector<double> lengths;
    for (const StripPiece& kind : reduced.kinds) lengths.push_back(kind.length_mm);
    return lengths;
}

Master make_master(const Reduced& reduced, PatternSource& source) {
    std::int64_t dearest = 1;
    for (const BarKind& bar : reduced.bars) dearest = std::max(dearest, bar.price);
    return {source, reduced.bars, reduced.demand, lengths_of(reduced), scale_for(reduced), 4 * dearest * (reduced.pieces + 1)};
}

Filling first_filling(Master& master, const BarLimits& limits) {
    std::optional<Filling> filling = fill_greedily(master, limits);
    ENSURE(filling.has_value());  // every piece fits a board that never runs out, the phantom if no other
    take_cheaper_bars(master, limits, *filling);
    for (const FilledBar& filled : filling->bars) master.add(filled.bar, filled.counts);
    for (std::size_t i = 0; i < master.demand().size(); ++i) {
        Counts one(master.demand().size(), 0);
        one[i] = 1;
        for (std::size_t k = 0; k < master.bars().size(); ++k) {
            if (master.source().fits(k, one)) master.add(k, one);
        }
    }
    return *filling;
}

/// Same price, fewer boards: every price times more boards than there are, plus one for the board.
bool fewer_bars(const Reduced& reduced, PatternSource& source, Filling& best, const Master& known, const BuyingLimits& limits) {
    const auto bars_now = static_cast<std::int64_t>(best.bars.size());
    Reduced counted = reduced;
    std::int64_t weight = 2;
    while (weight <= bars_now + 1) weight *= 2;
    for (BarKind& bar : counted.bars) bar.price = bar.price * weight + 1;
    Filling start = best;
    start.price = best.price * weight + bars_now;
    if (AttainableSums(counted.bars, start.price).at_least(best.price * weight) >= start.price) return true;
    Master master = make_master(counted, source);
    for (const Master::Column& column : known.columns()) master.add(column.bar, column.counts);
    StepBudget budget{std::min(kStepsForFewerBars, limits.steps / 4), limits.keep_going};
    const SearchResult found = search(master, limits_of(counted.bars), start, budget, {});
    if (found.best.price < start.price) {
        best.bars = found.best.bars;
        best.price = found.best.price / weight;
    }
    return found.bound == found.best.price;
}

/// Pieces and offers by their own numbers again, bars longest first.
void write_bars(const BuyingSection& section, const Reduced& reduced, const Filling& filling, SectionBuy& buy) {
    std::vector<FilledBar> bars = filling.bars;
    std::stable_sort(bars.begin(), bars.end(), [&](const FilledBar& one, const FilledBar& other) {
        if (one.bar != other.bar) return one.bar < other.bar;
        return one.counts > other.counts;
    });
    std::vector<std::vector<std::size_t>> pieces_left(section.pieces.size());
    std::vector<std::size_t> piece_at(reduced.kinds.size(), 0);
    std::vector<std::size_t> taken_of_piece(section.pieces.size(), 0);
    std::vector<std::size_t> offer_at(reduced.bars.size(), 0);
    std::vector<std::size_t> taken_of_offer(section.offers.size(), 0);
    const EndLine line(section.strip, reduced.kinds);
    for (const FilledBar& filled : bars) {
        CutBar cut;
        const auto& offers = reduced.offers_of_bar[filled.bar];
        while (section.offers[offers[offer_at[filled.bar]]].count &&
               taken_of_offer[offers[offer_at[filled.bar]]] >= *section.offers[offers[offer_at[filled.bar]]].count) {
            ++offer_at[filled.bar];
        }
        cut.offer = offers[offer_at[filled.bar]];
        ++taken_of_offer[cut.offer];
        BestSequence best = best_sequence(line, filled.counts, kSetsOfFinishedBar);
        if (best.sequence.used_mm > reduced.bars[filled.bar].usable_mm + kFitMm) best = best_sequence(line, filled.counts);
        const Sequence sequence = from_handier_end(section.strip, reduced.kinds,
                                                   with_fewer_settings(section.strip, reduced.kinds, std::move(best.sequence)));
        double last_run = 0.0;
        for (PlacedPiece placed : sequence.pieces) {
            last_run = turned_ends(reduced.kinds[placed.kind], placed.turning).right_run_mm;
            const auto& pieces = reduced.pieces_of_kind[placed.kind];
            std::size_t& at = piece_at[placed.kind];
            while (taken_of_piece[pieces[at]] >= section.pieces[pieces[at]].count) ++at;
            ++taken_of_piece[pieces[at]];
            placed.kind = pieces[at];
            cut.pieces.push_back(placed);
        }
        cut.used_mm = sequence.used_mm;
        const double last_kerf = section.strip.kerf_at_ends ? 0.0 : kerf_along_mm(section.strip, last_run);
        cut.left_over_mm = std::max(0.0, usable_mm(section, section.offers[cut.offer]) - cut.used_mm - last_kerf);
        buy.bars.push_back(std::move(cut));
    }
}

}  // namespace

double usable_mm(const BuyingSection& section, const BarOffer& offer) {
    return offer.offcut ? offer.length_mm : offer.length_mm - 2.0 * section.end_trim_mm;
}

SectionBuy buy_section(const BuyingSection& section, const BuyingLimits& limits) {
    SectionBuy buy;
    Reduced reduced;
    merge_pieces(section, reduced);
    merge_offers(section, reduced);
    buy.by_length = reduced.by_length;
    if (section.offers.empty()) return buy;
    buy.longest_usable_mm = reduced.bars.empty() ? 0.0 : reduced.bars.front().usable_mm;
    for (std::size_t p = 0; p < section.pieces.size(); ++p) {
        if (section.pieces[p].count > 0 && !fits_alone(section, section.pieces[p], buy.longest_usable_mm)) buy.too_long.push_back(p);
    }
    if (!buy.too_long.empty()) {
        buy.outcome = BuyingOutcome::too_long;
        return buy;
    }
    if (reduced.kinds.empty()) {
        buy.outcome = BuyingOutcome::cheapest;
        buy.fewest_bars = true;
        return buy;
    }
    add_phantom(section, reduced);
    const std::unique_ptr<PatternSource> source = make_source(section, reduced, limits);
    Master master = make_master(reduced, *source);
    const BarLimits bar_limits = limits_of(reduced.bars);
    const Filling start = first_filling(master, bar_limits);
    StepBudget budget{limits.steps, limits.keep_going};
    const SearchProgress progress = [&](std::int64_t best, std::int64_t bound) {
        if (limits.progress) limits.progress(static_cast<double>(best) * reduced.price_step, static_cast<double>(bound) * reduced.price_step);
    };
    SearchResult found = search(master, bar_limits, start, budget, progress);
    const auto missing = std::count_if(found.best.bars.begin(), found.best.bars.end(),
                                       [&](const FilledBar& filled) { return reduced.phantom && filled.bar == *reduced.phantom; });
    if (missing > 0) {
        buy.outcome = BuyingOutcome::too_few;
        buy.bars_missing = static_cast<std::size_t>(missing);
        buy.too_few_proven = found.bound >= reduced.bars[*reduced.phantom].price;
        return buy;
    }
    if (found.bound >= found.best.price && !limits.price_only) buy.fewest_bars = fewer_bars(reduced, *source, found.best, master, limits);
    keep_one_long_rest(master, found.best);
    if (!limits.price_only) loosen_tight_bars(section.strip, reduced.kinds, master, found.best);
    buy.outcome = found.bound >= found.best.price ? BuyingOutcome::cheapest : BuyingOutcome::bounded;
    write_bars(section, reduced, found.best, buy);
    buy.price = static_cast<double>(found.best.price) * reduced.price_step;
    buy.bound = static_cast<double>(found.bound) * reduced.price_step;
    if (reduced.rounded) {
        buy.price = 0.0;
        for (const CutBar& bar : buy.bars) buy.price += price_of(section.offers[bar.offer], reduced.by_length);
        // A whole number may lie above its price by half a step, for every board.
        buy.bound = std::min(buy.price, buy.bound - 0.5 * reduced.price_step * static_cast<double>(reduced.pieces));
    }
    if (buy.outcome == BuyingOutcome::cheapest) buy.bound = buy.price;
    return buy;
}

std::vector<BarMarks> bar_marks(const BuyingSection& section, const CutBar& bar) {
    std::vector<BarMarks> marks;
    double x = section.offers[bar.offer].offcut ? 0.0 : section.end_trim_mm;
    double right_run = 0.0;
    for (std::size_t i = 0; i < bar.pieces.size(); ++i) {
        const StripPiece& piece = section.pieces[bar.pieces[i].kind];
        const StripEnds ends = turned_ends(piece, bar.pieces[i].turning);
        x += i == 0 ? loss_at_end_mm(section.strip, ends.left_run_mm) : loss_between_mm(section.strip, right_run, ends.left_run_mm);
        const double end = x + piece.length_mm;
        marks.push_back({x + ends.left_run_mm / 2.0, x - ends.left_run_mm / 2.0, end + ends.right_run_mm / 2.0, end - ends.right_run_mm / 2.0});
        x = end;
        right_run = ends.right_run_mm;
    }
    return marks;
}

}  // namespace boardring
