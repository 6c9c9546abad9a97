#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "base/finding.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

// From the boards of a frame to what is done at the saw. Theory: docs/theory/cut_list.md. S is the angle of a cut away from
// square, + = outside longer; a setting is |S|.

/// A cut within this of square is called square: no side of it is the longer one, it has no hand [deg].
inline constexpr double kSquareCutDeg = 1e-6;

/// No maker knows their saw's stop closer than this [deg]: a cut no farther beyond it is near the limit, not past it.
inline constexpr double kStopPlayDeg = 0.05;

/// One motion of the saw that makes a cut.
struct SawWay {
    enum class Motion { swing, tilt };
    Motion motion = Motion::swing;
    bool lies_flat = true;        ///< the piece lies on its wide face; false: it stands at the fence
    double setting_deg = 0.0;     ///< |S|, 0 at square
    bool within_saw = true;       ///< limit and, standing, fence height allow it
};

/// How a member of a group is turned to be the same piece as the group's first. Each is half a turn about one axis of the board,
/// is undone by itself, and any two make the third.
enum class Turning {
    as_first,
    top_to_bottom,  ///< about the cross axis: upside down, ends swapped; outside stays outside
    edge_for_edge,  ///< about the long axis: inside and outside swapped, upside down; ends stay
    end_for_end,    ///< about the upright axis: ends swapped, inside and outside swapped; top stays top
};

struct GroupMember {
    std::size_t board = 0;
    Turning turning = Turning::as_first;
};

/// Pieces that are cut alike: same stock, same section, same shape once turned as the surface allows (allowed_turnings).
struct PieceGroup {
    std::vector<GroupMember> members;    ///< boards of the ring, ascending; empty for an extra piece
    std::optional<std::size_t> extra;    ///< index into Project::pieces
    std::size_t count = 0;               ///< members * courses * copies, or the extra's count * copies
    std::optional<std::size_t> mirror_of;  ///< an earlier group that is this one's mirror image and that no allowed turning makes the same: lefts and rights
    double long_point_mm = 0.0;          ///< of the first member
    double rough_length_mm = 0.0;        ///< the longest of the members: one of them may be the board to fit last
};

/// One end of one board, as the saw sees it.
struct CutRef {
    std::size_t board = 0;
    std::size_t end = 0;
};

/// One end of an extra piece; every one of its count is cut so.
struct PieceCutRef {
    std::size_t piece = 0;  ///< index into Project::pieces
    std::size_t end = 0;    ///< 0 left, 1 right
};

/// All cuts made at one setting: |S| equal within kSquareCutDeg, or nearer than a quarter of the saw's step, shown alike
/// (shown_setting_deg) and on the same side of the saw's stops, so that no maker could set them apart, none is off by more than the
/// scale can tell, and no cut the saw cannot make hides among those it can.
struct SettingGroup {
    double setting_deg = 0.0;            ///< |S| exact, of the first cut of the group
    double shown_deg = 0.0;              ///< as the maker sets it (shown_setting_deg; 0 at square)
    std::vector<CutRef> cuts;            ///< of one course, in order of boards, first corner first
    std::vector<PieceCutRef> piece_cuts; ///< of the extra pieces, each made on every one of them
    std::size_t count = 0;               ///< all cuts: (cuts * courses + piece cuts * their counts) * copies
    /// Lefts and rights among `count`: seen from above with the longer edge towards the maker, the cut is at the left, at the right end
    /// of its board. left + right = count; both 0 for the setting shown as 0, where no edge is longer by intent.
    std::size_t left = 0, right = 0;
    /// What two test pieces of this setting put together must make, inside, as a protractor reads it: 180 - |T|, so at an inward corner
    /// 360 - I. Set when both cuts of some mitre are in this group.
    std::optional<double> test_pair_deg;
    std::size_t test_corner = 0;         ///< the first such mitre's corner; meaningless without test_pair_deg
    bool within_saw = true;              ///< every cut has some way of sawing it within the saw
};

