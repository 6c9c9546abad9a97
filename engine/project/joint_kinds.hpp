#pragma once
#include <array>
#include <cstddef>
#include <string_view>

#include "project/project.hpp"

namespace boardring {

/// The word of a kind in project files, in plan.json, on the command line and in sentences: "half-lap".
/// \return "" for a number that is no kind
constexpr std::string_view joint_word(JointKind kind) {
    switch (kind) {
        case JointKind::mitre: return "mitre";
        case JointKind::butt: return "butt";
        case JointKind::half_lap: return "half-lap";
    }
    return "";
}

/// All kinds in the order of the enumeration: as many as have a word, so a new one that the compiler asked a word for is in it.
inline constexpr auto kJointKinds = [] {
    constexpr std::size_t n = [] {
        std::size_t count = 0;
        while (!joint_word(static_cast<JointKind>(count)).empty()) ++count;
        return count;
    }();
    std::array<JointKind, n> kinds{};
    for (std::size_t k = 0; k < n; ++k) kinds[k] = static_cast<JointKind>(k);
    return kinds;
}();

/// Their words in the same order.
inline constexpr auto kJointWords = [] {
    std::array<std::string_view, kJointKinds.size()> words{};
    for (std::size_t k = 0; k < words.size(); ++k) words[k] = joint_word(kJointKinds[k]);
    return words;
}();

/// Both boards are sawn along the line between the corners: both faces are equally long and lie on each other, and both slopes add
/// up to the turn. Where it does not hold, one slope follows from the corner alone (butt, half-lap).
constexpr bool is_mitred(JointKind kind) {
    switch (kind) {
        case JointKind::mitre: return true;
        case JointKind::butt: return false;
        case JointKind::half_lap: return false;
    }
    return false;
}

}  // namespace boardring
