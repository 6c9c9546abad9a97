#pragma once
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "base/vec2.hpp"
#include "stock/buying.hpp"

namespace boardring_test {

// A second opinion on a buying plan, which shares no arithmetic with the engine: pieces and saw kerfs as polygons, clipped against each
// other.

using Polygon = std::vector<boardring::Vec2>;

/// Part of a convex polygon to the left of the line from `a` to `b`.
inline Polygon left_of(const Polygon& polygon, const boardring::Vec2& a, const boardring::Vec2& b) {
    const auto side = [&](const boardring::Vec2& p) { return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x); };
    Polygon kept;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const boardring::Vec2& p = polygon[i];
        const boardring::Vec2& q = polygon[(i + 1) % polygon.size()];
        const double sp = side(p);
        const double sq = side(q);
        if (sp >= 0.0) kept.push_back(p);
        if ((sp > 0.0 && sq < 0.0) || (sp < 0.0 && sq > 0.0)) {
            const double t = sp / (sp - sq);
            kept.push_back({p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)});
        }
    }
    return kept;
}

inline double area(const Polygon& polygon) {
    double twice = 0.0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const boardring::Vec2& p = polygon[i];
        const boardring::Vec2& q = polygon[(i + 1) % polygon.size()];
        twice += p.x * q.y - q.x * p.y;
    }
    return twice / 2.0;
}

/// Area two convex counter-clockwise polygons share.
inline double shared_area(const Polygon& one, const Polygon& other) {
    Polygon rest = one;
    for (std::size_t i = 0; i < other.size() && !rest.empty(); ++i) rest = left_of(rest, other[i], other[(i + 1) % other.size()]);
    return rest.size() < 3 ? 0.0 : area(rest);
}

/// What is wrong with one bar of a plan, or "".
inline std::string fault_of_bar(const boardring::BuyingSection& section, const boardring::CutBar& bar) {
    using namespace boardring;
    constexpr double kTiny = 1e-4;  // mm2: a thousandth of a millimetre along 0.1 mm
    const double w = section.strip.width_mm;
    const BarOffer& offer = section.offers[bar.offer];
    const double start = offer.offcut ? 0.0 : section.end_trim_mm;
    const double end = offer.length_mm - start;
    const std::vector<BarMarks> marks = bar_marks(section, bar);
    if (marks.size() != bar.pieces.size()) return "marks are missing";
    std::vector<Polygon> pieces;
    std::vector<Polygon> kerfs;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        const BarMarks& m = marks[i];
        const StripPiece& piece = section.pieces[bar.pieces[i].kind];
        // Shape: edges as long as the piece's, turned ones exchanged.
        const double upper = m.right_upper_mm - m.left_upper_mm;
        const double lower = m.right_lower_mm - m.left_lower_mm;
        const double longer = piece.length_mm + (piece.right_run_mm - piece.left_run_mm) / 2.0;
        const double shorter = piece.length_mm - (piece.right_run_mm - piece.left_run_mm) / 2.0;
        const bool same = std::abs(upper - longer) < 1e-7 && std::abs(lower - shorter) < 1e-7;
        const bool swapped = std::abs(upper - shorter) < 1e-7 && std::abs(lower - longer) < 1e-7;
        if (!same && !swapped) return "a piece has lost its shape";
        pieces.push_back({{m.left_lower_mm, 0.0}, {m.right_lower_mm, 0.0}, {m.right_upper_mm, w}, {m.left_upper_mm, w}});
        if (std::min(m.left_lower_mm, m.left_upper_mm) < start - 1e-5) return "a piece begins before the bar does";
        if (std::max(m.right_lower_mm, m.right_upper_mm) > end + 1e-5) return "a piece ends behind the bar's end";
        // Kerf bands: parallel to the cut, as wide as the kerf square to it, on the waste side.
        const auto band = [&](double at_lower, double at_upper, double side) {
            const double length = std::hypot(at_upper - at_lower, w);
            const Vec2 out{side * section.strip.kerf_mm * w / length, -side * section.strip.kerf_mm * (at_upper - at_lower) / length};
            // The band runs on past the edges, so that its slanted end faces lie outside the board.
            const double more = 10.0;
            const double slope = (at_upper - at_lower) / w;
            const Vec2 low{at_lower - slope * more, -more};
            const Vec2 high{at_upper + slope * more, w + more};
            Polygon polygon{low, {low.x + out.x, low.y + out.y}, {high.x + out.x, high.y + out.y}, high};
            if (area(polygon) < 0.0) std::reverse(polygon.begin(), polygon.end());
            return polygon;
        };
        const bool first = i == 0;
        const bool last = i + 1 == marks.size();
        const bool square_at_start = first && !section.strip.kerf_at_ends && m.left_lower_mm == m.left_upper_mm;
        if (!square_at_start && section.strip.kerf_mm > 0.0) kerfs.push_back(band(m.left_lower_mm, m.left_upper_mm, -1.0));
        (void)last;
        if (section.strip.kerf_mm > 0.0) kerfs.push_back(band(m.right_lower_mm, m.right_upper_mm, 1.0));
    }
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        for (std::size_t j = i + 1; j < pieces.size(); ++j) {
            if (shared_area(pieces[i], pieces[j]) > kTiny) return "two pieces overlap";
        }
        for (const Polygon& kerf : kerfs) {
            if (shared_area(pieces[i], kerf) > kTiny) return "the saw runs into a piece";
        }
    }
    return "";
}

/// What is wrong with a plan, or "": demand, supply, price, turnings, and every bar.
inline std::string fault_of(const boardring::BuyingSection& section, const boardring::SectionBuy& buy) {
    using namespace boardring;
    std::vector<std::size_t> cut(section.pieces.size(), 0);
    std::vector<std::size_t> taken(section.offers.size(), 0);
    double price = 0.0;
    for (const CutBar& bar : buy.bars) {
        const BarOffer& offer = section.offers[bar.offer];
        ++taken[bar.offer];
        price += buy.by_length ? (offer.offcut ? 0.0 : offer.length_mm) : offer.price.value_or(0.0);
        if (bar.pieces.empty()) return "a bar is bought for nothing";
        for (const PlacedPiece& piece : bar.pieces) {
            ++cut[piece.kind];
            if (std::find(section.strip.turnings.begin(), section.strip.turnings.end(), piece.turning) == section.strip.turnings.end()) {
                return "a piece is turned in a way that is not allowed";
            }
        }
        const std::string fault = fault_of_bar(section, bar);
        if (!fault.empty()) return fault;
    }
    for (std::size_t p = 0; p < cut.size(); ++p) {
        if (cut[p] != section.pieces[p].count) return "not every piece is cut as often as asked";
    }
    for (std::size_t o = 0; o < taken.size(); ++o) {
        if (section.offers[o].count && taken[o] > *section.offers[o].count) return "more boards than there are";
    }
    if (std::abs(price - buy.price) > 1e-6 * std::max(1.0, price)) return "the price is not the sum of the boards";
    return "";
}

}  // namespace boardring_test
