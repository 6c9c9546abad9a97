#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "cutlist/cut_list.hpp"
#include "project/project.hpp"

namespace boardring {

// Words, numbers and columns shared by the pages; the one place where numbers of a page are rounded. Text is UTF-8; a column
// is a code point.

/// Columns a page may take.
inline constexpr std::size_t kPageColumns = 100;

/// `text` safe for a terminal and for one line of a page: each run of control characters, line ends, blanks and marks that turn
/// the direction of writing becomes one blank (none at the ends); bytes that are not UTF-8 become '?'. At most `most` columns; a
/// longer text ends in "...".
std::string clean_text(std::string_view text, std::size_t most = 400);

/// The same for a line whose blanks matter: each such character becomes one blank, blanks stay, nothing is cut.
std::string clean_line(std::string_view text);

std::size_t columns_of(std::string_view text);
std::string padded(std::string_view text, std::size_t columns);         ///< blanks after it
std::string padded_before(std::string_view text, std::size_t columns);  ///< blanks before it

/// `text` broken at blanks into lines of at most `columns` (> 0); a longer word is cut. Blanks that stand two or more together
/// stay. Never empty: "" gives one empty line.
std::vector<std::string> wrapped(std::string_view text, std::size_t columns);

/// one, two ... twelve, then figures.
std::string count_word(std::size_t n);
/// "1 board", "2 boards".
std::string counted(std::size_t n, std::string_view one, std::string_view many);
/// "a", "a and b", "a, b and c"; "or" in place of "and" where asked.
std::string and_list(const std::vector<std::string>& items, std::string_view last_word = "and");
/// Numbers of boards (indices in any order, shown ascending); four or more in a row become "3 to 7": "1, 2 and 6", "1 to 5 and
/// 9".
std::string board_list(std::vector<std::size_t> boards);
/// The items with `between` between them.
std::string joined(const std::vector<std::string>& items, std::string_view between);
/// First letter upper case (ASCII).
std::string capital(std::string text);
/// First letter upper case (ASCII) and a full stop at the end, unless the text ends a sentence already.
std::string sentence(std::string text);
/// Upper case of a text that is ASCII throughout; any other text stays as it is written.
std::string headline(std::string text);

/// Jobs in inches, or feet and inches.
bool in_inches(const Project& project);
/// The unit of a page in words: "mm", "inches", "feet and inches".
std::string unit_words(Unit unit);

/// How a piece is turned to be another: "turned upside down (outside still outside)"; "" for as_first.
std::string turning_words(Turning turning, Lie lie);

/// Name of a ring with equal corners: triangle, square, pentagon, hexagon, octagon, "9-sided ring".
std::string ring_name(std::size_t corners);

/// The angle away from square at which an end is sawn, as the page shows it [deg, >= 0]: what the saw can be set to where slopes
/// are set by the saw's scale, else to a tenth.
double shown_away_deg(double saw_deg, const Project& project);

/// What the maker's own scale reads for a cut `away_deg` from square: itself, or 90 minus it where the scale reads 90 at square.
double on_scale_deg(double away_deg, const Tools& tools);

/// The big number of an end: `shown_away_deg` on the maker's scale.
std::string show_setting(double saw_deg, const Project& project);

/// A length in the unit of the page, without its name.
std::string shown(double mm, const Project& project);

/// A length to get hold of, at the next full step of the rule and never below it [mm]: a rough length rounded down is a board
/// too short.
double stepped_up_mm(double mm, const Project& project);

/// A misfit finer than the rule: tenths of a millimetre, in cm and m jobs with their name ("0.3 mm"), or 64ths of an inch ("3/64"),
/// where fine work is wanted thousandths. Garden jobs hide what is under a millimetre: "under 1" ("under 1/32" in inches).
std::string shown_misfit(double mm, const Project& project);

/// The widest gap that is good enough, in the same words, but as it was asked for: "0.5", "1 mm", "1/32", "0.04".
std::string shown_wanted_gap(const Project& project);

/// How a bevel is set over a long base: "rise 82 from 300"; steeper than 45 from the other arm, so that the board it is set on need
/// not be longer: "rise 300 from 254.5".
std::string bevel_words(double rise_mm, double base_mm, const Project& project);

/// The same for a table whose head says the base: "82", "300 in 254.5".
std::string bevel_cell(double rise_mm, double base_mm, const Project& project);

/// Run of board to ask for, rounded up to a tenth of a metre or a foot: "2.9 m", "10 ft".
std::string shown_run(double mm, Unit unit);

/// Section of a board: "145 x 38", "5-1/2 x 1-1/2"; width first.
std::string shown_section(double width_mm, double thickness_mm, const Project& project);

/// The width of a board in the joint: "38"; of one that tapers at its left and right end as it lies before the maker: "38 to 36.6".
std::string shown_width(const Board& board, bool second_end_left, const Project& project);

/// Whether decimal numbers add up exactly as printed.
bool adds_up(const std::vector<std::string>& parts, std::string_view sum);

}  // namespace boardring
