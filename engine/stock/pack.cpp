#include "stock/pack.hpp"

#include <algorithm>
#include <numeric>

namespace boardring {
namespace {

/// A pattern tried, with its order and its table, in the steps others count.
constexpr std::uint64_t kStepsOfPattern = 40;

class Packer {
public:
    Packer(Master& master, const std::vector<std::int64_t>& mix, const SafeBound& bound, std::uint64_t steps, StepBudget& budget)
        : master_(master), bound_(bound), left_(mix), rest_(master.demand()), steps_(steps), budget_(budget) {
        order_.resize(rest_.size());
        std::iota(order_.begin(), order_.end(), std::size_t{0});
        std::stable_sort(order_.begin(), order_.end(), [this](std::size_t one, std::size_t other) {
            return master_.lengths_mm()[one] > master_.lengths_mm()[other];
        });
        for (std::size_t k = 0; k < left_.size(); ++k) worth_of_bar_.push_back(master_.bars()[k].price * master_.scale() + bound_.extra[k]);
    }

    Packed run() {
        std::int64_t waste = 0;
        for (std::size_t k = 0; k < left_.size(); ++k) waste += left_[k] * worth_of_bar_[k];
        for (std::size_t i = 0; i < rest_.size(); ++i) waste -= rest_[i] * bound_.worth[i];
        Packed packed;
        if (waste >= 0 && place(waste)) {
            packed.outcome = PackOutcome::packed;
            packed.filling.bars = bars_;
            for (const FilledBar& filled : bars_) packed.filling.price += master_.bars()[filled.bar].price;
            return packed;
        }
        packed.outcome = stopped_ || !master_.source().fits_is_exact() ? PackOutcome::gave_up : PackOutcome::impossible;
        return packed;
    }

private:
    struct Candidate {
        std::int64_t waste = 0;
        Counts counts;
    };

    bool place(std::int64_t waste) {
        std::size_t longest = 0;
        while (longest < order_.size() && rest_[order_[longest]] == 0) ++longest;
        if (longest == order_.size()) return true;
        Counts key = rest_;
        for (const std::int64_t left : left_) key.push_back(static_cast<int>(left));
        const auto known = failed_.find(key);
        if (known != failed_.end() && known->second >= waste) return false;
        for (std::size_t k = 0; k < left_.size(); ++k) {
            if (left_[k] == 0) continue;
            std::vector<Candidate> candidates;
            Counts counts(rest_.size(), 0);
            counts[order_[longest]] = 1;
            if (!master_.source().fits(k, counts)) continue;
            collect(k, longest, counts, master_.lengths_mm()[order_[longest]], worth_of_bar_[k] - bound_.worth[order_[longest]], waste,
                    candidates);
            std::stable_sort(candidates.begin(), candidates.end(),
                             [](const Candidate& one, const Candidate& other) { return one.waste < other.waste; });
            for (const Candidate& candidate : candidates) {
                if (stopped_) return false;
                move(k, candidate.counts, -1);
                bars_.push_back({k, candidate.counts});
                if (place(waste - candidate.waste)) return true;
                bars_.pop_back();
                move(k, candidate.counts, +1);
            }
        }
        if (!stopped_) failed_[key] = std::max(waste, known == failed_.end() ? waste : known->second);
        return false;
    }

    void move(std::size_t bar, const Counts& counts, int sign) {
        left_[bar] += sign;
        for (std::size_t i = 0; i < counts.size(); ++i) rest_[i] += sign * counts[i];
    }

    /// Patterns on a bar of kind k that hold the longest piece left and waste no more than allowed. `missing` is what the bar would
    /// waste as it stands.
    void collect(std::size_t k, std::size_t position, Counts& counts, double length, std::int64_t missing, std::int64_t waste,
                 std::vector<Candidate>& candidates) {
        if (stopped_) return;
        if (steps_ == 0 || !budget_.take(kStepsOfPattern)) {
            stopped_ = true;
            return;
        }
        --steps_;
        if (missing <= waste) candidates.push_back({missing, counts});
        // What the rest of the bar could hold at most must bring the waste down to what is allowed.
        for (std::size_t p = position; p < order_.size(); ++p) {
            const std::size_t kind = order_[p];
            if (counts[kind] >= rest_[kind]) continue;
            if (missing - hope(p, master_.bars()[k].usable_mm - length, counts) > waste) return;
            ++counts[kind];
            if (master_.source().fits(k, counts)) {
                collect(k, p, counts, length + master_.lengths_mm()[kind], missing - bound_.worth[kind], waste, candidates);
            }
            --counts[kind];
        }
    }

    /// Worth the kinds from position p on could add in this room, generously.
    [[nodiscard]] std::int64_t hope(std::size_t position, double room, const Counts& counts) const {
        double best_per_mm = 0.0;
        std::int64_t all = 0;
        for (std::size_t p = position; p < order_.size(); ++p) {
            const std::size_t kind = order_[p];
            const std::int64_t free = rest_[kind] - counts[kind];
            if (free <= 0) continue;
            all += free * bound_.worth[kind];
            best_per_mm = std::max(best_per_mm, static_cast<double>(bound_.worth[kind]) / master_.lengths_mm()[kind]);
        }
        // Losses are never negative, so pieces take at least their own lengths; a kerf may run off the end.
        return std::min(all, static_cast<std::int64_t>(best_per_mm * std::max(room + kFitMm, 0.0) * (1.0 + 1e-9)) + 1);
    }

    Master& master_;
    const SafeBound& bound_;
    std::vector<std::int64_t> left_;
    Counts rest_;
    std::uint64_t steps_;
    StepBudget& budget_;
    std::vector<std::size_t> order_;
    std::vector<std::int64_t> worth_of_bar_;
    std::vector<FilledBar> bars_;
    std::map<Counts, std::int64_t> failed_;
    bool stopped_ = false;
};

}  // namespace

Packed pack(Master& master, const std::vector<std::int64_t>& mix, const SafeBound& bound, std::uint64_t steps, StepBudget& budget) {
    return Packer(master, mix, bound, steps, budget).run();
}

}  // namespace boardring
