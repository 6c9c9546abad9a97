#pragma once
#include <string>
#include <vector>

#include "project/project.hpp"

namespace boardring {

/// What of `asked` is otherwise in `other`, in the maker's words, each once: "board 3 tapers", "the rule's step". Empty: the same frame
/// is built from the same boards in the same way. Lengths and angles may differ by a 1e-9 part of themselves. What stock is called,
/// where things stand in the file and stock that no board is made of do not count.
std::vector<std::string> what_differs(const Project& asked, const Project& other);

}  // namespace boardring
