#pragma once
#include <array>
#include <vector>

#include "base/vec2.hpp"
#include "closure/chain_walk.hpp"
#include "closure/contact.hpp"
#include "closure/made_board.hpp"
#include "frame/frame.hpp"

namespace boardring {

/// An open chain where the plan has it, in the first board's own coordinates: x along that board, heading 0.
struct OpenChain {
    Vec2 wanted_inner_mm;     ///< inside mark of the last free end
    double wanted_rad = 0.0;  ///< direction of the last end's face
    Vec2 along{1.0, 0.0};     ///< from the first free end to the last; of the first board where both meet
    double span_mm = 0.0;     ///< between the two inside marks; 0 where they meet
};

/// \param exact  the boards of the frame, unrounded
OpenChain open_chain(const Frame& frame, const std::vector<MadeBoard>& exact);

/// Pose of the first board, its first end face on face where it should be, inside marks together.
Pose on_first_end(const MadeBoard& exact, const MadeBoard& made);

/// A face seen in the plan.
Contact at_pose(const Pose& pose, const Contact& contact);

/// The last free end against its place: signs as span_off_mm, span_across_mm and span_angle_deg of ClosureReport.
struct SpanMiss {
    double off_mm = 0.0;
    double across_mm = 0.0;
    double angle_rad = 0.0;
};

/// \param finish  face of the last free end, in the plan
SpanMiss span_miss(const OpenChain& chain, const Contact& finish);

/// The same by walking: the first end held, all joints tight. \param made  one for each board
SpanMiss walk_open(const Frame& frame, const OpenChain& chain, const std::vector<MadeBoard>& exact, const std::vector<MadeBoard>& made);

/// The same chain taken up and laid with the inside marks of both free ends on the line they belong on.
struct LaidChain {
    double longer_mm = 0.0;                 ///< the marks then lie farther apart than wanted by this; - shorter
    std::array<double, 2> turned_rad{};     ///< first and last end face against where they belong, + counter-clockwise
};
LaidChain laid_on_line(const OpenChain& chain, const SpanMiss& miss);

}  // namespace boardring
