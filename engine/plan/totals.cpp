#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "base/angle.hpp"
#include "plan/plan_view.hpp"
#include "plan/show.hpp"

namespace boardring {
namespace {

// kg per mm3. Common practice: dry softwood about 400, dense hardwood about 700 kg/m3; wet soil 1,600 to 2,000.
constexpr Range kTimberDensity{400e-9, 700e-9};
constexpr Range kWetSoilDensity{1600e-9, 2000e-9};

Vec2 box_of(const std::vector<Vec2>& points, const PlanView& view) {
    Vec2 low = view(points.front()), high = low;
    for (const Vec2 at : points) {
        const Vec2 p = view(at);
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    return high - low;
}

// Smallest distance between two boards that face each other in parallel, between their lines `outward` of the inside line.
std::optional<double> over_flats(const Frame& frame, bool outside) {
    constexpr std::size_t kMostPairs = 200;  // flats of larger rings are no measure anybody takes
    if (!frame.closed || frame.boards.size() > kMostPairs) return std::nullopt;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < frame.boards.size(); ++i) {
        const Board& a = frame.boards[i];
        for (std::size_t j = i + 1; j < frame.boards.size(); ++j) {
            const Board& b = frame.boards[j];
            if (dot(a.along, b.along) > 0.0 || std::abs(cross(a.along, b.along)) > 1e-9) continue;
            // Boards that taper are not parallel; what a rule finds there is at their wider ends.
            const auto face = [outside](const Board& board) {
                return outside ? std::max(board.outer_at(0), board.outer_at(1)) : std::min(board.offset_at(0), board.offset_at(1));
            };
            const double qa = face(a), qb = face(b);
            const double apart = dot(a.at(0.0, qa) - b.at(0.0, qb), right_of(a.along));
            if (apart > 0.0) least = std::min(least, apart);
        }
    }
    if (!std::isfinite(least)) return std::nullopt;
    return least;
}

}  // namespace

double polygon_area_mm2(const std::vector<Vec2>& points) {
    double twice = 0.0;
    for (std::size_t i = 1; i + 1 < points.size(); ++i) twice += cross(points[i] - points[0], points[i + 1] - points[0]);
    return 0.5 * twice;
}

Totals total_up(const Project& project, const Outline& outline, const Frame& frame) {
    Totals totals;
    const PlanView view(project, outline);
    totals.inside_box_mm = box_of(frame.inside_mm, view);
    std::vector<Vec2> wood;  // a free end may reach lower with its inner corner
    for (const Board& board : frame.boards) {
        const std::array<Vec2, 4> p = board.plan_mm();
        wood.insert(wood.end(), p.begin(), p.end());
    }
    totals.outside_box_mm = box_of(wood, view);
    totals.over_flats_inside_mm = over_flats(frame, false);
    totals.over_flats_outside_mm = over_flats(frame, true);

    double least_height = std::numeric_limits<double>::infinity();
    double wood_mm3 = 0.0;
    for (const Board& board : frame.boards) {
        least_height = std::min(least_height, board.height_mm);
        const std::array<Vec2, 4> p = board.plan_mm();
        wood_mm3 += std::abs(polygon_area_mm2({p.begin(), p.end()})) * board.height_mm;
    }
    const auto courses = static_cast<double>(project.courses);
    totals.height_mm = least_height * courses;
    totals.timber_kg = {wood_mm3 * courses * kTimberDensity.low, wood_mm3 * courses * kTimberDensity.high};

    if (frame.closed) {
        totals.inside_area_mm2 = polygon_area_mm2(frame.inside_mm);
        totals.outside_area_mm2 = polygon_area_mm2(frame.outside_mm);
        if (project.lie == Lie::on_edge) {
            const double room_mm3 = totals.inside_area_mm2 * totals.height_mm;
            totals.volume_l = room_mm3 * 1e-6;
            totals.wet_soil_kg = Range{room_mm3 * kWetSoilDensity.low, room_mm3 * kWetSoilDensity.high};
        }
    }
    return totals;
}

}  // namespace boardring
