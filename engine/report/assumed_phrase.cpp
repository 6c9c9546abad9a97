#include "report/assumed_phrase.hpp"

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/length_text.hpp"

namespace boardring {

std::string phrase_about(const Assumption& assumption, const Project& project) {
    const std::string& at = assumption.pointer;
    const Tools& tools = project.tools;
    const auto length = [&](double mm) { return show_length_unit(mm, project.style()); };
    if (at == "/tools/scale_at_square") return "scale at square is 90";
    if (at == "/tools/kerf") return fmt::format("kerf is {}", length(tools.kerf_mm));
    if (at == "/tools/tilt_limit") return fmt::format("saw tilts to {}", show_angle(tools.tilt_limit_deg));
    if (at == "/tools/swing_limit") return fmt::format("saw swings to {}", show_angle(tools.swing_limit_deg));
    if (at == "/tools/saw_step") return fmt::format("saw step is {}", show_angle(tools.saw_step_deg, 2));
    if (at == "/tools/rule_step") return fmt::format("rule step is {}", length(tools.rule_step_mm));
    if (at == "/outline/basis") return "basis is found";
    if (at == "/joints/all/kind") return "joints butt";
    return "";
}

}  // namespace boardring
