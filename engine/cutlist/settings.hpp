#pragma once
#include <cstddef>
#include <vector>

#include "cutlist/cut_list.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

/// All cuts of boards and extra pieces by setting, square first, steepest last. See SettingGroup.
std::vector<SettingGroup> group_settings(const Project& project, const Frame& frame);

/// Which settings no maker could set apart: two are one if they are shown alike, lie nearer than a quarter of the saw's step,
/// and no stop of the saw lies between them.
/// \param ascending  |S|, sorted, no two within kSquareCutDeg
/// \return the group of each, ascending from 0; the fewest groups that serve, so that fewer settings never need more of them.
std::vector<std::size_t> groups_of_settings(const Tools& tools, const std::vector<double>& ascending);

/// What a bevel set by base and rise is told to [deg]: a tenth.
inline constexpr double kBevelStepDeg = 0.1;

/// |S| as the maker sets it, half away from zero: where slopes are set by the saw to its step, else to kBevelStepDeg.
double shown_setting_deg(const Tools& tools, double saw_deg);

/// An extra piece as a board of the ring would lie, for ways_to_saw; only its section is set.
Board section_of(const Project& project, const PieceAsked& piece);

/// True where the tip left by a cut of S = `saw_deg` is sharp enough to break off: an edge angle under 30 degrees, common practice.
bool has_fragile_tip(double saw_deg);

}  // namespace boardring
