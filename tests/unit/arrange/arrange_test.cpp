#include "arrange/arrange.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <vector>

#include "cutlist/cut_list.hpp"
#include "frame/frame.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::outline_through;
using boardring_test::project_for;
using boardring_test::Random;
using boardring_test::regular_ring;

namespace {

// A project for that outline and a pile of so many boards of each thickness, 80 high so that they can stand at the fence.
Project project_with_pile(const Outline& outline, const std::vector<std::pair<std::size_t, double>>& pile) {
    Project project = project_for(outline, {38.0});
    for (const auto& [count, thickness_mm] : pile) {
        PileKind kind;
        kind.count = count;
        kind.board.width_mm = 80.0;
        kind.board.thickness_mm = thickness_mm;
        kind.board.pointer = "/boards/pile";
        project.pile.push_back(kind);
    }
    return project;
}

// The score counted on the frame as it is built, by the cut list: nothing of the search's table.
std::optional<PlaceScore> score_on_frame(Project project, const Outline& outline, const std::vector<std::size_t>& kinds) {
    project.boards = boards_in_place(project, {kinds, {}});
    const Result<Frame> frame = build_frame(project, outline);
    if (!frame.ok()) return std::nullopt;
    PlaceScore score;
    for (const Board& board : frame.value().boards) {
        for (const BoardEnd& end : board.ends) {
            const std::vector<SawWay> ways = ways_to_saw(project, board, end.saw_deg);
            if (std::none_of(ways.begin(), ways.end(), [](const SawWay& way) { return way.within_saw; })) ++score.beyond_saw;
            score.steepest_deg = std::max(score.steepest_deg, std::abs(end.saw_deg));
        }
    }
    score.settings = list_cuts(project, frame.value()).settings.size();
    return score;
}

bool same(const PlaceScore& a, const PlaceScore& b) { return !better(a, b) && !better(b, a); }

// All orders of all boards of the pile, the first n taken: every order and every choice of boards to leave over.
struct BruteForce {
    std::optional<PlaceScore> best, next;
    std::vector<std::size_t> first_of_best;
};

BruteForce try_all(const Project& project, const Outline& outline) {
    std::vector<std::size_t> all;
    for (std::size_t kind = 0; kind < project.pile.size(); ++kind) all.insert(all.end(), project.pile[kind].count, kind);
    BruteForce tried;
    std::vector<std::size_t> before;
    do {
        const std::vector<std::size_t> kinds(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(outline.boards()));
        if (kinds == before) continue;
        before = kinds;
        const std::optional<PlaceScore> score = score_on_frame(project, outline, kinds);
        if (!score) continue;
        if (!tried.best || better(*score, *tried.best)) {
            tried.next = tried.best;
            tried.best = score;
            tried.first_of_best = kinds;
        } else if (better(*tried.best, *score) && (!tried.next || better(*score, *tried.next))) {
            tried.next = score;
        }
    } while (std::next_permutation(all.begin(), all.end()));
    return tried;
}

// A ring of 3 to 6 corners: points on a circle, or an L.
Outline drawn_outline(Random& random) {
    if (random.chance(0.2)) {
        const double a = random.between(300.0, 500.0), b = random.between(300.0, 500.0);
        return outline_through({{0, 0}, {a + 600, 0}, {a + 600, b}, {a, b}, {a, b + 700}, {0, b + 700}});
    }
    const std::size_t corners = 3 + random.index(4);
    if (random.chance(0.25)) return regular_ring(corners, 500.0);
    std::vector<Vec2> points;
    for (std::size_t c = 0; c < corners; ++c) {
        const double turn = (static_cast<double>(c) + random.between(-0.25, 0.25)) / static_cast<double>(corners) * 360.0;
        points.push_back(800.0 * Vec2{std::cos(turn * 0.017453292519943295), std::sin(turn * 0.017453292519943295)});
    }
    return outline_through(points, !random.chance(0.2));
}

}  // namespace

