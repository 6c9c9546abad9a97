#pragma once
#include <vector>

#include "cutlist/cut_list.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

/// All cuts of boards and extra pieces by setting, square first, steepest last. See SettingGroup.
std::vector<SettingGroup> group_settings(const Project& project, const Frame& frame);

/// What a bevel set by base and rise is told to [deg]: a tenth.
inline constexpr double kBevelStepDeg = 0.1;

/// |S| as the maker sets it, half away from zero: where slopes are set by the saw to its step, else to kBevelStepDeg.
double shown_setting_deg(const Tools& tools, double saw_deg);

/// An extra piece as a board of the ring would lie, for ways_to_saw; only its section is set.
Board section_of(const Project& project, const PieceAsked& piece);

}  // namespace boardring
