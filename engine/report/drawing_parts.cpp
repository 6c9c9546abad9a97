#include "report/drawing_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "report/wording.hpp"

namespace boardring {

void Extent::add(Vec2 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
}

std::vector<Scale> round_scales(bool inches) {
    std::vector<Scale> scales;
    if (inches) {
        for (const int up : {64, 32, 16, 8, 4, 2}) scales.push_back({1.0 / up, fmt::format("{}:1", up)});
        const std::vector<std::pair<int, std::string>> to_the_foot{{4, "3"},    {8, "1-1/2"}, {12, "1"},   {16, "3/4"},
                                                                   {24, "1/2"}, {32, "3/8"},  {48, "1/4"}, {96, "1/8"}};
        for (const int down : {1, 2}) scales.push_back({static_cast<double>(down), fmt::format("1:{}", down)});
        for (const auto& [down, inch] : to_the_foot)
            scales.push_back({static_cast<double>(down), fmt::format("1:{} ({}\" = 1')", down, inch)});
        for (double down = 192.0; down < 1e9; down *= 2.0) scales.push_back({down, fmt::format("1:{:.0f}", down)});
        return scales;
    }
    for (const int up : {100, 50, 20, 10, 5, 2}) scales.push_back({1.0 / up, fmt::format("{}:1", up)});
    for (double ten = 1.0; ten < 1e9; ten *= 10.0) {
        for (const double step : {1.0, 2.0, 2.5, 5.0}) scales.push_back({step * ten, "1:" + show_number(step * ten, 1)});
    }
    return scales;
}

double readable_deg(double deg) {
    double turn = wrapped_deg(deg);
    if (turn > 92.0) turn -= 180.0;
    if (turn <= -88.0) turn += 180.0;
    return turn;
}

std::string length_words(const Project& project) {
    return project.unit == Unit::foot ? "" : fmt::format(" Lengths in {}.", unit_words(project.unit));
}

void TextColumn::text(const std::string& words, double height_mm, bool strong, double indent_mm, std::size_t most_lines) {
    const double width = width_ - mm(indent_mm);
    std::vector<std::string> lines = wrapped_text(words, width, mm(height_mm), strong);
    if (lines.size() > most_lines) {
        lines.resize(most_lines);
        lines.back() = wrapped_text(lines.back(), width - mm(3.0 * height_mm), mm(height_mm), strong).front() + " ...";
    }
    for (const std::string& line : lines) {
        at_.y -= mm(0.5 * height_mm);
        drawing_.labels.push_back({at_ + Vec2{mm(indent_mm), 0.0}, line, mm(height_mm), 0.0, Align::left, strong});
        at_.y -= mm(1.05 * height_mm);
    }
}

}  // namespace boardring