TEST_CASE("A hexagon with one thin board takes three settings wherever it lies, and it is kept away from the board fitted last") {
    const Outline outline = regular_ring(6, 369.5);
    const Project project = project_with_pile(outline, {{5, 38.0}, {1, 28.0}});
    const Arrangement found = arrange(project, outline);
    CHECK(found.proven);
    CHECK(found.places.kinds == std::vector<std::size_t>{0, 0, 0, 1, 0, 0});
    CHECK(found.places.score.settings == 3);
    // tan S = (38 - 28 cos 60) / (28 sin 60): by hand 44.70
    CHECK(found.places.score.steepest_deg == Approx(44.704).margin(0.001));
    CHECK_FALSE(found.next);
    REQUIRE(found.all_alike);
    CHECK(found.all_alike->width_mm == 28.0);
    CHECK(found.all_alike->boards == 5);
    CHECK(found.all_alike->score.settings == 1);
    CHECK(found.all_alike->score.steepest_deg == Approx(30.0).margin(1e-9));
}

TEST_CASE("Every order of small rings tried by brute force gives the score that was found, and the first such order") {
    Random random(20);
    const std::size_t rounds = boardring_test::cases(150, 3000);
    std::size_t with_next = 0, with_spare = 0, beyond = 0;
    for (std::size_t round = 0; round < rounds; ++round) {
        CAPTURE(round);
        const Outline outline = drawn_outline(random);
        std::size_t to_place = outline.boards() + random.index(3);
        with_spare += to_place > outline.boards() ? 1u : 0u;
        std::vector<std::pair<std::size_t, double>> pile;
        double thickness_mm = random.between(30.0, 40.0);
        while (to_place > 0 && pile.size() < 3) {
            const std::size_t count = pile.size() == 2 ? to_place : 1 + random.index(to_place);
            pile.emplace_back(count, thickness_mm);
            to_place -= count;
            thickness_mm -= random.between(0.05, 10.0);
        }
        Project project = project_with_pile(outline, pile);
        if (random.chance(0.33)) project.joints[outline.closed ? 0 : 1].kind = JointKind::butt;
        project.tools.swing_limit_deg = random.between(40.0, 60.0);
        project.tools.saw_step_deg = random.chance(0.5) ? 0.5 : 2.0;
        const BruteForce tried = try_all(project, outline);
        const Arrangement found = arrange(project, outline);
        if (!tried.best) continue;
        REQUIRE(found.proven);
        const std::optional<PlaceScore> built = score_on_frame(project, outline, found.places.kinds);
        REQUIRE(built);
        CHECK(same(*built, found.places.score));
        CHECK(same(found.places.score, *tried.best));
        REQUIRE(found.next.has_value() == tried.next.has_value());
        if (found.next) CHECK(same(found.next->score, *tried.next));
        if (found.next) CHECK(same(found.next->score, *score_on_frame(project, outline, found.next->kinds)));
        with_next += found.next ? 1u : 0u;
        beyond += found.places.score.beyond_saw > 0 ? 1u : 0u;
    }
    CHECK(with_next > rounds / 4);
    CHECK(with_spare > rounds / 4);
    CHECK(beyond > 3);
}

TEST_CASE("Without symmetry the first of equally good orders is taken, in the order of the pile") {
    const Outline outline = outline_through({{0, 0}, {1500, 0}, {1500, 450}, {500, 450}, {500, 1100}, {0, 1100}});
    const Project project = project_with_pile(outline, {{4, 38.0}, {2, 32.0}});
    CHECK(arrange(project, outline).places.kinds == try_all(project, outline).first_of_best);
}

TEST_CASE("A board that would make a worse ring is the one left over") {
    const Outline outline = regular_ring(6, 400.0);
    const Project project = project_with_pile(outline, {{1, 28.0}, {7, 38.0}});
    const Arrangement found = arrange(project, outline);
    CHECK(found.places.kinds == std::vector<std::size_t>(6, 1));
    CHECK(found.left_over == std::vector<std::size_t>{1, 1});
    CHECK(found.places.score.settings == 1);
    CHECK_FALSE(found.all_alike);
    REQUIRE(found.next);
    CHECK(found.next->score.settings == 3);
}

TEST_CASE("Lettering the ring from another corner changes no score") {
    Random random(21);
    for (int round = 0; round < 20; ++round) {
        const Outline outline = drawn_outline(random);
        if (!outline.closed) continue;
        std::vector<Vec2> turned = outline.corners_mm;
        std::rotate(turned.begin(), turned.begin() + 1, turned.end());
        const std::vector<std::pair<std::size_t, double>> pile{{outline.boards() - 2, 36.0}, {1, 33.0}, {1, 29.0}};
        const Outline other = outline_through(turned);
        CHECK(same(arrange(project_with_pile(outline, pile), outline).places.score, arrange(project_with_pile(other, pile), other).places.score));
    }
}

