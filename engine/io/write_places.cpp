#include <nlohmann/json.hpp>

#include "io/plan_json.hpp"

namespace boardring {
namespace {

Json score_of(const PlaceScore& score) {
    Json j;
    j["beyond_saw"] = score.beyond_saw;
    j["settings"] = score.settings;
    j["steepest_deg"] = number(score.steepest_deg);
    return j;
}

// Kinds count from 1, as everything people see.
Json order_of(const Places& places) {
    Json j;
    j["kinds"] = Json::array();
    for (const std::size_t kind : places.kinds) j["kinds"].push_back(kind + 1);
    j["score"] = score_of(places.score);
    return j;
}

Json kinds_of(const Plan& plan) {
    Json list = Json::array();
    for (std::size_t k = 0; k < plan.project.pile.size(); ++k) {
        const PileKind& kind = plan.project.pile[k];
        Json j;
        j["kind"] = k + 1;
        j["pointer"] = kind.board.pointer;
        j["stock"] = stock_name(plan.project, kind.board.stock);
        j["width_mm"] = number(kind.board.width_mm);
        j["thickness_mm"] = number(kind.board.thickness_mm);
        j["count"] = kind.count;
        j["left_over"] = plan.arrangement->left_over[k];
        list.push_back(std::move(j));
    }
    return list;
}

}  // namespace

Json places_of(const Plan& plan) {
    if (!plan.arrangement) return nullptr;
    const Arrangement& found = *plan.arrangement;
    Json j;
    j["pile"] = kinds_of(plan);
    j["best"] = order_of(found.places);
    j["proven"] = found.proven;
    j["next"] = found.next ? order_of(*found.next) : Json(nullptr);
    j["all_alike"] = nullptr;
    if (found.all_alike) {
        Json alike;
        alike["width_mm"] = number(found.all_alike->width_mm);
        alike["boards"] = found.all_alike->boards;
        alike["score"] = score_of(found.all_alike->score);
        j["all_alike"] = std::move(alike);
    }
    return j;
}

}  // namespace boardring
