#include "io/plan_json.hpp"

#include <cstddef>
#include <nlohmann/json.hpp>
#include <vector>

namespace boardring {
namespace {

const char* outcome_word(BuyingOutcome outcome) {
    switch (outcome) {
        case BuyingOutcome::cheapest: return "cheapest";
        case BuyingOutcome::bounded: return "bounded";
        case BuyingOutcome::too_long: return "piece too long";
        case BuyingOutcome::too_few: return "too few boards";
        case BuyingOutcome::no_offers: return "no lengths given";
    }
    return "";
}

const char* what_word(BoughtPiece::What what) {
    switch (what) {
        case BoughtPiece::What::board: return "board";
        case BoughtPiece::What::extra: return "extra";
        case BoughtPiece::What::spare: return "spare";
        case BoughtPiece::What::test: return "test";
    }
    return "";
}

// Pieces of one bought board, in the order of sawing.
Json bar_pieces_of(const SectionPurchase& purchase, const CutBar& bar, const std::vector<std::reference_wrapper<const Project>>& projects) {
    Json list = Json::array();
    const std::vector<BarMarks> marks = bar_marks(purchase.section, bar);
    for (std::size_t i = 0; i < bar.pieces.size(); ++i) {
        const BoughtPiece& name = purchase.names[bar.pieces[i].kind];
        Json boards = Json::array();
        for (const std::size_t board : name.boards) boards.push_back(board + 1);
        Json j;
        j["what"] = what_word(name.what);
        j["frame"] = name.frame + 1;
        j["boards"] = std::move(boards);
        j["extra"] = name.what == BoughtPiece::What::extra ? Json(projects[name.frame].get().pieces[name.extra].name) : Json(nullptr);
        j["turned"] = name_of(bar.pieces[i].turning);
        j["left_far_mm"] = number(marks[i].left_upper_mm);
        j["left_near_mm"] = number(marks[i].left_lower_mm);
        j["right_far_mm"] = number(marks[i].right_upper_mm);
        j["right_near_mm"] = number(marks[i].right_lower_mm);
        list.push_back(std::move(j));
    }
    return list;
}

}  // namespace

Json buying_of(const Buying& buying, const std::vector<std::reference_wrapper<const Project>>& projects) {
    Json sections = Json::array();
    for (const SectionPurchase& purchase : buying.sections) {
        const Stock& stock = projects[purchase.frame].get().stock[purchase.stock];
        const SectionBuy& buy = purchase.buy;
        const bool planned = buy.outcome == BuyingOutcome::cheapest || buy.outcome == BuyingOutcome::bounded;
        Json boards = Json::array();
        for (const CutBar& bar : buy.bars) {
            const BarOffer& offer = purchase.section.offers[bar.offer];
            Json j;
            j["length_mm"] = number(offer.length_mm);
            j["price"] = offer.price ? number(*offer.price) : Json(nullptr);
            j["offcut"] = offer.offcut;
            j["used_mm"] = number(bar.used_mm);
            j["left_over_mm"] = number(bar.left_over_mm);
            j["pieces"] = bar_pieces_of(purchase, bar, projects);
            boards.push_back(std::move(j));
        }
        Json j;
        j["stock"] = stock.name;
        j["outcome"] = outcome_word(buy.outcome);
        j["counted_in"] = buy.by_length ? "length_mm" : "price";
        j["total"] = planned ? number(buy.price) : Json(nullptr);
        j["bound"] = planned ? number(buy.bound) : Json(nullptr);
        j["fewest_boards"] = buy.fewest_bars;
        j["as_boxes"] = purchase.as_boxes ? number(*purchase.as_boxes) : Json(nullptr);
        j["boards"] = std::move(boards);
        sections.push_back(std::move(j));
    }
    Json j;
    j["sections"] = std::move(sections);
    return j;
}

}  // namespace boardring
