#pragma once
#include <cstddef>
#include <optional>

#include "outline/network.hpp"

namespace boardring {

/// What a walk round a ring by its sides and angles alone says of one of them: a second, older way to look for a wrong reading.
struct WalkedMiss {
    double length_mm = 0.0;  ///< from the start of the walk to its end
    double off = 0.0;  ///< of a side: deg between the miss and the side; of a corner: mm from it to the middle line of the miss
    bool nearest = false;  ///< of no other side or corner is that less
};

/// A side that reads e too long moves the end of the walk by e along itself. A corner that reads e too large swings all that
/// comes after about itself: start and end are as far from it, so it lies on the line that crosses the miss square in its middle.
///
/// For a side the angles are balanced first, by equal shares; for a corner they are as read, and the walk starts on the far side
/// of the ring. Nothing unless the readings are every side and every corner of a ring, once each, and nothing else; nothing for a
/// miss of 0. Exact with one wrong reading and no other error [walked_miss_test]. Textbook surveying, own derivation.
std::optional<WalkedMiss> walked_miss(const Network& network, std::size_t observation);

}  // namespace boardring
