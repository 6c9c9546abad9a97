#include "arrange/place_search.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace boardring {
namespace {

constexpr std::size_t kMostRefusals = 40;  // orders that cannot be built; then something is wrong with every one

using Ranks = std::vector<std::uint32_t>;  // settings in use, ascending, each once

// What is laid out so far: the boards of the first places and all cuts that follow from them.
struct Laid {
    std::size_t beyond_saw = 0;
    Ranks ranks;
    std::optional<std::uint32_t> steepest;  // of the ring's own cuts
};

bool add_cut(std::uint32_t rank, Laid& laid) {
    laid.steepest = std::max(laid.steepest.value_or(rank), rank);
    const auto at = std::lower_bound(laid.ranks.begin(), laid.ranks.end(), rank);
    if (at != laid.ranks.end() && *at == rank) return false;
    laid.ranks.insert(at, rank);
    return true;
}

class Search {
public:
    Search(const CutTable& table, const Outline& outline, std::vector<std::size_t> counts, std::size_t steps,
           const std::function<bool(const std::vector<std::size_t>&)>& can_build)
        : table_(table), outline_(outline), left_(std::move(counts)), most_steps_(steps), can_build_(can_build), n_(outline.boards()) {
        find_least_needed();
    }

    // Follows every beginning that may lead to something better than the best, or than the second best; true if none was left out.
    bool branch(bool wants_next) {
        wants_next_ = wants_next;
        steps_end_ = result_.steps + most_steps_;
        cut_short_ = false;
        been_.clear();
        Laid laid;
        laid.ranks = table_.of_pieces();
        place(0, laid);
        result_.proven = !cut_short_ && refused_ == 0;
        return !cut_short_;
    }

    // Exchanges of two boards, or of one with a board left over, as long as they help and steps are left.
    void improve() {
        if (!result_.best) return;
        std::vector<std::size_t> left = left_;
        for (const std::size_t size : result_.best->sizes) --left[size];
        const std::size_t end = result_.steps + most_steps_;
        for (bool better_found = true; better_found && result_.steps < end;) better_found = improve_once(left, end);
    }

    [[nodiscard]] PlaceSearchResult take() { return std::move(result_); }

private:
    // What the gentlest two boards need at a corner.
    struct Least {
        std::size_t beyond_saw = 0;
        std::uint32_t steepest = 0;
    };

    [[nodiscard]] Least least_at(std::size_t corner) const {
        std::optional<Least> least;
        for (std::size_t a = 0; a < table_.sizes(); ++a) {
            for (std::size_t b = 0; b < table_.sizes(); ++b) {
                const CornerCuts& cuts = table_.at(corner, a, b);
                if (!cuts.can_be_made) continue;
                const Least here{cuts.beyond_saw, std::max(cuts.before, cuts.after)};
                if (!least) least = here;
                least = Least{std::min(least->beyond_saw, here.beyond_saw), std::min(least->steepest, here.steepest)};
            }
        }
        return least.value_or(Least{});  // if no joint can be made, place() meets it
    }

    // The least that is still needed when places k, k + 1 ... are filled: corner k is cut with place k, the first corner with the last.
    void find_least_needed() {
        least_.assign(n_ + 1, {});
        for (std::size_t k = n_; k-- > 1;) {
            const Least here = least_at(k);
            least_[k] = {least_[k + 1].beyond_saw + here.beyond_saw, std::max(least_[k + 1].steepest, here.steepest)};
        }
        if (!outline_.closed) return;
        const Least first = least_at(0);
        for (std::size_t k = 1; k < n_; ++k) {
            least_[k] = {least_[k].beyond_saw + first.beyond_saw, std::max(least_[k].steepest, first.steepest)};
        }
    }

    [[nodiscard]] PlaceScore score_of_laid(const Laid& laid, std::size_t next_place) const {
        PlaceScore score;
        score.beyond_saw = laid.beyond_saw + least_[next_place].beyond_saw;
        score.settings = table_.settings(laid.ranks);
        score.steepest_deg = table_.setting_deg(std::max(laid.steepest.value_or(0), least_[next_place].steepest));
        return score;
    }

    // Nothing of use can still come of it: nothing better than what is to be beaten.
    [[nodiscard]] bool is_hopeless(const PlaceScore& bound) const {
        const std::optional<Order>& beaten = wants_next_ ? result_.next : result_.best;
        return beaten && !better(bound, beaten->score);
    }

    bool add_corner(std::size_t corner, std::size_t before, std::size_t after, Laid& laid) const {
        const CornerCuts& cuts = table_.at(corner, before, after);
        if (!cuts.can_be_made) return false;
        laid.beyond_saw += cuts.beyond_saw;
        add_cut(cuts.before, laid);
        add_cut(cuts.after, laid);
        return true;
    }

