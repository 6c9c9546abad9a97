#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

// What dry and wet months do to the joints. Theory: docs/theory/season.md

/// What one board does when its moisture goes from that of the making to the dry or wet one; + shrinks.
struct BoardMovement {
    std::string wood;               ///< as the handbook names it
    double coefficient = 0.0;       ///< of its width in the joint
    double height_coefficient = 0.0;
    double width_dry_mm = 0.0, width_wet_mm = 0.0;    ///< width in the joint; of a board that tapers at its first end
    double height_dry_mm = 0.0, height_wet_mm = 0.0;  ///< the other one: on edge the height of the course
};

/// What one joint does, its boards held at the corner's own angle: + open inside, - open outside.
struct JointMovement {
    std::size_t corner = 0;
    double dry_mm = 0.0;
    double wet_mm = 0.0;
    double dry_first_order_mm = 0.0;  ///< dW_o sin S_o + dW_p sin S_p: what a maker can check by hand
};

struct Season {
    Year year;
    std::vector<BoardMovement> boards;
    std::vector<JointMovement> joints;
    double widest_mm = 0.0;      ///< widest opening of any joint, dry or wet
    std::size_t corner = 0;      ///< where; of equals the first
    bool when_dry = true;        ///< else when wet
    bool inside = true;          ///< on which side it opens
    double height_mm = 0.0;      ///< largest change of a height, from dry to wet
    bool beyond_coefficients = false;  ///< some moisture lies outside 6 to 14 %
    bool from_memory = false;          ///< some wood's numbers were not looked up again
};

/// The year's movement, or what stands in the way. Nothing and no findings where the project says nothing of the year.
///
/// Drying narrows a board by dW while its length stays, so an end whose outside mark lies `run` beyond the inside mark gets
/// steeper: tan S' = run / (w - dW). Two ends that made S_o + S_p = T now make more, and the joint opens on its short-point side: inside
/// at ordinary corners, outside at inward ones, by dW_o sin S_o + dW_p sin S_p to first order. Here: the exact wedge over the
/// shorter face. At a butt only the board that stops counts, at a half-lap the mean of both shoulders.
/// Laws      no change of moisture: nothing moves; drying and wetting open opposite sides; exact against first order: relative
///           difference under 3 dW / w / cos^2 S [season_property_test]
/// Limits    lengths are taken as unmoving (along the grain wood moves a hundredth of that across); the wood is as wet inside as outside
/// Errors    season.unknown-species (where "year" is asked)
/// Warnings  season.over-gap: the widest opening is over `wanted.gap` (where "year" is asked)
/// Cost      linear in boards; a look-up for each stock
struct SeasonResult {
    std::optional<Season> season;
    Findings findings;
};
SeasonResult move_with_the_year(const Project& project, const Frame& frame);

}  // namespace boardring
