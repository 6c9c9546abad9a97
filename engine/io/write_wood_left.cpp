#include "io/write_wood_left.hpp"

#include <fmt/format.h>

#include <cmath>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>

#include "base/length_text.hpp"
#include "io/plan_json.hpp"

namespace boardring {
namespace {

constexpr double kStepSlack = 1e-6;  // a rest this near a full step is that step

const char* surface_word(Surface surface) {
    switch (surface) {
        case Surface::plain: return "plain";
        case Surface::show_face: return "show-face";
        case Surface::moulded: return "moulded";
    }
    return "";
}

// How many of each length, longest first.
using Lengths = std::map<double, std::size_t, std::greater<>>;

Lengths lengths_left(const SectionPurchase& purchase, const Tools& tools) {
    Lengths lengths;
    for (const CutBar& bar : purchase.buy.bars) {
        const double rest = std::floor(bar.left_over_mm / tools.rule_step_mm + kStepSlack) * tools.rule_step_mm;
        if (rest >= tools.hold_length_mm) ++lengths[rest];
    }
    for (std::size_t o = 0; o < purchase.section.offers.size(); ++o) {
        const BarOffer& offer = purchase.section.offers[o];
        if (!offer.offcut || !offer.count) continue;
        std::size_t left = *offer.count;
        for (const CutBar& bar : purchase.buy.bars) left -= bar.offer == o ? 1 : 0;
        if (left > 0) lengths[offer.length_mm] += left;
    }
    return lengths;
}

// Whether two stocks as written are of one kind of board, whatever lengths are left of each.
bool same_boards(Json one, Json other) {
    one.erase("lengths");
    other.erase("lengths");
    return one == other;
}

}  // namespace

std::string write_wood_left(const Buying& buying, const std::vector<const Project*>& projects) {
    const Unit unit = projects.front()->unit == Unit::foot ? Unit::inch : projects.front()->unit;
    const auto length = [&](double mm) { return number(mm / unit_in_mm(unit)); };
    Json stocks = Json::object();
    for (const SectionPurchase& purchase : buying.sections) {
        const Project& project = *projects[purchase.frame];
        const Stock& stock = project.stock[purchase.stock];
        const Lengths lengths = lengths_left(purchase, project.tools);
        if (lengths.empty()) continue;
        Json fresh;
        fresh["width"] = length(stock.width_mm);
        fresh["thickness"] = length(stock.thickness_mm);
        fresh["surface"] = surface_word(stock.surface);
        if (!stock.species.empty()) fresh["species"] = stock.species;
        fresh["end_trim"] = length(stock.end_trim_mm);
        fresh["lengths"] = Json::array();
        // Other boards of one name: told apart by size, then by wood, then by number.
        const LengthStyle style{unit, project.tools.rule_step_mm};
        const auto taken = [&](const std::string& name) { return stocks.contains(name) && !same_boards(stocks[name], fresh); };
        std::string name = stock.name;
        const bool other_size = taken(name) && (stocks[name]["width"] != fresh["width"] || stocks[name]["thickness"] != fresh["thickness"]);
        if (other_size) name = fmt::format("{} {} x {}", name, show_length(stock.width_mm, style), show_length(stock.thickness_mm, style));
        if (taken(name) && !stock.species.empty()) name = fmt::format("{} {}", name, stock.species);
        const std::string told = name;
        for (int number = 2; taken(name); ++number) name = fmt::format("{} {}", told, number);
        Json& kept = stocks.contains(name) ? stocks[name] : (stocks[name] = std::move(fresh));
        for (const auto& [mm, count] : lengths) {
            Json j;
            j["length"] = length(mm);
            j["count"] = count;
            j["offcut"] = true;
            kept["lengths"].push_back(std::move(j));
        }
    }
    Json j;
    j["format"] = "boardring-stock-1";
    j["title"] = "Wood left";
    j["units"] = unit_name(unit);
    j["stock"] = std::move(stocks);
    return laid_out(j);
}

}  // namespace boardring