    static void add_end(const CornerCuts& end, Laid& laid) {
        laid.beyond_saw += end.beyond_saw;
        add_cut(end.before, laid);
    }

    // The cuts that follow when place k takes a board of this size; false if some joint cannot be made.
    bool add_board(std::size_t k, std::size_t size, Laid& laid) const {
        if (k > 0 && !add_corner(k, order_[k - 1], size, laid)) return false;
        if (k == 0 && !outline_.closed) add_end(table_.first_end(size), laid);
        if (k + 1 < n_) return true;
        if (!outline_.closed) add_end(table_.last_end(size), laid);
        return !outline_.closed || add_corner(0, size, k == 0 ? size : order_[0], laid);
    }

    void place(std::size_t k, const Laid& laid) {
        if (k == n_) {
            found(laid);
            return;
        }
        for (std::size_t size = 0; size < left_.size() && !cut_short_; ++size) {
            if (left_[size] == 0) continue;
            result_.steps += 1 + laid.ranks.size() / 16;
            cut_short_ = result_.steps > steps_end_ || refused_ >= kMostRefusals;
            Laid with = laid;
            if (cut_short_ || !add_board(k, size, with) || is_hopeless(score_of_laid(with, k + 1))) continue;
            order_.push_back(size);
            --left_[size];
            if (is_new(k + 1, with)) place(k + 1, with);
            ++left_[size];
            order_.pop_back();
        }
    }

    // Remembers where the search has been: what is still to come depends on nothing else.
    bool is_new(std::size_t place, const Laid& laid) {
        if (place == n_) return true;
        std::vector<std::size_t> key{place, order_.front(), order_.back(), laid.beyond_saw, laid.steepest.value_or(0)};
        key.insert(key.end(), left_.begin(), left_.end());
        key.insert(key.end(), laid.ranks.begin(), laid.ranks.end());
        return been_.insert(std::move(key)).second;
    }

    void found(const Laid& laid) { offer({order_, score_of_laid(laid, n_)}); }

    void offer(Order order) {
        const bool first = !result_.best || better(order.score, result_.best->score);
        const bool second = !first && better(result_.best->score, order.score) && (!result_.next || better(order.score, result_.next->score));
        if (!first && !second) return;
        if (!can_build_(order.sizes)) {
            ++refused_;
            return;
        }
        if (first) {
            if (result_.best) result_.next = std::move(result_.best);
            result_.best = std::move(order);
        } else {
            result_.next = std::move(order);
        }
    }

    bool try_order(const std::vector<std::size_t>& sizes) {
        result_.steps += 1 + n_ / 8;
        const std::optional<PlaceScore> score = score_of(table_, outline_, sizes);
        if (!score || !better(*score, result_.best->score) || !can_build_(sizes)) return false;
        result_.next = std::move(result_.best);
        result_.best = Order{sizes, *score};
        return true;
    }

    bool improve_once(std::vector<std::size_t>& left, std::size_t end) {
        std::vector<std::size_t> sizes = result_.best->sizes;
        for (std::size_t i = 0; i < n_; ++i) {
            for (std::size_t size = 0; size < left.size(); ++size) {
                if (left[size] == 0 || size == sizes[i]) continue;
                const std::size_t was = std::exchange(sizes[i], size);
                if (try_order(sizes)) {
                    --left[size];
                    ++left[was];
                    return true;
                }
                sizes[i] = was;
            }
            for (std::size_t j = i + 1; j < n_; ++j) {
                if (result_.steps >= end) return false;
                if (sizes[i] == sizes[j]) continue;
                std::swap(sizes[i], sizes[j]);
                if (try_order(sizes)) return true;
                std::swap(sizes[i], sizes[j]);
            }
        }
        return false;
    }

    const CutTable& table_;
    const Outline& outline_;
    std::vector<std::size_t> left_;
    std::size_t most_steps_;
    std::size_t steps_end_ = 0;
    const std::function<bool(const std::vector<std::size_t>&)>& can_build_;
    std::size_t n_;
    std::vector<Least> least_;  // by the first place not filled
    std::vector<std::size_t> order_;
    std::set<std::vector<std::size_t>> been_;
    bool cut_short_ = false;
    bool wants_next_ = true;
    std::size_t refused_ = 0;
    PlaceSearchResult result_;
};

}  // namespace

PlaceSearchResult search_places(const CutTable& table, const Outline& outline, const std::vector<std::size_t>& counts, std::size_t steps,
                           const std::function<bool(const std::vector<std::size_t>&)>& can_build) {
    Search search(table, outline, counts, steps, can_build);
    if (!search.branch(true)) {
        search.improve();
        if (!search.branch(false)) search.improve();
    }
    return search.take();
}

}  // namespace boardring
