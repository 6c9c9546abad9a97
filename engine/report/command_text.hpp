#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace boardring {

/// A word of a command as people type or paste it into a shell: bare where that is safe, else in quotes that keep every character.
std::string shell_word(std::string_view word);

/// `boardring change planter "C is 97"`, on as many lines of at most `columns` as it takes: broken between words, with a backslash
/// that lets the shell read on. A single longer word stays whole.
std::vector<std::string> change_command(std::string_view project_name, const std::vector<std::string>& changes, std::size_t columns);

}  // namespace boardring
