#include "arrange/symmetry.hpp"

#include <algorithm>
#include <vector>

#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::outline_through;
using boardring_test::project_for;
using boardring_test::regular_ring;

namespace {

using Image = std::vector<std::size_t>;

bool has(const std::vector<Image>& images, const Image& image) { return std::find(images.begin(), images.end(), image) != images.end(); }

}  // namespace

TEST_CASE("A regular ring of n boards has 2n symmetries, a rectangle four, a kite two") {
    for (const std::size_t n : {3u, 6u, 7u}) {
        const Outline ring = regular_ring(n, 300.0);
        CHECK(symmetries(project_for(ring, {38.0}), ring).size() == 2 * n);
    }
    const Outline rectangle = outline_through({{0, 0}, {900, 0}, {900, 500}, {0, 500}});
    CHECK(symmetries(project_for(rectangle, {38.0}), rectangle).size() == 4);
    const Outline kite = outline_through({{0, 0}, {300, 400}, {0, 1200}, {-300, 400}});
    const std::vector<Image> of_kite = symmetries(project_for(kite, {38.0}), kite);
    CHECK(of_kite.size() == 2);
    CHECK(has(of_kite, {3, 2, 1, 0}));
}

TEST_CASE("The first symmetry is the identity, and two of them after one another are a third") {
    const Outline ring = regular_ring(5, 300.0);
    const std::vector<Image> images = symmetries(project_for(ring, {38.0}), ring);
    CHECK(images.front() == Image{0, 1, 2, 3, 4});
    for (const Image& a : images) {
        for (const Image& b : images) {
            Image both;
            for (const std::size_t from : b) both.push_back(a[from]);
            CHECK(has(images, both));
        }
    }
}

TEST_CASE("A joint, the board that runs through, and a margin each break the symmetry they are not part of") {
    const Outline ring = regular_ring(6, 300.0);
    Project one_butt = project_for(ring, {38.0});
    one_butt.joints[2].kind = JointKind::butt;
    CHECK(symmetries(one_butt, ring).size() == 2);  // turned over about corner C
    one_butt.joints[2].through = 2;
    CHECK(symmetries(one_butt, ring).size() == 1);
    one_butt.joints[5].kind = JointKind::butt;
    one_butt.joints[5].through = 5;
    CHECK(symmetries(one_butt, ring).size() == 2);  // turned half round
    Project one_margin = project_for(ring, {38.0});
    one_margin.outline.margin_mm[3] = 6.0;
    CHECK(symmetries(one_margin, ring).size() == 2);
}

TEST_CASE("An open chain can only be turned end for end, and only with like ends") {
    const Outline chain = outline_through({{0, 900}, {0, 0}, {700, 0}, {700, 900}}, false);
    Project project = project_for(chain, {38.0});
    CHECK(symmetries(project, chain).size() == 2);
    project.first_end.saw_deg = 10.0;
    CHECK(symmetries(project, chain).size() == 1);
}