TEST_CASE("Boards of like size but different stock are handed out in the order of the pile") {
    const Outline outline = regular_ring(4, 400.0);
    Project project = project_with_pile(outline, {{2, 38.0}, {3, 38.0}});
    const Arrangement found = arrange(project, outline);
    CHECK(found.places.kinds == std::vector<std::size_t>{0, 0, 1, 1});
    CHECK(found.left_over == std::vector<std::size_t>{0, 1});
}

TEST_CASE("A search cut short says so, and exchanges leave nothing that one more of them would better") {
    Random random(22);
    std::vector<Vec2> points;
    for (int c = 0; c < 14; ++c) {
        const double turn = (c + random.between(-0.3, 0.3)) / 14.0 * 6.283185307179586;
        points.push_back(2000.0 * Vec2{std::cos(turn), std::sin(turn)});
    }
    const Outline outline = outline_through(points);
    std::vector<std::pair<std::size_t, double>> pile;
    for (int k = 0; k < 14; ++k) pile.emplace_back(1, 40.0 - 0.7 * ((k * 5) % 14));
    const Project project = project_with_pile(outline, pile);
    ArrangeLimits limits;
    limits.steps = 3000;
    const Arrangement found = arrange(project, outline, limits);
    CHECK_FALSE(found.proven);
    CHECK(same(found.places.score, *score_on_frame(project, outline, found.places.kinds)));
    std::vector<std::size_t> as_given(14);
    std::iota(as_given.begin(), as_given.end(), std::size_t{0});
    CHECK_FALSE(better(*score_on_frame(project, outline, as_given), found.places.score));
    std::vector<std::size_t> kinds = found.places.kinds;
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        for (std::size_t j = i + 1; j < kinds.size(); ++j) {
            std::swap(kinds[i], kinds[j]);
            const std::optional<PlaceScore> exchanged = score_on_frame(project, outline, kinds);
            if (exchanged) CHECK_FALSE(better(*exchanged, found.places.score));
            std::swap(kinds[i], kinds[j]);
        }
    }
}

TEST_CASE("A large regular ring of two kinds is proven: most beginnings leave the same to do") {
    const Outline outline = regular_ring(60, 200.0);
    const Arrangement found = arrange(project_with_pile(outline, {{40, 38.0}, {20, 30.0}}), outline);
    CHECK(found.proven);
    CHECK(found.places.score.settings == 3);
}

TEST_CASE("If no order can be built the pile stays as given, and nothing is proven") {
    // 200 thick boards round a ring of 100: no inside edge is left with the outline along the outside.
    const Outline outline = regular_ring(4, 100.0);
    Project project = project_with_pile(outline, {{2, 200.0}, {2, 190.0}});
    project.outline.line = OutlineLine::outside;
    const Arrangement found = arrange(project, outline);
    CHECK_FALSE(found.proven);
    CHECK(found.places.kinds == std::vector<std::size_t>{0, 0, 1, 1});
}

