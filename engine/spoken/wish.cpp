#include "spoken/wish.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/inch_units.hpp"
#include "io/read_project.hpp"
#include "outline/build.hpp"
#include "plan/plan.hpp"
#include "plan/show.hpp"
#include "project/nominal_size.hpp"

namespace boardring {
namespace {

Findings unfit(std::string message, std::string fix) {
    return {{Severity::error, "sentence.does-not-fit", "", std::move(message), std::move(fix)}};
}

bool in_inches(const Draft& draft) {
    return boardring::in_inches(draft.unit);
}

// Sizes people measure: to 5 mm, or a quarter of an inch.
double round_step_mm(const Draft& draft) {
    return in_inches(draft) ? 25.4 / 4.0 : 5.0;
}

// The floor counts a size a hair below a step as on it: sizes come out of divisions.
double rounded_down(double mm, double step_mm) {
    return std::floor(mm / step_mm + 1e-9) * step_mm;
}

bool is_square(const Draft& draft) {
    return draft.shape == SpokenShape::rectangle && draft.shape_word == "square";
}

// What a ring of this many corners is measured by, where it was not said.
RegularOutline::Of usual_measure(std::size_t corners) {
    return corners % 2 == 0 ? RegularOutline::Of::over_flats : RegularOutline::Of::side;
}

Findings fit_round(Draft& draft) {
    if (draft.shape == SpokenShape::regular) {
        draft.of = draft.corners % 2 == 0 ? RegularOutline::Of::over_flats : RegularOutline::Of::inscribed;
        draft.size = draft.wish.first;
        draft.circle = false;
    } else if (is_square(draft)) {
        draft.size = draft.wish.first;
    } else {
        return unfit(fmt::format("This shape ({}) is not sized by what is round.", draft.shape_word), "Say a regular shape, like hexagon, or square.");
    }
    draft.assumed.push_back(fmt::format("a round thing {} across touches every board inside; there is no play, so say more if it is to come out again",
                                        spoken_length(*draft.wish.first, draft.unit)));
    return {};
}

Findings stand_on(Draft& draft) {
    const double length = draft.wish.first->mm, width = draft.wish.second->mm;
    if (draft.shape == SpokenShape::rectangle && !is_square(draft)) {
        draft.first = draft.wish.first;
        draft.second = draft.wish.second;
        return {};
    }
    if (is_square(draft)) {
        draft.size = length < width ? draft.wish.first : draft.wish.second;
        return {};
    }
    if (draft.shape != SpokenShape::regular) return unfit(fmt::format("This shape ({}) is not sized by what it stands on.", draft.shape_word), "Say a regular shape or a rectangle.");
    const RegularOutline::Of of = draft.of.value_or(usual_measure(draft.corners));
    const std::vector<Vec2> unit = build_regular({draft.corners, of, 1.0}).corners_mm;
    const auto [left, right] = std::minmax_element(unit.begin(), unit.end(), [](Vec2 a, Vec2 b) { return a.x < b.x; });
    const auto [low, high] = std::minmax_element(unit.begin(), unit.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
    const double largest = std::min(length / (right->x - left->x), width / (high->y - low->y));
    const double size = rounded_down(largest, round_step_mm(draft));
    if (size <= 0.0) return unfit(fmt::format("Nothing stands on {} by {}.", spoken_length(*draft.wish.first, draft.unit), spoken_length(*draft.wish.second, draft.unit)), "Say a larger place.");
    draft.of = of;
    draft.circle = false;
    draft.size = length_in_unit(size, draft.unit);
    std::string words = fmt::format("the largest that stands there, with board 1 along the length, is {}", spoken_length(length_in_unit(rounded_down(largest, 0.1), draft.unit), draft.unit));
    if (largest - size > 0.1) words += fmt::format("; I took {}", spoken_length(*draft.size, draft.unit));
    draft.assumed.push_back(std::move(words));
    return {};
}

Findings hold_litres(Draft& draft) {
    const auto courses = static_cast<double>(std::max<std::size_t>(draft.courses, 1));
    const double height = course_height_mm(draft) * courses;
    const double area = draft.wish.litres * 1e6 / height;
    double volume_l = 0.0;
    const double step = round_step_mm(draft);
    if (draft.shape == SpokenShape::regular) {
        const RegularOutline::Of of = draft.of.value_or(usual_measure(draft.corners));
        const double of_one = 0.5 * twice_area_mm2(build_regular({draft.corners, of, 1.0}).corners_mm);
        const double size = std::max(step, std::round(std::sqrt(area / of_one) / step) * step);
        draft.of = of;
        draft.circle = false;
        draft.size = length_in_unit(size, draft.unit);
        volume_l = of_one * size * size * height * 1e-6;
    } else if (is_square(draft)) {
        const double size = std::max(step, std::round(std::sqrt(area) / step) * step);
        draft.size = length_in_unit(size, draft.unit);
        volume_l = size * size * height * 1e-6;
    } else if (draft.shape == SpokenShape::rectangle && (draft.length || draft.wide)) {
        const SaidLength given = draft.length ? *draft.length : *draft.wide;
        const double size = std::max(step, std::round(area / given.mm / step) * step);
        (draft.length ? draft.wide : draft.length) = length_in_unit(size, draft.unit);
        volume_l = size * given.mm * height * 1e-6;
    } else {
        return unfit(fmt::format("The litres alone do not tell the size of this shape ({}).", draft.shape_word), "Say a regular shape or a square, or a rectangle with one side: rectangle 800 long, about 90 litres.");
    }
    draft.assumed.push_back(fmt::format("sized so that it holds {} litres, {} high; you said {}", show_number(volume_l, 1),
                                        spoken_length(length_in_unit(rounded_to_step(height, 0.1), draft.unit), draft.unit), show_number(draft.wish.litres, 2)));
    return {};
}

// A trial size: can the boards at home be cut into it?
enum class Trial { fits, does_not_fit, no_plan };

Trial try_size(Draft draft, double size_mm) {
    draft.size = length_in_unit(size_mm, draft.unit);
    draft.wish = {};
    if (is_square(draft)) draft.first = draft.second = draft.size;
    const ProjectRead read = read_project(project_text(draft));
    if (!read.project) return Trial::no_plan;
    const Plan plan = make_plan(*read.project);
    if (!plan.frame || !plan.buying) return Trial::no_plan;
    for (const SectionPurchase& section : plan.buying->sections) {
        if (section.buy.outcome != BuyingOutcome::cheapest && section.buy.outcome != BuyingOutcome::bounded) return Trial::does_not_fit;
    }
    return Trial::fits;
}

Findings take_all_boards(Draft& draft) {
    double total_mm = 0.0;
    std::vector<SaidOffer> offers = draft.offers;
    for (const SaidException& e : draft.exceptions) offers.insert(offers.end(), e.offers.begin(), e.offers.end());
    for (const SaidOffer& offer : offers) {
        if (offer.count == 0) return unfit("Boards on sale have no end, so there is no largest size.", "Say how many you have: have 3 of 2.4 m.");
        total_mm += offer.length.mm * static_cast<double>(offer.count);
    }
    if (offers.empty()) return unfit("I don't know the boards you have.", "Say how many and how long: have 3 of 2.4 m.");
    if (draft.shape != SpokenShape::regular && !is_square(draft)) {
        return unfit(fmt::format("This shape ({}) has no one size to look for.", draft.shape_word), "Say a regular shape, like hexagon, or square.");
    }
    if (draft.shape == SpokenShape::regular && !draft.of) draft.of = usual_measure(draft.corners);
    draft.circle = false;
    const double step = round_step_mm(draft);
    // Sizes in steps: `good` was packed, `bad` was not. A ring larger round than all boards together cannot be.
    auto good = 0.0, bad = std::ceil(total_mm / step) + 1.0;
    while (bad - good > 1.0) {
        const double middle = std::floor((good + bad) / 2.0);
        (try_size(draft, middle * step) == Trial::fits ? good : bad) = middle;
    }
    if (good == 0.0) return unfit("I found no size that your boards give.", "Say more or longer boards, or fewer courses.");
    draft.size = length_in_unit(good * step, draft.unit);
    draft.assumed.push_back(fmt::format("{} can be cut from your boards, saw cuts and test pieces counted in; {} could not", spoken_length(*draft.size, draft.unit),
                                        spoken_length(length_in_unit(bad * step, draft.unit), draft.unit)));
    return {};
}

}  // namespace

Findings grant_wish(Draft& draft) {
    const bool sized = draft.size || draft.first;
    if (sized) return unfit("You say a size and a wish for the size.", "Leave one of them out.");
    if (draft.half) return unfit(fmt::format("This shape ({}) is not sized by a wish.", draft.shape_word), "Say its size, or the whole ring.");
    switch (draft.wish.kind) {
        case Wish::Kind::none: return {};
        case Wish::Kind::fits_round: return fit_round(draft);
        case Wish::Kind::stands_on: return stand_on(draft);
        case Wish::Kind::litres: return hold_litres(draft);
        case Wish::Kind::boards_give: return take_all_boards(draft);
    }
    return {};
}

}  // namespace boardring
