#include "io/plan_json.hpp"

#include <nlohmann/json.hpp>
#include <optional>

#include "base/names.hpp"

namespace boardring {
namespace {

Json misfit_of(const JointMisfit& misfit) {
    Json j;
    j["corner"] = corner_letter(misfit.corner);
    j["gap_in_mm"] = number(misfit.gap_in_mm);
    j["gap_out_mm"] = number(misfit.gap_out_mm);
    j["lip_in_mm"] = number(misfit.lip_in_mm);
    j["lip_out_mm"] = number(misfit.lip_out_mm);
    j["angle_left_deg"] = number(misfit.angle_left_deg);
    return j;
}

Json stiff_of(const std::optional<StiffClosure>& stiff) {
    if (!stiff) return nullptr;
    Json j = misfit_of(stiff->last);
    j["one_in"] = stiff->one_in == 0.0 ? Json(nullptr) : number(stiff->one_in);
    return j;
}

Json spread_of(const std::optional<SpreadClosure>& spread) {
    if (!spread) return nullptr;
    Json j;
    j["widest_mm"] = number(spread->widest_mm);
    j["corner"] = corner_letter(spread->corner);
    j["lip_mm"] = number(spread->lip_mm);
    j["settled"] = spread->settled;
    j["joints"] = Json::array();
    for (const JointMisfit& misfit : spread->joints) j["joints"].push_back(misfit_of(misfit));
    return j;
}

Json report_of(const ClosureReport& report) {
    Json j;
    j["stiff"] = stiff_of(report.stiff);
    j["spread"] = spread_of(report.spread);
    j["span"] = nullptr;
    if (report.span_off_mm || report.span_across_mm || report.span_angle_deg) {
        Json span;
        span["off_mm"] = number(report.span_off_mm);
        span["across_mm"] = number(report.span_across_mm);
        span["angle_deg"] = number(report.span_angle_deg);
        j["span"] = std::move(span);
    }
    return j;
}

Json worst_of(const Frame& frame, const std::optional<WorstRounding>& worst) {
    if (!worst) return nullptr;
    Json j;
    j["end"] = end_name(frame, worst->board, worst->end);
    j["what"] = worst->what;
    j["moved"] = number(worst->moved);
    j["stiff_gap_mm"] = number(worst->stiff_gap_mm);
    return j;
}

}  // namespace

Json closure_of(const Plan& plan) {
    if (!plan.closure || !plan.frame) return nullptr;
    Json j;
    j["exact"] = report_of(plan.closure->exact);
    j["marked"] = report_of(plan.closure->marked);
    j["set"] = report_of(plan.closure->set);
    j["worst_marked"] = worst_of(*plan.frame, plan.closure->worst_marked);
    j["worst_set"] = worst_of(*plan.frame, plan.closure->worst_set);
    return j;
}

}  // namespace boardring
