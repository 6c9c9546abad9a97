#include <cmath>
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "drawing/paper_space.hpp"
#include "frame/overlap.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

// Corners of a convex polygon: angles in order on an ellipse.
std::vector<Vec2> random_convex(Random& random, std::size_t n) {
    std::vector<double> turns;
    for (std::size_t i = 0; i < n; ++i)
        turns.push_back((static_cast<double>(i) + random.between(0.1, 0.9)) * 6.283185307179586 / static_cast<double>(n));
    const Vec2 middle{random.between(-10, 10), random.between(-10, 10)};
    const double a = random.log_between(0.5, 12), b = random.log_between(0.5, 12);
    std::vector<Vec2> points;
    for (const double t : turns) points.push_back(middle + Vec2{a * std::cos(t), b * std::sin(t)});
    return points;
}

double nearest(const std::vector<Vec2>& a, const std::vector<Vec2>& b) {
    double best = 1e300;
    for (const Vec2 p : a) {
        for (std::size_t i = 0; i < b.size(); ++i) {
            const Vec2 e = b[(i + 1) % b.size()] - b[i];
            const double t = std::clamp(dot(p - b[i], e) / dot(e, e), 0.0, 1.0);
            best = std::min(best, length(p - b[i] - t * e));
        }
    }
    return best;
}

}  // namespace

TEST_CASE("Convex shapes are apart exactly when clipping one by the other leaves nothing", "[report][drawing]") {
    Random random(20260);
    int apart = 0, together = 0;
    for (int i = 0; i < 20000; ++i) {
        const std::vector<Vec2> a = random_convex(random, 3 + random.index(5));
        const std::vector<Vec2> b = random_convex(random, 3 + random.index(5));
        const double gap = convex_gap(a, b);
        const double shared = overlap_area_mm2(a, b);
        if (std::abs(gap) < 1e-9) continue;
        CAPTURE(i, gap, shared);
        if (gap > 0.0) {
            ++apart;
            REQUIRE(shared == 0.0);
            REQUIRE(gap <= std::min(nearest(a, b), nearest(b, a)) + 1e-12);
        } else {
            ++together;
            REQUIRE(shared > 0.0);
        }
        REQUIRE(convex_gap(b, a) == gap);
    }
    CHECK(apart > 3000);
    CHECK(together > 3000);
}

TEST_CASE("Segments that cross, touch or miss a box are told apart", "[report][drawing]") {
    const std::vector<Vec2> box{{0, 0}, {10, 0}, {10, 5}, {0, 5}};
    CHECK(convex_gap(box, std::vector<Vec2>{{-5, 2}, {15, 2}}) < 0.0);
    CHECK(convex_gap(box, std::vector<Vec2>{{-5, 7}, {15, 7}}) == 2.0);
    CHECK(convex_gap(box, std::vector<Vec2>{{12, -5}, {12, 15}}) == 2.0);
    CHECK_THAT(convex_gap(box, std::vector<Vec2>{{10, 5}, {15, 10}}), within_mm(0.0, 1e-12));
    // In line with each other, but apart.
    CHECK(convex_gap(std::vector<Vec2>{{0, 0}, {1, 0}}, std::vector<Vec2>{{3, 0}, {4, 0}}) == 2.0);
    CHECK(convex_gap(std::vector<Vec2>{{0, 0}}, std::vector<Vec2>{{3, 4}}) == 5.0);
}

TEST_CASE("Space on the paper is searched as if every shape were looked at", "[report][drawing]") {
    Random random(7);
    PaperSpace space(4.0);
    std::vector<std::vector<Vec2>> shapes;
    for (std::size_t i = 0; i < 60; ++i) {
        shapes.push_back(random_convex(random, 4));
        space.take(i % 2 == 0 ? PaperSpace::kWood : PaperSpace::kText, shapes.back(), i);
    }
    int free_count = 0;
    for (int i = 0; i < 4000; ++i) {
        std::vector<Vec2> asked = random_convex(random, 4);
        const Vec2 away{random.between(-30, 30), random.between(-30, 30)};
        for (Vec2& p : asked) p = p + away;
        const double gap = random.between(-1, 3);
        const std::size_t past = random.index(60);
        bool expected = true;
        for (std::size_t k = 0; k < shapes.size(); ++k) {
            if (k % 2 == 0 && k != past && convex_gap(shapes[k], asked) < gap) expected = false;
        }
        free_count += expected ? 1 : 0;
        REQUIRE(space.is_free(PaperSpace::kWood, asked, gap, past) == expected);
    }
    CHECK(free_count > 200);
    CHECK(free_count < 3800);
}

