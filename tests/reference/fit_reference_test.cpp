// The fit against adjusted networks that others have printed. Value, source and printed precision stand beside each check.
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "outline/fit.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

Observation between(Observation::Kind kind, std::size_t a, std::size_t b, double value, double sigma) {
    Observation o;
    o.kind = kind;
    o.a = a;
    o.b = b;
    o.value = value;
    o.sigma = sigma;
    return o;
}

Network points(std::size_t count, bool closed = true) {
    Network network;
    network.closed = closed;
    network.corners = network.points = count;
    for (std::size_t p = 0; p < count; ++p) network.letters.push_back(p);
    return network;
}

double dms(double degrees, double minutes, double seconds) {
    return degrees + minutes / 60.0 + seconds / 3600.0;
}

struct Leg {
    double latitude, departure, length, adjusted_latitude, adjusted_departure;
};

// The compass rule shares a traverse's misclosure in proportion to the legs: least squares of latitudes and departures read
// apart from each other with variances in proportion to the legs. `end`: where the last point is fixed, else back at the first.
void check_compass_rule(const std::vector<Leg>& legs, const Vec2* end, double bound) {
    const bool closed = end == nullptr;
    Network network = points(closed ? legs.size() : legs.size() + 1, closed);
    std::vector<Vec2> start(network.points);
    for (std::size_t k = 0; k < legs.size(); ++k) {
        const std::size_t next = closed && k + 1 == legs.size() ? 0 : k + 1;
        const double sigma = std::sqrt(legs[k].length);
        network.observations.push_back(between(Observation::Kind::sideways, k, next, legs[k].departure, sigma));
        network.observations.push_back(between(Observation::Kind::height, k, next, legs[k].latitude, sigma));
        if (next > 0) start[next] = start[k] + Vec2{legs[k].departure, legs[k].latitude};
    }
    if (end != nullptr) {
        network.observations.push_back(between(Observation::Kind::sideways, 0, legs.size(), end->x, 1e-6));
        network.observations.push_back(between(Observation::Kind::height, 0, legs.size(), end->y, 1e-6));
    }
    const NetworkFit fit = fit_from(network, start);
    for (std::size_t k = 0; k < legs.size(); ++k) {
        CHECK_THAT(predicted(network.observations[2 * k], fit.points_mm), WithinAbs(legs[k].adjusted_departure, bound));
        CHECK_THAT(predicted(network.observations[2 * k + 1], fit.points_mm), WithinAbs(legs[k].adjusted_latitude, bound));
    }
}

}  // namespace

// GNU Gama's published sample output, "1D vertical least square adjustment" (read): eight height differences there and back, one
// point held, heights to 0.01 mm, [pvv] and standard deviations in mm.
TEST_CASE("a levelling loop there and back comes to the printed heights and standard deviations", "[reference]") {
    constexpr std::size_t k1a = 0, k2 = 1, k3 = 2, k4 = 3;
    struct Run {
        std::size_t from, to;
        double observed_m, adjusted_m;
    };
    const std::vector<Run> runs{{k1a, k4, -1.225, -1.22488}, {k4, k3, -0.848, -0.84187},  {k3, k2, 1.342, 1.34163},
                                {k2, k1a, 0.72, 0.72513},    {k1a, k2, -0.724, -0.72513}, {k2, k3, -1.335, -1.34163},
                                {k3, k4, 0.842, 0.84187},    {k4, k1a, 1.231, 1.22488}};
    Network network = points(4);
    for (const Run& run : runs) {
        network.observations.push_back(between(Observation::Kind::height, run.from, run.to, 1000.0 * run.observed_m, 5.0));
    }
    // A levelling net knows nothing of the plan: stand the points side by side.
    for (std::size_t p = 1; p < 4; ++p)
        network.observations.push_back(between(Observation::Kind::sideways, 0, p, 1000.0 * static_cast<double>(p), 1.0));
    const NetworkFit fit = fit_from(network, {{0, 0}, {1000, 0}, {2000, 0}, {3000, 0}});
    for (std::size_t i = 0; i < runs.size(); ++i) {
        CHECK_THAT(predicted(network.observations[i], fit.points_mm), WithinAbs(1000.0 * runs[i].adjusted_m, 0.005 + 1e-9));
    }
    CHECK_THAT(fit.chi_square * 25.0, WithinAbs(146.625, 0.0005));
    const double m0 = std::sqrt(fit.chi_square / 5.0);
    CHECK_THAT(5.0 * m0, WithinAbs(5.42, 0.01));
    const auto covariance = FitCovariance::of(network, fit.points_mm);
    REQUIRE(covariance);
    for (const auto& [point, printed_mm] : {std::pair{k4, 3.1}, {k3, 3.5}, {k2, 3.1}}) {
        const std::vector<double> column =
            covariance->column(gradient_of(between(Observation::Kind::height, 0, point, 0.0, 1.0), fit.points_mm));
        CHECK_THAT(std::sqrt(dot_of(column, column)),
                   WithinAbs(printed_mm, 0.05));  // printed with the 5 mm as given: 5 sqrt(3/8) = 3.06
    }
}

