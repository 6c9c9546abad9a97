#pragma once
#include <string>

#include "drawing/drawing.hpp"

namespace boardring {

/// The drawing as a DXF file of release 12 (ASCII, AC1009), one drawing unit = 1 mm of the thing drawn, so that a reader measures
/// true sizes; z is 0. The unit is said in a comment only: release 12 has no field for it.
///
/// Layers carry the line kinds: OUTLINE, THIN, HIDDEN, GIVEN, DIMENSION, CUT, WASTE (hatch lines), NOTES (texts); dashes of the layers
/// HIDDEN and GIVEN are sized for the drawing's printing scale. Strokes become LINE or POLYLINE, circles CIRCLE, black regions SOLID
/// (convex ones, as a fan); white and wood-coloured fills are left out: they are not geometry. Texts are TEXT, anchored as the label
/// is; what is outside ASCII is written \U+XXXX as later releases do, degree signs and plus-minus as %%d and %%p; a percent sign as
/// %%37. Numbers have at most six decimals, never "-0". Same drawing, same bytes.
std::string write_dxf(const Drawing& drawing);

}  // namespace boardring
