#include "stock/pack.hpp"

#include <algorithm>
#include <functional>
#include <numeric>
#include <vector>

#include "stock/knapsack.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

// Square pieces of whole millimetres and no kerf, so that a bar's worth is its length and a plan's waste its offcuts: a bound that is
// exact and made by hand, w_i = the piece's length, price_k = the bar's, t_k = 0.
struct Case {
    std::vector<StripPiece> kinds;
    Counts demand;
    std::vector<BarKind> bars;
    std::vector<std::int64_t> mix;

    [[nodiscard]] SafeBound bound() const {
        SafeBound bound;
        for (const StripPiece& kind : kinds) bound.worth.push_back(static_cast<std::int64_t>(kind.length_mm));
        bound.extra.assign(bars.size(), 0);
        return bound;
    }
};

/// Every piece onto every bar in turn, the pieces longest first.
bool holds(const Case& made) {
    std::vector<int> pieces;
    for (std::size_t i = 0; i < made.kinds.size(); ++i) pieces.insert(pieces.end(), static_cast<std::size_t>(made.demand[i]), static_cast<int>(made.kinds[i].length_mm));
    std::sort(pieces.rbegin(), pieces.rend());
    std::vector<int> room;
    for (std::size_t k = 0; k < made.bars.size(); ++k) room.insert(room.end(), static_cast<std::size_t>(made.mix[k]), static_cast<int>(made.bars[k].usable_mm));
    const std::function<bool(std::size_t)> place = [&](std::size_t p) {
        if (p == pieces.size()) return true;
        for (int& r : room) {
            if (r < pieces[p]) continue;
            r -= pieces[p];
            if (place(p + 1)) return true;
            r += pieces[p];
        }
        return false;
    };
    return place(0);
}

Packed packed(const Case& made, std::uint64_t steps = 400'000) {
    Strip strip;
    strip.width_mm = 50.0;
    Knapsack source(strip, made.kinds, made.bars, 1'000'000);
    std::vector<double> lengths;
    for (const StripPiece& kind : made.kinds) lengths.push_back(kind.length_mm);
    Master master(source, made.bars, made.demand, lengths, 1, 1'000'000);
    StepBudget budget{1'000'000'000, {}};
    return pack(master, made.mix, made.bound(), steps, budget);
}

void check_filling(const Case& made, const Filling& filling) {
    Counts placed(made.kinds.size(), 0);
    std::vector<std::int64_t> used(made.bars.size(), 0);
    std::int64_t price = 0;
    for (const FilledBar& bar : filling.bars) {
        double length = 0.0;
        for (std::size_t i = 0; i < bar.counts.size(); ++i) {
            placed[i] += bar.counts[i];
            length += bar.counts[i] * made.kinds[i].length_mm;
        }
        REQUIRE(length <= made.bars[bar.bar].usable_mm);
        ++used[bar.bar];
        price += made.bars[bar.bar].price;
    }
    REQUIRE(placed == made.demand);
    for (std::size_t k = 0; k < used.size(); ++k) REQUIRE(used[k] <= made.mix[k]);
    REQUIRE(price == filling.price);
}

Case random_case(Random& random, bool sawn_from_bars) {
    Case made;
    for (std::size_t k = 0; k < 1 + random.index(2); ++k) {
        const auto length = static_cast<std::int64_t>(60 + random.index(60));
        made.bars.push_back({static_cast<double>(length), length, 4});
        made.mix.push_back(static_cast<std::int64_t>(1 + random.index(3)));
    }
    std::vector<int> pieces;
    if (sawn_from_bars) {  // to the last millimetre
        for (std::size_t k = 0; k < made.bars.size(); ++k) {
            for (std::int64_t copy = 0; copy < made.mix[k]; ++copy) {
                int rest = static_cast<int>(made.bars[k].usable_mm);
                while (rest > 0) {
                    const int piece = rest < 30 ? rest : std::min(rest, static_cast<int>(15 + random.index(40)));
                    pieces.push_back(piece);
                    rest -= piece;
                }
            }
        }
    } else {
        for (std::size_t p = 0; p < 3 + random.index(7); ++p) pieces.push_back(static_cast<int>(15 + random.index(45)));
    }
    std::sort(pieces.begin(), pieces.end());
    for (const int piece : pieces) {
        if (made.kinds.empty() || made.kinds.back().length_mm != piece) {
            made.kinds.push_back({static_cast<double>(piece), 0.0, 0.0, 1});
            made.demand.push_back(0);
        }
        ++made.demand.back();
    }
    return made;
}

}  // namespace

TEST_CASE("A mix of bars holds the pieces just where trying every place finds room, also where nothing is to be left over") {
    Random random(64);
    std::size_t full = 0, possible = 0, impossible = 0;
    for (std::size_t i = 0; i < 1200; ++i) {
        const bool sawn_from_bars = i % 3 == 0;
        const Case made = random_case(random, sawn_from_bars);
        const Packed found = packed(made);
        CAPTURE(i, sawn_from_bars);
        const bool truth = sawn_from_bars || holds(made);
        REQUIRE(found.outcome == (truth ? PackOutcome::packed : PackOutcome::impossible));
        if (truth) check_filling(made, found.filling);
        (sawn_from_bars ? full : truth ? possible : impossible) += 1U;
    }
    CAPTURE(full, possible, impossible);
    CHECK(full > 300);
    CHECK(possible > 100);
    CHECK(impossible > 100);
}

TEST_CASE("Out of steps a mix is given up, never called impossible") {
    Random random(65);
    std::size_t given_up = 0;
    for (std::size_t i = 0; i < 300; ++i) {
        const Case made = random_case(random, true);
        const Packed found = packed(made, 1 + random.index(6));
        CAPTURE(i);
        REQUIRE(found.outcome != PackOutcome::impossible);
        given_up += found.outcome == PackOutcome::gave_up ? 1U : 0U;
    }
    CHECK(given_up > 50);
}
