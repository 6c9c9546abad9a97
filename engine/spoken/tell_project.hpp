#pragma once
#include <string>
#include <vector>

#include "project/project.hpp"

namespace boardring {

/// A project told as a sentence.
struct ProjectTold {
    std::string sentence;               ///< "" where even its outline has no words
    std::vector<std::string> left_out;  ///< what of the project the sentence does not say, in the maker's words; such parts stand only in the file
};

/// The sentence that makes this project; for a project with a pile, before its boards were placed.
/// What was assumed stays unsaid, so that it is still told as assumed.
/// Law: what `read_sentence` makes of it is the same project but for `left_out`: it is read back and compared here [sentence_round_test]
ProjectTold tell_project(const Project& project);

}  // namespace boardring
