#include "stock/tidy.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <utility>

#include "stock/best_sequence.hpp"
#include "stock/end_line.hpp"

namespace boardring {
namespace {

double room_mm(const Master& master, const FilledBar& filled) {
    double room = master.bars()[filled.bar].usable_mm;
    for (std::size_t i = 0; i < filled.counts.size(); ++i) room -= filled.counts[i] * master.lengths_mm()[i];
    return room;
}

bool move_one(Master& master, Filling& filling, std::size_t from) {
    std::vector<std::size_t> kinds(master.lengths_mm().size());
    std::iota(kinds.begin(), kinds.end(), std::size_t{0});
    std::stable_sort(kinds.begin(), kinds.end(),
                     [&](std::size_t one, std::size_t other) { return master.lengths_mm()[one] > master.lengths_mm()[other]; });
    for (const std::size_t kind : kinds) {
        if (filling.bars[from].counts[kind] == 0) continue;
        for (std::size_t to = 0; to < filling.bars.size(); ++to) {
            if (to == from) continue;
            ++filling.bars[to].counts[kind];
            if (master.source().fits(filling.bars[to].bar, filling.bars[to].counts)) {
                --filling.bars[from].counts[kind];
                return true;
            }
            --filling.bars[to].counts[kind];
        }
    }
    return false;
}

constexpr double kSameMm = 1e-7;             // lengths this near are one length: sums of a bar are good to 1e-10
constexpr double kSameRunMm = 1e-9;          // as are settings
constexpr std::size_t kMostExchanges = 400;  // lengths worked out for one plan
constexpr std::size_t kSetsLookedAt = 500;   // for the order of one bar
constexpr double kMuchShorter = 2.0 / 3.0;   // a last piece so much shorter than the first had better be sawn first
constexpr std::size_t kMostReordered = 24;   // pieces on a bar worth putting in order

bool swaps_ends(Turning turning) { return turning == Turning::top_to_bottom || turning == Turning::end_for_end; }
bool swaps_edges(Turning turning) { return turning == Turning::edge_for_edge || turning == Turning::end_for_end; }

/// One turning after the other: they are a group of four, each its own way back.
Turning composed(Turning one, Turning other) {
    const bool ends = swaps_ends(one) != swaps_ends(other);
    const bool edges = swaps_edges(one) != swaps_edges(other);
    if (ends) return edges ? Turning::end_for_end : Turning::top_to_bottom;
    return edges ? Turning::edge_for_edge : Turning::as_first;
}

std::vector<Turning> turnings_that_swap_ends(const Strip& strip, Turning from) {
    std::vector<Turning> turned;
    for (const Turning t : strip.turnings) {
        if (swaps_ends(t) != swaps_ends(from)) turned.push_back(t);
    }
    return turned;
}

// Neighbours of an order: one piece taken elsewhere or turned, or a stretch of pieces turned round as a whole.
template <class Try>
void for_each_neighbour(const Strip& strip, const std::vector<PlacedPiece>& pieces, const Try& attempt) {
    const std::size_t n = pieces.size();
    for (std::size_t from = 0; from < n; ++from) {
        for (std::size_t to = 0; to < n; ++to) {
            for (const Turning turning : strip.turnings) {
                std::vector<PlacedPiece> next = pieces;
                next.erase(next.begin() + static_cast<std::ptrdiff_t>(from));
                next.insert(next.begin() + static_cast<std::ptrdiff_t>(to), {pieces[from].kind, turning});
                if (attempt(std::move(next))) return;
            }
        }
    }
    for (std::size_t from = 0; from < n; ++from) {
        for (std::size_t to = from + 1; to < n; ++to) {
            std::vector<PlacedPiece> next = pieces;
            std::reverse(next.begin() + static_cast<std::ptrdiff_t>(from), next.begin() + static_cast<std::ptrdiff_t>(to + 1));
            bool possible = true;
            for (std::size_t i = from; i <= to && possible; ++i) {
                const std::vector<Turning> turned = turnings_that_swap_ends(strip, next[i].turning);
                possible = !turned.empty();
                if (possible) next[i].turning = turned.front();
            }
            if (possible && attempt(std::move(next))) return;
        }
    }
}

// The bars' slack, and exchanges that give the tightest more of it.
class Loosener {
public:
    Loosener(const Strip& strip, const std::vector<StripPiece>& kinds, const Master& master, Filling& filling)
        : line_(strip, kinds), kinds_(kinds), master_(master), filling_(filling) {
        for (const FilledBar& bar : filling_.bars) slack_.push_back(slack_of(bar));
    }

    void run() {
        if (slack_.size() < 3) return;  // the tight one, another, and the one whose rest is kept
        while (loosen_tightest()) {
        }
    }

private:
    [[nodiscard]] double slack_of(const FilledBar& bar) {
        ++looked_;
        return master_.bars()[bar.bar].usable_mm - best_sequence(line_, bar.counts, kSetsLookedAt).sequence.used_mm;
    }

    bool loosen_tightest() {
        const auto tightest = static_cast<std::size_t>(std::min_element(slack_.begin(), slack_.end()) - slack_.begin());
        const auto emptiest = static_cast<std::size_t>(std::max_element(slack_.begin(), slack_.end()) - slack_.begin());
        if (slack_[tightest] >= kTightMm) return false;
        for (std::size_t other = 0; other < slack_.size(); ++other) {
            if (other == tightest || other == emptiest) continue;
            for (std::size_t given = 0; given < kinds_.size(); ++given) {
                for (std::size_t taken = 0; taken <= kinds_.size(); ++taken) {
                    if (exchange(tightest, other, given, taken)) return true;
                }
            }
        }
        return false;
    }

