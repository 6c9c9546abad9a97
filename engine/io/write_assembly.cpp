#include "io/plan_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "base/names.hpp"

namespace boardring {
namespace {

// Blocks that hold a corner in a band: the corner itself, at an inward corner the one the block sees from the other side.
Json corner_blocks_of(const Frame& frame) {
    Json list = Json::array();
    for (const Joint& joint : frame.joints) {
        Json j;
        j["corner"] = corner_letter(joint.corner);
        j["deg"] = number(180.0 - std::abs(180.0 - joint.interior_deg));
        list.push_back(std::move(j));
    }
    return list;
}

}  // namespace

Json assembly_of(const Plan& plan) {
    if (!plan.assembly || !plan.frame) return nullptr;
    Json j;
    j["diagonals"] = Json::array();
    for (const Diagonal& diagonal : plan.assembly->diagonals) {
        Json d;
        d["from"] = corner_letter(diagonal.first);
        d["to"] = corner_letter(diagonal.second);
        d["inside_mm"] = number(diagonal.inside_mm);
        d["outside_mm"] = number(diagonal.outside_mm);
        j["diagonals"].push_back(std::move(d));
    }
    j["halves"] = nullptr;
    if (plan.assembly->halves) {
        Json h;
        h["from"] = corner_letter(plan.assembly->halves->first_corner);
        h["to"] = corner_letter(plan.assembly->halves->second_corner);
        h["inside_mm"] = number(plan.assembly->halves->inside_mm);
        h["outside_mm"] = number(plan.assembly->halves->outside_mm);
        j["halves"] = std::move(h);
    }
    j["fit_last"] = board_name(plan.assembly->fit_last);
    j["leave_long_mm"] = number(plan.assembly->leave_long_mm);
    j["corner_block_deg"] = corner_blocks_of(*plan.frame);
    return j;
}

}  // namespace boardring
