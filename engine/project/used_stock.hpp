#pragma once
#include <vector>

#include "project/project.hpp"

namespace boardring {

/// Of each stock of a project whether anything is made of it: a board, boards of the pile, another piece.
std::vector<bool> used_stock(const Project& project);

}  // namespace boardring
