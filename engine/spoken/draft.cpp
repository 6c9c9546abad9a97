#include "spoken/draft.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "outline/build.hpp"
#include "project/nominal_size.hpp"

namespace boardring {

bool is_open(const Draft& draft) {
    return draft.shape == SpokenShape::part_ring || draft.shape == SpokenShape::arch || draft.shape == SpokenShape::door ||
           (draft.shape == SpokenShape::window && draft.sill == false) || (draft.shape == SpokenShape::regular && draft.half);
}

bool has_half_sides(const Draft& draft) {
    return draft.half && draft.pieces == draft.corners / 2 + 1;
}

std::vector<Vec2> half_from_side_to_side(const RegularOutline& ring) {
    const std::size_t n = ring.corners;
    const double half_turn_deg = 180.0 / static_cast<double>(n);
    const double to_corner_mm = build_regular(ring).sides_mm.front() / (2.0 * sin_deg(half_turn_deg));
    const double to_side_mm = to_corner_mm * cos_deg(half_turn_deg);
    std::vector<Vec2> points{{2.0 * to_side_mm, 0.0}};
    for (std::size_t k = 0; k < n / 2; ++k) {
        const double at_deg = static_cast<double>(2 * k + 1) * half_turn_deg;
        points.push_back({to_side_mm + to_corner_mm * cos_deg(at_deg), to_corner_mm * sin_deg(at_deg)});
    }
    points.push_back({0.0, 0.0});
    return points;
}

std::size_t board_count(const Draft& draft) {
    switch (draft.shape) {
        case SpokenShape::none: return 0;
        case SpokenShape::regular:
            if (draft.half) return draft.pieces;
            return draft.circle && draft.corners == 0 ? draft.pieces : draft.corners;
        case SpokenShape::rectangle: return 4;
        case SpokenShape::ell: return 6;
        case SpokenShape::u_shape: case SpokenShape::tee: return 8;
        case SpokenShape::part_ring: case SpokenShape::arch: return draft.pieces;
        case SpokenShape::window: case SpokenShape::door: return is_open(draft) ? 3 : 4;
    }
    return 0;
}

namespace {

bool same_size(const SaidSection& a, const SaidSection& b) {
    const auto same = [](const std::optional<SaidLength>& x, const std::optional<SaidLength>& y) { return x.has_value() == y.has_value() && (!x || x->mm == y->mm); };
    return same(a.width, b.width) && same(a.thickness, b.thickness) && a.nominal == b.nominal;
}

}  // namespace

std::vector<SaidException> own_stocks(const Draft& draft) {
    std::vector<SaidException> stocks;
    for (const std::vector<SaidException>* said : {&draft.exceptions, &draft.numbered}) {
        for (const SaidException& boards : *said) {
            if (boards.offers.empty()) continue;
            const auto known = std::find_if(stocks.begin(), stocks.end(), [&](const SaidException& s) { return same_size(s.section, boards.section); });
            if (known == stocks.end()) {
                stocks.push_back(boards);
            } else {
                known->offers.insert(known->offers.end(), boards.offers.begin(), boards.offers.end());
            }
        }
    }
    return stocks;
}

std::string own_stock_name(const Draft& draft, const SaidSection& section) {
    const std::vector<SaidException> stocks = own_stocks(draft);
    for (std::size_t k = 0; k < stocks.size(); ++k) {
        if (same_size(stocks[k].section, section)) return k == 0 ? "other" : fmt::format("other {}", k + 1);
    }
    return "";
}

double course_height_mm(const Draft& draft) {
    const SaidSection& section = draft.section;
    const bool edge = *draft.lie == Lie::on_edge;
    const std::optional<SaidLength>& said = edge ? section.width : section.thickness;
    if (said) return said->mm;
    const auto nominal = nominal_size(section.nominal);
    return !nominal ? 0.0 : edge ? nominal->width_mm : nominal->thickness_mm;
}

SaidLength length_in_unit(double mm, Unit unit) {
    // A millionth of a micrometre brings back any size that was put together from sizes people say.
    const int decimals = unit == Unit::mm || unit == Unit::cm ? 9 : unit == Unit::inch ? 10 : 12;
    return {mm, show_number(mm / unit_in_mm(unit), decimals)};
}

std::string spoken_length(const SaidLength& length, Unit unit) {
    if (length.json.empty() || length.json.front() != '"') return fmt::format("{} {}", length.json, unit_name(unit));
    std::string text;
    for (std::size_t k = 1; k + 1 < length.json.size(); ++k) {
        if (length.json[k] == '\\') ++k;
        text.push_back(length.json[k]);
    }
    const bool has_unit = text.find_first_not_of("0123456789./- ") != std::string::npos;
    return has_unit ? text : fmt::format("{} {}", text, unit_name(unit));
}

}  // namespace boardring
