#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "plan/plan.hpp"
#include "report/page_lines.hpp"
#include "report/report_text.hpp"

namespace boardring {

// The parts a plan's page is put together from (report_text.cpp), in the order of the page. Each gives finished lines of at
// most kPageColumns; none ends in a blank; no lines where there is nothing to say.

/// The outline in words: "hexagon, 640 over the flats inside".
std::string shape_in_words(const Plan& plan);

Lines title_lines(const Plan& plan);
Lines closing_lines(const Plan& plan);  ///< may I build it?
/// How a found outline fits its readings: how many, how well the corners are known, what is furthest off.
std::string fitted_words(const Plan& plan);
/// "BD": two points of a fit.
std::string reading_pair(const Fitted& fitted, std::size_t first, std::size_t second);
/// How a frame hangs on a crooked opening, and which peg of a staked-out ring to move; no lines where nothing of that was asked.
Lines question_lines(const Plan& plan);
Lines sawing_lines(const Plan& plan);   ///< can I saw it?
Lines buying_lines(const Plan& plan);   ///< what do I buy?
Lines places_lines(const Plan& plan);   ///< which board of a pile goes where
/// The same with the next best order.
Lines places_in_full(const Plan& plan);
/// True for a finding that a verdict's line tells already.
bool is_told_by_verdict(const Finding& finding);
/// What wants a decision: warnings. At most `most` lines.
Lines decide_lines(const Plan& plan, const PageOptions& options, std::size_t most);
/// How much is said where a page is short of room: everything; without asides; or only what nobody can build without.
enum class Words { all, few, fewest };
/// Inside, outside, height and weight, a line each.
Lines size_lines(const Plan& plan, Words words);
/// Picture beside the sizes; without a picture (`rows` 0, or no room) the sizes alone, with a pointer to the drawing.
Lines picture_and_sizes(const Plan& plan, std::size_t rows, Words words);
/// True where so many slopes are set by the bevel that each end's rise stands in the table of boards.
bool shows_rises(const Plan& plan);
/// Cells of a table; the last column is for words and may be empty.
struct Table {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows;
};
/// Both answers to a crooked opening side by side, board by board; every peg. No rows where that was not asked.
Table hang_table(const Plan& plan);
Table pegs_table(const Plan& plan);
/// Every board, a row each: number, width in the joint, lengths, ends, remarks.
Table board_table(const Plan& plan);
/// What is said below it: which boards are alike, laps, other pieces. A sentence or a few each; none empty.
std::vector<std::string> board_words(const Plan& plan, bool grouped);
/// The table of boards. `grouped`: one row for all boards cut alike. At most `most_rows` rows.
Lines board_lines(const Plan& plan, bool grouped, std::size_t most_rows);
/// Settings, rises or sums in one sentence, at most.
inline constexpr std::size_t kMostListed = 5;
/// True where the setting shown is a square cut.
bool is_square(const BoardEnd& end, const Project& project);
const BoardEnd& end_of(const Plan& plan, const CutRef& cut);
/// Ends that are not square, one for each setting shown, in order of steepness.
std::vector<CutRef> one_of_each_setting(const Plan& plan);
Lines angle_lines(const Plan& plan);
Lines by_hand_lines(const Plan& plan, Words words);
/// What to do where a test joint makes less than its corner: "tilt less", "swing less".
std::string slope_less_words(const Project& project);
/// The order of work, a step each. `halves`: also how to glue it in two halves, where the ring allows.
std::vector<std::string> order_steps(const Plan& plan, bool halves);
/// `flowing`: the steps run on in one paragraph instead of a line each. `halves`: also how to glue it in two halves, where the
/// ring allows.
Lines order_lines(const Plan& plan, bool flowing, bool halves);
Lines last_joint_lines(const Plan& plan, Words words);
/// What dry and wet months do to the joints; no lines unless the project speaks of the year.
Lines year_lines(const Plan& plan);
/// The same joint by joint, where it is known.
Lines year_more_lines(const Plan& plan);
Lines check_lines(const Plan& plan);
/// At most `most` lines, the general caution always among them.
Lines care_lines(const Plan& plan, const PageOptions& options, std::size_t most);
Lines assumed_lines(const Plan& plan, const PageOptions& options, std::size_t most);
Lines noted_lines(const Plan& plan, const PageOptions& options, std::size_t most);
Lines next_lines(const PageOptions& options);

/// The page of a project of pieces alone, and its parts that take the place of a ring's.
std::string pieces_page(const Plan& plan, const PageOptions& options);
Lines pieces_title_lines(const Plan& plan);
Lines pieces_sawing_lines(const Plan& plan);
Lines no_ring_lines();

/// Everything the page left out.
Lines more_lines(const Plan& plan, const PageOptions& options);

}  // namespace boardring
