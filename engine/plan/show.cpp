#include "plan/show.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"

namespace boardring {

std::vector<ShownBoard> show_boards(const Project& project, const Outline& outline, const Frame& frame, const CutList& cuts) {
    std::vector<ShownBoard> shown;
    shown.reserve(frame.boards.size());
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const Board& board = frame.boards[k];
        const BoardEnd& first = board.ends[0];
        const BoardEnd& second = board.ends[1];
        const double lowest = std::min(first.inside_mm, first.outside_mm);
        const double highest = std::max(second.inside_mm, second.outside_mm);
        const auto from_datum = [&](double x) { return outline.letters_clockwise ? highest - x : x - lowest; };

        ShownBoard s;
        s.inside_length_mm = board.inside_length_mm();
        s.outside_length_mm = board.outside_length_mm();
        s.long_point_mm = highest - lowest;
        s.short_point_mm = std::min(second.inside_mm, second.outside_mm) - std::max(first.inside_mm, first.outside_mm);
        s.rough_length_mm = cuts.rough_length_mm[k];
        s.left_end = outline.letters_clockwise ? 1 : 0;
        for (std::size_t e = 0; e < 2; ++e) {
            const BoardEnd& end = board.ends[e];
            ShownEnd& out = s.ends[e];
            out.inside_mark_mm = from_datum(end.inside_mm);
            out.outside_mark_mm = from_datum(end.outside_mm);
            out.edge_deg = 90.0 - std::abs(end.saw_deg);
            out.bevel_base_mm = project.tools.bevel_base_mm;
            // Two marks leave the bevel its exact rise; bevel and saw are set to what was chosen.
            const bool by_marks = project.tools.slope_by == SlopeBy::marks;
            out.bevel_rise_mm = project.tools.bevel_base_mm *
                                (by_marks ? tan_deg(std::abs(end.saw_deg)) : std::abs(end.run_mm) / board.width_at(e));
            out.square_at_mm = out.inside_mark_mm;
            if (end.lap) {
                out.shoulder_inside_mm = from_datum(end.lap->shoulder_inside_mm);
                out.shoulder_outside_mm = from_datum(end.lap->shoulder_outside_mm);
            }
            out.ways = ways_to_saw(project, board, end.saw_deg);
        }
        shown.push_back(std::move(s));
    }
    return shown;
}

}  // namespace boardring
