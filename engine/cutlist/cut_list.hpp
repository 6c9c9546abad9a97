#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

/// One motion of the saw that makes a cut.
struct SawWay {
    enum class Motion { swing, tilt };
    Motion motion = Motion::swing;
    bool lies_flat = true;        ///< the piece lies on its wide face; false: it stands at the fence
    double setting_deg = 0.0;     ///< |S|, 0 at square
    bool within_saw = true;       ///< limit and, standing, fence height allow it
};

/// How a member of a group is turned to be the same piece as the group's first.
enum class Turning { as_first, top_to_bottom, edge_for_edge, end_for_end };

struct GroupMember {
    std::size_t board = 0;
    Turning turning = Turning::as_first;
};

/// Pieces that are cut alike.
struct PieceGroup {
    std::vector<GroupMember> members;    ///< boards of the ring; empty for an extra piece
    std::optional<std::size_t> extra;    ///< index into Project::pieces
    std::size_t count = 0;               ///< members * courses, or the extra's count
    std::optional<std::size_t> mirror_of;  ///< an earlier group that is this one's mirror image, where the surface forbids turning
};

/// One end of one board, as the saw sees it.
struct CutRef {
    std::size_t board = 0;
    std::size_t end = 0;
};

/// All cuts made at one setting.
struct SettingGroup {
    double setting_deg = 0.0;            ///< |S| exact, of the first cut of the group
    double shown_deg = 0.0;              ///< rounded to the saw's step (0 at square)
    std::vector<CutRef> cuts;            ///< of one course
    std::size_t count = 0;               ///< cuts * courses
    std::size_t left = 0, right = 0;     ///< count by hand: long edge's end seen with the outside towards the maker at the left / at the right end of the board
    std::optional<double> test_pair_deg; ///< two test pieces must make this corner: set when both cuts of some joint are in this group
    std::size_t test_corner = 0;
    bool within_saw = true;              ///< some way of sawing it is within the saw
};

/// Lengths to get from one section.
struct SectionTotal {
    std::optional<std::size_t> stock;    ///< index into Project::stock; empty: boards given by size only
    double width_mm = 0.0;
    double thickness_mm = 0.0;
    std::size_t pieces = 0;
    double finished_mm = 0.0;            ///< sum of long-point lengths
    double rough_mm = 0.0;               ///< + one saw cut a piece, what is left long, spares and test pieces
    std::size_t test_pieces = 0;
    double longest_mm = 0.0;             ///< longest rough piece
};

struct CutList {
    std::vector<PieceGroup> groups;
    std::vector<SettingGroup> settings;  ///< steepest last; square cuts first
    std::vector<SectionTotal> sections;
    std::vector<double> rough_length_mm; ///< per board
};

/// Both ways of sawing one end.
std::vector<SawWay> ways_to_saw(const Project& project, const Board& board, double saw_deg);

/// Groups, settings and totals.
CutList list_cuts(const Project& project, const Frame& frame);

/// What the saw and the hands cannot do: cuts beyond or within a degree of the saw's limits, fragile tips, pieces too short to hold.
Findings check_cuts(const Project& project, const Frame& frame);

}  // namespace boardring
