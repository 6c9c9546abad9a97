#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>

#include "base/ensure.hpp"
#include "base/names.hpp"
#include "io/plan_json.hpp"

namespace boardring {
namespace {

std::string_view name_of(Rounding rounding) {
    switch (rounding) {
        case Rounding::alike: return "alike";
        case Rounding::singly: return "singly";
        case Rounding::nearest: return "nearest";
    }
    ENSURE(false);
    return "";
}

// What one end is set out by: the numbers chosen, on their steps.
Json end_as_set(const Plan& plan, const BoardEnd& end, const ShownEnd& shown) {
    Json j;
    j["corner"] = corner_letter(end.corner);
    j["inside_mark_mm"] = number(shown.inside_mark_mm);
    j["outside_mark_mm"] = number(shown.outside_mark_mm);
    j["saw_deg"] = number(end.saw_deg);
    j["rise_mm"] = plan.project.tools.slope_by == SlopeBy::bevel ? number(shown.bevel_rise_mm) : Json(nullptr);
    return j;
}

}  // namespace

Json rounding_of(const Plan& plan) {
    if (!plan.rounding || !plan.frame->closed) return nullptr;
    const ClosingRounding& rounding = *plan.rounding;
    Json j;
    j["way"] = name_of(plan.project.tools.rounding);
    j["matters"] = rounding.matters;
    j["applied"] = rounding.applied;
    j["choices"] = rounding.choices;
    j["other_way"] = rounding.other_way;
    j["before_mm"] = number(rounding.before_mm);
    j["value_mm"] = number(rounding.value_mm);
    j["linear_mm"] = number(rounding.linear_mm);
    j["bound_mm"] = number(rounding.bound_mm);
    j["exact"] = rounding.exact;
    j["spread_before_mm"] = number(rounding.spread_before_mm);
    j["spread_after_mm"] = number(rounding.spread_after_mm);
    j["boards"] = nullptr;
    if (!rounding.applied) return j;
    j["boards"] = Json::array();
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        const Board& board = plan.frame->boards[k];
        const ShownBoard& shown = plan.shown[k];
        Json b;
        b["number"] = board_name(k);
        b["long_point_mm"] = number(shown.long_point_mm);
        b["ends"] = Json::array({end_as_set(plan, board.ends[0], shown.ends[0]), end_as_set(plan, board.ends[1], shown.ends[1])});
        j["boards"].push_back(std::move(b));
    }
    return j;
}

}  // namespace boardring
