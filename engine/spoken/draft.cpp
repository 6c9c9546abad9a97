#include "spoken/draft.hpp"

#include <fmt/format.h>

#include "base/names.hpp"

namespace boardring {

bool is_open(const Draft& draft) {
    return draft.shape == SpokenShape::part_ring || draft.shape == SpokenShape::arch || draft.shape == SpokenShape::door ||
           (draft.shape == SpokenShape::window && draft.sill == false);
}

std::size_t board_count(const Draft& draft) {
    switch (draft.shape) {
        case SpokenShape::none: return 0;
        case SpokenShape::regular: return draft.circle && draft.corners == 0 ? draft.pieces : draft.corners;
        case SpokenShape::rectangle: return 4;
        case SpokenShape::ell: return 6;
        case SpokenShape::u_shape: case SpokenShape::tee: return 8;
        case SpokenShape::part_ring: case SpokenShape::arch: return draft.pieces;
        case SpokenShape::window: case SpokenShape::door: return is_open(draft) ? 3 : 4;
    }
    return 0;
}

std::vector<std::string> joint_letters(const Draft& draft) {
    const std::size_t boards = board_count(draft);
    std::vector<std::string> letters;
    for (std::size_t k = is_open(draft) ? 1 : 0; k < boards; ++k) letters.push_back(corner_letter(k));
    return letters;
}

SaidLength length_in_unit(double mm, Unit unit) {
    // Nine decimals bring back any size that was put together from sizes people say.
    return {mm, show_number(mm / unit_in_mm(unit), 9)};
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