/// Lengths to get from one section.
struct SectionTotal {
    std::optional<std::size_t> stock;    ///< index into Project::stock; empty: boards given by size only
    double width_mm = 0.0;
    double thickness_mm = 0.0;
    std::size_t pieces = 0;              ///< boards of all courses and extra pieces, of all copies, spares not counted
    double finished_mm = 0.0;            ///< sum of their long-point lengths
    /// Sum of their rough lengths, plus the spares asked for (of the commonest board, first in order among equals), plus test_mm.
    double rough_mm = 0.0;
    /// For each setting but square with most of its cuts in this section: two where its own test pair proves it, one where its mate's
    /// setting gives the other piece of the pair (or where no mate does, and a bevel proves it). Common practice is two a setting.
    std::size_t test_pieces = 0;
    double test_mm = 0.0;                ///< wood for them, test_piece_mm each
    double longest_mm = 0.0;             ///< longest rough piece, test pieces aside
};

struct CutList {
    std::vector<PieceGroup> groups;      ///< in the order of their first boards, then the extra pieces
    std::vector<SettingGroup> settings;  ///< steepest last; square cuts first
    std::vector<SectionTotal> sections;  ///< in the order of their first boards, then of extra pieces
    std::vector<double> rough_length_mm; ///< per board
};

/// Both ways of sawing one end, the one with the board lying on its wide face first.
///   on edge   lying flat the blade tilts by |S|; standing at the fence, if the board is no higher than the fence, the saw swings by |S|
///   flat      lying flat the saw swings by |S|; standing at the fence, if the board is no wider than the fence is high, the blade tilts by |S|
/// \param saw_deg  S in (-90, 90)
/// A setting within kStopPlayDeg over a limit is still within it.
std::vector<SawWay> ways_to_saw(const Project& project, const Board& board, double saw_deg);

/// From a board's leftmost to its rightmost mark.
double long_point_mm(const Board& board);

/// Short edge of a test piece [mm]: enough to lay a protractor on. It is sawn off a board that is still long enough to hold, the
/// slope first and then a square cut.
inline constexpr double kTestPieceMm = 100.0;

/// Wood a test piece takes: its short edge, the slope w tan S beyond it, and both saw cuts. \param setting_deg  |S| in [0, 90)
double test_piece_mm(const Tools& tools, double width_mm, double setting_deg);

/// Length to saw a board to before its ends are cut: long point, one saw cut along its steeper end (kerf / cos S), and for the board to
/// fit last what is left long.
double rough_length_mm(const Project& project, const Frame& frame, std::size_t board);

/// The group whose board spares are made of: the commonest of the ring, the first among equals; null where there is none.
const PieceGroup* group_to_spare(const std::vector<PieceGroup>& groups);

/// Groups, settings and totals. Every board is in exactly one group, every cut in exactly one setting.
/// Laws   renumbering the ring from another board gives the same groups and counts; sum of group counts = sum of section pieces.
/// Cost   O(n log n) for n boards [cut_list_test: 100,000 boards].
CutList list_cuts(const Project& project, const Frame& frame);

/// What the saw and the hands cannot do. One finding for each distinct situation, naming all its ends or boards; order: cuts round the
/// ring, short boards, extra pieces.
///   cut.beyond-saw   warning  no way of sawing it is within the saw; fix: the jig at 90 to the fence (90 - |S|), a butt joint or like boards if
///                             they bring the cut within the saw, hand saw and plane
///   cut.tall-board   warning  on edge: too steep to tilt, and the board too high to stand at the fence, which the swing would reach
///   cut.near-limit   warning  every way within the saw is less than 1 deg from its stop
///   cut.fragile-tip  caution  E < 30 deg
///   piece.too-short  caution  long point under `hold_length`
Findings check_cuts(const Project& project, const Frame& frame);

}  // namespace boardring
