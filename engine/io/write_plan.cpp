#include "io/write_plan.hpp"

#include <functional>
#include <nlohmann/json.hpp>
#include <string_view>
#include <vector>

#include "base/ensure.hpp"
#include "io/plan_json.hpp"

namespace boardring {
namespace {

std::string_view name_of(Severity severity) {
    switch (severity) {
        case Severity::error: return "error";
        case Severity::warning: return "warning";
        case Severity::caution: return "caution";
        case Severity::note: return "note";
    }
    ENSURE(false);
    return "";
}

Json findings_of(const Findings& findings) {
    Json list = Json::array();
    for (const Finding& finding : findings) {
        Json j;
        j["severity"] = name_of(finding.severity);
        j["code"] = finding.code;
        j["pointer"] = finding.pointer;
        j["message"] = finding.message;
        j["fix"] = finding.fix;
        j["changes"] = finding.changes;
        list.push_back(std::move(j));
    }
    return list;
}

Json assumed_of(const std::vector<Assumption>& assumed) {
    Json list = Json::array();
    for (const Assumption& assumption : assumed) {
        Json j;
        j["pointer"] = assumption.pointer;
        j["value"] = assumption.value;
        list.push_back(std::move(j));
    }
    return list;
}

Json totals_of(const Plan& plan) {
    if (!plan.totals || !plan.frame) return nullptr;
    const Totals& totals = *plan.totals;
    Json j;
    j["inside_area_mm2"] = plan.frame->closed ? number(totals.inside_area_mm2) : Json(nullptr);
    j["outside_area_mm2"] = plan.frame->closed ? number(totals.outside_area_mm2) : Json(nullptr);
    j["inside_box_mm"] = point(totals.inside_box_mm);
    j["outside_box_mm"] = point(totals.outside_box_mm);
    j["over_flats_inside_mm"] = number(totals.over_flats_inside_mm);
    j["over_flats_outside_mm"] = number(totals.over_flats_outside_mm);
    j["height_mm"] = number(totals.height_mm);
    j["volume_l"] = number(totals.volume_l);
    j["timber_kg"] = range(totals.timber_kg);
    j["wet_soil_kg"] = totals.wet_soil_kg ? range(*totals.wet_soil_kg) : Json(nullptr);
    return j;
}

}  // namespace

std::string write_plan(const Plan& plan) {
    const Project& project = plan.project;
    ENSURE(!plan.frame || plan.outline);
    Json j;
    j["format"] = "boardring-plan-1";
    j["title"] = project.title;
    j["units"] = unit_name(project.unit);
    j["lie"] = project.lie == Lie::flat ? "flat" : "on edge";
    j["courses"] = project.courses;
    j["copies"] = project.copies;
    j["findings"] = findings_of(plan.findings);
    j["assumed"] = assumed_of(project.assumed);
    j["outline"] = outline_of(plan);
    j["places"] = places_of(plan);
    j["boards"] = boards_of(plan);
    j["joints"] = joints_of(plan);
    j["assembly"] = assembly_of(plan);
    j["cut_list"] = cut_list_of(plan);
    j["settings"] = settings_of(plan);
    j["sections"] = sections_of(plan);
    j["closure"] = closure_of(plan);
    j["last_joint"] = last_joint_of(plan);
    j["rounding"] = rounding_of(plan);
    j["season"] = season_of(plan);
    j["buying"] = plan.buying ? buying_of(*plan.buying, {std::cref(project)}) : nullptr;
    j["totals"] = totals_of(plan);
    return laid_out(j);
}

}  // namespace boardring
