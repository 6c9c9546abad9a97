#include "plan/bad_board.hpp"

#include <algorithm>

namespace boardring {
namespace {

std::optional<double> replacement(const SectionPurchase& purchase, const CutBar& lost) {
    std::optional<double> cheapest;
    for (std::size_t o = 0; o < purchase.section.offers.size(); ++o) {
        const BarOffer& offer = purchase.section.offers[o];
        const auto taken = static_cast<std::size_t>(
            std::count_if(purchase.buy.bars.begin(), purchase.buy.bars.end(), [&](const CutBar& bar) { return bar.offer == o; }));
        if ((offer.count && taken >= *offer.count) || usable_mm(purchase.section, offer) + kFitMm < lost.used_mm) continue;
        const double price = purchase.buy.by_length ? (offer.offcut ? 0.0 : offer.length_mm) : offer.price.value_or(0.0);
        if (!cheapest || price < *cheapest) cheapest = price;
    }
    return cheapest;
}

bool is_worse(const BadBoard& one, const BadBoard& other) {
    if (one.price.has_value() != other.price.has_value()) return !one.price;
    return one.price && *one.price > *other.price;
}

}  // namespace

std::optional<BadBoard> dearest_to_lose(const Buying& buying) {
    std::optional<BadBoard> worst;
    std::size_t number = 0;
    for (std::size_t s = 0; s < buying.sections.size(); ++s) {
        for (std::size_t b = 0; b < buying.sections[s].buy.bars.size(); ++b) {
            const BadBoard board{s, b, ++number, replacement(buying.sections[s], buying.sections[s].buy.bars[b])};
            if (!worst || is_worse(board, *worst)) worst = board;
        }
    }
    return worst;
}

}  // namespace boardring
