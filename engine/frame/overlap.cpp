#include "frame/overlap.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <utility>

// Boost 1.74 includes one of its own deprecated headers and says so on every build.
#define BOOST_ALLOW_DEPRECATED_HEADERS
#include <boost/geometry/geometries/box.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/index/rtree.hpp>
#include <boost/geometry/strategies/strategies.hpp>  // the tree's own headers leave them out from Boost 1.75 on

namespace boardring {
namespace {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Box = bg::model::box<Point>;
using Entry = std::pair<Box, std::size_t>;

double area_about_first_mm2(const std::vector<Vec2>& polygon) {
    double twice = 0.0;
    for (std::size_t i = 2; i < polygon.size(); ++i) {
        twice += cross(polygon[i - 1] - polygon[0], polygon[i] - polygon[0]);
    }
    return 0.5 * twice;
}

// Keeps the part of `polygon` to the left of the line from a towards b (Sutherland and Hodgman's clip, one line).
std::vector<Vec2> left_part(const std::vector<Vec2>& polygon, Vec2 a, Vec2 b) {
    std::vector<Vec2> kept;
    kept.reserve(polygon.size() + 1);
    const Vec2 along = b - a;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec2 p = polygon[i];
        const Vec2 q = polygon[(i + 1) % polygon.size()];
        const double side_p = cross(along, p - a);
        const double side_q = cross(along, q - a);
        if (side_p >= 0.0) kept.push_back(p);
        if ((side_p > 0.0 && side_q < 0.0) || (side_p < 0.0 && side_q > 0.0)) {
            kept.push_back(p + (side_p / (side_p - side_q)) * (q - p));
        }
    }
    return kept;
}

using Plan = std::array<Vec2, 4>;

Box box_of(const Plan& corners) {
    Vec2 low = corners[0];
    Vec2 high = corners[0];
    for (const Vec2& p : corners) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    return {Point(low.x, low.y), Point(high.x, high.y)};
}

// True if an edge of a has all of b on its outer side: most pairs whose boxes meet, and far cheaper than a clip.
bool parted_by_edge_of(const Plan& a, const Plan& b) {
    for (std::size_t i = 0; i < a.size(); ++i) {
        const Vec2 from = a[i];
        const Vec2 along = a[(i + 1) % a.size()] - from;
        if (std::all_of(b.begin(), b.end(), [&](Vec2 p) { return cross(along, p - from) <= 0.0; })) return true;
    }
    return false;
}

double common_area_mm2(const Plan& a, const Plan& b) {
    if (parted_by_edge_of(a, b) || parted_by_edge_of(b, a)) return 0.0;
    return overlap_area_mm2({a[0], a[1], a[2], a[3]}, {b[0], b[1], b[2], b[3]});
}

bool has_both_edges(const Board& board) {
    return board.inside_length_mm() > 0.0 && board.outside_length_mm() > 0.0;
}

double board_area_mm2(const Board& board) {
    if (board.taper_mm == 0.0) return 0.5 * board.width_mm * (board.inside_length_mm() + board.outside_length_mm());
    const std::array<Vec2, 4> p = board.plan_mm();
    return 0.5 * std::abs(cross(p[2] - p[0], p[3] - p[1]));
}

// Area that rounding of the corners alone can make of two boards that only touch: a few units of the largest coordinate, along
// the longer board. Matters only for boards thinner than paper, far from the origin or at nearly straight corners.
double rounding_area_mm2(const Plan& plan, const Board& board) {
    double largest = 0.0;
    for (const Vec2& p : plan) largest = std::max({largest, std::abs(p.x), std::abs(p.y)});
    return 16.0 * std::numeric_limits<double>::epsilon() * largest *
           std::max(board.inside_length_mm(), board.outside_length_mm());
}

bool lapped_together(const Board& a, std::size_t b_index) {
    for (const BoardEnd& end : a.ends) {
        if (end.lap && end.mate == b_index) return true;
    }
    return false;
}

}  // namespace

double overlap_area_mm2(const std::vector<Vec2>& a, const std::vector<Vec2>& b) {
    std::vector<Vec2> common = a;
    for (std::size_t i = 0; i < b.size() && common.size() > 2; ++i) {
        common = left_part(common, b[i], b[(i + 1) % b.size()]);
    }
    return common.size() > 2 ? std::max(0.0, area_about_first_mm2(common)) : 0.0;
}

std::vector<Overlap> overlapping_boards(const Frame& frame) {
    const std::vector<Board>& boards = frame.boards;
    std::vector<Plan> plans(boards.size());
    std::vector<Entry> boxes;
    boxes.reserve(boards.size());
    for (std::size_t k = 0; k < boards.size(); ++k) {
        if (!has_both_edges(boards[k])) continue;
        plans[k] = boards[k].plan_mm();
        boxes.emplace_back(box_of(plans[k]), k);
    }
    // Built from all boxes at once (packed): n log n, and the same tree whatever the order.
    const bg::index::rtree<Entry, bg::index::rstar<16>> tree(boxes);
    std::vector<Overlap> found;
    std::vector<Entry> near;
    for (const Entry& entry : boxes) {
        const std::size_t first = entry.second;
        near.clear();
        tree.query(bg::index::intersects(entry.first), std::back_inserter(near));
        for (const Entry& other : near) {
            const std::size_t second = other.second;
            if (second <= first || lapped_together(boards[first], second)) continue;
            const double area = common_area_mm2(plans[first], plans[second]);
            const double counts = kOverlapShare * std::min(board_area_mm2(boards[first]), board_area_mm2(boards[second])) +
                                  rounding_area_mm2(plans[first], boards[first]) +
                                  rounding_area_mm2(plans[second], boards[second]);
            if (area > counts) found.push_back({first, second, area});
        }
    }
    std::sort(found.begin(), found.end(),
              [](const Overlap& p, const Overlap& q) { return p.first != q.first ? p.first < q.first : p.second < q.second; });
    return found;
}

double tiling_error(const Frame& frame) {
    double boards = 0.0;
    for (const Board& board : frame.boards) boards += board_area_mm2(board);
    // Both outlines about one corner of the ring, so that a frame far from the origin loses no digits.
    const Vec2 origin = frame.inside_mm.front();
    double twice = 0.0;
    for (std::size_t c = 0; c < frame.inside_mm.size(); ++c) {
        const std::size_t next = (c + 1) % frame.inside_mm.size();
        twice += cross(frame.outside_mm[c] - origin, frame.outside_mm[next] - origin);
        twice -= cross(frame.inside_mm[c] - origin, frame.inside_mm[next] - origin);
    }
    const double band = 0.5 * twice;
    return std::abs(boards - band) / std::abs(band);
}

}  // namespace boardring
