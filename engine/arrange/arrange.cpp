#include "arrange/arrange.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include "arrange/cut_table.hpp"
#include "arrange/place_search.hpp"
#include "arrange/symmetry.hpp"
#include "base/ensure.hpp"
#include "cutlist/cut_list.hpp"
#include "cutlist/grouping.hpp"
#include "frame/frame.hpp"

namespace boardring {
namespace {

// The pile as the search sees it: alike sizes together, in the order of their first entries.
struct Sizes {
    std::vector<BoardSize> sizes;
    std::vector<std::size_t> counts;
    std::vector<std::size_t> size_of_kind;
};

Sizes sizes_of(const Project& project) {
    Sizes all;
    for (const PileKind& kind : project.pile) {
        const bool flat = project.lie == Lie::flat;
        const BoardSize size{flat ? kind.board.width_mm : kind.board.thickness_mm, flat ? kind.board.thickness_mm : kind.board.width_mm};
        std::size_t at = 0;
        while (at < all.sizes.size() && (std::abs(all.sizes[at].width_mm - size.width_mm) > kSamePieceMm ||
                                         std::abs(all.sizes[at].height_mm - size.height_mm) > kSamePieceMm)) {
            ++at;
        }
        if (at == all.sizes.size()) {
            all.sizes.push_back(size);
            all.counts.push_back(0);
        }
        all.counts[at] += kind.count;
        all.size_of_kind.push_back(at);
    }
    return all;
}

// Hands out the boards of each size in the order of the pile.
std::vector<std::size_t> kinds_in_place(const Project& project, const Sizes& sizes, const std::vector<std::size_t>& order) {
    std::vector<std::size_t> left;
    for (const PileKind& kind : project.pile) left.push_back(kind.count);
    std::vector<std::size_t> kinds;
    for (const std::size_t size : order) {
        std::size_t kind = 0;
        while (sizes.size_of_kind[kind] != size || left[kind] == 0) ++kind;
        --left[kind];
        kinds.push_back(kind);
    }
    return kinds;
}

// Steeper end of a board in its place.
double steeper_end_deg(const CutTable& table, const Outline& outline, const std::vector<std::size_t>& order, std::size_t board) {
    const std::size_t first = board, second = outline.corner_after(board);
    const CornerCuts& at_first = outline.is_joint(first) ? table.at(first, order[outline.board_before(first)], order[board]) : table.first_end(order[board]);
    const CornerCuts& at_second = outline.is_joint(second) ? table.at(second, order[board], order[outline.board_after(second)]) : table.last_end(order[board]);
    return table.setting_deg(std::max(outline.is_joint(first) ? at_first.after : at_first.before, at_second.before));
}

// Boards of another kind beside this one.
std::size_t unlike_neighbours(const Outline& outline, const std::vector<std::size_t>& order, std::size_t board) {
    const std::size_t after = outline.corner_after(board);
    std::size_t unlike = 0;
    if (outline.is_joint(board) && order[outline.board_before(board)] != order[board]) ++unlike;
    if (outline.is_joint(after) && order[outline.board_after(after)] != order[board]) ++unlike;
    return unlike;
}

// The board that is fitted last is trimmed at the bench: of all images of one order the one where that is easiest.
std::vector<std::size_t> turned_for_fitting(const Project& project, const Outline& outline, const CutTable& table,
                                            const std::vector<std::size_t>& order) {
    const std::size_t last = project.wanted.fit_last.value_or(order.size() - 1);
    std::vector<std::size_t> best;
    std::tuple<std::size_t, double> best_ease;
    for (const std::vector<std::size_t>& image : symmetries(project, outline)) {
        std::vector<std::size_t> turned;
        for (const std::size_t from : image) turned.push_back(order[from]);
        const std::tuple ease{unlike_neighbours(outline, turned, last), steeper_end_deg(table, outline, turned, last)};
        if (!best.empty() && (best_ease < ease || (ease == best_ease && !(turned < best)))) continue;
        best = std::move(turned);
        best_ease = ease;
    }
    return best;
}

std::optional<Arrangement::AllAlike> brought_to_least(const Project& project, const Outline& outline, const Sizes& sizes,
                                                      const std::vector<std::size_t>& order) {
    const auto width_mm = [&](std::size_t size) { return sizes.sizes[size].width_mm; };
    Arrangement::AllAlike alike;
    alike.width_mm = width_mm(order.front());
    for (const std::size_t size : order) alike.width_mm = std::min(alike.width_mm, width_mm(size));
    for (const std::size_t size : order) {
        if (width_mm(size) > alike.width_mm + kSamePieceMm) ++alike.boards;
    }
    if (alike.boards == 0) return std::nullopt;
    std::vector<BoardSize> thinned = sizes.sizes;
    for (BoardSize& size : thinned) size.width_mm = alike.width_mm;
    const std::optional<PlaceScore> score = score_of(CutTable(project, outline, thinned), outline, order);
    if (!score) return std::nullopt;
    alike.score = *score;
    return alike;
}

std::vector<std::size_t> pile_in_order(const Sizes& sizes, std::size_t places) {
    std::vector<std::size_t> order;
    for (std::size_t size = 0; size < sizes.counts.size(); ++size) {
        for (std::size_t i = 0; i < sizes.counts[size] && order.size() < places; ++i) order.push_back(size);
    }
    ENSURE(order.size() == places);
    return order;
}

}  // namespace

bool better(const PlaceScore& a, const PlaceScore& b) {
    if (a.beyond_saw != b.beyond_saw) return a.beyond_saw < b.beyond_saw;
    if (a.settings != b.settings) return a.settings < b.settings;
    return a.steepest_deg < b.steepest_deg - kSquareCutDeg;
}

std::vector<BoardAsked> boards_in_place(const Project& project, const Places& places) {
    std::vector<BoardAsked> boards;
    for (const std::size_t kind : places.kinds) boards.push_back(project.pile[kind].board);
    return boards;
}

Arrangement arrange(const Project& project, const Outline& outline, const ArrangeLimits& limits) {
    const Sizes sizes = sizes_of(project);
    const CutTable table(project, outline, sizes.sizes);
    Project trial = project;
    const auto can_build = [&](const std::vector<std::size_t>& order) {
        trial.boards = boards_in_place(project, {kinds_in_place(project, sizes, order), {}});
        return build_frame(trial, outline).ok();
    };
    const PlaceSearchResult found = search_places(table, outline, sizes.counts, limits.steps, can_build);

    Arrangement result;
    std::vector<std::size_t> order = pile_in_order(sizes, outline.boards());
    if (found.best) order = turned_for_fitting(project, outline, table, found.best->sizes);
    result.places.kinds = kinds_in_place(project, sizes, order);
    if (found.best) result.places.score = found.best->score;
    result.proven = found.best && found.proven;
    if (found.next) result.next = Places{kinds_in_place(project, sizes, found.next->sizes), found.next->score};
    for (const PileKind& kind : project.pile) result.left_over.push_back(kind.count);
    for (const std::size_t kind : result.places.kinds) --result.left_over[kind];
    if (found.best) result.all_alike = brought_to_least(project, outline, sizes, order);
    result.steps = found.steps;
    return result;
}

}  // namespace boardring
