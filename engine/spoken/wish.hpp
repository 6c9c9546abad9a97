#pragma once
#include "base/finding.hpp"
#include "spoken/draft.hpp"

namespace boardring {

/// Works out the size of a draft that has a wish instead: shape, boards, lie and courses must be settled. Says in
/// `draft.assumed` how, and rounds to a number people measure: down, or for litres to the nearest.
///   fits_round   the inside circle of a regular ring, a square: exact, no play
///   stands_on    the outside box of the shape as drawn (side AB along the length), length and width as given
///   litres       inside area times courses times the boards' width; within half a rounding step of the size
///   boards_give  the largest step the boards at home can be cut into, found by halving: every size taken was packed, the next one
///                was not; larger ones are not tried [wish_test]
/// Problems     sentence.does-not-fit: the shape cannot be sized this way, or nothing fits
Findings grant_wish(Draft& draft);

}  // namespace boardring
