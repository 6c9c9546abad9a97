#include "frame/finding_words.hpp"

#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/length_text.hpp"
#include "base/names.hpp"

namespace boardring {

std::string with_unit(double mm, const Project& project) {
    return show_length_unit(mm, project.style());
}

double up_to_step(double mm, const Project& project) {
    const double step = project.tools.rule_step_mm;
    return (std::floor(mm / step + 1e-6) + 1.0) * step;
}

double down_to_step(double mm, const Project& project) {
    const double step = project.tools.rule_step_mm;
    return std::floor(mm / step) * step;
}

bool differ(double a_mm, double b_mm, const Project& project) {
    return std::abs(a_mm - b_mm) >= 0.5 * project.tools.rule_step_mm;
}

const char* measure_word(Lie lie) {
    return lie == Lie::flat ? "wide" : "thick";
}
const char* measure_noun(Lie lie) {
    return lie == Lie::flat ? "width" : "thickness";
}

std::string side_name(const Outline& outline, std::size_t k) {
    return corner_letter(k) + corner_letter(outline.corner_after(k));
}

void tell_first(Findings& to, Findings found, const char* places) {
    constexpr std::size_t kMostTold = 20;
    if (found.size() > kMostTold) {
        const std::size_t more = found.size() - kMostTold;
        found.resize(kMostTold);
        found.back().message += more == 1 ? std::string(" So it is with one more.") : fmt::format(" So it is with {} more {}.", more, places);
    }
    append(to, std::move(found));
}

}  // namespace boardring
