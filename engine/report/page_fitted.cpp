#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kTold = 1.5;  // standardised residual from which the reading furthest off is told

std::string count_words(const Fitted& fitted) {
    const std::size_t readings = fitted.network.observations.size();
    const std::size_t more = fitted.judgement.freedoms;
    const std::string count = capital(fmt::format("{} reading{}", count_word(readings), readings == 1 ? "" : "s"));
    if (more == 0) return count + ", just enough: none checks another";
    return fmt::format("{}, {} more than needed", count, count_word(more));
}

// "CD reads 6 long".
std::string furthest_off(const Plan& plan) {
    const Fitted& fitted = *plan.outline->fitted;
    std::size_t worst = 0;
    double most = 0.0;
    for (std::size_t i = 0; i < fitted.judgement.readings.size(); ++i) {
        const double size = std::abs(fitted.judgement.readings[i].standardised.value_or(0.0));
        if (size > most) most = size, worst = i;
    }
    if (most < kTold || !fitted.judgement.suspects.empty()) return "";  // a suspect has a warning of its own
    const Observation& o = fitted.network.observations[worst];
    const double off = fitted.judgement.readings[worst].residual;
    if (o.kind == Observation::Kind::angle) {
        return fmt::format(" Furthest off: {}, {} too {}.", corner_letter(fitted.network.letters[o.a]),
                           show_angle(std::abs(off), 1), off > 0.0 ? "large" : "small");
    }
    if (o.kind != Observation::Kind::distance) {
        return fmt::format(" Furthest off: {} against {}, by {}.", reading_pair(fitted, std::min(o.a, o.b), std::max(o.a, o.b)),
                           o.kind == Observation::Kind::height ? "level" : "plumb", shown_misfit(std::abs(off), plan.project));
    }
    return fmt::format(" Furthest off: {}, {} too {}.", reading_pair(fitted, o.a, o.b), shown_misfit(std::abs(off), plan.project),
                       off > 0.0 ? "long" : "short");
}

}  // namespace

std::string reading_pair(const Fitted& fitted, std::size_t first, std::size_t second) {
    const std::string a = corner_letter(fitted.network.letters[first]);
    const std::string b = corner_letter(fitted.network.letters[second]);
    return a.size() + b.size() > 2 ? a + "-" + b : a + b;
}

std::string fitted_words(const Plan& plan) {
    const Fitted& fitted = *plan.outline->fitted;
    const double sd_mm = *std::max_element(fitted.corner_sd_mm.begin(), fitted.corner_sd_mm.end());
    std::string text = fmt::format("{}; corners known to within {}, 19 times in 20.", count_words(fitted),
                                   shown_misfit(2.0 * sd_mm, plan.project));
    text += furthest_off(plan);
    if (fitted.judgement.freedoms == 0 && fitted.next) {
        text += fmt::format(" {}, about {}, would check most.", reading_pair(fitted, fitted.next->first, fitted.next->second),
                            shown(fitted.next->expected_mm, plan.project));
    }
    return text;
}

}  // namespace boardring
