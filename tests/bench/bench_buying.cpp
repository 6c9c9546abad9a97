// Time to buy for typical frames: 60 made-up rings of 6 to 40 slanted pieces on 2 to 6 lengths, prices out of proportion, some wood at home.
// Target: each under 50 ms. With a number as argument only that frame, again and again, for a profiler.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <utility>
#include <vector>

#include "cutlist/cut_list.hpp"
#include "frame/frame.hpp"
#include "plan/buying_plan.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"

namespace {

using namespace boardring;
using boardring_test::Random;

constexpr int kFrames = 60;

/// Corners in the order of their direction: regular, a rectangle, or nothing in particular.
std::vector<Vec2> corners(Random& random) {
    const double size = random.between(350.0, 1100.0);
    const double kind = random.unit();
    if (kind < 0.25) {
        const double wide = size * random.between(1.0, 2.0);
        return {{0.0, 0.0}, {wide, 0.0}, {wide, size}, {0.0, size}};
    }
    const std::size_t n = 4 + random.index(7);
    const double uneven = kind < 0.5 ? 0.0 : 0.25;
    std::vector<Vec2> points;
    for (std::size_t c = 0; c < n; ++c) {
        const double step = 360.0 / static_cast<double>(n);
        points.push_back(size * (1.0 - uneven * random.unit()) * unit_deg(step * (static_cast<double>(c) + uneven * random.unit())));
    }
    return points;
}

Stock stock(Random& random, Lie lie) {
    Stock stock;
    stock.name = "board";
    stock.width_mm = lie == Lie::flat ? random.between(45.0, 145.0) : 145.0;
    stock.thickness_mm = random.between(18.0, 45.0);
    stock.surface = std::vector{Surface::plain, Surface::show_face, Surface::moulded}[random.index(3)];
    stock.end_trim_mm = random.chance(0.5) ? 0.0 : 15.0;
    const std::size_t on_sale = 2 + random.index(5);
    double length = 2400.0;
    for (std::size_t k = 0; k < on_sale; ++k) {
        stock.lengths.push_back({length, std::round(length * random.between(0.42, 0.58)) / 100.0, {}, false});
        length += 300.0 * static_cast<double>(1 + random.index(3));
    }
    for (std::size_t k = random.index(3); k > 0; --k) stock.lengths.push_back({std::floor(random.between(500.0, 2000.0)), {}, 1, true});
    return stock;
}

struct TypicalFrame {
    Project project;
    Frame frame;
};

TypicalFrame typical_frame(std::uint64_t seed) {
    Random random(seed);
    for (;;) {
        const Outline outline = boardring_test::outline_through(corners(random), true);
        const Lie lie = random.chance(0.5) ? Lie::flat : Lie::on_edge;
        Stock board = stock(random, lie);
        const std::size_t n = outline.boards();
        Project project = boardring_test::project_for(outline, std::vector<double>(n, lie == Lie::flat ? board.width_mm : board.thickness_mm));
        project.lie = lie;
        for (BoardAsked& asked : project.boards) asked = {0, board.width_mm, board.thickness_mm, "/boards/all"};
        project.stock = {std::move(board)};
        project.copies = std::max<std::size_t>((6 + n - 1) / n, 1 + random.index(40 / n));
        project.wanted.spares = random.index(3) == 0 ? 1 : 0;
        const Result<Frame> frame = build_frame(project, outline);
        if (frame.ok()) return {std::move(project), frame.value()};
    }
}

struct Took {
    double ms = 0.0;
    bool proven = false;
    std::size_t pieces = 0;
    std::size_t kinds = 0;
};

Took buy(std::uint64_t seed) {
    const auto [project, frame] = typical_frame(seed);
    const CutList cut_list = list_cuts(project, frame);
    BuyingLimits limits;
    limits.steps = kBuyingStepsOfPlan;
    const auto start = std::chrono::steady_clock::now();
    const Buying buying = plan_buying({{&project, &frame, &cut_list}}, limits);
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    Took t{took.count(), true, 0, 0};
    for (const SectionPurchase& purchase : buying.sections) {
        t.proven = t.proven && purchase.buy.outcome == BuyingOutcome::cheapest;
        t.kinds += purchase.section.pieces.size();
        for (const StripPiece& piece : purchase.section.pieces) t.pieces += piece.count;
    }
    return t;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc > 1) {
        for (int i = 0; i < 20; ++i) buy(static_cast<std::uint64_t>(std::atoi(argv[1])));
        return 0;
    }
    std::vector<Took> all;
    for (int seed = 0; seed < kFrames; ++seed) {
        std::fflush(stdout);
        Took best = buy(static_cast<std::uint64_t>(seed));
        for (int again = 0; again < (best.ms < 200.0 ? 2 : 0); ++again) best.ms = std::min(best.ms, buy(static_cast<std::uint64_t>(seed)).ms);
        all.push_back(best);
        fmt::print("{:3} {:3} pieces of {:2} kinds {:9.2f} ms {}\n", seed, best.pieces, best.kinds, best.ms, best.proven ? "" : "not proven");
    }
    std::sort(all.begin(), all.end(), [](const Took& one, const Took& other) { return one.ms < other.ms; });
    const auto proven = std::count_if(all.begin(), all.end(), [](const Took& t) { return t.proven; });
    const auto fast = std::count_if(all.begin(), all.end(), [](const Took& t) { return t.ms < 50.0; });
    fmt::print("{} frames: {} proven, {} under 50 ms; median {:.1f} ms, nine in ten under {:.1f} ms, longest {:.1f} ms\n", kFrames, proven, fast,
               all[kFrames / 2].ms, all[kFrames * 9 / 10].ms, all.back().ms);
}
