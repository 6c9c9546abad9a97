#include "plan/buying_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "cutlist/grouping.hpp"

namespace boardring {
namespace {

/// A second opinion that only compares may be a quick one.
constexpr std::uint64_t kStepsOfBoxes = 2'000'000;

/// Left on a board that is brought to its section before its ends are sawn: 10 mm at each, common practice.
constexpr double kOverLongMm = 20.0;

/// A piece of the ring: inside is the strip's upper edge, the first corner lies at the left.
StripPiece strip_of(const Board& board, std::size_t count) {
    return {(board.inside_length_mm() + board.outside_length_mm()) / 2.0, board.ends[0].run_mm, -board.ends[1].run_mm, count};
}

StripPiece strip_of(const PieceAsked& piece, double width_mm) {
    const double left = width_mm * std::tan(radians(piece.left_saw_deg));
    const double right = width_mm * std::tan(radians(piece.right_saw_deg));
    const double inside = piece.length_mm - std::max(0.0, left) - std::max(0.0, right);
    return {inside + (left + right) / 2.0, left, -right, piece.count};
}

bool same_section(const Project& one, std::size_t stock, const Project& other, std::size_t other_stock) {
    const Stock& a = one.stock[stock];
    const Stock& b = other.stock[other_stock];
    return a.name == b.name && a.width_mm == b.width_mm && a.thickness_mm == b.thickness_mm && a.surface == b.surface && a.species == b.species &&
           a.grain == b.grain && a.end_trim_mm == b.end_trim_mm && one.lie == other.lie && one.tools.kerf_mm == other.tools.kerf_mm;
}

bool same_offer(const BarOffer& one, const BarOffer& other) {
    return one.length_mm == other.length_mm && one.price == other.price && one.count == other.count && one.offcut == other.offcut;
}

enum class Size { same, smaller, larger };

// Of a board against the section it is to be cut from; larger where either size is.
Size compare(double width_mm, double thickness_mm, const Stock& stock) {
    const double wider = width_mm - stock.width_mm, thicker = thickness_mm - stock.thickness_mm;
    if (std::max(wider, thicker) > kSameSectionMm) return Size::larger;
    return std::min(wider, thicker) < -kSameSectionMm ? Size::smaller : Size::same;
}

void add_offers(const Stock& stock, std::vector<BarOffer>& offers, std::size_t own_from) {
    for (const StockLength& length : stock.lengths) {
        const BarOffer offer{length.length_mm, length.price, length.count, length.offcut};
        const auto end = offers.begin() + static_cast<std::ptrdiff_t>(own_from);
        if (std::none_of(offers.begin(), end, [&](const BarOffer& o) { return same_offer(o, offer); })) offers.push_back(offer);
    }
}

class Collector {
public:
    explicit Collector(const std::vector<FrameToBuy>& frames) : frames_(frames) {}

    Buying collect() {
        for (std::size_t f = 0; f < frames_.size(); ++f) {
            std::vector<std::size_t> added;  // one stock may stand for several sections: boards measured, planed or ripped
            for (const SectionTotal& total : frames_[f].cut_list->sections) {
                if (!total.stock) continue;
                SectionPurchase& purchase = section_for(f, *total.stock);
                if (std::find(added.begin(), added.end(), *total.stock) == added.end()) add_stock(f, *total.stock, purchase);
                added.push_back(*total.stock);
                add_tests(f, total, purchase);
            }
        }
        for (SectionPurchase& one : buying_.sections) {
            const std::string& species = stock_of(one).species;
            const bool mistaken = std::any_of(buying_.sections.begin(), buying_.sections.end(), [&](const SectionPurchase& other) {
                return one.width_mm == other.width_mm && one.thickness_mm == other.thickness_mm && species != stock_of(other).species;
            });
            if (mistaken) one.wood = species;
        }
        return std::move(buying_);
    }

private:
    [[nodiscard]] const Stock& stock_of(const SectionPurchase& purchase) const {
        return frames_[purchase.frame].project->stock[purchase.stock];
    }

    SectionPurchase& section_for(std::size_t f, std::size_t stock) {
        const Project& project = *frames_[f].project;
        for (SectionPurchase& known : buying_.sections) {
            if (same_section(*frames_[known.frame].project, known.stock, project, stock)) return known;
        }
        const Stock& s = project.stock[stock];
        SectionPurchase fresh;
        fresh.frame = f;
        fresh.stock = stock;
        fresh.width_mm = s.width_mm;
        fresh.thickness_mm = s.thickness_mm;
        fresh.section.strip.width_mm = project.lie == Lie::flat ? s.width_mm : s.thickness_mm;
        fresh.section.strip.kerf_mm = project.tools.kerf_mm;
        fresh.section.strip.turnings = allowed_turnings(s.surface, project.lie);
        fresh.section.end_trim_mm = s.end_trim_mm;
        buying_.sections.push_back(std::move(fresh));
        return buying_.sections.back();
    }

