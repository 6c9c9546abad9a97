#include "stock/tidy.hpp"

#include <algorithm>
#include <cstddef>
#include <numeric>

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

}  // namespace boardring
