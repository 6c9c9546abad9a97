#include "stock/attainable.hpp"

#include <algorithm>
#include <numeric>

namespace boardring {

AttainableSums::AttainableSums(const std::vector<BarKind>& bars, std::int64_t limit) {
    std::int64_t divisor = 0;
    for (const BarKind& bar : bars) {
        if (bar.at_most > 0) divisor = std::gcd(divisor, bar.price);
    }
    step_ = std::max<std::int64_t>(divisor, 1);
    const std::int64_t cells = limit / step_ + 1;
    if (limit < 0 || cells > kMostCells) return;
    reached_.assign(static_cast<std::size_t>(cells), false);
    reached_[0] = true;
    for (const BarKind& bar : bars) {
        const std::int64_t stride = bar.price / step_;
        if (stride == 0 || bar.at_most <= 0) continue;
        // used[s]: fewest of these bars with which s is reached; a sum reached without them needs none.
        std::vector<std::int32_t> used(reached_.size(), -1);
        for (std::size_t s = 0; s < reached_.size(); ++s) {
            if (reached_[s]) {
                used[s] = 0;
            } else if (s >= static_cast<std::size_t>(stride)) {
                const std::int32_t before = used[s - static_cast<std::size_t>(stride)];
                if (before >= 0 && before < bar.at_most) used[s] = before + 1;
            }
        }
        for (std::size_t s = 0; s < reached_.size(); ++s) reached_[s] = used[s] >= 0;
    }
}

std::int64_t AttainableSums::at_least(std::int64_t least) const {
    if (least <= 0) return 0;
    std::int64_t cell = (least + step_ - 1) / step_;
    while (cell < static_cast<std::int64_t>(reached_.size()) && !reached_[static_cast<std::size_t>(cell)]) ++cell;
    return cell * step_;
}

}  // namespace boardring
