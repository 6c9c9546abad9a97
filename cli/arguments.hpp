#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace boardring::cli {

enum class Command { none, new_project, plan, check, joint, papers, buy, closure, change, refit, explain, describe };

/// What the command line asked for, as text; its numbers are read by the commands, which know the maker's units.
struct Arguments {
    Command command = Command::none;
    std::string file;                ///< plan, check, papers, closure: project, "" = the only one in this folder, "-" = standard input
    std::vector<std::string> words;  ///< plan, check: as typed; the name of a file, or a project in words
    std::string sentence;            ///< plan, check: the words together, where they are no name of a file
    bool word_list = false;          ///< plan: the words a sentence is made of
    std::optional<std::string> out;  ///< plan, papers, buy, closure: folder for the files; "" = one named after the project
    bool json = false;               ///< plan: plan.json to standard output instead of the page
    bool more = false;
    std::vector<std::string> files;  ///< buy: projects pooled into one purchase
    std::vector<std::string> changes;  ///< change: what is to be different, in words
    double time_limit_s = 10.0;      ///< buy: seconds to look for a cheaper plan
    std::size_t runs = 0;            ///< closure: rings to try; 0: until the numbers stand still
    std::uint64_t seed = 1;          ///< closure
    std::size_t threads = 0;         ///< closure; 0: one for each core
    std::string corner;              ///< joint
    std::string boards;
    std::string kind = "mitre";
    int through = 0;                 ///< joint: 1 or 2, which board runs on (butt)
    std::string unit;  ///< "": that of the lengths given, mm where they have none
    std::vector<std::string> measured;  ///< refit: "3=400", or the name of one as-cut file
    std::string keep = "outline";    ///< refit: outline, angles or lengths
    std::string code;                ///< explain; "" lists them all
    std::string reader;              ///< describe: for whom
};

/// Either arguments, or a text to print and the exit code to leave with (`--help`: 0, wrong command line: 2).
struct ParsedArguments {
    std::optional<Arguments> arguments;
    std::string text;
    int exit_code = 0;
    std::string next;  ///< the command that helps with a wrong command line
};

ParsedArguments parse_arguments(int argc, const char* const* argv);

}  // namespace boardring::cli
