#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "io/fields.hpp"

// How findings about a project file name things.

namespace boardring {

/// What people call the value, inside a sentence: board 4, joint C, stock "rail", "kerf", entry 3 of "points", the project.
std::string name_of(const Spot& spot);
/// The same at the start of a sentence.
std::string name_at_start(const Spot& spot);
/// What stands at `spot`, short enough to quote in a message.
std::string written(const Spot& spot);
/// The words of a list: "a, b or c".
std::string joined(const std::vector<std::string_view>& words, std::string_view last_link = " or ");
/// The phrase of `boardring change` that sets the value at `pointer`: "lie is on edge", "joint B mitre", "/pieces/0/stock is rail".
std::string set_phrase(const std::string& pointer, std::string_view value);
/// `Did you mean "kerf"? ` with its blank, or "" when no known word is near enough to be meant.
std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& known);
/// The same for a key with its value; a size given beside the form of the outline is sent inside it.
std::string did_you_mean_key(const JsonValue& given, const std::vector<std::string_view>& known);

}  // namespace boardring
