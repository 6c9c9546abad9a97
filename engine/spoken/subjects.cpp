#include "spoken/subjects.hpp"

namespace boardring {

// Longer names stand before shorter ones that begin alike: the first that fits is taken.
const std::vector<Subject>& subjects() {
    static const std::vector<Subject> kSubjects{
        {{"format"}, "/format", Kind::text},
        {{"title", "name"}, "/title", Kind::text},
        {{"line"}, "/outline/line", Kind::word, {"inside", "outside", "middle"}},
        {{"letters", "letters run"}, "/outline/letters", Kind::word, {"counterclockwise", "clockwise"}},
        {{"seen"}, "/outline/seen", Kind::word, {"from above", "from the room"}},
        {{"basis"}, "/outline/basis", Kind::word, {"wanted", "found"}},
        {{"hang", "hangs", "frame hangs"}, "/outline/hang", Kind::word, {"as found", "true"}},
        {{"margin", "reveal"}, "/outline/margin", Kind::length},
        {{"open"}, "/outline/open", Kind::flag},
        {{"corners", "number of corners"}, "/outline/regular/corners", Kind::count},
        {{"side", "every side"}, "/outline/regular/side", Kind::length},
        {{"over flats", "over the flats"}, "/outline/regular/over_flats", Kind::length},
        {{"over points", "over the points"}, "/outline/regular/over_points", Kind::length},
        {{"inscribed diameter"}, "/outline/regular/inscribed_diameter", Kind::length},
        {{"circumscribed diameter"}, "/outline/regular/circumscribed_diameter", Kind::length},
        {{"length"}, "/outline/rectangle/length", Kind::length},
        {{"width"}, "/outline/rectangle/width", Kind::length},
        {{"radius"}, "/outline/arc/radius", Kind::length},
        {{"span"}, "/outline/arc/span_deg", Kind::angle},
        {{"chord"}, "/outline/arc/chord", Kind::length},
        {{"rise"}, "/outline/arc/rise", Kind::length},
        {{"pieces"}, "/outline/arc/pieces", Kind::count},
        {{"fits"}, "/outline/arc/fits", Kind::word, {"flats", "corners"}},
        {{"boards lie", "lie"}, "/boards/lie", Kind::word, {"flat", "on edge"}},
        {{"courses"}, "/boards/courses", Kind::count},
        {{"rule step", "rule reads", "rule"}, "/tools/rule_step", Kind::length},
        {{"saw step", "saw sets"}, "/tools/saw_step", Kind::angle},
        {{"scale at square", "scale"}, "/tools/scale_at_square", Kind::number},
        {{"swing limit", "saw swings", "swing"}, "/tools/swing_limit", Kind::angle},
        {{"tilt limit", "saw tilts", "tilt"}, "/tools/tilt_limit", Kind::angle},
        {{"fence height", "fence"}, "/tools/fence_height", Kind::length},
        {{"kerf", "saw cut"}, "/tools/kerf", Kind::length},
        {{"hold length"}, "/tools/hold_length", Kind::length},
        {{"slopes by", "slope by"}, "/tools/slope_by", Kind::word, {"bevel", "marks", "saw"}},
        {{"bevel base"}, "/tools/bevel_base", Kind::length},
        {{"accuracy", "work", "preset"}, "/accuracy/preset", Kind::word, {"garden", "joinery", "fine"}},
        {{"gap", "wanted gap"}, "/wanted/gap", Kind::length},
        {{"fit last", "last board"}, "/wanted/fit_last", Kind::count},
        {{"leave long"}, "/wanted/leave_long", Kind::length},
        {{"spares"}, "/wanted/spares", Kind::count},
    };
    return kSubjects;
}

}  // namespace boardring
