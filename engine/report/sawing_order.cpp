#include "report/sawing_order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "base/names.hpp"
#include "report/shopping_list.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kNameColumns = 22;
constexpr std::size_t kMarkColumns = 10;
constexpr std::size_t kSawColumns = 8;
constexpr std::size_t kMostName = 20;
constexpr Turning kTurnings[] = {Turning::end_for_end, Turning::edge_for_edge, Turning::top_to_bottom};

// The turning in a word or three, for a column.
const char* turned_word(Turning turning, Lie lie) {
    const bool flat = lie == Lie::flat;
    switch (turning) {
        case Turning::as_first: return "";
        case Turning::top_to_bottom: return flat ? "over end for end" : "upside down";
        case Turning::edge_for_edge: return flat ? "over edge for edge" : "face for face";
        case Turning::end_for_end: return "round";
    }
    return "";
}

std::string piece_name(const BoughtPiece& name, const std::vector<const Project*>& projects) {
    std::string words;
    switch (name.what) {
        case BoughtPiece::What::board:
            words = "board " + board_list(name.boards);
            if (const std::size_t last = words.rfind(" and "); last != std::string::npos) words.replace(last, 5, " or ");
            break;
        case BoughtPiece::What::spare: words = fmt::format("spare for {}", board_list(name.boards)); break;
        case BoughtPiece::What::extra: words = clean_text(projects[name.frame]->pieces[name.extra].name, kMostName); break;
        case BoughtPiece::What::test: words = "test piece"; break;
    }
    if (name.rough) words += ", rough";
    return projects.size() > 1 ? fmt::format("{}: {}", name.frame + 1, words) : words;
}

// The slope of a cut as the saw is set, and which way it leans: / goes right as it goes away from you.
std::string slope_of(double run_mm, double away_deg, const Project& project) {
    const char* lean = shown_away_deg(away_deg, project) == 0.0 ? " |" : run_mm > 0.0 ? " /" : " \\";
    return show_setting(away_deg, project) + lean;
}

bool sawn_alike(const CutBar& one, const CutBar& other) {
    return one.offer == other.offer &&
           std::equal(one.pieces.begin(), one.pieces.end(), other.pieces.begin(), other.pieces.end(),
                      [](const PlacedPiece& a, const PlacedPiece& b) { return a.kind == b.kind && a.turning == b.turning; });
}

void add_table(const SawnBoards& boards, const std::vector<const Project*>& projects, std::vector<std::string>& lines) {
    const Project& project = *projects[boards.purchase->frame];
    if (!lines.empty()) lines.emplace_back();
    for (const std::string& line : wrapped(sawn_heading(boards) + "   " + sawn_subject(boards, project), kPageColumns)) lines.push_back(line);
    const std::vector<SawnPiece> pieces = sawn_pieces(boards, projects);
    std::size_t marks = kMarkColumns, turned = 0;
    for (const SawnPiece& p : pieces) {
        for (const std::string* mark : {&p.left_far, &p.left_near, &p.right_far, &p.right_near}) marks = std::max(marks, columns_of(*mark) + 1);
        if (!p.turned.empty()) turned = std::max({turned, columns_of(p.turned), columns_of("turned")});
    }
    const std::size_t taken = 2 + 4 * marks + 2 * kSawColumns + 2 + turned;
    const std::size_t name = std::min(kNameColumns, kPageColumns - taken);
    const auto row = [&](const SawnPiece& p) {
        std::string line = "  " + padded(clean_text(p.name, name - 1), name) + padded_before(p.left_far, marks) + padded_before(p.left_near, marks) +
                           padded_before(p.left_saw, kSawColumns) + padded_before(p.right_far, marks) + padded_before(p.right_near, marks) +
                           padded_before(p.right_saw, kSawColumns);
        lines.push_back(p.turned.empty() ? line.substr(0, line.find_last_not_of(' ') + 1) : line + "  " + p.turned);
    };
    row({"piece", "from: far", "near", "saw  ", "to: far", "near", "saw  ", turned > 0 ? "turned" : ""});
    for (const SawnPiece& piece : pieces) row(piece);
}

}  // namespace

std::vector<SawnBoards> sawn_boards(const Buying& buying) {
    std::vector<SawnBoards> all;
    std::size_t number = 0;
    for (const SectionPurchase& purchase : buying.sections) {
        const std::size_t first = all.size();
        for (std::size_t b = 0; b < purchase.buy.bars.size(); ++b) {
            const auto alike = std::find_if(all.begin() + static_cast<std::ptrdiff_t>(first), all.end(), [&](const SawnBoards& boards) {
                return sawn_alike(purchase.buy.bars[boards.bar], purchase.buy.bars[b]);
            });
            if (alike != all.end()) {
                alike->numbers.push_back(number++);
            } else {
                all.push_back({&purchase, b, {number++}});
            }
        }
    }
    return all;
}