TEST_CASE("Of all turnings of a regular ring that one is taken in which the board fitted last is easiest to trim") {
    Random random(23);
    std::size_t steepness_decides = 0;
    for (int round = 0; round < 60; ++round) {
        CAPTURE(round);
        const std::size_t n = 4 + random.index(4);
        const Outline outline = regular_ring(n, 500.0);
        std::vector<std::pair<std::size_t, double>> pile{{1 + random.index(n - 2), 40.0}};
        const std::size_t second = 1 + random.index(n - pile.front().first - 1);
        pile.emplace_back(second, random.between(30.0, 38.0));
        if (const std::size_t rest = n - pile[0].first - second; rest > 0) pile.emplace_back(rest, random.between(20.0, 29.0));
        Project project = project_with_pile(outline, pile);
        if (random.chance(0.5)) project.wanted.fit_last = random.index(n);
        const std::size_t last = project.wanted.fit_last.value_or(n - 1);
        const std::vector<std::size_t> kinds = arrange(project, outline).places.kinds;
        // As it is built: neighbours of another kind, then the steeper of its two cuts, then the order of the pile.
        const auto trouble = [&](const std::vector<std::size_t>& in_place) {
            project.boards = boards_in_place(project, {in_place, {}});
            const Frame frame = build_frame(project, outline).value();
            const std::size_t unlike = (in_place[(last + n - 1) % n] != in_place[last] ? 1U : 0U) + (in_place[(last + 1) % n] != in_place[last] ? 1U : 0U);
            const Board& board = frame.boards[last];
            return std::pair(unlike, std::max(std::abs(board.ends[0].saw_deg), std::abs(board.ends[1].saw_deg)));
        };
        const auto [unlike, steeper_deg] = trouble(kinds);
        std::vector<std::size_t> turned = kinds;
        for (std::size_t over = 0; over < 2; ++over) {
            for (std::size_t by = 0; by < n; ++by) {
                std::rotate(turned.begin(), turned.begin() + 1, turned.end());
                const auto [other_unlike, other_deg] = trouble(turned);
                REQUIRE(unlike <= other_unlike);
                if (other_unlike > unlike) continue;
                REQUIRE(steeper_deg <= other_deg + 1e-6);
                steepness_decides += other_deg > steeper_deg + 0.1 ? 1U : 0U;
                if (other_deg <= steeper_deg + 1e-9) REQUIRE(kinds <= turned);
            }
            std::reverse(turned.begin(), turned.end());
        }
    }
    CHECK(steepness_decides > 20);
}

TEST_CASE("A search that is cut short twice has taken both its allowances, and what it takes beside them it counts") {
    Random random(24);
    std::vector<Vec2> points;
    for (int c = 0; c < 40; ++c) {
        const double turn = (c + random.between(-0.3, 0.3)) / 40.0 * 6.283185307179586;
        points.push_back(6000.0 * Vec2{std::cos(turn), std::sin(turn)});
    }
    const Outline outline = outline_through(points);
    std::vector<std::pair<std::size_t, double>> pile;
    for (int k = 0; k < 40; ++k) pile.emplace_back(1, 40.0 - 0.3 * ((k * 7) % 40));
    ArrangeLimits limits;
    limits.steps = 2000;
    const Arrangement found = arrange(project_with_pile(outline, pile), outline, limits);
    CHECK_FALSE(found.proven);
    CHECK(found.steps > 2 * limits.steps);
    // Twice branching, twice exchanges, each stopped at its first step beyond (a step counts for several in a large ring).
    CHECK(found.steps < 4 * (limits.steps + 40));
}

TEST_CASE("Cut short with boards to spare, no exchange of two places or with a board left over would better what is found") {
    Random random(25);
    std::vector<Vec2> points;
    for (int c = 0; c < 12; ++c) {
        const double turn = (c + random.between(-0.3, 0.3)) / 12.0 * 6.283185307179586;
        points.push_back(2000.0 * Vec2{std::cos(turn), std::sin(turn)});
    }
    const Outline outline = outline_through(points);
    std::vector<std::pair<std::size_t, double>> pile;
    for (int k = 0; k < 15; ++k) pile.emplace_back(1, 40.0 - 0.7 * ((k * 4) % 15));
    const Project project = project_with_pile(outline, pile);
    ArrangeLimits limits;
    limits.steps = 3000;
    const Arrangement found = arrange(project, outline, limits);
    CHECK_FALSE(found.proven);
    std::vector<std::size_t> kinds = found.places.kinds, spare;
    for (std::size_t kind = 0; kind < found.left_over.size(); ++kind) spare.insert(spare.end(), found.left_over[kind], kind);
    REQUIRE(spare.size() == 3);
    const auto check = [&] {
        const std::optional<PlaceScore> exchanged = score_on_frame(project, outline, kinds);
        if (exchanged) CHECK_FALSE(better(*exchanged, found.places.score));
    };
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        for (std::size_t& other : spare) {
            std::swap(kinds[i], other);
            check();
            std::swap(kinds[i], other);
        }
        for (std::size_t j = i + 1; j < kinds.size(); ++j) {
            std::swap(kinds[i], kinds[j]);
            check();
            std::swap(kinds[i], kinds[j]);
        }
    }
}