// NPTEL course 105107122 (Surveying), module 9, lecture 28, Example 28-3 and Table 28.4 (read): angles to 20 seconds, the sum
// 1' 40" short, 20" to each corner.
TEST_CASE("angles alone share their misfit equally, an inward corner among them", "[reference]") {
    const std::vector<double> angles{dms(106, 11, 20), dms(59, 44, 40), dms(254, 16, 20), dms(38, 17, 20), dms(81, 28, 40)};
    Network network = points(5);
    // Sides known to nothing but their order of size hold the ring's place, and leave the angles alone.
    std::vector<Vec2> ring{{0, 0}};
    double direction = 0.0;
    for (std::size_t c = 0; c < 4; ++c) {
        ring.push_back(ring.back() + (c == 1 ? 2000.0 : 1000.0) * unit_deg(direction));
        direction += 180.0 - angles[c + 1];
    }
    for (std::size_t c = 0; c < 5; ++c) {
        Observation o = between(Observation::Kind::angle, c, network.next(c), angles[c], 1.0 / 60.0);
        o.c = network.before(c);
        network.observations.push_back(o);
        network.observations.push_back(
            between(Observation::Kind::distance, c, network.next(c), length(ring[network.next(c)] - ring[c]), 1e5));
    }
    const NetworkFit fit = fit_from(network, ring);
    for (std::size_t c = 0; c < 5; ++c) {
        CHECK_THAT(3600.0 * -fit.residual[2 * c], WithinAbs(20.0, 0.01));
    }
}

// Purdue University, ASM 215, "Traverse calculations" (read): feet, two decimals; the page nudges values by a unit so that they
// close.
TEST_CASE("a five-sided traverse balanced by the compass rule, as a weighted fit", "[reference]") {
    check_compass_rule({{255.88, 125.72, 285.1, 255.96, 125.66},
                        {-153.7, 590.78, 610.45, -153.52, 590.65},
                        {-694.28, -192.54, 720.48, -694.07, -192.69},
                        {202.91, -6.02, 203.0, 202.97, -6.07},
                        {388.48, -517.41, 647.02, 388.66, -517.55}},
                       nullptr, 0.01 + 1e-9);
}

// J. Mahun, Open Access Surveying Library, Traverse Computations, chapter E (read): feet, three decimals.
TEST_CASE("a four-sided traverse balanced by the compass rule, as a weighted fit", "[reference]") {
    check_compass_rule({{-176.357, -438.548, 472.68, -176.386, -438.574},
                        {203.395, -73.093, 216.13, 203.382, -73.105},
                        {192.357, 198.651, 276.52, 192.34, 198.635},
                        {-219.312, 313.065, 382.24, -219.336, 313.044}},
                       nullptr, 0.001);
}

// The same library, chapter H (read): a link traverse, both ends held.
TEST_CASE("a chain between two fixed ends balanced by the compass rule, as a weighted fit", "[reference]") {
    const Vec2 end{336.141, 113.301};
    check_compass_rule({{-220.7, 332.104, 398.75, -220.715, 332.124},
                        {-107.347, -409.038, 422.89, -107.363, -409.017},
                        {441.402, 413.004, 604.49, 441.379, 413.034}},
                       &end, 0.0005 + 1e-9);
}
