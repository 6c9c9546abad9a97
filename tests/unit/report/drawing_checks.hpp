#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "drawing/drawing.hpp"
#include "drawing/paper_space.hpp"

namespace boardring_test {

// What every drawing must keep. Each check names the first label or mark at fault, "" if all is well.

inline bool box_inside_page(const std::array<boardring::Vec2, 4>& box, const boardring::Drawing& d) {
    const double bound = 1e-9 * d.scale * 254.0;
    return std::all_of(box.begin(), box.end(), [&](boardring::Vec2 p) {
        return p.x >= d.page_low.x - bound && p.x <= d.page_high.x + bound && p.y >= d.page_low.y - bound &&
               p.y <= d.page_high.y + bound;
    });
}

inline std::string label_off_page(const boardring::Drawing& d) {
    for (const boardring::Label& label : d.labels) {
        if (!box_inside_page(boardring::label_box(label), d)) return label.text;
    }
    return "";
}

inline std::string mark_off_page(const boardring::Drawing& d) {
    const auto inside = [&](boardring::Vec2 p) { return box_inside_page({p, p, p, p}, d); };
    for (const boardring::Stroke& s : d.strokes) {
        if (!std::all_of(s.points.begin(), s.points.end(), inside)) return "stroke";
    }
    for (const boardring::Region& r : d.regions) {
        if (!std::all_of(r.points.begin(), r.points.end(), inside)) return "region";
    }
    for (const boardring::Circle& c : d.circles) {
        if (!inside(c.centre - boardring::Vec2{c.radius, c.radius}) || !inside(c.centre + boardring::Vec2{c.radius, c.radius}))
            return "circle";
    }
    return "";
}

/// Two labels whose boxes share paper: "A / 369.5".
inline std::string overlapping_labels(const boardring::Drawing& d) {
    std::vector<std::array<boardring::Vec2, 4>> boxes;
    for (const boardring::Label& label : d.labels) boxes.push_back(boardring::label_box(label));
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        for (std::size_t j = i + 1; j < boxes.size(); ++j) {
            if (boardring::convex_gap(boxes[i], boxes[j]) < -1e-6 * d.scale) return d.labels[i].text + " / " + d.labels[j].text;
        }
    }
    return "";
}

/// A label that a number's circle cuts: only its own number may stand in it.
inline std::string label_under_circle(const boardring::Drawing& d) {
    for (const boardring::Circle& c : d.circles) {
        for (const boardring::Label& label : d.labels) {
            if (boardring::length(label.at - c.centre) < 1e-9 * d.scale) continue;
            const auto box = boardring::label_box(label);
            const std::array<boardring::Vec2, 1> centre{c.centre};
            if (boardring::convex_gap(box, centre) < c.radius && boardring::convex_gap(box, centre) > 0.0) {
                // convex_gap is at most the distance: look at the true one before complaining.
                double nearest = 1e300;
                for (std::size_t i = 0; i < 4; ++i) {
                    const boardring::Vec2 a = box[i];
                    const boardring::Vec2 e = box[(i + 1) % 4] - a;
                    const double t = std::clamp(boardring::dot(c.centre - a, e) / boardring::dot(e, e), 0.0, 1.0);
                    nearest = std::min(nearest, boardring::length(a + t * e - c.centre));
                }
                if (nearest < c.radius) return label.text;
            } else if (boardring::convex_gap(box, centre) <= 0.0) {
                return label.text;
            }
        }
    }
    return "";
}

inline double smallest_text_mm(const boardring::Drawing& d) {
    double smallest = 1e300;
    for (const boardring::Label& label : d.labels) smallest = std::min(smallest, label.height / d.scale);
    return smallest;
}

inline std::size_t count_labels(const boardring::Drawing& d, std::string_view text) {
    return static_cast<std::size_t>(
        std::count_if(d.labels.begin(), d.labels.end(), [&](const boardring::Label& l) { return l.text == text; }));
}

/// Letters of corners and numbers of boards are the strong ones.
inline std::size_t count_names(const boardring::Drawing& d, std::string_view text) {
    return static_cast<std::size_t>(
        std::count_if(d.labels.begin(), d.labels.end(), [&](const boardring::Label& l) { return l.strong && l.text == text; }));
}

inline bool says(const boardring::Drawing& d, std::string_view words) {
    std::string all;
    for (const boardring::Label& label : d.labels) all += label.text + " ";
    return all.find(words) != std::string::npos;
}

}  // namespace boardring_test