TEST_CASE("A label's box holds its text at every turn and alignment", "[report][drawing]") {
    const Label label{{100, 50}, "369.5", 4.0, 0.0, Align::left, false};
    const auto box = label_box(label);
    CHECK(box[0].x == 100.0);
    CHECK(box[1].x == 100.0 + 4.0 * text_width("369.5", false));
    CHECK(box[2].y >= 52.0);
    CHECK(box[0].y <= 48.0);

    Label turned_label = label;
    turned_label.turn_deg = 90.0;
    const auto turned_box = label_box(turned_label);
    CHECK_THAT(turned_box[1].y - turned_box[0].y, within_mm(box[1].x - box[0].x, 1e-12));

    Label centred = label;
    centred.align = Align::centre;
    CHECK_THAT(0.5 * (label_box(centred)[0].x + label_box(centred)[1].x), within_mm(100.0, 1e-12));
    Label right = label;
    right.align = Align::right;
    CHECK(label_box(right)[1].x == 100.0);

    // Only what hangs below the line reaches further down.
    Label hanging = label;
    hanging.text = "16-1/4";
    CHECK(label_box(hanging)[0].y < box[0].y);
}

TEST_CASE("Text widths grow with every character and count characters, not bytes", "[report][drawing]") {
    CHECK(text_width("", false) == 0.0);
    CHECK(text_width("120", false) < text_width("1200", false));
    CHECK(text_width("120", false) < text_width("120", true));
    CHECK(text_width("\xC2\xB0", false) < text_width("0", false));  // one degree sign, not two letters
    CHECK(text_width("\xFF\xFE", false) == 2.0 * text_width("\xFF", false));
    // A common wide face: digits 0.636 em, capitals up to 0.79 em (read from the font's own table).
    CHECK(text_width("0000000000", false) * kCapHeight >= 6.36);
    CHECK(text_width("OGDHQN", false) * kCapHeight >= 4.6);
}

TEST_CASE("Text is broken at spaces, long words anywhere, and every line fits", "[report][drawing]") {
    const std::string words = "Letters: corners, counter-clockwise seen from above. " + std::string(60, 'W') + " end";
    const double height = 3.5, width = 60.0;
    const std::vector<std::string> lines = wrapped_text(words, width, height, false);
    std::string joined;
    for (const std::string& line : lines) {
        REQUIRE_FALSE(line.empty());
        CHECK(text_width(line, false) * height <= width);
        joined += line;
    }
    std::string solid = words;
    solid.erase(std::remove(solid.begin(), solid.end(), ' '), solid.end());
    joined.erase(std::remove(joined.begin(), joined.end(), ' '), joined.end());
    CHECK(joined == solid);
    CHECK(wrapped_text("", 10.0, 3.5, false).empty());
    CHECK(wrapped_text("   ", 10.0, 3.5, false).empty());
}

TEST_CASE("Hatch lines stay inside their polygon and share one grid with their neighbours", "[report][drawing]") {
    Random random(11);
    for (int i = 0; i < 300; ++i) {
        const std::vector<Vec2> polygon = random_convex(random, 3 + random.index(4));
        for (const auto& [a, b] : hatch_lines(polygon, 0.7)) {
            CHECK_THAT(b.y - a.y, within_mm(b.x - a.x, 1e-9));  // 45 degrees
            const double row = (a.y - a.x) / std::sqrt(2.0) / 0.7;
            CHECK_THAT(row, within_mm(std::round(row), 1e-9));
            const std::vector<Vec2> middle{0.5 * (a + b)};
            CHECK(convex_gap(polygon, middle) <= 1e-9);
            CHECK(nearest({a}, polygon) < 1e-9);
            CHECK(nearest({b}, polygon) < 1e-9);
        }
    }
    CHECK(hatch_lines({}, 1.0).empty());
    // Total length of the lines times their spacing comes to the area.
    const std::vector<Vec2> square{{0, 0}, {100, 0}, {100, 100}, {0, 100}};
    double sum = 0.0;
    for (const auto& [a, b] : hatch_lines(square, 0.5)) sum += length(b - a);
    CHECK_THAT(0.5 * sum, within_mm(10000.0, 20.0));
}
