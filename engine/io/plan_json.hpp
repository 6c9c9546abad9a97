#pragma once
#include <cstddef>
#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/vec2.hpp"
#include "plan/plan.hpp"

namespace boardring {

// What the parts of plan.json share, inside io only: each part is written by a file of its own, write_<part>.cpp, and
// write_plan.cpp puts them together.

using Json = nlohmann::ordered_json;  // keys stay in the order they are set

/// A finite number, never -0; anything else is our bug (BrokenInvariant).
Json number(double value);
/// Null if empty.
Json number(const std::optional<double>& value);
/// [x, y].
Json point(Vec2 p);
/// Points as seen: y mirrored back where the letters go clockwise.
Json points(const std::vector<Vec2>& list, bool clockwise);
/// {"low", "high"}.
Json range(const Range& range);
/// Boards and groups count from 1 for people; null if empty.
Json board_name(std::size_t board);
Json board_name(const std::optional<std::size_t>& board);
/// "2B".
std::string end_name(const Frame& frame, std::size_t board, std::size_t end);
/// The stock's own name; null if empty.
Json stock_name(const Project& project, const std::optional<std::size_t>& stock);
std::string_view name_of(Turning turning);

// Parts of a plan; null where the plan stopped before them.
Json outline_of(const Plan& plan);
Json places_of(const Plan& plan);
/// How a found outline fits its readings; null for others.
Json fit_of(const Outline& outline);
/// A frame on a crooked opening: along it, or true; null where the margin has no least and most.
Json hang_of(const Plan& plan);
/// Which pegs of a staked-out outline to move; null where none are given.
Json pegs_of(const Plan& plan);
Json boards_of(const Plan& plan);
Json joints_of(const Plan& plan);
Json assembly_of(const Plan& plan);
Json cut_list_of(const Plan& plan);
Json settings_of(const Plan& plan);
Json sections_of(const Plan& plan);
Json closure_of(const Plan& plan);
Json last_joint_of(const Plan& plan);
Json rounding_of(const Plan& plan);
Json season_of(const Plan& plan);
Json buying_of(const Buying& buying, const std::vector<std::reference_wrapper<const Project>>& projects);

/// The text of a file: what fits on a line of 100 characters stands on one line, lists of things one item below the other;
/// ends with a new line.
std::string laid_out(const Json& value);

}  // namespace boardring
