#pragma once
#include "stock/dive.hpp"
#include "stock/master.hpp"

namespace boardring {

/// Moves pieces between the bars of a plan, none bought or sold, so that one long rest is left instead of several short ones: from the
/// emptiest bar into whatever room the others have. Stops when no single piece can be moved so. A wish, not a proof.
void keep_one_long_rest(Master& master, Filling& filling);

}  // namespace boardring
