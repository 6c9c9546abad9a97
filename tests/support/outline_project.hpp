#pragma once
// Projects with nothing but an outline, for tests of what only looks at the outline.
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

#include "base/names.hpp"
#include "project/project.hpp"

namespace boardring_test {

/// One line like "AB 900", "B 115", "D 90 inward", "CD 820.5 +-3"; plain millimetres and degrees, letters A to Z.
inline boardring::Reading reading_of(const std::string& text, std::size_t corners, bool open, std::size_t line) {
    using boardring::Reading;
    Reading r;
    r.text = text;
    r.pointer = "/outline/readings/" + std::to_string(line);
    const std::size_t space = text.find(' ');
    r.first = static_cast<std::size_t>(text[0] - 'A');
    r.second = space == 2 ? static_cast<std::size_t>(text[1] - 'A') : r.first;
    const bool neighbours = r.second == r.first + 1 || (!open && r.first + 1 == corners && r.second == 0);
    r.kind = r.second == r.first ? Reading::Kind::angle : neighbours ? Reading::Kind::side : Reading::Kind::diagonal;
    const std::string rest = text.substr(space + 1);
    const std::string number = rest.substr(0, rest.find(' '));
    r.value = std::strtod(number.c_str(), nullptr);
    const std::size_t dot = number.find('.');
    r.half_step = dot == std::string::npos ? 0.5 : 0.5 * std::pow(10.0, -static_cast<double>(number.size() - dot - 1));
    r.inward = rest.find("inward") != std::string::npos;
    const std::size_t own = rest.find("+-");
    if (own != std::string::npos) r.accuracy = std::strtod(rest.c_str() + own + 2, nullptr);
    return r;
}

inline boardring::Project project_of(const std::vector<std::string>& lines, bool open = false) {
    std::size_t corners = 0;
    for (const std::string& line : lines) {
        for (const char c : line.substr(0, line.find(' '))) corners = std::max(corners, static_cast<std::size_t>(c - 'A') + 1);
    }
    boardring::ReadingsOutline notebook;
    for (const std::string& line : lines) notebook.readings.push_back(reading_of(line, corners, open, notebook.readings.size()));
    boardring::Project project;
    project.outline.open = open;
    project.outline.form = std::move(notebook);
    project.outline.form_pointer = "/outline/readings";
    return project;
}

/// A notebook with every side and every corner: sides first, `*_half_step` as the digits allow.
inline boardring::Project project_of(const std::vector<double>& sides_mm, const std::vector<double>& interior_deg,
                                     double side_half_step_mm, double angle_half_step_deg, bool open = false) {
    using boardring::Reading;
    const std::size_t n = sides_mm.size();
    boardring::ReadingsOutline notebook;
    const auto add = [&](Reading::Kind kind, std::size_t first, std::size_t second, double value, double half_step) {
        Reading r;
        r.text = boardring::corner_letter(first) + (first == second ? "" : "-" + boardring::corner_letter(second));
        r.pointer = "/outline/readings/" + std::to_string(notebook.readings.size());
        r.kind = kind;
        r.first = first;
        r.second = second;
        r.value = value;
        r.half_step = half_step;
        notebook.readings.push_back(std::move(r));
    };
    for (std::size_t k = 0; k < n; ++k)
        add(Reading::Kind::side, k, !open && k + 1 == n ? 0 : k + 1, sides_mm[k], side_half_step_mm);
    for (std::size_t c = open ? 1 : 0; c < n; ++c) add(Reading::Kind::angle, c, c, interior_deg[c], angle_half_step_deg);
    boardring::Project project;
    project.outline.open = open;
    project.outline.form = std::move(notebook);
    project.outline.form_pointer = "/outline/readings";
    return project;
}

inline boardring::Project points_project(std::vector<boardring::Vec2> points_mm, bool open = false) {
    boardring::Project project;
    project.outline.open = open;
    project.outline.form = boardring::PointsOutline{std::move(points_mm)};
    project.outline.form_pointer = "/outline/points";
    return project;
}

/// The finding with this code, or null.
inline const boardring::Finding* find(const boardring::Findings& findings, const std::string& code) {
    for (const boardring::Finding& f : findings) {
        if (f.code == code) return &f;
    }
    return nullptr;
}

}  // namespace boardring_test
