#include "report/shopping_list.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "base/length_text.hpp"
#include "plan/bad_board.hpp"
#include "report/csv.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kWhatColumns = 34;
constexpr std::size_t kMoneyColumns = 11;
constexpr std::size_t kMostRests = 4;

std::string rest_words(const std::vector<double>& left_over_mm, const Project& project) {
    std::vector<std::string> rests;
    for (const double mm : left_over_mm) rests.push_back(shown(mm, project));
    if (rests.size() <= kMostRests) return and_list(rests);
    return rests.front() == rests.back() ? fmt::format("{} each", rests.front()) : fmt::format("{} to {}", rests.back(), rests.front());
}

std::string row_words(const ShoppingRow& row, const Project& project) {
    const BarOffer& offer = row.purchase->section.offers[row.offer];
    return fmt::format("{:>3}  {} {} {}", row.count, section_words(*row.purchase, project), offer.offcut ? "your own" : "at",
                       board_length(offer.length_mm, project));
}

struct Total {
    double price = 0.0, boxes = 0.0, length_mm = 0.0;
    bool priced = false, boxed = false;
};

Total total_of(const Buying& buying) {
    Total total;
    for (const SectionPurchase& purchase : buying.sections) {
        if (!is_planned(purchase.buy)) continue;
        if (purchase.buy.by_length) {
            total.length_mm += purchase.buy.price;
            continue;
        }
        total.priced = true;
        total.price += purchase.buy.price;
        total.boxes += purchase.as_boxes.value_or(purchase.buy.price);
        total.boxed = total.boxed || purchase.as_boxes.has_value();
    }
    return total;
}

// Which board to look at hardest, and to saw first.
std::string bad_board_words(const Buying& buying) {
    const std::optional<BadBoard> worst = dearest_to_lose(buying);
    if (!worst) return "";
    if (!worst->price) {
        return fmt::format("If a board proves bad: long board {} matters most, since nothing on your list replaces it. Look it over and saw it first.",
                           worst->number);
    }
    const SectionPurchase& purchase = buying.sections[worst->section];
    if (purchase.buy.by_length || *worst->price <= 0.0) return "";  // what costs nothing is soon had again
    return fmt::format("If a board proves bad: the dearest to replace is long board {}, {}. Saw it first, while the yard is open.", worst->number,
                       money(*worst->price));
}

}  // namespace

bool is_planned(const SectionBuy& buy) { return buy.outcome == BuyingOutcome::cheapest || buy.outcome == BuyingOutcome::bounded; }

std::string board_length(double mm, const Project& project) {
    if (in_inches(project)) {
        const double feet = mm / 304.8;
        if (std::abs(feet - std::round(feet)) < 1e-9) return fmt::format("{} ft", show_number(feet, 0));
        return show_length_unit(mm, project.style());
    }
    return fmt::format("{} m", show_number(mm / 1000.0, 3));
}

std::string money(double amount) { return fmt::format("{:.2f}", amount); }

std::string section_words(const SectionPurchase& purchase, const Project& project) {
    const std::string wood = purchase.wood.empty() ? "" : " " + clean_text(purchase.wood, 24);
    return shown_section(purchase.width_mm, purchase.thickness_mm, project) + wood;
}

std::vector<ShoppingRow> shopping_rows(const Buying& buying) {
    std::vector<ShoppingRow> rows;
    for (const SectionPurchase& purchase : buying.sections) {
        const std::size_t first = rows.size();
        for (const CutBar& bar : purchase.buy.bars) {
            const auto known = std::find_if(rows.begin() + static_cast<std::ptrdiff_t>(first), rows.end(),
                                            [&](const ShoppingRow& row) { return row.offer == bar.offer; });
            if (known == rows.end()) {
                rows.push_back({&purchase, bar.offer, 1, {bar.left_over_mm}});
            } else {
                ++known->count;
                known->left_over_mm.push_back(bar.left_over_mm);
            }
        }
        std::stable_sort(rows.begin() + static_cast<std::ptrdiff_t>(first), rows.end(), [&](const ShoppingRow& a, const ShoppingRow& b) {
            const BarOffer &one = purchase.section.offers[a.offer], &other = purchase.section.offers[b.offer];
            if (one.offcut != other.offcut) return other.offcut;
            return one.length_mm > other.length_mm;
        });
    }
    for (ShoppingRow& row : rows) std::sort(row.left_over_mm.begin(), row.left_over_mm.end(), std::greater<>());
    return rows;
}

std::vector<std::string> shopping_lines(const Buying& buying, const std::vector<const Project*>& projects) {
    const std::vector<ShoppingRow> rows = shopping_rows(buying);
    if (rows.empty()) return {};
    std::vector<std::string> lines{padded("SHOPPING LIST", kWhatColumns + 2) + padded_before("each", kMoneyColumns) +
                                   padded_before("price", kMoneyColumns) + "   left over of each"};
    for (const ShoppingRow& row : rows) {
        const Project& project = *projects[row.purchase->frame];
        const BarOffer& offer = row.purchase->section.offers[row.offer];
        const std::string each = offer.price ? money(*offer.price) : offer.offcut ? "" : "?";
        const std::string sum = offer.price ? money(*offer.price * static_cast<double>(row.count)) : each;
        lines.push_back("  " + padded(row_words(row, project), kWhatColumns) + padded_before(each, kMoneyColumns) +
                        padded_before(sum, kMoneyColumns) + "   " + rest_words(row.left_over_mm, project));
    }
    const Total total = total_of(buying);
    const std::string sum = total.priced ? money(total.price) : board_length(total.length_mm, *projects.front());
    if (total.priced || total.length_mm > 0.0) {
        std::string line = "  " + padded("     in all", kWhatColumns) + padded_before(sum, 2 * kMoneyColumns);
        if (total.boxed && total.boxes > total.price + 0.005) line += fmt::format("   {} by long points alone", money(total.boxes));
        lines.push_back(line);
    }
    const std::string bad = bad_board_words(buying);
    if (!bad.empty()) {
        for (const std::string& line : wrapped(bad, kPageColumns)) lines.push_back(line);
    }
    return lines;
}

std::string buying_csv(const Buying& buying, const std::vector<const Project*>& projects) {
    std::string text;
    add_csv_row(text, {"stock", "width", "thickness", "length", "unit", "count", "yours", "price_each", "price", "left_over"});
    for (const ShoppingRow& row : shopping_rows(buying)) {
        const Project& project = *projects[row.purchase->frame];
        const Stock& stock = project.stock[row.purchase->stock];
        const BarOffer& offer = row.purchase->section.offers[row.offer];
        const Unit unit = project.unit == Unit::foot ? Unit::inch : project.unit;
        const auto length = [&](double mm) { return show_number(mm / unit_in_mm(unit), 4); };
        std::string rests;
        for (const double mm : row.left_over_mm) rests += (rests.empty() ? "" : " ") + length(mm);
        add_csv_row(text, {text_cell(stock.name), length(stock.width_mm), length(stock.thickness_mm), length(offer.length_mm),
                           std::string(unit_name(unit)), std::to_string(row.count), offer.offcut ? "yes" : "no",
                           offer.price ? money(*offer.price) : "", offer.price ? money(*offer.price * static_cast<double>(row.count)) : "",
                           rests});
    }
    return text;
}

}  // namespace boardring
