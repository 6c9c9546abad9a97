#pragma once
#include <optional>
#include <string>
#include <vector>

namespace boardring::cli {

/// The sentence meant by the words of a command, or nothing if they name a file (or one that is not there).
std::optional<std::string> sentence_of(const std::vector<std::string>& words);

/// A project made from a sentence.
struct SpokenProject {
    std::string text;       ///< of the project file; "" if the sentence was refused
    std::string file_name;  ///< written, or to be written: "hexagon-640.json"
    int exit_code = 0;      ///< 2: refused or not written, already told on standard error
};

/// Reads the sentence, prints how it was read, and, if `write`, writes the project beside what lies in this folder: never over a file.
SpokenProject project_from_sentence(const std::string& sentence, bool write);

}  // namespace boardring::cli