    void add_stock(std::size_t f, std::size_t stock, SectionPurchase& purchase) {
        const FrameToBuy& job = frames_[f];
        add_offers(job.project->stock[stock], purchase.section.offers, purchase.section.offers.size());
        for (const PieceGroup& group : job.cut_list->groups) {
            if (!group.members.empty() && job.project->boards[group.members.front().board].stock == stock) add_group(f, group, purchase);
        }
        for (std::size_t p = 0; p < job.project->pieces.size(); ++p) {
            const PieceAsked& asked = job.project->pieces[p];
            if (asked.stock != stock) continue;
            StripPiece piece = strip_of(asked, purchase.section.strip.width_mm);
            piece.count = job.project->of_piece(asked);
            add(purchase, piece, {BoughtPiece::What::extra, f, {}, p, {std::abs(asked.left_saw_deg), std::abs(asked.right_saw_deg)}});
        }
        const PieceGroup* const spared = group_to_spare(job.cut_list->groups);
        if (spared != nullptr && job.project->boards[spared->members.front().board].stock == stock) {
            const std::size_t board = spared->members.front().board;
            add_board(purchase, board, job.project->wanted.spares, 0.0, {BoughtPiece::What::spare, f, {board}, 0});
        }
    }

    void add_tests(std::size_t f, const SectionTotal& total, SectionPurchase& purchase) {
        const FrameToBuy& job = frames_[f];
        const bool larger = compare(total.width_mm, total.thickness_mm, job.project->stock[*total.stock]) == Size::larger;
        if (total.test_pieces == 0 || larger) return;
        // The same two serve every copy. test_mm holds both saw cuts of each; one of them is the cut between two pieces, which the bar
        // counts itself.
        const double length = total.test_mm / static_cast<double>(total.test_pieces) - job.project->tools.kerf_mm;
        add(purchase, {length, 0.0, 0.0, total.test_pieces}, {BoughtPiece::What::test, f, {}, 0});
    }

    // A board of the ring, `count` times, `long_mm` over its length.
    void add_board(SectionPurchase& purchase, std::size_t board, std::size_t count, double long_mm, BoughtPiece name) {
        const FrameToBuy& job = frames_[name.frame];
        const BoardAsked& asked = job.project->boards[board];
        const Board& made = job.frame->boards[board];
        name.saw_deg = {std::abs(made.ends[0].saw_deg), std::abs(made.ends[1].saw_deg)};
        switch (compare(asked.width_mm, asked.thickness_mm, job.project->stock[*asked.stock])) {
            case Size::same: {
                StripPiece piece = strip_of(made, count);
                piece.length_mm += long_mm;
                add(purchase, piece, std::move(name));
                break;
            }
            case Size::smaller: {
                const double rough_mm = long_point_mm(made) + long_mm + kOverLongMm;
                name.saw_deg = {};
                name.rough = true;
                add(purchase, {rough_mm, 0.0, 0.0, count}, std::move(name));
                break;
            }
            case Size::larger:
                if (count > 0) purchase.too_large.push_back(std::move(name));
                break;
        }
    }

    void add_group(std::size_t f, const PieceGroup& group, SectionPurchase& purchase) {
        const FrameToBuy& job = frames_[f];
        const Wanted& wanted = job.project->wanted;
        const std::size_t fit_last = wanted.fit_last.value_or(job.frame->boards.size() - 1);
        std::vector<std::size_t> alike;
        for (const GroupMember& member : group.members) {
            if (member.board == fit_last && wanted.leave_long_mm > 0.0) {
                add_board(purchase, fit_last, job.project->of_each_board(), wanted.leave_long_mm, {BoughtPiece::What::board, f, {fit_last}, 0});
            } else {
                alike.push_back(member.board);
            }
        }
        if (alike.empty()) return;
        const std::size_t count = alike.size() * job.project->of_each_board();
        add_board(purchase, group.members.front().board, count, 0.0, {BoughtPiece::What::board, f, alike, 0});
    }

    static void add(SectionPurchase& purchase, const StripPiece& piece, BoughtPiece name) {
        if (piece.count == 0) return;
        purchase.section.pieces.push_back(piece);
        purchase.names.push_back(std::move(name));
    }

    const std::vector<FrameToBuy>& frames_;
    Buying buying_;
};

/// Every piece as the box round its long points.
std::optional<double> price_as_boxes(const SectionPurchase& purchase, const BuyingLimits& limits) {
    BuyingSection boxes = purchase.section;
    bool slanted = false;
    for (StripPiece& piece : boxes.pieces) {
        slanted = slanted || piece.left_run_mm != 0.0 || piece.right_run_mm != 0.0;
        piece.length_mm += (std::abs(piece.left_run_mm) + std::abs(piece.right_run_mm)) / 2.0;
        piece.left_run_mm = piece.right_run_mm = 0.0;
    }
    if (!slanted) return std::nullopt;
    const SectionBuy buy = buy_section(boxes, {kStepsOfBoxes, limits.most_listed, true, limits.keep_going, {}});
    if (buy.outcome != BuyingOutcome::cheapest) return std::nullopt;
    return buy.price;
}

}  // namespace

Buying plan_buying(const std::vector<FrameToBuy>& frames, const BuyingLimits& limits) {
    Buying buying = Collector(frames).collect();
    for (SectionPurchase& purchase : buying.sections) {
        purchase.buy = buy_section(purchase.section, limits);
        if (!purchase.buy.bars.empty()) purchase.as_boxes = price_as_boxes(purchase, limits);
    }
    return buying;
}

}  // namespace boardring
