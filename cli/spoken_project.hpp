#pragma once
#include <cstddef>
#include <cstdio>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "files.hpp"

namespace boardring::cli {

/// True if a file of that name, or of that name and ".json", lies here.
bool names_file(const std::string& word);

/// The sentence meant by the words of a command, or nothing if they name a file (or one that is not there).
std::optional<std::string> sentence_of(const std::vector<std::string>& words);

/// The command that plans this sentence, behind a label: on lines that a shell joins again, quoted where it would read a mark itself.
std::vector<std::string> plan_command(std::string_view label, std::string_view sentence, std::size_t label_columns);

/// The same on one line.
std::string plan_line(std::string_view sentence);

/// The first name that is free in this folder: "hexagon-640.json", then "hexagon-640-2.json". Only to show; another run may take it.
std::string free_name(const std::string& name);

/// Writes a project made here under the first free name, never over a file.
NewFile write_new_project(const std::string& name, const std::string& text);

/// A project made from a sentence.
struct SpokenProject {
    std::string text;       ///< of the project file; "" if the sentence was refused
    std::string file_name;  ///< written, or to be written: "hexagon-640.json"
    int exit_code = 0;      ///< 2: refused or not written, already told on standard error
};

/// Reads the sentence, prints on `talk` how it was read, and, if `write`, writes the project beside what lies in this folder: never over a file.
SpokenProject project_from_sentence(const std::string& sentence, bool write, std::FILE* talk);

}  // namespace boardring::cli
