#include "outline/way_up.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "outline/notebook.hpp"

namespace boardring {
namespace {

constexpr double kLies = 0.5;  // sixty degrees: what leans more is no sill and no head

// How much a way runs to the right: 1 along +x, -1 along -x.
double rightward(Vec2 way) {
    const double size = length(way);
    return size > 0.0 ? way.x / size : 0.0;
}

double rightward(const std::array<std::size_t, 2>& way, const std::vector<Vec2>& points_mm) {
    return rightward(points_mm[way[1]] - points_mm[way[0]]);
}

// About A, which is at the origin. No -0.
std::vector<Vec2> half_turned(std::vector<Vec2> points_mm) {
    for (Vec2& p : points_mm) p = {0.0 - p.x, 0.0 - p.y};
    return points_mm;
}

// The lowest of the sides that run level along the bottom; without such a side the one most level.
std::size_t sill_of(const Network& network, const std::vector<Vec2>& points_mm, bool letters_clockwise) {
    const std::size_t sides = network.closed ? network.corners : network.corners - 1;
    std::size_t sill = 0;
    double lowest = 0.0, most = -2.0;
    bool lies = false;
    for (std::size_t k = 0; k < sides; ++k) {
        const Vec2 a = points_mm[k], b = points_mm[network.next(k)];
        const double along = letters_clockwise ? -rightward(b - a) : rightward(b - a);
        const double high = letters_clockwise ? -(a.y + b.y) : a.y + b.y;
        if (along >= kLies) {
            if (!lies || high < lowest) sill = k, lowest = high;
            lies = true;
        } else if (!lies && along > most) {
            sill = k, most = along;
        }
    }
    return sill;
}

}  // namespace

UprightFit fit_upright(const Network& network, bool letters_clockwise) {
    UprightFit upright{fit_network(network), {}};
    NetworkFit& fit = upright.fit;
    WayUp& way = upright.way;
    const bool levelled = network.levelled();
    // Does this fit stand as the maker says, or, where nothing is said, as letters usually start?
    const auto stands = [&](const std::vector<Vec2>& points_mm) {
        if (!network.sills.empty()) return rightward(network.sills.front(), points_mm) > 0.0;
        const double along = rightward(points_mm[1] - points_mm[0]);
        return letters_clockwise ? along <= -kLies : along >= kLies;
    };
    if (!levelled) {
        // A fit from the half turn would be this one, turned.
        if (!network.sills.empty() && !stands(fit.points_mm)) fit.points_mm = half_turned(std::move(fit.points_mm));
    } else {
        NetworkFit other = fit_from(network, half_turned(fit.points_mm));
        // Where much was read against level there is no fit near the half turn: the steps come back to the first.
        const bool came_back = dot(other.points_mm[1] - other.points_mm[0], fit.points_mm[1] - fit.points_mm[0]) > 0.0;
        if (came_back) {
            way.by = WayUp::By::readings;
        } else {
            if (other.chi_square < fit.chi_square) std::swap(fit, other);
            way.decides = other.chi_square - fit.chi_square;
            way.by = *way.decides >= kDecided ? WayUp::By::readings : WayUp::By::order;
            if ((!network.sills.empty() || way.by == WayUp::By::order) && !stands(fit.points_mm) && stands(other.points_mm)) {
                std::swap(fit, other);
                way.decides = -*way.decides;
            }
        }
    }
    if (!network.sills.empty()) way.by = WayUp::By::said;
    way.sill = sill_of(network, fit.points_mm, letters_clockwise);
    return upright;
}

Findings sill_findings(const Project& project, const Network& network, const NetworkFit& fit) {
    const auto& readings = std::get<ReadingsOutline>(project.outline.form).readings;
    std::size_t i = 0;
    for (const Reading& r : readings) {
        if (r.kind != Reading::Kind::sill) continue;
        const double along = rightward(network.sills[i++], fit.points_mm);
        if (along >= kLies) continue;
        const std::string name = pair_name(std::min(r.first, r.second), std::max(r.first, r.second));
        if (along > -kLies) {
            return {{Severity::error, "hang.sill-unclear", r.pointer,
                     fmt::format("\"{}\" says that {} lies along the bottom or the top; by the other readings it stands upright.", r.text, name),
                     network.levelled() ? "Say it of a side that lies."
                                        : fmt::format("Nothing was read against level, so AB is taken as level. Lay a level along a side and write it: \"{} level\".", name)}};
        }
        if (network.sills.size() == 1) {
            return {{Severity::error, "hang.sill-unclear", r.pointer,
                     fmt::format("\"{}\" does not go with what was read against level: by that the opening stands the other way up.", r.text),
                     "Stand before the opening and look which side is at the bottom, and which of two corners is the lower one."}};
        }
        return {{Severity::error, "hang.sill-unclear", r.pointer,
                 fmt::format("\"{}\" does not go with what is said of another side: one of the two would be at the bottom and the top at once.", r.text),
                 "Say it of one side, as you stand before the opening."}};
    }
    return {};
}

}  // namespace boardring
