#pragma once
#include <string>
#include <string_view>

namespace boardring {

/// A maker's text as it may stand in a message: in quotes, at most 40 characters and then "...". Control characters,
/// direction and zero-width marks, private and unassigned planes, and bytes that are not UTF-8 show as ?, so a file can
/// neither move the cursor nor turn a line of ours round. The quotes are plain, and curly where the text has a ' or ".
std::string in_quotes(std::string_view text);

/// True if `in_quotes` would put no ? for any character of `text`, however long it is.
bool can_be_shown(std::string_view text);

}  // namespace boardring
