#include "stock/sequence.hpp"

#include <algorithm>
#include <limits>

#include "base/ensure.hpp"

namespace boardring {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();

std::size_t run_index(std::vector<double>& runs, double run) {
    // Run 0 of the list stands for the start of a bar, so the search begins behind it.
    for (std::size_t i = 1; i < runs.size(); ++i) {
        if (runs[i] == run) return i;
    }
    runs.push_back(run);
    return runs.size() - 1;
}

}  // namespace

SequenceTable::SequenceTable(const Strip& strip, const std::vector<StripPiece>& kinds, const Counts& most)
    : strip_(strip), kinds_(kinds), most_(most), runs_{0.0} {
    std::uint64_t product = 1;
    for (const int m : most_) {
        radix_.push_back(product);
        const std::uint64_t digits = static_cast<std::uint64_t>(m) + 1;
        if (product > std::numeric_limits<std::uint64_t>::max() / digits) countable_ = false;
        product *= digits;
    }
    for (std::size_t k = 0; k < kinds_.size(); ++k) {
        std::vector<StripEnds> seen;
        for (const Turning turning : strip_.turnings) {
            const StripEnds ends = turned_ends(kinds_[k], turning);
            const bool known = std::any_of(seen.begin(), seen.end(), [&](const StripEnds& e) {
                return e.left_run_mm == ends.left_run_mm && e.right_run_mm == ends.right_run_mm;
            });
            if (known) continue;
            seen.push_back(ends);
            const std::size_t left = run_index(runs_, ends.left_run_mm);
            ways_.push_back({k, turning, left, run_index(runs_, ends.right_run_mm)});
        }
    }
    for (std::size_t right = 0; right < runs_.size(); ++right) {
        for (std::size_t left = 0; left < runs_.size(); ++left) {
            between_.push_back(right == 0 ? loss_at_end_mm(strip_, runs_[left]) : loss_between_mm(strip_, runs_[right], runs_[left]));
        }
    }
}

std::optional<SequenceTable> SequenceTable::build(const Strip& strip, const std::vector<StripPiece>& kinds, const Counts& most,
                                                  double longest_mm, std::size_t most_sets) {
    SequenceTable table(strip, kinds, most);
    if (!table.countable_ || !table.grow(longest_mm, most_sets)) return std::nullopt;
    return table;
}

std::uint64_t SequenceTable::key(const std::uint16_t* counts) const {
    std::uint64_t number = 0;
    for (std::size_t k = 0; k < kinds_.size(); ++k) number += radix_[k] * counts[k];
    return number;
}

double SequenceTable::least_used(std::size_t set) const {
    double least = kNever;
    for (std::size_t r = 1; r < runs_.size(); ++r) {
        least = std::min(least, last_[set * runs_.size() + r] + loss_at_end_mm(strip_, runs_[r]));
    }
    return least;
}

void SequenceTable::extend(std::size_t set) {
    const std::size_t n_runs = runs_.size();
    for (const Way& way : ways_) {
        if (counts_[set * kinds_.size() + way.kind] >= most_[way.kind]) continue;
        double best = kNever;
        for (std::size_t r = 0; r < n_runs; ++r) best = std::min(best, last_[set * n_runs + r] + between_[r * n_runs + way.left]);
        best += kinds_[way.kind].length_mm;
        steps_ += n_runs;
        const std::uint64_t bigger_key = key(counts(set)) + radix_[way.kind];
        const auto [at, fresh] = index_.try_emplace(bigger_key, static_cast<std::uint32_t>(last_.size() / n_runs));
        const std::size_t bigger = at->second;
        if (fresh) {
            for (std::size_t k = 0; k < kinds_.size(); ++k) {
                const std::uint16_t count = counts_[set * kinds_.size() + k];
                counts_.push_back(static_cast<std::uint16_t>(count + (k == way.kind ? 1 : 0)));
            }
            last_.insert(last_.end(), n_runs, kNever);
        }
        double& known = last_[bigger * n_runs + way.right];
        known = std::min(known, best);
    }
}