std::vector<SawnPiece> sawn_pieces(const SawnBoards& boards, const std::vector<const Project*>& projects) {
    const SectionPurchase& purchase = *boards.purchase;
    const Project& project = *projects[purchase.frame];
    const CutBar& bar = purchase.buy.bars[boards.bar];
    const std::vector<BarMarks> marks = bar_marks(purchase.section, bar);
    std::vector<SawnPiece> pieces;
    for (std::size_t i = 0; i < bar.pieces.size(); ++i) {
        const BarMarks& m = marks[i];
        const BoughtPiece& name = purchase.names[bar.pieces[i].kind];
        const Turning turning = bar.pieces[i].turning;
        const bool swapped = turning == Turning::end_for_end || turning == Turning::top_to_bottom;
        pieces.push_back({piece_name(name, projects), shown(m.left_upper_mm, project), shown(m.left_lower_mm, project),
                          slope_of(m.left_upper_mm - m.left_lower_mm, name.saw_deg[swapped ? 1 : 0], project), shown(m.right_upper_mm, project),
                          shown(m.right_lower_mm, project), slope_of(m.right_upper_mm - m.right_lower_mm, name.saw_deg[swapped ? 0 : 1], project),
                          turned_word(turning, project.lie)});
    }
    return pieces;
}

std::string sawn_heading(const SawnBoards& boards) {
    const std::string list = board_list(boards.numbers);  // before the question: GCC 14 warns of a copy whose length it thinks it knows
    return boards.numbers.size() == 1 ? fmt::format("LONG BOARD {}", list) : fmt::format("LONG BOARDS {} (sawn alike)", list);
}

std::string sawn_subject(const SawnBoards& boards, const Project& project) {
    const CutBar& bar = boards.purchase->buy.bars[boards.bar];
    const BarOffer& offer = boards.purchase->section.offers[bar.offer];
    return fmt::format("{}, {}{}. Left over: {}.", section_words(*boards.purchase, project), offer.offcut ? "your own " : "",
                       board_length(offer.length_mm, project), shown(bar.left_over_mm, project));
}

std::vector<std::string> pieces_legend(const std::vector<SawnBoards>& boards, const std::vector<const Project*>& projects) {
    std::vector<std::string> legend;
    for (const Lie lie : {Lie::flat, Lie::on_edge}) {
        for (const Turning turning : kTurnings) {
            const bool used = std::any_of(boards.begin(), boards.end(), [&](const SawnBoards& some) {
                const std::vector<PlacedPiece>& pieces = some.purchase->buy.bars[some.bar].pieces;
                return projects[some.purchase->frame]->lie == lie &&
                       std::any_of(pieces.begin(), pieces.end(), [&](const PlacedPiece& p) { return p.turning == turning; });
            });
            if (!used) continue;
            switch (turning) {
                case Turning::as_first: break;
                case Turning::end_for_end: legend.emplace_back("Round: its outside lies away from you, the other end at the left."); break;
                case Turning::edge_for_edge:
                    legend.push_back(lie == Lie::flat ? "Over edge for edge: its show face lies down, its outside away from you."
                                                      : "Face for face: its outside lies away from you, its top edge down.");
                    break;
                case Turning::top_to_bottom:
                    legend.push_back(lie == Lie::flat ? "Over end for end: its show face lies down, the other end at the left."
                                                      : "Upside down: its top edge lies down, the other end at the left.");
                    break;
            }
        }
    }
    const bool rough = std::any_of(boards.begin(), boards.end(), [](const SawnBoards& some) {
        const std::vector<PlacedPiece>& pieces = some.purchase->buy.bars[some.bar].pieces;
        return std::any_of(pieces.begin(), pieces.end(), [&](const PlacedPiece& p) { return some.purchase->names[p.kind].rough; });
    });
    if (rough) legend.emplace_back("Rough: over-long; bring it to its own size first, then saw its ends as its card says.");
    return legend;
}

std::string how_to_saw(const std::vector<SawnBoards>& boards, const std::vector<const Project*>& projects) {
    const bool on_edge = projects.front()->lie == Lie::on_edge;
    std::string words = fmt::format(
        "Marks in {}, from the left end of each long board as bought; none from its neighbour; the saw cuts are counted in. Near is the edge "
        "towards you, the outside of a piece that is not turned. / and \\ are cuts as seen from above; if your saw {} one way only, turn the long "
        "board {} for the other kind.",
        unit_words(projects.front()->unit), on_edge ? "tilts" : "swings", on_edge ? "end for end, the same face up," : "over");
    for (const std::string& told : pieces_legend(boards, projects)) words += " " + told;
    return words + " Cut from left to right, on the waste side. Look each board over for splits and measure it before the first cut: one bad board "
                   "changes the plan. Keep hands clear of the blade; your saw's own book comes first.";
}

std::vector<std::string> sawing_order_lines(const Buying& buying, const std::vector<const Project*>& projects) {
    const std::vector<SawnBoards> boards = sawn_boards(buying);
    if (boards.empty()) return {};
    std::vector<std::string> lines;
    for (const SawnBoards& some : boards) add_table(some, projects, lines);
    lines.emplace_back();
    for (const std::string& line : wrapped(how_to_saw(boards, projects), kPageColumns)) lines.push_back(line);
    return lines;
}

}  // namespace boardring
