#include "plan/one_joint.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "frame/joint_of_kind.hpp"

namespace boardring {

Result<JointCuts> cut_one_joint(JointKind kind, double interior_deg, std::array<double, 2> width_mm, bool first_runs_through) {
    Findings errors;
    constexpr double kSharpestDeg = 1.0;  // sharper corners have cuts no saw or hand can make
    if (!(interior_deg >= kSharpestDeg && interior_deg <= 360.0 - kSharpestDeg)) {
        errors.push_back({Severity::error, "joint.angle-out-of-range", "",
                          fmt::format("a corner of {} cannot be joined; between {} and {} can", std::isfinite(interior_deg) ? show_angle(interior_deg) : std::string("no number"), kSharpestDeg,
                                      360.0 - kSharpestDeg),
                          "give the angle between the two boards, measured inside the frame: 90 is square, 120 a hexagon's"});
    }
    for (const double width : width_mm) {
        if (width > 0.0) continue;
        errors.push_back({Severity::error, "joint.width-out-of-range", "", "a board's width must be more than 0",
                          "give what you measure across the board where the cut will show"});
    }
    if (!errors.empty()) return errors;

    return joint_of_kind(kind, turn_of(interior_deg), {0.0, width_mm[0]}, {0.0, width_mm[1]}, first_runs_through);
}

}  // namespace boardring
