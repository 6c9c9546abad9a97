#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"
#include "project/as_cut.hpp"
#include "project/project.hpp"

namespace boardring {

/// What was measured on cut boards, read.
struct AsCutRead {
    std::optional<AsCut> as_cut;  ///< absent when any finding is an error
    Findings findings;
};

/// Reads an as-cut file (format boardring-as-cut-1, schemas/boardring-as-cut-1.schema.json): JSON with comments, as project files.
/// Plain lengths take the project's unit, angles are as the maker's saw shows them.
AsCutRead read_as_cut(std::string_view text, const Project& project);

/// Reads the same from words of a command line:
///   3=400          board 3, long point to long point
///   4=423.5/368    board 4, long and short points
///   AC=812         straight across from A to C, inside
///   A=0/0.8        joint A stands open: inside, outside
/// A length may hold a fraction (`4=16-1/4/14-1/2`): the one way to part it into two lengths is taken, several are refused.
/// Code refit.not-understood; lengths have the codes of length texts. Never throws on any bytes.
AsCutRead read_as_cut_words(const std::vector<std::string>& words, const Project& project);

}  // namespace boardring
