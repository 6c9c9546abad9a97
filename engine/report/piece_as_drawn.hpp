#pragma once
#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace boardring {

// What a card says of a piece, in words and numbers, before anything is placed on paper.

/// Below this an end is square [deg].
inline constexpr double kSquareDeg = 0.005;

/// A half-lap's shoulders from the datum.
struct LapAsDrawn {
    double depth_mm = 0.0;
    bool keeps_upper = false;
    double inside_mm = 0.0, outside_mm = 0.0;
};

/// One end with marks from the datum. `left`: whether it is the piece's left end.
struct EndAsDrawn {
    double inside_mm = 0.0, outside_mm = 0.0;
    double saw_deg = 0.0;
    std::string letter;              ///< of its corner; "" for an extra piece
    std::vector<std::string> names;  ///< of this end on every board of the group: 1A, 2B, 6F; none for an extra piece
    std::vector<std::string> lines;  ///< sentences below the drawing
    bool within_saw = true;          ///< some way of sawing it is within the saw
    bool inward = false;             ///< at an inward corner
    std::optional<LapAsDrawn> lap;
    double width_mm = 0.0;  ///< across the board at this end
    // Where its edges lie across the drawing [mm], 0 the outermost of the piece: not at 0 and `width_mm` where the piece tapers.
    double outside_at_mm = 0.0, inside_at_mm = 0.0;

    [[nodiscard]] double short_mark(bool left) const {
        return left ? std::max(inside_mm, outside_mm) : std::min(inside_mm, outside_mm);
    }
    [[nodiscard]] double long_mark(bool left) const {
        return left ? std::min(inside_mm, outside_mm) : std::max(inside_mm, outside_mm);
    }
    /// The furthest into the board that is marked.
    [[nodiscard]] double deepest(bool left) const {
        if (!lap) return short_mark(left);
        return left ? std::max({inside_mm, outside_mm, lap->inside_mm, lap->outside_mm})
                    : std::min({inside_mm, outside_mm, lap->inside_mm, lap->outside_mm});
    }
};

/// A piece as it lies: outside edge to the maker, left and right end.
struct PieceAsDrawn {
    std::string heading;
    std::string number;              ///< for the circle; "" for an extra piece
    std::vector<std::string> lines;  ///< sentences above the drawing
    std::vector<std::string> cautions;  ///< what a hand near the blade should know of this piece
    double width_mm = 0.0;           ///< across the drawing: the width in the joint, at the wider end
    std::array<EndAsDrawn, 2> ends;  ///< left, right
    std::size_t count = 0;

    [[nodiscard]] double length_mm() const { return ends[1].long_mark(false) - ends[0].long_mark(true); }
};

/// The first board of a group, or an extra piece, with the words for all of its members.
/// \param plan   with frame, shown boards and cut list
/// \param group  index into plan.cut_list->groups
PieceAsDrawn piece_as_drawn(const Plan& plan, std::size_t group);

/// "Lay it: top edge up, outside face to you."
const char* posture_words(Lie lie);

}  // namespace boardring
