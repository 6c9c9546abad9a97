#include <nlohmann/json.hpp>

#include "base/names.hpp"
#include "io/plan_json.hpp"

namespace boardring {

Json season_of(const Plan& plan) {
    if (!plan.season) return nullptr;
    const Season& season = *plan.season;
    Json j;
    j["dry_pct"] = number(season.year.dry_pct);
    j["wet_pct"] = number(season.year.wet_pct);
    j["made_pct"] = number(season.year.made_pct);
    j["asked"] = season.year.asked;
    j["widest_mm"] = number(season.widest_mm);
    j["corner"] = season.joints.empty() ? Json(nullptr) : Json(corner_letter(season.corner));
    j["when"] = season.when_dry ? "dry" : "wet";
    j["side"] = season.inside ? "inside" : "outside";
    j["height_mm"] = number(season.height_mm);
    j["beyond_coefficients"] = season.beyond_coefficients;
    j["boards"] = Json::array();
    for (std::size_t k = 0; k < season.boards.size(); ++k) {
        const BoardMovement& moved = season.boards[k];
        Json b;
        b["number"] = board_name(k);
        b["wood"] = moved.wood;
        b["coefficient"] = number(moved.coefficient);
        b["width_dry_mm"] = number(moved.width_dry_mm);
        b["width_wet_mm"] = number(moved.width_wet_mm);
        b["height_coefficient"] = number(moved.height_coefficient);
        b["height_dry_mm"] = number(moved.height_dry_mm);
        b["height_wet_mm"] = number(moved.height_wet_mm);
        j["boards"].push_back(std::move(b));
    }
    j["joints"] = Json::array();
    for (const JointMovement& moved : season.joints) {
        Json o;
        o["corner"] = corner_letter(moved.corner);
        o["dry_mm"] = number(moved.dry_mm);
        o["wet_mm"] = number(moved.wet_mm);
        o["dry_first_order_mm"] = number(moved.dry_first_order_mm);
        j["joints"].push_back(std::move(o));
    }
    return j;
}

}  // namespace boardring
