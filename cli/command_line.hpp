#pragma once
#include <string>
#include <string_view>

#include "arguments.hpp"

namespace CLI {
class App;
}

namespace boardring::cli {

/// The one description of all commands, their options and what they say of themselves. Arguments are parsed by it, and --help,
/// the man page and the completions of the shells are made from it. A value that is one of a few words has them as its type
/// name, parted by |: "mitre|butt|half-lap".
void describe_commands(CLI::App& app, Arguments& arguments);

/// The man page (`man`) or the completions for a shell (`bash`, `zsh`, `fish`); "" for any other word.
std::string describe_for(std::string_view reader);

}  // namespace boardring::cli