    // `taken` = kinds_.size(): nothing comes back.
    bool exchange(std::size_t tight, std::size_t other, std::size_t given, std::size_t taken) {
        const bool nothing_back = taken == kinds_.size();
        const double gain = kinds_[given].length_mm - (nothing_back ? 0.0 : kinds_[taken].length_mm);
        if (looked_ >= kMostExchanges || gain <= kSameMm || filling_.bars[tight].counts[given] == 0) return false;
        if (!nothing_back && filling_.bars[other].counts[taken] == 0) return false;
        FilledBar one = filling_.bars[tight], two = filling_.bars[other];
        --one.counts[given];
        ++two.counts[given];
        if (!nothing_back) {
            ++one.counts[taken];
            --two.counts[taken];
        }
        const double slack_one = slack_of(one), slack_two = slack_of(two);
        if (std::min(slack_one, slack_two) <= slack_[tight] + kSameMm) return false;
        filling_.bars[tight] = std::move(one);
        filling_.bars[other] = std::move(two);
        slack_[tight] = slack_one;
        slack_[other] = slack_two;
        return true;
    }

    EndLine line_;
    const std::vector<StripPiece>& kinds_;
    const Master& master_;
    Filling& filling_;
    std::vector<double> slack_;
    std::size_t looked_ = 0;
};

}  // namespace

void keep_one_long_rest(Master& master, Filling& filling) {
    if (filling.bars.size() < 2) return;
    std::size_t emptiest = 0;
    for (std::size_t b = 1; b < filling.bars.size(); ++b) {
        if (room_mm(master, filling.bars[b]) > room_mm(master, filling.bars[emptiest])) emptiest = b;
    }
    // Every move takes a piece out of this one bar, so there are at most as many as it holds.
    while (move_one(master, filling, emptiest)) {
    }
    const auto& counts = filling.bars[emptiest].counts;
    if (std::any_of(counts.begin(), counts.end(), [](int c) { return c > 0; })) return;
    filling.price -= master.bars()[filling.bars[emptiest].bar].price;
    filling.bars.erase(filling.bars.begin() + static_cast<std::ptrdiff_t>(emptiest));
}

void loosen_tight_bars(const Strip& strip, const std::vector<StripPiece>& kinds, const Master& master, Filling& filling) {
    Loosener(strip, kinds, master, filling).run();
}

std::size_t setting_changes(const std::vector<StripPiece>& kinds, const std::vector<PlacedPiece>& pieces) {
    std::size_t changes = 0;
    std::optional<double> before;
    for (const PlacedPiece& piece : pieces) {
        const StripEnds ends = turned_ends(kinds[piece.kind], piece.turning);
        for (const double run : {ends.left_run_mm, ends.right_run_mm}) {
            if (before && std::abs(std::abs(run) - *before) > kSameRunMm) ++changes;
            before = std::abs(run);
        }
    }
    return changes;
}

Sequence with_fewer_settings(const Strip& strip, const std::vector<StripPiece>& kinds, Sequence sequence) {
    if (sequence.pieces.size() > kMostReordered) return sequence;
    const double longest = sequence.used_mm + kSameMm;
    std::size_t changes = setting_changes(kinds, sequence.pieces);
    for (bool better = changes > 0; better;) {
        better = false;
        for_each_neighbour(strip, sequence.pieces, [&](std::vector<PlacedPiece> next) {
            const std::size_t fewer = setting_changes(kinds, next);
            if (fewer >= changes) return false;
            const double length = used_mm(strip, kinds, next);
            if (length > longest) return false;
            changes = fewer;
            sequence = {std::move(next), length};
            better = true;
            return true;
        });
    }
    return sequence;
}

Sequence from_handier_end(const Strip& strip, const std::vector<StripPiece>& kinds, const Sequence& sequence) {
    if (sequence.pieces.empty()) return sequence;
    const auto effort = [](Turning turning) { return turning == Turning::as_first ? 0 : turning == Turning::end_for_end ? 1 : 2; };
    std::optional<Sequence> best;
    std::pair<bool, int> least;
    for (const Turning whole : strip.turnings) {
        Sequence turned = sequence;
        if (swaps_ends(whole)) std::reverse(turned.pieces.begin(), turned.pieces.end());
        int sum = 0;
        for (PlacedPiece& piece : turned.pieces) {
            piece.turning = composed(piece.turning, whole);
            const StripEnds ends = turned_ends(kinds[piece.kind], piece.turning);
            for (const Turning turning : strip.turnings) {
                const StripEnds other = turned_ends(kinds[piece.kind], turning);
                const bool alike = other.left_run_mm == ends.left_run_mm && other.right_run_mm == ends.right_run_mm;
                if (alike && effort(turning) < effort(piece.turning)) piece.turning = turning;
            }
            sum += effort(piece.turning);
        }
        const double first = kinds[turned.pieces.front().kind].length_mm;
        const double last = kinds[turned.pieces.back().kind].length_mm;
        const std::pair<bool, int> trouble{last < kMuchShorter * first, sum};
        if (best && trouble >= least) continue;
        least = trouble;
        best = std::move(turned);
    }
    return *best;
}

}  // namespace boardring
