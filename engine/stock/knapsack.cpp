#include "stock/knapsack.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "stock/best_sequence.hpp"

namespace boardring {
namespace {

// Whole numbers for lengths: ten-thousandths of a millimetre, so sixteenths of an inch are whole too.
constexpr double kPerMm = 1e4;
constexpr double kWholeSlack = 1e-5;   // 15874.999999 is 15875
constexpr double kRoomSlack = 0.91;    // kFitMm and a bar full of kWholeSlack, and still less than one whole number

std::int64_t rounded_down(double mm) { return static_cast<std::int64_t>(std::floor(mm * kPerMm + kWholeSlack)); }
std::int64_t room_of(double mm) { return static_cast<std::int64_t>(std::floor(mm * kPerMm + kRoomSlack)); }

/// Groups of points: joins two of them.
void join(std::vector<std::uint8_t>& part, std::size_t one, std::size_t other) {
    const std::uint8_t from = part[other];
    const std::uint8_t to = part[one];
    if (from == to) return;
    for (std::uint8_t& p : part) {
        if (p == from) p = to;
    }
}

void touch(std::vector<std::uint8_t>& part, std::size_t point) {
    if (part[point] == 0) part[point] = static_cast<std::uint8_t>(*std::max_element(part.begin(), part.end()) + 1);
}

/// Numbers groups by first appearance, so that equal walks are equal values.
void renumber(std::vector<std::uint8_t>& part) {
    std::vector<std::uint8_t> name(2 * part.size() + 2, 0);
    std::uint8_t next = 0;
    for (std::uint8_t& p : part) {
        if (p == 0) continue;
        if (name[p] == 0) name[p] = ++next;
        p = name[p];
    }
}

}  // namespace

Knapsack::Knapsack(const Strip& strip, const std::vector<StripPiece>& kinds, const std::vector<BarKind>& bars, std::uint64_t order_steps)
    : all_ends_(strip, kinds),
      line_(all_ends_.with_fewer_points(all_ends_.slants_are_shared() ? 1 : kMostPoints)),
      bars_(bars),
      order_steps_(order_steps) {
    for (std::size_t k = 0; k < kinds.size(); ++k) kind_length_.push_back(std::max<std::int64_t>(1, rounded_down(line_.own_mm(k))));
    for (const BarKind& bar : bars_) bar_length_.push_back(room_of(bar.usable_mm - line_.base_mm()));
    Walk start;
    start.part.assign(line_.points(), 0);
    start.part[line_.square_point()] = 1;
    walk_number(std::move(start));
}

double Knapsack::closing_mm(const Walk& walk) const {
    std::vector<std::uint8_t> part = walk.part;
    double length = 0.0;
    for (std::size_t g = 0; g + 1 < line_.points(); ++g) {
        if ((walk.odd >> g & 1U) == 0) continue;
        length += line_.gap_mm(g) / 2.0;
        touch(part, g);
        touch(part, g + 1);
        join(part, g, g + 1);
    }
    // Cheapest there-and-back moves between neighbours until all hangs together.
    std::vector<std::size_t> touched;
    for (std::size_t p = 0; p < line_.points(); ++p) {
        if (part[p] != 0) touched.push_back(p);
    }
    std::vector<std::pair<double, std::size_t>> moves;
    for (std::size_t i = 0; i + 1 < touched.size(); ++i) {
        double there_and_back = 0.0;
        for (std::size_t g = touched[i]; g < touched[i + 1]; ++g) there_and_back += line_.gap_mm(g);
        moves.emplace_back(there_and_back, i);
    }
    std::sort(moves.begin(), moves.end());
    for (const auto& [move, i] : moves) {
        if (part[touched[i]] == part[touched[i + 1]]) continue;
        length += move;
        join(part, touched[i], touched[i + 1]);
    }
    return length;
}

std::size_t Knapsack::walk_number(Walk walk) {
    renumber(walk.part);
    const auto [at, fresh] = walk_index_.try_emplace(walk, walks_.size());
    if (fresh) {
        closing_.push_back(rounded_down(closing_mm(walk)));
        walks_.push_back(std::move(walk));
        after_.emplace_back(kinds(), -1);
    }
    return at->second;
}

std::size_t Knapsack::after(std::size_t walk, std::size_t kind) {
    if (line_.points() == 1) return walk;
    if (after_[walk][kind] < 0) {
        Walk next = walks_[walk];
        const auto [one, other] = line_.ends_at(kind);
        for (std::size_t g = std::min(one, other); g < std::max(one, other); ++g) next.odd ^= 1U << g;
        touch(next.part, one);
        touch(next.part, other);
        join(next.part, one, other);
        const std::size_t number = walk_number(std::move(next));
        after_[walk][kind] = static_cast<std::int64_t>(number);
    }
    return static_cast<std::size_t>(after_[walk][kind]);
}

/// Value still to be hoped for in `room`: pieces from position `from` of the order on, the last one in part.
std::int64_t Knapsack::hope(std::size_t from, std::int64_t room, const std::vector<std::int64_t>& value, const Counts& most) const {
    std::int64_t total = 0;
    for (std::size_t p = from; p < order_.size() && room > 0; ++p) {
        const std::size_t kind = order_[p];
        const std::int64_t whole = std::min<std::int64_t>(most[kind], room / kind_length_[kind]);
        total += whole * value[kind];
        room -= whole * kind_length_[kind];
        if (whole < most[kind]) {
            const double rest = static_cast<double>(value[kind]) * static_cast<double>(room) / static_cast<double>(kind_length_[kind]);
            return total + static_cast<std::int64_t>(rest * (1.0 + 1e-12)) + 1;
        }
    }
    return total;
}

std::vector<std::optional<PricedPattern>> Knapsack::best(const std::vector<std::int64_t>& value,
                                                         const std::vector<std::int64_t>& more_than, const Counts& most,
                                                         StepBudget& budget) {
    std::vector<std::int64_t> beaten = more_than;
    std::vector<std::int32_t> winner(bars_.size(), -1);
    const std::int64_t longest = *std::max_element(bar_length_.begin(), bar_length_.end());
    order_.clear();
    for (std::size_t k = 0; k < kinds(); ++k) {
        if (value[k] > 0 && most[k] > 0 && kind_length_[k] <= longest) order_.push_back(k);
    }
    const auto density = [&](std::size_t k) { return static_cast<double>(value[k]) / static_cast<double>(kind_length_[k]); };
    std::stable_sort(order_.begin(), order_.end(), [&](std::size_t one, std::size_t other) { return density(one) > density(other); });

    std::vector<Node> nodes;
    std::vector<Line> lines(1);
    lines[0].push_back({});
    const auto promising = [&](const Item& item, std::size_t position) {
        for (std::size_t b = 0; b < bars_.size(); ++b) {
            const std::int64_t room = bar_length_[b] - item.length;
            if (room >= 0 && item.value + hope(position, room, value, most) > beaten[b]) return true;
        }
        return false;
    };
    const auto settle = [&](std::size_t walk, Item& item, std::uint32_t kind) {
        nodes.push_back({item.length, item.value, item.node, kind});
        item.node = static_cast<std::int32_t>(nodes.size() - 1);
        for (std::size_t b = 0; b < bars_.size(); ++b) {
            if (item.length + closing_[walk] > bar_length_[b] || item.value <= beaten[b]) continue;
            beaten[b] = item.value;
            winner[b] = item.node;
        }
    };
    for (std::size_t position = 0; position < order_.size() && !budget.spent; ++position) {
        const std::size_t kind = order_[position];
        std::vector<Line> fresh = lines;
        for (int copy = 0; copy < most[kind] && !budget.spent; ++copy) {
            std::vector<Line> next(lines.size());
            bool any = false;
            const std::size_t n_walks = fresh.size();
            for (std::size_t walk = 0; walk < n_walks; ++walk) {
                if (fresh[walk].empty()) continue;
                const std::size_t to = after(walk, kind);
                if (to >= lines.size()) lines.resize(to + 1);
                if (to >= next.size()) next.resize(to + 1);
                if (!budget.take(fresh[walk].size() * bars_.size() + lines[to].size())) break;
                Line merged;
                merged.reserve(lines[to].size() + fresh[walk].size());
                Line added;
                std::size_t old = 0;
                std::int64_t top = -1;
                const auto push_old = [&] {
                    if (lines[to][old].value > top) {
                        top = lines[to][old].value;
                        merged.push_back(lines[to][old]);
                    }
                    ++old;
                };
                for (const Item& from : fresh[walk]) {
                    Item item{from.length + kind_length_[kind], from.value + value[kind], from.node};
                    if (item.length > longest) break;
                    while (old < lines[to].size() && lines[to][old].length <= item.length) push_old();
                    if (item.value <= top || !promising(item, position)) continue;
                    top = item.value;
                    settle(to, item, static_cast<std::uint32_t>(kind));
                    merged.push_back(item);
                    added.push_back(item);
                }
                while (old < lines[to].size()) push_old();
                lines[to] = std::move(merged);
                if (added.empty()) continue;
                any = true;
                if (next[to].empty()) {
                    next[to] = std::move(added);
                } else {
                    Line both(next[to].size() + added.size());
                    std::merge(next[to].begin(), next[to].end(), added.begin(), added.end(), both.begin(),
                               [](const Item& one, const Item& other) { return one.length < other.length; });
                    next[to] = std::move(both);
                }
            }
            if (!any) break;
            fresh = std::move(next);
        }
    }
    std::vector<std::optional<PricedPattern>> found(bars_.size());
    for (std::size_t b = 0; b < bars_.size(); ++b) {
        if (winner[b] < 0) continue;
        PricedPattern pattern{Counts(kinds(), 0), beaten[b]};
        for (std::int32_t at = winner[b]; at >= 0; at = nodes[static_cast<std::size_t>(at)].parent) {
            ++pattern.counts[nodes[static_cast<std::size_t>(at)].kind];
        }
        found[b] = std::move(pattern);
    }
    return found;
}

bool Knapsack::fits(std::size_t bar, const Counts& counts) {
    const double usable = bars_[bar].usable_mm;
    const auto [known, fresh] = known_fits_.try_emplace({usable, counts}, false);
    if (!fresh) return known->second;
    const std::size_t ways = counts.size() * all_ends_.strip().turnings.size() * all_ends_.points();  // a generous count of steps a multiset
    const std::uint64_t sets = std::min<std::uint64_t>(kMostSetsOfOneBar, order_steps_ / ways);
    const Fit fit = fits_in(all_ends_, counts, usable, sets);
    if (fit.sets_tried > 0) order_steps_ -= std::min<std::uint64_t>(order_steps_, ways * fit.sets_tried);
    guessed_order_ = guessed_order_ || fit.answer == Fit::Answer::unsure;
    known->second = fit.answer == Fit::Answer::fits;
    return known->second;
}

}  // namespace boardring
