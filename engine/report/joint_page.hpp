#pragma once
#include <array>
#include <string>

#include "joinery/joint_cuts.hpp"
#include "project/project.hpp"

namespace boardring {

/// One joint asked for on its own: two boards that meet at a corner, both laid with their inside lines on the sides of that
/// corner.
struct JointAskedAlone {
    double interior_deg = 0.0;         ///< I, (0, 360), not 180
    std::array<double, 2> width_mm{};  ///< in the joint: first board (ends here), second board (starts here)
    JointKind kind = JointKind::mitre;
    bool first_runs_through = true;  ///< butt
    JointCuts cuts;                  ///< made for boards at offset 0
    Unit unit = Unit::mm;
    Tools tools;  ///< steps, scale and bevel base
};

/// The joint for a maker with a rule, a pencil and a square: settings, which side is longer, the square-line method step by step,
/// the bevel, and what two test cuts must make. Under 25 lines, at most 100 columns.
std::string joint_page(const JointAskedAlone& asked);

}  // namespace boardring
