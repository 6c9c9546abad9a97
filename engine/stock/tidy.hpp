#pragma once
#include <cstddef>
#include <vector>

#include "stock/dive.hpp"
#include "stock/master.hpp"
#include "stock/sequence.hpp"

namespace boardring {

// Wishes among plans that cost the same and have as many boards, in this order: one long rest, fewer changes of the saw's setting, no board
// filled to its last millimetre, short pieces first, fewer pieces turned. Wishes, not proofs: each is a search among near neighbours.

/// Moves pieces between the bars of a plan, none bought or sold, so that one long rest is left instead of several short ones: from the
/// emptiest bar into whatever room the others have. Stops when no single piece can be moved so.
void keep_one_long_rest(Master& master, Filling& filling);

/// A board filled nearer to its end than this had better be measured before it is bought [mm]; common practice allows a few millimetres.
inline constexpr double kTightMm = 3.0;

/// Exchanges pieces between a bar with less than kTightMm to spare and others, so that the tightest of them has more; the bar with the longest
/// rest is left alone. \param kinds  of the filling's counts
void loosen_tight_bars(const Strip& strip, const std::vector<StripPiece>& kinds, const Master& master, Filling& filling);

/// The same pieces in an order no longer than this one, with fewer changes of the saw's setting from cut to cut.
Sequence with_fewer_settings(const Strip& strip, const std::vector<StripPiece>& kinds, Sequence sequence);

/// The same cuts sawn from the handier end: of the whole bar as it is or turned, the way that does not leave a short piece for last, when the
/// rest is hard to hold; then the way that turns fewest pieces, sooner round than over. A piece that two turnings leave alike lies as it was
/// first. Length and settings stay.
Sequence from_handier_end(const Strip& strip, const std::vector<StripPiece>& kinds, const Sequence& sequence);

/// How often the setting changes from cut to cut along a bar; neighbours cut by one stroke count once.
std::size_t setting_changes(const std::vector<StripPiece>& kinds, const std::vector<PlacedPiece>& pieces);

}  // namespace boardring
