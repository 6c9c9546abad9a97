#include "report/buying_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/page_lines.hpp"
#include "report/sawing_order.hpp"
#include "report/shopping_list.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

std::size_t bars_of(const SectionBuy& buy, std::size_t offer) {
    return static_cast<std::size_t>(std::count_if(buy.bars.begin(), buy.bars.end(), [&](const CutBar& bar) { return bar.offer == offer; }));
}

// "2 of 145 x 38 at 2.4 m and your own 1.2 m"
std::string boards_words(const SectionPurchase& purchase, const Project& project) {
    std::vector<std::string> bought, own;
    for (std::size_t o = 0; o < purchase.section.offers.size(); ++o) {
        const std::size_t count = bars_of(purchase.buy, o);
        if (count == 0) continue;
        const BarOffer& offer = purchase.section.offers[o];
        const std::string length = board_length(offer.length_mm, project);
        if (offer.offcut) {
            own.push_back(count == 1 ? "your own " + length : fmt::format("{} of your own {}", count, length));
        } else if (bought.empty()) {
            bought.push_back(fmt::format("{} of {} at {}", count, section_words(purchase, project), length));
        } else {
            bought.push_back(fmt::format("{} at {}", count, length));
        }
    }
    if (bought.empty() && !own.empty()) own.front() = fmt::format("{}: {}", section_words(purchase, project), own.front());
    bought.insert(bought.end(), own.begin(), own.end());
    return and_list(bought);
}

struct Sums {
    double price = 0.0, could_be_less = 0.0;
    double length_mm = 0.0, could_be_shorter_mm = 0.0;
    bool priced = false, by_length = false;
};

Sums sums_of(const Buying& buying) {
    Sums sums;
    for (const SectionPurchase& purchase : buying.sections) {
        const SectionBuy& buy = purchase.buy;
        if (!is_planned(buy)) continue;
        (buy.by_length ? sums.length_mm : sums.price) += buy.price;
        (buy.by_length ? sums.could_be_shorter_mm : sums.could_be_less) += buy.price - buy.bound;
        (buy.by_length ? sums.by_length : sums.priced) = true;
    }
    if (sums.by_length && sums.price == 0.0) sums.priced = false;  // only wood from the pile has a price: nothing to add up
    return sums;
}

std::string proof_words(const Sums& sums, const Project& project) {
    std::string words;
    if (sums.priced) {
        words += sums.could_be_less > 0.0
                     ? fmt::format(" It could be up to {} cheaper; I stopped looking.", money(sums.could_be_less))
                     : std::string(" Nothing cheaper exists among the lengths you gave.");
    }
    if (sums.by_length) {
        words += fmt::format(" Not all have prices, so I looked for the least length, {}: ", board_length(sums.length_mm, project));
        words += sums.could_be_shorter_mm > 0.0
                     ? fmt::format("up to {} less may do; I stopped looking.", board_length(sums.could_be_shorter_mm, project))
                     : std::string("nothing shorter will do.");
    }
    return words;
}

// What buying every piece as the box round its long points would add.
std::string boxes_words(const Buying& buying) {
    double more = 0.0;
    for (const SectionPurchase& purchase : buying.sections) {
        if (purchase.as_boxes && !purchase.buy.by_length && is_planned(purchase.buy)) more += *purchase.as_boxes - purchase.buy.price;
    }
    if (more < 0.005) return "";
    return fmt::format(" Laid head to tail the pieces save {}.", money(more));
}

std::string problem_words(const SectionPurchase& purchase, const Project& project) {
    switch (purchase.buy.outcome) {
        case BuyingOutcome::too_long: return fmt::format(" {}: a piece fits no board you listed.", section_words(purchase, project));
        case BuyingOutcome::too_few: return fmt::format(" {}: the boards you listed do not suffice.", section_words(purchase, project));
        case BuyingOutcome::no_offers: return fmt::format(" {}: no lengths given.", section_words(purchase, project));
        case BuyingOutcome::cheapest:
        case BuyingOutcome::bounded: break;
    }
    return "";
}

}  // namespace

std::string bought_words(const Buying& buying, const std::vector<const Project*>& projects) {
    if (!buying.has_offers()) return "";
    const Project& project = *projects.front();
    std::vector<std::string> items;
    std::string problems;
    double longest_rest = 0.0;
    for (const SectionPurchase& purchase : buying.sections) {
        if (is_planned(purchase.buy)) items.push_back(boards_words(purchase, project));
        problems += problem_words(purchase, project);
        for (const CutBar& bar : purchase.buy.bars) longest_rest = std::max(longest_rest, bar.left_over_mm);
    }
    std::string words;
    if (!items.empty()) {
        const Sums sums = sums_of(buying);
        words = capital(and_list(items)) + ".";
        if (sums.priced) words += fmt::format(" {}.", money(sums.price));
        words += proof_words(sums, project) + boxes_words(buying);
        words += fmt::format(" The longest piece left over is {}.", shown(longest_rest, project));
    }
    words += problems;
    return words.substr(words.find_first_not_of(' '));
}

std::string buying_page(const Buying& buying, const std::vector<const Project*>& projects) {
    const std::string words = bought_words(buying, projects);
    if (words.empty()) return "No lengths on sale are given, so there is nothing to choose from: add \"lengths\" to the stock.\n";
    std::string page = text_of(wrapped("BUY.  " + words, kPageColumns));
    for (std::size_t f = 0; f < projects.size() && projects.size() > 1; ++f) {
        page += fmt::format("{}  {}: {}\n", f == 0 ? "\nFOR " : "    ", f + 1, clean_text(projects[f]->title, 60));
    }
    for (const std::vector<std::string>& part : {shopping_lines(buying, projects), sawing_order_lines(buying, projects)}) {
        if (!part.empty()) page += "\n" + text_of(part);
    }
    return page;
}

}  // namespace boardring
