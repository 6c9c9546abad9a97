#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "outline/chain.hpp"
#include "outline/missing.hpp"
#include "project/project.hpp"

namespace boardring {

/// The interior angle a reading means: `inward` ones were taken outside the ring.
inline double interior_meant_deg(const Reading& reading, double value_deg) {
    return reading.inward ? 360.0 - value_deg : value_deg;
}

/// Lines of the notebook put in ring order, with the line each value came from.
struct Notebook {
    Chain chain;
    std::vector<std::size_t> side_line;       ///< index into the readings
    std::vector<std::size_t> angle_line;      ///< one per corner; kNoLine at free ends
    std::vector<std::size_t> diagonal_lines;  ///< in file order
    Unknowns open;                            ///< `?`: the chain holds 0 there (180 for an angle), exactly
};
inline constexpr std::size_t kNoLine = static_cast<std::size_t>(-1);

/// Puts the readings in ring order. Every side and every joint's angle stands there once, with a value or as one of the few that
/// may be open: io/read_project says so to the maker, here it is an invariant.
Notebook open_notebook(const OutlineAsked& asked);

/// "AB", or "A-AB" where letters alone could be read two ways.
std::string pair_name(std::size_t first, std::size_t second);

/// Name of side k: its two letters.
std::string side_name(const Chain& chain, std::size_t side);

}  // namespace boardring
