#pragma once
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "base/finding.hpp"
#include "io/place.hpp"
#include "project/project.hpp"

namespace boardring {

/// A project file, read.
struct ProjectRead {
    std::optional<Project> project;       ///< absent when any finding is an error
    Findings findings;                    ///< in file order
    std::map<std::string, Place> places;  ///< every pointer of the file; empty if it is no JSON
};

/// The text of a file that a project names, or why there is none, as a sentence's end: "there is no such file".
struct BesideText {
    std::optional<std::string> text;
    std::string trouble;
};
/// Fetches such a file. `name` is a plain path below the project's folder: relative, with / between its parts, none of them "..".
using ReadBeside = std::function<BesideText(const std::string& name)>;

/// Reads the text of a project file (JSON, // and /* */ comments allowed). Unknown and duplicate keys, wrong types, impossible
/// values: all findings of the stage at once, in file order, each with pointer, line and column. Never throws on any bytes.
/// Limits: 4 MB of text, 32 levels, 200,000 values, 1000 corners or boards.
/// \param beside  gives the files the project names; empty: there are none
ProjectRead read_project(std::string_view text, const ReadBeside& beside = {});

/// Line and column of a pointer, or of its nearest ancestor that stands in the file.
Place place_of(const std::map<std::string, Place>& places, const std::string& pointer);

}  // namespace boardring
