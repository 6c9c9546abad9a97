#include "report/buying_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "base/names.hpp"
#include "cutlist/cut_list.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kNameColumns = 24;
constexpr std::size_t kMarkColumns = 11;

bool planned(const SectionBuy& buy) { return buy.outcome == BuyingOutcome::cheapest || buy.outcome == BuyingOutcome::bounded; }

// Boards are asked for in metres or feet where that says it exactly, else in the unit of the job.
std::string board_length(double mm, const Project& project) {
    if (in_inches(project)) {
        const double feet = mm / 304.8;
        if (std::abs(feet - std::round(feet)) < 1e-9) return fmt::format("{} ft", show_number(feet, 0));
        return show_length_unit(mm, project.style());
    }
    return fmt::format("{} m", show_number(mm / 1000.0, 3));
}

std::string money(double amount) { return fmt::format("{:.2f}", amount); }

std::string name_of(const SectionPurchase& purchase, const Project& project) {
    const Stock& stock = project.stock[purchase.stock];
    return shown_section(stock.width_mm, stock.thickness_mm, project);
}

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
            bought.push_back(fmt::format("{} of {} at {}", count, name_of(purchase, project), length));
        } else {
            bought.push_back(fmt::format("{} at {}", count, length));
        }
    }
    if (bought.empty() && !own.empty()) own.front() = fmt::format("{}: {}", name_of(purchase, project), own.front());
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
        if (!planned(buy)) continue;
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
        if (purchase.as_boxes && !purchase.buy.by_length && planned(purchase.buy)) more += *purchase.as_boxes - purchase.buy.price;
    }
    if (more < 0.005) return "";
    return fmt::format(" Laid head to tail the pieces save {}.", money(more));
}

std::string problem_words(const SectionPurchase& purchase, const Project& project) {
    switch (purchase.buy.outcome) {
        case BuyingOutcome::too_long: return fmt::format(" {}: a piece fits no board you listed.", name_of(purchase, project));
        case BuyingOutcome::too_few: return fmt::format(" {}: the boards you listed do not suffice.", name_of(purchase, project));
        case BuyingOutcome::no_offers: return fmt::format(" {}: no lengths given.", name_of(purchase, project));
        case BuyingOutcome::cheapest:
        case BuyingOutcome::bounded: break;
    }
    return "";
}

std::string piece_name(const BoughtPiece& name, const std::vector<const Project*>& projects) {
    std::string words;
    switch (name.what) {
        case BoughtPiece::What::board:
            words = fmt::format("board {}", name.boards.size() == 1 ? board_list(name.boards) : fmt::format("{} (alike)", board_list(name.boards)));
            break;
        case BoughtPiece::What::spare: words = fmt::format("spare for {}", board_list(name.boards)); break;
        case BoughtPiece::What::extra: words = clean_text(projects[name.frame]->pieces[name.extra].name, 20); break;
        case BoughtPiece::What::test: words = "test piece"; break;
    }
    return projects.size() > 1 ? fmt::format("{}: {}", name.frame + 1, words) : words;
}

std::string turned_word(const PlacedPiece& piece, Lie lie) {
    const std::string words = turning_words(piece.turning, lie);
    return words.empty() ? "" : "   " + words;
}

// The slope of a cut as the saw is set, away from square.
std::string slope_of(double run_mm, double width_mm, const Project& project) {
    return show_setting(degrees(std::atan(std::abs(run_mm) / width_mm)), project);
}

void add_board(const SectionPurchase& purchase, const CutBar& bar, std::size_t number, const std::vector<const Project*>& projects,
               std::string& page) {
    const Project& project = *projects.front();
    const BarOffer& offer = purchase.section.offers[bar.offer];
    page += fmt::format("\nLONG BOARD {}   {}, {}{}.   Left over: {}.\n", number, name_of(purchase, project),
                        offer.offcut ? "your own " : "", board_length(offer.length_mm, project), shown(bar.left_over_mm, project));
    page += fmt::format("  {}{}{}{}{}{}{}\n", padded("piece", kNameColumns), padded_before("from: far", kMarkColumns),
                        padded_before("near", kMarkColumns), padded_before("saw", 8), padded_before("to: far", kMarkColumns),
                        padded_before("near", kMarkColumns), padded_before("saw", 8));
    const std::vector<BarMarks> marks = bar_marks(purchase.section, bar);
    const double width = purchase.section.strip.width_mm;
    for (std::size_t i = 0; i < bar.pieces.size(); ++i) {
        const BarMarks& m = marks[i];
        std::string line = fmt::format(
            "  {}{}{}{}{}{}{}{}", padded(piece_name(purchase.names[bar.pieces[i].kind], projects), kNameColumns),
            padded_before(shown(m.left_upper_mm, project), kMarkColumns), padded_before(shown(m.left_lower_mm, project), kMarkColumns),
            padded_before(slope_of(m.left_upper_mm - m.left_lower_mm, width, project), 8),
            padded_before(shown(m.right_upper_mm, project), kMarkColumns), padded_before(shown(m.right_lower_mm, project), kMarkColumns),
            padded_before(slope_of(m.right_upper_mm - m.right_lower_mm, width, project), 8), turned_word(bar.pieces[i], project.lie));
        page += line + "\n";
    }
}

}  // namespace

std::string bought_words(const Buying& buying, const std::vector<const Project*>& projects) {
    if (!buying.has_offers()) return "";
    const Project& project = *projects.front();
    std::vector<std::string> items;
    std::string problems;
    double longest_rest = 0.0;
    for (const SectionPurchase& purchase : buying.sections) {
        if (planned(purchase.buy)) items.push_back(boards_words(purchase, project));
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
    std::string page;
    const std::string words = bought_words(buying, projects);
    if (words.empty()) return "No lengths on sale are given, so there is nothing to choose from: add \"lengths\" to the stock.\n";
    for (const std::string& line : wrapped("BUY.  " + words, kPageColumns)) page += line + "\n";
    for (std::size_t f = 0; f < projects.size() && projects.size() > 1; ++f) {
        page += fmt::format("{}  {}: {}\n", f == 0 ? "\nFOR " : "    ", f + 1, clean_text(projects[f]->title, 60));
    }
    std::size_t number = 0;
    for (const SectionPurchase& purchase : buying.sections) {
        for (const CutBar& bar : purchase.buy.bars) add_board(purchase, bar, ++number, projects, page);
    }
    if (number == 0) return page;
    page += fmt::format(
        "\nMarks in {}, measured from the left end of each long board as bought; none from its neighbour. Saw\n"
        "on the waste side; the saw cuts are counted in. Near is the edge towards you: the outside of a\n"
        "piece that is not turned. Cut from left to right, and check each board for splits and length before\n"
        "the first cut: one bad board changes the plan. Keep hands clear of the blade; your saw's own book\n"
        "comes first.\n",
        unit_words(projects.front()->unit));
    return page;
}

}  // namespace boardring
