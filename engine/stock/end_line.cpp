#include "stock/end_line.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

namespace boardring {
namespace {

bool allows(const Strip& strip, Turning turning) {
    return std::find(strip.turnings.begin(), strip.turnings.end(), turning) != strip.turnings.end();
}

std::size_t index_of(const std::vector<double>& sorted, double value) {
    return static_cast<std::size_t>(std::lower_bound(sorted.begin(), sorted.end(), value) - sorted.begin());
}

/// Which points hang together.
class Groups {
public:
    explicit Groups(std::size_t n) : group_(n) { std::iota(group_.begin(), group_.end(), std::size_t{0}); }
    std::size_t of(std::size_t point) {
        while (group_[point] != point) point = group_[point] = group_[group_[point]];
        return point;
    }
    bool join(std::size_t one, std::size_t other) {
        one = of(one);
        other = of(other);
        group_[other] = one;
        return one != other;
    }

private:
    std::vector<std::size_t> group_;
};

constexpr double kSameRunMm = 1e-6;

}  // namespace

EndLine::EndLine(const Strip& strip, const std::vector<StripPiece>& kinds) : strip_(strip), kinds_(kinds) {
    const bool ends_swap = allows(strip_, Turning::end_for_end);
    const bool edges_swap = allows(strip_, Turning::edge_for_edge) || allows(strip_, Turning::top_to_bottom);
    what_ = !ends_swap ? Points::kerfs : edges_swap ? Points::slants : Points::signed_slants;
    for (const StripPiece& kind : kinds_) {
        const double left = kerf_along_mm(strip_, kind.left_run_mm);
        const double right = kerf_along_mm(strip_, kind.right_run_mm);
        own_mm_.push_back(kind.length_mm + (left + right) / 2.0);
        steepest_kerf_mm_.push_back(std::max(left, right));
    }
    lay_out_points();
    if (what_ == Points::kerfs) share_slants();
    if (what_ == Points::signed_slants) give_up_shared_kerfs();
}

void EndLine::lay_out_points() {
    const auto point = [this](double run) {
        const double slant = kerf_along_mm(strip_, run) - strip_.kerf_mm;
        if (what_ == Points::kerfs) return slant;
        if (what_ == Points::slants) return std::abs(run) + slant;
        return run + std::copysign(slant, run);
    };
    std::vector<double> points{0.0};
    for (const StripPiece& kind : kinds_) {
        points.push_back(point(kind.left_run_mm));
        points.push_back(point(kind.right_run_mm));
    }
    std::sort(points.begin(), points.end());
    points.erase(std::unique(points.begin(), points.end()), points.end());
    for (std::size_t p = 0; p + 1 < points.size(); ++p) gaps_.push_back(points[p + 1] - points[p]);
    square_ = index_of(points, 0.0);
    for (const StripPiece& kind : kinds_) {
        ends_at_.push_back({index_of(points, point(kind.left_run_mm)), index_of(points, point(kind.right_run_mm))});
    }
}

/// |u + v| >= u + v and |u + v| >= -(u + v): either may be shared out to the two ends. The sign that most of the wanted pieces lean to
/// counts; a length must stay a length, else nothing is shared.
void EndLine::share_slants() {
    double lean = 0.0;
    for (const StripPiece& kind : kinds_) lean += (kind.left_run_mm - kind.right_run_mm) * static_cast<double>(kind.count);
    const double sign = lean >= 0.0 ? 1.0 : -1.0;
    std::vector<double> shared = own_mm_;
    for (std::size_t k = 0; k < kinds_.size(); ++k) {
        shared[k] += sign * (kinds_[k].left_run_mm - kinds_[k].right_run_mm) / 2.0;
        if (shared[k] <= 0.0) return;
    }
    own_mm_ = std::move(shared);
}

/// Unlike hands that meet share the steeper kerf only once: the line says too much there by up to a kerf's slant, so the gaps beside the
/// square point give that much up, on both sides of it.
void EndLine::give_up_shared_kerfs() {
    double steepest_left = strip_.kerf_mm, steepest_right = strip_.kerf_mm;
    for (const StripPiece& kind : kinds_) {
        for (const double run : {kind.left_run_mm, kind.right_run_mm}) {
            double& steepest = run < 0.0 ? steepest_left : steepest_right;
            steepest = std::max(steepest, kerf_along_mm(strip_, run));
        }
    }
    const double shared = std::min(steepest_left, steepest_right) - strip_.kerf_mm;
    double left = shared;
    for (std::size_t g = square_; g-- > 0 && left > 0.0;) {
        const double cut = std::min(left, gaps_[g]);
        gaps_[g] -= cut;
        left -= cut;
    }
    double right = shared;
    for (std::size_t g = square_; g < gaps_.size() && right > 0.0; ++g) {
        const double cut = std::min(right, gaps_[g]);
        gaps_[g] -= cut;
        right -= cut;
    }
}

EndLine EndLine::with_fewer_points(std::size_t points) const {
    if (this->points() <= points) return *this;
    std::vector<std::size_t> widest(gaps_.size());
    std::iota(widest.begin(), widest.end(), std::size_t{0});
    std::stable_sort(widest.begin(), widest.end(), [this](std::size_t one, std::size_t other) { return gaps_[one] > gaps_[other]; });
    widest.resize(points - 1);
    std::sort(widest.begin(), widest.end());
    const auto now_at = [&widest](std::size_t point) {
        return static_cast<std::size_t>(std::lower_bound(widest.begin(), widest.end(), point) - widest.begin());
    };
    EndLine fewer = *this;
    fewer.gaps_.clear();
    for (const std::size_t g : widest) fewer.gaps_.push_back(gaps_[g]);
    fewer.square_ = now_at(square_);
    for (auto& ends : fewer.ends_at_) ends = {now_at(ends[0]), now_at(ends[1])};
    return fewer;
}

double EndLine::base_mm() const {
    if (strip_.kerf_at_ends) return strip_.kerf_mm;
    double steepest = strip_.kerf_mm;
    for (const double kerf : steepest_kerf_mm_) steepest = std::max(steepest, kerf);
    return strip_.kerf_mm - 2.0 * steepest;
}

EndLine::Moves EndLine::moves_for(const Counts& counts) const {
    Moves moves;
    moves.across.assign(gaps_.size(), 0);
    std::vector<int> crossings(gaps_.size() + 1, 0);  // differences first, then sums
    std::vector<bool> touched(points(), false);
    Groups groups(points());
    touched[square_] = true;
    for (std::size_t k = 0; k < counts.size(); ++k) {
        if (counts[k] == 0) continue;
        const auto [one, other] = std::minmax(ends_at_[k][0], ends_at_[k][1]);
        crossings[one] += counts[k];
        crossings[other] -= counts[k];
        touched[one] = touched[other] = true;
        groups.join(one, other);
    }
    int so_far = 0;
    for (std::size_t g = 0; g < gaps_.size(); ++g) {
        so_far += crossings[g];
        if (so_far % 2 == 0) continue;
        moves.across[g] = 1;
        moves.length_mm += gaps_[g] / 2.0;
        touched[g] = touched[g + 1] = true;
        groups.join(g, g + 1);
    }
    // Cheapest there-and-back moves between neighbours until all hangs together.
    struct Link {
        double length_mm;
        std::size_t from, to;
    };
    std::vector<Link> links;
    std::size_t before = points();
    for (std::size_t p = 0; p < points(); ++p) {
        if (!touched[p]) continue;
        double there_and_back = 0.0;
        for (std::size_t g = before; g < p; ++g) there_and_back += gaps_[g];
        if (before < p) links.push_back({there_and_back, before, p});
        before = p;
    }
    std::stable_sort(links.begin(), links.end(), [](const Link& one, const Link& other) { return one.length_mm < other.length_mm; });
    for (const Link& link : links) {
        if (!groups.join(link.from, link.to)) continue;
        moves.length_mm += link.length_mm;
        for (std::size_t g = link.from; g < link.to; ++g) moves.across[g] += 2;
    }
    return moves;
}

double EndLine::least_mm(const Counts& counts) const {
    double length = strip_.kerf_mm + moves_for(counts).length_mm;
    double steepest = strip_.kerf_mm;
    for (std::size_t k = 0; k < counts.size(); ++k) {
        if (counts[k] == 0) continue;
        length += counts[k] * own_mm_[k];
        steepest = std::max(steepest, steepest_kerf_mm_[k]);
    }
    return strip_.kerf_at_ends ? length : length - 2.0 * steepest;
}

Turning EndLine::turning_of(std::size_t kind, bool backwards, double run_before) const {
    if (what_ == Points::kerfs) return backwards ? Turning::top_to_bottom : Turning::as_first;
    const Turning plain = backwards ? Turning::end_for_end : Turning::as_first;
    if (what_ == Points::signed_slants) return plain;
    const double left = turned_ends(kinds_[kind], plain).left_run_mm;
    if (left * run_before >= 0.0) return plain;
    const Turning swapped = backwards ? Turning::top_to_bottom : Turning::edge_for_edge;
    // Where a half turn on the bench shows the same ends, the piece need not be turned over.
    const Turning half_turn = backwards ? Turning::as_first : Turning::end_for_end;
    const StripEnds wanted = turned_ends(kinds_[kind], swapped);
    const StripEnds shown = turned_ends(kinds_[kind], half_turn);
    // Both ends differ by as much: by what the two runs add up to.
    return std::abs(wanted.left_run_mm - shown.left_run_mm) <= kSameRunMm ? half_turn : swapped;
}

std::optional<Sequence> EndLine::order(const Counts& counts) const {
    if (what_ == Points::kerfs && !allows(strip_, Turning::top_to_bottom)) return std::nullopt;
    struct Way {  // a piece, or a move along a gap
        std::size_t kind = 0;
        std::size_t from = 0, to = 0;
        bool piece = false;
    };
    std::vector<Way> ways;
    for (std::size_t k = 0; k < counts.size(); ++k) {
        for (int copy = 0; copy < counts[k]; ++copy) ways.push_back({k, ends_at_[k][0], ends_at_[k][1], true});
    }
    const Moves moves = moves_for(counts);
    for (std::size_t g = 0; g < gaps_.size(); ++g) {
        for (int time = 0; time < moves.across[g]; ++time) ways.push_back({0, g, g + 1, false});
    }
    std::vector<std::vector<std::size_t>> at_point(points());
    for (std::size_t w = ways.size(); w-- > 0;) {
        at_point[ways[w].from].push_back(w);
        if (ways[w].to != ways[w].from) at_point[ways[w].to].push_back(w);
    }
    // Hierholzer's walk over every way once: what is left at a dead end is the walk backwards.
    struct Step {
        std::size_t point = 0;
        std::size_t way = 0;
        bool backwards = false;
    };
    std::vector<bool> used(ways.size(), false);
    std::vector<Step> open{{square_, ways.size(), false}};
    std::vector<Step> walk;
    while (!open.empty()) {
        auto& here = at_point[open.back().point];
        while (!here.empty() && used[here.back()]) here.pop_back();
        if (here.empty()) {
            walk.push_back(open.back());
            open.pop_back();
            continue;
        }
        const std::size_t w = here.back();
        used[w] = true;
        const bool backwards = ways[w].from != open.back().point;
        open.push_back({backwards ? ways[w].from : ways[w].to, w, backwards});
    }
    Sequence sequence;
    double run_before = 0.0;
    for (std::size_t i = walk.size(); i-- > 0;) {
        if (walk[i].way == ways.size() || !ways[walk[i].way].piece) continue;
        const std::size_t kind = ways[walk[i].way].kind;
        const Turning turning = turning_of(kind, walk[i].backwards, run_before);
        sequence.pieces.push_back({kind, turning});
        run_before = turned_ends(kinds_[kind], turning).right_run_mm;
    }
    sequence.used_mm = used_mm(strip_, kinds_, sequence.pieces);
    return sequence;
}

}  // namespace boardring
