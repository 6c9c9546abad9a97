#include "outline/speaker.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <variant>

#include <fmt/format.h>

#include "base/names.hpp"

namespace boardring {

Speaker::Speaker(const Notebook& book, const Project& project)
    : book_(book), readings_(std::get<ReadingsOutline>(project.outline.form).readings), style_(project.style()) {
    double finest = 0.5;
    for (const double within : book.chain.angle_within_deg) {
        if (within > 0.0) finest = std::min(finest, within);
    }
    while (decimals_ < 4 && finest < 0.5 * std::pow(10.0, -decimals_)) ++decimals_;
}

std::string Speaker::deg(double value) const {
    return show_number(value, decimals_);
}

std::string Speaker::small_deg(double value) {
    int decimals = 1;
    while (decimals < 8 && std::abs(value) < 0.95 * std::pow(10.0, 1 - decimals)) ++decimals;
    return show_number(value, decimals);
}

std::string Speaker::meet(double miss_mm) const {
    constexpr double kNothing_mm = 1e-6;
    return miss_mm < kNothing_mm ? std::string("meet") : "meet within " + small_mm(miss_mm);
}

std::string Speaker::corner_at(std::size_t corner, double interior_deg) const {
    return fmt::format("{} at {}", corner_letter(corner), deg(interior_deg));
}

std::string Speaker::across(std::size_t corner) const {
    const std::size_t n = book_.chain.sides();
    const std::size_t a = corner == 0 ? n - 1 : corner - 1;
    const std::size_t b = corner + 1 == n ? 0 : corner + 1;
    return fmt::format("from {} to {}", corner_letter(std::min(a, b)), corner_letter(std::max(a, b)));
}

void say_within_accuracy(Finding& finding, const Chain& measured, const Project& project) {
    const std::string angle = show_number(project.accuracy.angle_deg, 2);
    finding.message += fmt::format(
        " That is more than the digits you gave leave room for, but no more than careful readings are out by: with each corner "
        "within {} "
        "and each side within {} of what you gave, the ring closes.",
        angle, show_small(project.accuracy.side_mm, project.style()));
    const std::size_t first = 1;
    finding.fix = fmt::format(
        "If that is how well you measured, say so behind the readings, like \"{} {} +-{}\"; I will then spread the rest.",
        corner_letter(first), show_number(measured.interior_deg[first], 2), angle);
}

std::string counted(std::size_t number) {
    constexpr std::array<const char*, 13> words{"No",    "One",   "Two",  "Three", "Four",   "Five",  "Six",
                                                "Seven", "Eight", "Nine", "Ten",   "Eleven", "Twelve"};
    return number < words.size() ? words[number] : std::to_string(number);
}

std::string one_of_others(std::size_t number) {
    return number == 1 ? "another" : fmt::format("one of {} others", number);
}

std::string listed(const std::vector<std::string>& items, const char* last_word) {
    std::string text;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (i > 0) text += i + 1 == items.size() ? fmt::format(" {} ", last_word) : std::string(", ");
        text += items[i];
    }
    return text;
}

}  // namespace boardring
