#include "outline/fit_judge.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "outline/laws.hpp"
#include "support/catch.hpp"
#include "support/random_network.hpp"

using namespace boardring;
using boardring_test::exact_network;
using boardring_test::Random;
using boardring_test::random_ring;

namespace {

struct Hat {
    std::vector<std::vector<double>> columns;
    std::vector<double> redundancy;
    std::size_t freedoms = 0;
};

Hat hat_of(const Network& network, const std::vector<Vec2>& points) {
    const auto covariance = FitCovariance::of(network, points);
    REQUIRE(covariance);
    Hat hat;
    for (const Observation& o : network.observations) {
        hat.columns.push_back(covariance->column(o));
        hat.redundancy.push_back(1.0 - dot_of(hat.columns.back(), hat.columns.back()));
    }
    hat.freedoms = network.observations.size() - hat.columns.front().size();
    return hat;
}

}  // namespace

TEST_CASE("redundancy numbers add up to the readings more than needed", "[fit_judge]") {
    Random random(311);
    for (int round = 0; round < 100; ++round) {
        const std::vector<Vec2> ring = random_ring(random, 4 + random.index(7));
        const Hat hat = hat_of(exact_network(random, ring, random.index(10)), ring);
        double sum = 0.0;
        for (const double share : hat.redundancy) sum += share;
        CHECK_THAT(sum, WithinAbs(static_cast<double>(hat.freedoms), 1e-7));
    }
}

TEST_CASE("the limit of a set is passed by one clean set in twenty", "[fit_judge]") {
    // Against brute force: drawn sets, counted. 20,000 sets tell 5 % to 0.15 points.
    Random random(312);
    for (const std::size_t diagonals : {0U, 2U, 20U}) {
        const std::vector<Vec2> ring = random_ring(random, 7);
        const Hat hat = hat_of(exact_network(random, ring, diagonals), ring);
        const double limit = set_limit(hat.columns, hat.redundancy, 0.05, hat.freedoms);
        std::size_t beyond = 0;
        constexpr std::size_t kSets = 20'000;
        std::vector<double> drawn(hat.columns.size());
        for (std::size_t set = 0; set < kSets; ++set) {
            std::vector<double> fitted(hat.columns.front().size(), 0.0);
            for (std::size_t i = 0; i < drawn.size(); ++i) {
                drawn[i] = boardring_test::normal(random);
                for (std::size_t k = 0; k < fitted.size(); ++k) fitted[k] += hat.columns[i][k] * drawn[i];
            }
            double worst = 0.0;
            for (std::size_t i = 0; i < drawn.size(); ++i) {
                if (hat.redundancy[i] < 1e-7) continue;
                worst = std::max(worst, std::abs(drawn[i] - dot_of(hat.columns[i], fitted)) / std::sqrt(hat.redundancy[i]));
            }
            if (worst > limit) ++beyond;
        }
        CHECK_THAT(static_cast<double>(beyond) / static_cast<double>(kSets), WithinAbs(0.05, 0.008));
    }
}

TEST_CASE("one check alone is tested at the single level: all residuals are one", "[fit_judge]") {
    Random random(313);
    Network network = exact_network(random, {{0, 0}, {1000, 0}, {1100, 900}, {-50, 950}}, 2);
    std::erase_if(network.observations, [](const Observation& o) { return o.kind == Observation::Kind::angle; });
    const Hat hat = hat_of(network, {{0, 0}, {1000, 0}, {1100, 900}, {-50, 950}});
    REQUIRE(hat.freedoms == 1);
    CHECK_THAT(set_limit(hat.columns, hat.redundancy, 0.05, 1), WithinAbs(limit_outside(0.05), 0.02));
}

TEST_CASE("where one check serves all readings a wrong one is a tie", "[fit_judge]") {
    Random random(314);
    const std::vector<Vec2> ring{{0, 0}, {1000, 0}, {1100, 900}, {-50, 950}};
    Network network = exact_network(random, ring, 2);
    std::erase_if(network.observations, [](const Observation& o) { return o.kind == Observation::Kind::angle; });
    network.observations[1].value += 63.0;
    const Judgement judged = judge_fit(network, fit_network(network), {});
    CHECK(judged.tied == 6);
}

TEST_CASE("digits swapped are seen, and speak for their reading", "[fit_judge]") {
    Random random(315);
    const std::vector<Vec2> ring{{0, 0}, {1214, 0}, {1300, 900}, {600, 1300}, {-50, 950}};
    Network network = exact_network(random, ring, 3);
    network.observations[0].value = 1124.0;
    const Judgement judged = judge_fit(network, fit_network(network), {});
    REQUIRE(judged.tied == 1);
    CHECK(judged.suspects.front().observation == 0);
    // 100 not taken off would have meant 1224: 10 beside, within two standard deviations of what the others say. The nearer comes first.
    const std::vector<FittingSlip>& slips = judged.suspects.front().slips;
    REQUIRE(slips.size() == 2);
    CHECK(slips[0].length == SideSlip::swapped);
    CHECK_THAT(slips[0].meant, within_mm(1214.0, 1e-9));
    CHECK(slips[1].length == SideSlip::hundred);
    CHECK_THAT(slips[1].meant, within_mm(1224.0, 1e-9));
    CHECK_THAT(judged.suspects.front().would_be, within_mm(1214.0, 1e-6));
}

TEST_CASE("a fall read the other way is seen as one, also where it is small beside the ring", "[fit_judge]") {
    Random random(316);
    const std::vector<Vec2> window{{0, 0}, {903, -12}, {890, 1185}, {-18, 1200}};
    Network network = exact_network(random, window, 2);
    const auto against = [&](Observation::Kind kind, std::size_t a, std::size_t b) {
        Observation o;
        o.kind = kind;
        o.a = a;
        o.b = b;
        o.sigma = 1.0;
        o.line = network.observations.size();
        o.value = predicted(o, window);
        network.observations.push_back(o);
    };
    against(Observation::Kind::height, 1, 0);    // A over B: AB falls 12
    against(Observation::Kind::height, 2, 3);
    against(Observation::Kind::sideways, 1, 2);
    against(Observation::Kind::sideways, 3, 0);
    const std::size_t fall = network.observations.size() - 4;
    REQUIRE_THAT(network.observations[fall].value, within_mm(12.0, 1e-9));
    network.observations[fall].value = -12.0;
    const Judgement judged = judge_fit(network, fit_network(network), {});
    REQUIRE(judged.tied == 1);
    CHECK(judged.suspects.front().observation == fall);
    const std::vector<FittingSlip>& slips = judged.suspects.front().slips;
    REQUIRE(slips.size() == 1);
    CHECK(slips[0].level == LevelSlip::other_way);
    CHECK_THAT(slips[0].meant, within_mm(12.0, 1e-9));

    // Level is level: there is no other way, and nothing to exchange.
    network.observations[fall].value = 0.0;
    CHECK(slips_of(network.observations[fall], {}).empty());
    network.observations[fall].value = -21.0;
    bool swapped = false;
    for (const FittingSlip& slip : slips_of(network.observations[fall], {}))
        swapped = swapped || (slip.level == LevelSlip::swapped && std::abs(slip.meant + 12.0) < 1e-9);
    CHECK(swapped);
}
