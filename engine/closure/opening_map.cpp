#include "closure/opening_map.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "closure/matrix3.hpp"

namespace boardring {
namespace {

constexpr double kShut = 1e-9;  // of the largest opening: the accuracy of least_opening

}  // namespace

std::optional<OpeningMap> opening_map(const std::vector<OpeningColumns>& columns, const Twist& wanted) {
    LeastOpening least = least_opening(columns, wanted);
    if (!least.met) return std::nullopt;
    double largest = 0.0;
    for (const Opening& x : least.openings) largest = std::max({largest, x.gap_in, x.gap_out, std::abs(x.lip_in)});
    OpeningMap map;
    Matrix3 square{};
    bool any = false;
    for (std::size_t c = 0; c < columns.size(); ++c) {
        const bool in = least.openings[c].gap_in > kShut * largest, out = least.openings[c].gap_out > kShut * largest;
        map.open.push_back(in ? 1 : 0);
        map.open.push_back(out ? 1 : 0);
        if (in) add_square(square, columns[c].gap_in);
        if (out) add_square(square, columns[c].gap_out);
        add_square(square, columns[c].lip_in);
        any = any || in || out;
    }
    if (!any || !take_root(square)) return std::nullopt;
    const auto row = [&square](const Twist& column) { return solve_upper(square, solve_lower(square, column)); };
    for (std::size_t c = 0; c < columns.size(); ++c) {
        OpeningMap::Joint joint;
        if (map.open[2 * c] != 0) joint.gap_in = row(columns[c].gap_in);
        if (map.open[2 * c + 1] != 0) joint.gap_out = row(columns[c].gap_out);
        joint.lip_in = row(columns[c].lip_in);
        map.joints.push_back(joint);
    }
    map.openings = std::move(least.openings);
    return map;
}

}  // namespace boardring
