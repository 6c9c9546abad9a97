#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace boardring {

// Lines of a page: labels down the left side, text beside them.

using Lines = std::vector<std::string>;

/// Columns of the labels down the left side: BOARDS, ANGLES ...
inline constexpr std::size_t kLabelColumns = 11;
/// Columns of the verdicts at the top: CLOSES., CAN BE SAWN. ...
inline constexpr std::size_t kVerdictColumns = 14;
/// Text is broken here.
inline constexpr std::size_t kTextColumns = 100;

/// `text` broken to the page behind `label`; following lines hang under the text.
Lines labelled(std::string_view label, std::string_view text, std::size_t label_columns = kLabelColumns);
void append_lines(Lines& to, Lines more);

/// The last line of every run: NEXT and one command that makes sense now, with a word on what it does where there is room for it.
/// Where the command names standard input the word is, or ends with, that the project is to be piped in again.
Lines next_line(std::string_view command, std::string_view what_for = "");

/// The lines as one text, each ended.
std::string text_of(const Lines& lines);

}  // namespace boardring