bool SequenceTable::grow(double longest_mm, std::size_t most_sets) {
    const std::size_t n_runs = runs_.size();
    const std::size_t n_kinds = kinds_.size();
    counts_.assign(n_kinds, 0);
    last_.assign(n_runs, kNever);
    last_[0] = 0.0;
    used_.assign(1, 0.0);
    index_.emplace(0, 0);
    // Layer by layer: all ways into a multiset of n pieces come from multisets of n - 1, which all fit if it does.
    std::size_t first = 0;
    while (first < used_.size()) {
        const std::size_t end = used_.size();
        for (std::size_t set = first; set < end; ++set) {
            extend(set);
            if (last_.size() / n_runs > 2 * most_sets) return false;
        }
        // Keep the sets that fit, moving them up over those that do not.
        std::size_t keep = end;
        const std::size_t made = last_.size() / n_runs;
        for (std::size_t set = end; set < made; ++set) {
            const double used = least_used(set);
            const std::uint64_t set_key = key(counts(set));
            if (used > longest_mm + kFitMm) {
                index_.erase(set_key);
                continue;
            }
            std::copy_n(&counts_[set * n_kinds], n_kinds, &counts_[keep * n_kinds]);
            std::copy_n(&last_[set * n_runs], n_runs, &last_[keep * n_runs]);
            index_[set_key] = static_cast<std::uint32_t>(keep);
            used_.push_back(used);
            ++keep;
        }
        counts_.resize(keep * n_kinds);
        last_.resize(keep * n_runs);
        if (keep > most_sets) return false;
        first = end;
    }
    return true;
}

std::optional<std::size_t> SequenceTable::find(const Counts& counts) const {
    std::uint64_t number = 0;
    for (std::size_t k = 0; k < kinds_.size(); ++k) {
        if (counts[k] > most_[k]) return std::nullopt;
        number += radix_[k] * static_cast<std::uint64_t>(counts[k]);
    }
    const auto at = index_.find(number);
    if (at == index_.end()) return std::nullopt;
    return at->second;
}

std::pair<std::size_t, std::size_t> SequenceTable::step_back(std::size_t set, std::size_t right, std::size_t smaller,
                                                             const Way& way) const {
    const std::size_t n_runs = runs_.size();
    double best = kNever;
    std::size_t from = n_runs;
    for (std::size_t r = 0; r < n_runs; ++r) {
        const double length = last_[smaller * n_runs + r] + between_[r * n_runs + way.left];
        if (length < best) {
            best = length;
            from = r;
        }
    }
    // The very sums that filled the table, so equal to the last bit.
    const bool led_here = from < n_runs && best + kinds_[way.kind].length_mm == last_[set * n_runs + right];
    return {led_here ? smaller : set, from};
}

Sequence SequenceTable::sequence(std::size_t set) const {
    const std::size_t n_runs = runs_.size();
    Sequence found;
    found.used_mm = used_[set];
    std::size_t right = 0;
    for (std::size_t r = 1; r < n_runs && set != 0; ++r) {
        if (last_[set * n_runs + r] + loss_at_end_mm(strip_, runs_[r]) == used_[set]) {
            right = r;
            break;
        }
    }
    while (set != 0) {
        bool stepped = false;
        for (const Way& way : ways_) {
            if (way.right != right || counts(set)[way.kind] == 0) continue;
            const auto at = index_.find(key(counts(set)) - radix_[way.kind]);
            if (at == index_.end()) continue;
            const auto [smaller, from] = step_back(set, right, at->second, way);
            if (smaller == set) continue;
            found.pieces.push_back({way.kind, way.turning});
            set = smaller;
            right = from;
            stepped = true;
            break;
        }
        ENSURE(stepped);
    }
    std::reverse(found.pieces.begin(), found.pieces.end());
    return found;
}

double used_mm(const Strip& strip, const std::vector<StripPiece>& kinds, const std::vector<PlacedPiece>& pieces) {
    if (pieces.empty()) return 0.0;
    double used = 0.0;
    double right = 0.0;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const StripEnds ends = turned_ends(kinds[pieces[i].kind], pieces[i].turning);
        used += i == 0 ? loss_at_end_mm(strip, ends.left_run_mm) : loss_between_mm(strip, right, ends.left_run_mm);
        used += kinds[pieces[i].kind].length_mm;
        right = ends.right_run_mm;
    }
    return used + loss_at_end_mm(strip, right);
}

}  // namespace boardring
