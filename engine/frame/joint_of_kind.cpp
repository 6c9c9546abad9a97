#include "frame/joint_of_kind.hpp"

#include "base/ensure.hpp"
#include "joinery/butt.hpp"
#include "joinery/half_lap.hpp"
#include "joinery/mitre.hpp"

namespace boardring {

Result<JointCuts> joint_of_kind(JointKind kind, double turn_deg, BoardInPlan before, BoardInPlan after, bool before_runs_through) {
    switch (kind) {
        case JointKind::mitre: return mitre(turn_deg, before, after);
        case JointKind::butt: return butt(turn_deg, before, after, before_runs_through);
        case JointKind::half_lap: return half_lap(turn_deg, before, after);
    }
    ENSURE(false);
    return JointCuts{};
}

}  // namespace boardring
