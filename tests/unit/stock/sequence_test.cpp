#include "stock/best_sequence.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "stock/buying.hpp"
#include "support/catch.hpp"
#include "support/cut_check.hpp"
#include "support/random.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

/// Two pieces one behind the other on a bar exactly as long as the loss between them says.
CutBar pair_of(const BuyingSection& section) {
    CutBar bar;
    bar.pieces = {{0, Turning::as_first}, {1, Turning::as_first}};
    bar.used_mm = used_mm(section.strip, section.pieces, bar.pieces);
    return bar;
}

BuyingSection two_pieces(double width, double kerf, double right_run, double left_run) {
    BuyingSection section;
    section.strip.width_mm = width;
    section.strip.kerf_mm = kerf;
    section.pieces = {{400.0, 0.0, right_run, 1}, {400.0, left_run, 0.0, 1}};
    section.offers = {{1000.0 + std::abs(right_run) + std::abs(left_run) + kerf, 1.0, {}, false}};
    return section;
}

double shortest_by_trying(const Strip& strip, const std::vector<StripPiece>& kinds, std::vector<std::size_t> order) {
    std::sort(order.begin(), order.end());
    double best = 1e300;
    do {
        std::vector<PlacedPiece> pieces(order.size());
        std::size_t ways = 1;
        for (std::size_t i = 0; i < order.size(); ++i) ways *= strip.turnings.size();
        for (std::size_t way = 0; way < ways; ++way) {
            std::size_t rest = way;
            for (std::size_t i = 0; i < order.size(); ++i) {
                pieces[i] = {order[i], strip.turnings[rest % strip.turnings.size()]};
                rest /= strip.turnings.size();
            }
            best = std::min(best, used_mm(strip, kinds, pieces));
        }
    } while (std::next_permutation(order.begin(), order.end()));
    return best;
}

}  // namespace

TEST_CASE("The loss between two pieces is what their kerf bands need, neither less nor more") {
    Random random(11);
    for (std::size_t i = 0; i < 500; ++i) {
        const double width = random.between(20.0, 150.0);
        const auto run = [&] { return random.chance(0.2) ? 0.0 : random.between(-1.5, 1.5) * width; };
        const double right = run();
        const double left = random.chance(0.3) ? right : run();
        const BuyingSection section = two_pieces(width, random.between(1.0, 5.0), right, left);
        CAPTURE(i, width, right, left, section.strip.kerf_mm);
        REQUIRE(fault_of_bar(section, pair_of(section)) == "");
        // Half a millimetre nearer, and the saw takes wood from one of them: the second piece half a millimetre longer at the front.
        const double loss = loss_between_mm(section.strip, right, left);
        const Vec2 shift{loss - 0.5, 0.0};
        const Polygon first{{-400.0, 0.0}, {-right / 2.0, 0.0}, {right / 2.0, width}, {-400.0, width}};
        const Polygon second{{shift.x - left / 2.0, 0.0}, {shift.x + 400.0, 0.0}, {shift.x + 400.0, width}, {shift.x + left / 2.0, width}};
        const auto band = [&](double run_mm, double at, double side) {  // beside the cut through (at, width / 2), kerf wide square to it
            const double along = section.strip.kerf_mm * std::sqrt(1.0 + (run_mm / width) * (run_mm / width));
            Polygon p{{at - run_mm / 2.0, 0.0}, {at - run_mm / 2.0 + side * along, 0.0}, {at + run_mm / 2.0 + side * along, width}, {at + run_mm / 2.0, width}};
            if (area(p) < 0.0) std::reverse(p.begin(), p.end());
            return p;
        };
        const double bitten = shared_area(first, band(left, shift.x, -1.0)) + shared_area(second, band(right, 0.0, 1.0)) + shared_area(first, second);
        REQUIRE(bitten > 1e-3);
    }
}

TEST_CASE("The best order of up to five pieces is the shortest of all orders and turnings") {
    Random random(12);
    const std::vector<std::vector<Turning>> rules = {
        {Turning::as_first},
        {Turning::as_first, Turning::end_for_end},
        {Turning::as_first, Turning::top_to_bottom},
        {Turning::as_first, Turning::top_to_bottom, Turning::edge_for_edge, Turning::end_for_end},
    };
    for (std::size_t i = 0; i < 120; ++i) {
        Strip strip;
        strip.width_mm = 90.0;
        strip.kerf_mm = 3.0;
        strip.turnings = rules[i % rules.size()];
        std::vector<StripPiece> kinds;
        const auto run = [&] { return static_cast<double>(static_cast<int>(random.index(5)) - 2) * 26.0; };
        for (std::size_t k = 0; k < 3; ++k) kinds.push_back({random.between(100.0, 400.0), run(), run(), 0});
        Counts counts(3, 0);
        std::vector<std::size_t> order;
        const std::size_t n = strip.turnings.size() > 2 ? 4 : 5;
        for (std::size_t p = 0; p < n; ++p) {
            order.push_back(random.index(3));
            ++counts[order.back()];
        }
        const BestSequence best = best_sequence(strip, kinds, counts);
        CAPTURE(i);
        REQUIRE(best.exact);
        REQUIRE(best.sequence.used_mm == Approx(shortest_by_trying(strip, kinds, order)).epsilon(1e-12));
        REQUIRE(used_mm(strip, kinds, best.sequence.pieces) == Approx(best.sequence.used_mm).epsilon(1e-12));
    }
}
