#include "stock/search.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/ensure.hpp"
#include "stock/pack.hpp"

namespace boardring {
namespace {

constexpr std::size_t kDivesAtRoot = 12;
constexpr std::size_t kDivesOnMix = 3;
constexpr std::uint64_t kPackSteps = 400'000;
constexpr double kWholeCount = 1e-5;  // a number of bars this near a whole number is one

struct Node {
    std::int64_t bound = 0;
    BarLimits limits;
};

class Search {
public:
    Search(Master& master, const BarLimits& limits, const Filling& start, StepBudget& budget, const SearchProgress& progress)
        : master_(master), sums_(master.bars(), start.price), budget_(budget), progress_(progress) {
        result_.best = start;
        open_.push_back({0, limits});
    }

    SearchResult run() {
        while (!open_.empty() && !budget_.spent) {
            const std::size_t at = lowest_open();
            if (open_[at].bound >= result_.best.price) break;
            Node node = std::move(open_[at]);
            open_.erase(open_.begin() + static_cast<std::ptrdiff_t>(at));
            ++result_.nodes;
            look_at(node);
            raise_bound();
        }
        raise_bound();
        return result_;
    }

private:
    [[nodiscard]] std::size_t lowest_open() const {
        const auto lowest = std::min_element(open_.begin(), open_.end(), [](const Node& one, const Node& other) { return one.bound < other.bound; });
        return static_cast<std::size_t>(lowest - open_.begin());
    }

    void raise_bound() {
        std::int64_t bound = std::min(result_.best.price, given_up_);
        for (const Node& node : open_) bound = std::min(bound, node.bound);
        if (bound <= result_.bound) return;
        result_.bound = bound;
        if (progress_) progress_(result_.best.price, bound);
    }

    void keep(std::optional<Filling> filling, const BarLimits& limits) {
        if (!filling) return;
        take_cheaper_bars(master_, limits, *filling);
        if (filling->price >= result_.best.price) return;
        result_.best = std::move(*filling);
        if (progress_) progress_(result_.best.price, result_.bound);
    }

    void look_at(Node& node) {
        const bool root = result_.nodes == 1;
        const Master::Relaxed relaxed =
            master_.relax(master_.demand(), node.limits, sums_, result_.best.price, root, budget_);
        node.bound = std::max(node.bound, sums_.at_least(master_.price_of(relaxed.bound.scaled)));
        if (budget_.spent) {  // the node stays open with what is proved so far
            open_.push_back(std::move(node));
            return;
        }
        if (node.bound >= result_.best.price) return;
        if (relaxed.bound.worth.empty()) {  // no relaxation: nothing says where to look, and nothing more is proved
            given_up_ = std::min(given_up_, node.bound);
            return;
        }
        if (root) {
            result_.bound = node.bound;
            for (std::size_t variant = 0; variant < kDivesAtRoot && node.bound < result_.best.price && !budget_.spent; ++variant) {
                keep(dive(master_, node.limits, sums_, result_.best.price, variant, budget_), node.limits);
            }
            if (node.bound >= result_.best.price) return;
        }
        branch(node, relaxed);
    }

    void branch(const Node& node, const Master::Relaxed& relaxed) {
        std::vector<double> number(master_.bars().size(), 0.0);
        for (std::size_t c = 0; c < relaxed.amounts.size(); ++c) number[master_.columns()[c].bar] += relaxed.amounts[c];
        std::size_t most_split = number.size();
        double distance = kWholeCount;
        for (std::size_t k = 0; k < number.size(); ++k) {
            number[k] = std::clamp(number[k], static_cast<double>(node.limits.low[k]), static_cast<double>(node.limits.high[k]));
            const double off = std::abs(number[k] - std::round(number[k]));
            if (off <= distance) continue;
            distance = off;
            most_split = k;
        }
        if (most_split < number.size()) {
            const auto below = static_cast<std::int64_t>(std::floor(number[most_split]));
            Node fewer = node;
            fewer.limits.high[most_split] = below;
            Node more = node;
            more.limits.low[most_split] = below + 1;
            open_.push_back(std::move(fewer));
            open_.push_back(std::move(more));
            return;
        }
        std::vector<std::int64_t> mix;
        for (const double n : number) mix.push_back(std::llround(n));
        try_mix(node, mix, relaxed.bound);
        branch_away(node, mix);
    }

    /// A mix of whole bars: fill it, or prove that it cannot be filled, or give it up and leave its price as a bound.
    void try_mix(const Node& node, const std::vector<std::int64_t>& mix, const SafeBound& bound) {
        std::int64_t price = 0;
        for (std::size_t k = 0; k < mix.size(); ++k) price += mix[k] * master_.bars()[k].price;
        if (price >= result_.best.price) return;
        const BarLimits exactly{mix, mix};
        for (std::size_t variant = 0; variant < kDivesOnMix && result_.best.price > price && !budget_.spent; ++variant) {
            keep(dive(master_, exactly, sums_, result_.best.price, variant, budget_), node.limits);
        }
        if (result_.best.price <= price) return;
        // The mix may be dearer than the node's cheapest; the bound on exactly this mix decides what waste it may have.
        const Master::Relaxed relaxed = master_.relax(master_.demand(), exactly, sums_, result_.best.price, false, budget_);
        const bool of_mix = relaxed.bound.scaled > bound.scaled;
        if (of_mix && sums_.at_least(master_.price_of(relaxed.bound.scaled)) > price) return;
        const Packed packed = pack(master_, mix, of_mix ? relaxed.bound : bound, kPackSteps, budget_);
        if (packed.outcome == PackOutcome::packed) keep(packed.filling, node.limits);
        if (packed.outcome == PackOutcome::gave_up) given_up_ = std::min(given_up_, price);
    }

    /// All other counts within the node's limits: the first kind of bar that differs has fewer or more.
    void branch_away(const Node& node, const std::vector<std::int64_t>& mix) {
        Node rest = node;
        for (std::size_t k = 0; k < mix.size(); ++k) {
            if (mix[k] > rest.limits.low[k]) {
                Node fewer = rest;
                fewer.limits.high[k] = mix[k] - 1;
                open_.push_back(std::move(fewer));
            }
            if (mix[k] < rest.limits.high[k]) {
                Node more = rest;
                more.limits.low[k] = mix[k] + 1;
                open_.push_back(std::move(more));
            }
            rest.limits.low[k] = rest.limits.high[k] = mix[k];
        }
    }

    Master& master_;
    AttainableSums sums_;
    StepBudget& budget_;
    const SearchProgress& progress_;
    SearchResult result_;
    std::vector<Node> open_;
    std::int64_t given_up_ = INT64_MAX;
};

}  // namespace

SearchResult search(Master& master, const BarLimits& limits, const Filling& start, StepBudget& budget, const SearchProgress& progress) {
    return Search(master, limits, start, budget, progress).run();
}

}  // namespace boardring
