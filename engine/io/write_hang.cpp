#include <cstddef>
#include <nlohmann/json.hpp>
#include <string_view>

#include "base/ensure.hpp"
#include "base/names.hpp"
#include "io/plan_json.hpp"

namespace boardring {
namespace {

std::string_view name_of(HungSide::Lies lies) {
    switch (lies) {
        case HungSide::Lies::level: return "level";
        case HungSide::Lies::plumb: return "plumb";
        case HungSide::Lies::as_found: return "as found";
    }
    ENSURE(false);
    return "";
}

std::string_view name_of(WayUp::By by) {
    switch (by) {
        case WayUp::By::said: return "said";
        case WayUp::By::readings: return "readings";
        case WayUp::By::order: return "order";
    }
    ENSURE(false);
    return "";
}

Json sides_of(const Hang& hang) {
    Json list = Json::array();
    for (std::size_t k = 0; k < hang.sides.size(); ++k) {
        const HungSide& side = hang.sides[k];
        Json j;
        j["board"] = board_name(k);
        j["lies"] = name_of(side.lies);
        j["out_mm"] = number(side.out_mm);
        j["bow_mm"] = number(side.bow_mm);
        j["margin_mm"] = {number(side.margin_mm[0]), number(side.margin_mm[1]), number(side.margin_mm[2])};
        const bool known = k < hang.margin_sd_mm.size();
        j["margin_sd_mm"] = known ? Json{number(hang.margin_sd_mm[k][0]), number(hang.margin_sd_mm[k][1]), number(hang.margin_sd_mm[k][2])} : Json(nullptr);
        list.push_back(std::move(j));
    }
    return list;
}

Json answer_of(const HungBothWays::Answer& answer) {
    Json j;
    j["corners"] = Json::array();
    for (std::size_t c = 0; c < answer.outline.corners_mm.size(); ++c) {
        const Vec2 at = answer.outline.corners_mm[c];
        Json corner;
        corner["letter"] = corner_letter(c);
        corner["x_mm"] = number(at.x);
        corner["y_mm"] = number(answer.outline.letters_clockwise ? -at.y : at.y);
        corner["interior_deg"] = answer.outline.is_joint(c) ? number(answer.outline.interior_deg[c]) : Json(nullptr);
        j["corners"].push_back(std::move(corner));
    }
    j["boards"] = Json::array();
    for (std::size_t k = 0; k < answer.shown.size(); ++k) {
        const Board& board = answer.frame->boards[k];
        Json b;
        b["number"] = board_name(k);
        b["inside_length_mm"] = number(answer.shown[k].inside_length_mm);
        b["outside_length_mm"] = number(answer.shown[k].outside_length_mm);
        b["saw_deg"] = {number(board.ends[0].saw_deg), number(board.ends[1].saw_deg)};
        j["boards"].push_back(std::move(b));
    }
    return j;
}

}  // namespace

Json hang_of(const Plan& plan) {
    if (!plan.hung || !plan.outline->hang) return nullptr;
    const Hang& hang = *plan.outline->hang;
    const HangAsked& asked = *plan.project.outline.hang;
    Json j;
    j["taken"] = hang.taken ? "true" : "as found";
    j["levelled"] = hang.levelled;
    j["sill"] = board_name(hang.way_up.sill);
    j["way_up"] = name_of(hang.way_up.by);
    j["least_mm"] = number(asked.least_mm);
    j["most_mm"] = number(asked.most_mm);
    j["needs_mm"] = number(hang.needs_mm);
    j["fits"] = hang.fits;
    j["turned_deg"] = hang.turned_deg ? number(plan.outline->letters_clockwise ? -*hang.turned_deg : *hang.turned_deg) : Json(nullptr);
    j["sides"] = sides_of(hang);
    j["as_found"] = answer_of(plan.hung->as_found);
    j["true"] = answer_of(plan.hung->hung_true);
    return j;
}

Json pegs_of(const Plan& plan) {
    if (!plan.pegs) return nullptr;
    Json j;
    j["moved"] = plan.pegs->moved;
    j["moved_mm"] = number(plan.pegs->moved_mm);
    j["every_way_tried"] = plan.pegs->every_way;
    j["pegs"] = Json::array();
    for (std::size_t c = 0; c < plan.pegs->pegs.size(); ++c) {
        const PegMove& peg = plan.pegs->pegs[c];
        Json p;
        p["letter"] = corner_letter(c);
        p["stays"] = peg.stays;
        p["off_mm"] = number(peg.off_mm);
        p["within_mm"] = number(peg.within_mm);
        p["shared_mm"] = number(plan.pegs->shared_mm[c]);
        Json move;
        move["towards"] = corner_letter(peg.string_to);
        move["towards_mm"] = number(peg.towards_mm);
        move["out_mm"] = number(peg.out_mm);
        move["from"] = {corner_letter(peg.from[0]), corner_letter(peg.from[1])};
        move["from_mm"] = {number(peg.from_mm[0]), number(peg.from_mm[1])};
        p["move"] = peg.stays ? Json(nullptr) : std::move(move);
        j["pegs"].push_back(std::move(p));
    }
    return j;
}

}  // namespace boardring
