#include "report/full_size.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "drawing/tiles.hpp"
#include "report/drawing_parts.hpp"
#include "report/piece_as_drawn.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

// Sizes on the paper, which are sizes of the wood [mm].
constexpr double kHeadMm = 38.0;     // title and advice at the top of a sheet
constexpr double kBarsMm = 18.0;     // check bars along the left and the foot
constexpr Vec2 kRoom{kPaperShortMm - kBarsMm, kPaperLongMm - kHeadMm - kBarsMm};
constexpr double kBetweenMm = 7.0;   // items
constexpr double kArmMm = 100.0;     // of a wedge along the saw line
constexpr double kBlockMm = 62.0;    // arms of a corner block, shorter where it is too wide
constexpr double kWasteMm = 12.0;
constexpr double kWoodMm = 25.0;     // of board beyond an end's deepest mark
constexpr double kWordsMm = 58.0;    // room for words beside or below
constexpr double kOverlapMm = 10.0;
constexpr std::size_t kMostTiles = 9;
constexpr double kSameDeg = 0.005;

// Something drawn with its lower left corner at (0, 0).
struct Item {
    Drawing drawing;
    Vec2 size;
};

void line(Item& item, Pen pen, Vec2 a, Vec2 b) {
    item.drawing.strokes.push_back({pen, {a, b}, false});
}

void words(Item& item, Vec2 at, const std::vector<std::string>& lines, double width) {
    TextColumn column(item.drawing, at, width);
    for (const std::string& text : lines) column.text(text, text == lines.front() ? kNumberMm : kBodyMm, text == lines.front(), 0.0, 4);
}

// --- what is distinct ---------------------------------------------------------------------------------------------------

struct Slope {
    double away_deg = 0.0;
    std::vector<std::string> ends;
    std::size_t cuts = 0;
};

std::string end_name(const Frame& frame, std::size_t board, std::size_t end) {
    return board_number(board) + corner_letter(frame.boards[board].ends[end].corner);
}

std::vector<Slope> slopes_of(const Plan& plan) {
    std::vector<Slope> slopes;
    for (std::size_t k = 0; k < plan.frame->boards.size(); ++k) {
        for (std::size_t e = 0; e < 2; ++e) {
            const double away = std::abs(plan.frame->boards[k].ends[e].saw_deg);
            if (away < kSameDeg) continue;
            const auto same = std::find_if(slopes.begin(), slopes.end(), [&](const Slope& s) { return std::abs(s.away_deg - away) < kSameDeg; });
            Slope& slope = same != slopes.end() ? *same : slopes.emplace_back(Slope{away, {}, 0});
            slope.ends.push_back(end_name(*plan.frame, k, e));
        }
    }
    std::sort(slopes.begin(), slopes.end(), [](const Slope& a, const Slope& b) { return a.away_deg < b.away_deg; });
    return slopes;
}

std::string listed(const std::vector<std::string>& names) {
    constexpr std::size_t kMost = 12;
    if (names.size() <= kMost) return and_list(names);
    return fmt::format("{} and {} more", joined({names.begin(), names.begin() + kMost}, ", "), names.size() - kMost);
}

// --- wedges and blocks ----------------------------------------------------------------------------------------------------

// The right-angled wedge under the saw line: E at the edge, S at the top; the dashed side is square to the edge.
Item wedge(const Slope& slope, const Project& project) {
    const double run = kArmMm * sin_deg(slope.away_deg), height = kArmMm * cos_deg(slope.away_deg);
    Item item;
    item.drawing.scale = 1.0;
    const Vec2 foot{0.0, 2.0}, top{run, height + 2.0};
    item.drawing.regions.push_back({Fill::wood, {foot, {run, 2.0}, top}});
    line(item, Pen::outline, foot, {run + 30.0, 2.0});
    line(item, Pen::hidden, {run, 2.0}, top);
    line(item, Pen::cut, foot, top);
    const double left = run + 4.0;
    const std::string big = show_setting(slope.away_deg, project);
    words(item, {left, std::max(height, 34.0) + 2.0},
          {"Set " + big, fmt::format("S {} from square, E {} from the edge.", show_angle(slope.away_deg, 2), show_angle(90.0 - slope.away_deg, 2)),
           "Ends " + listed(slope.ends) + "."},
          kWordsMm);
    item.size = {std::max(left + kWordsMm, run + 30.0), std::max(height, 34.0) + 3.0};
    return item;
}

struct Block {
    double deg = 0.0;
    std::vector<std::string> letters;
    bool inward = false;
};

std::vector<Block> blocks_of(const Plan& plan) {
    std::vector<Block> blocks;
    for (const Joint& joint : plan.frame->joints) {
        const double turn = 180.0 - joint.interior_deg;
        if (std::abs(turn) < kSameDeg) continue;
        const Block block{180.0 - std::abs(turn), {}, turn < 0.0};
        const auto same = std::find_if(blocks.begin(), blocks.end(),
                                       [&](const Block& b) { return b.inward == block.inward && std::abs(b.deg - block.deg) < kSameDeg; });
        (same != blocks.end() ? *same : blocks.emplace_back(block)).letters.push_back(corner_letter(joint.corner));
    }
    std::sort(blocks.begin(), blocks.end(), [](const Block& a, const Block& b) { return a.deg < b.deg; });
    return blocks;
}

// A corner block: the two faces of the boards it is pushed against are the wide lines.
Item corner_block(const Block& block) {
    const double arm = std::min(kBlockMm, (kRoom.x - kWordsMm - 6.0) / (1.0 + std::max(0.0, -cos_deg(block.deg))));
    const double back = std::max(0.0, -arm * cos_deg(block.deg));
    const Vec2 vertex{back, 2.0}, along{back + arm, 2.0};
    const Vec2 other = vertex + arm * unit_deg(block.deg);
    Item item;
    item.drawing.scale = 1.0;
    item.drawing.regions.push_back({Fill::wood, {vertex, along, other}});
    line(item, Pen::thin, along, other);
    item.drawing.strokes.push_back({Pen::outline, {other, vertex, along}, false});
    const double left = back + arm + 4.0, top = std::max(other.y, 24.0);
    words(item, {left, top},
          {"Block " + show_angle(block.deg, 2), fmt::format("For {}, {} the ring.", listed(block.letters),
                                                            block.inward ? "outside" : "inside")},
          kWordsMm);
    item.size = {left + kWordsMm, top + 1.0};
    return item;
}

// --- ends, mark for mark ----------------------------------------------------------------------------------------------------

struct DistinctEnd {
    EndAsDrawn end;
    bool left = true;
    double width_mm = 0.0;
    std::vector<std::string> names;
};

bool same_end(const DistinctEnd& a, const DistinctEnd& b) {
    const auto lap = [](const DistinctEnd& d) { return d.end.lap ? d.end.lap->depth_mm : 0.0; };
    return a.left == b.left && std::abs(a.end.saw_deg - b.end.saw_deg) < kSameDeg && std::abs(a.width_mm - b.width_mm) < 1e-6 &&
           std::abs(lap(a) - lap(b)) < 1e-6 && std::abs(a.end.deepest(a.left) - a.end.long_mark(a.left) -
                                                        (b.end.deepest(b.left) - b.end.long_mark(b.left))) < 1e-6;
}

std::vector<DistinctEnd> ends_of(const Plan& plan) {
    std::vector<DistinctEnd> ends;
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
        const PieceAsDrawn piece = piece_as_drawn(plan, g);
        for (const bool left : {true, false}) {
            const EndAsDrawn& end = piece.ends[left ? 0 : 1];
            if (std::abs(end.saw_deg) < kSameDeg && !end.lap) continue;
            const DistinctEnd found{end, left, end.width_mm, {}};
            const auto same = std::find_if(ends.begin(), ends.end(), [&](const DistinctEnd& e) { return same_end(e, found); });
            DistinctEnd& kept = same != ends.end() ? *same : ends.emplace_back(found);
            if (end.names.empty()) kept.names.push_back(piece.heading);
            kept.names.insert(kept.names.end(), end.names.begin(), end.names.end());
        }
    }
    return ends;
}

Item end_item(const DistinctEnd& distinct) {
    const EndAsDrawn& e = distinct.end;
    // Distances into the board from the far tip, turned so that a right end lies at the right.
    const double far = e.long_mark(distinct.left), deep = std::abs(e.deepest(distinct.left) - far);
    const double whole = kWasteMm + deep + kWoodMm;
    const std::string names = listed(distinct.names), side = distinct.left ? "left end" : "right end";
    const double width = std::max(whole, kWordsMm);
    const std::size_t lines = wrapped_text(names, width, kBodyMm, false).size();
    const double words_mm = 3.0 + 1.6 * (kNumberMm + static_cast<double>(std::min<std::size_t>(lines, 3)) * kBodyMm);
    const double low = words_mm, high = words_mm + distinct.width_mm;
    const auto x = [&](double mark) { return distinct.left ? kWasteMm + (mark - far) : whole - kWasteMm + (mark - far); };
    const double waste_x = distinct.left ? 0.0 : whole, wood_x = distinct.left ? whole : 0.0;
    Item item;
    item.drawing.scale = 1.0;
    item.size = {width, high + 1.0};
    const Vec2 outer{x(e.outside_mm), low}, inner{x(e.inside_mm), high};
    item.drawing.regions.push_back({Fill::wood, {outer, {wood_x, low}, {wood_x, high}, inner}});
    item.drawing.regions.push_back({Fill::waste, {outer, {waste_x, low}, {waste_x, high}, inner}});
    line(item, Pen::outline, {0.0, low}, {whole, low});
    line(item, Pen::outline, {0.0, high}, {whole, high});
    line(item, Pen::hidden, {x(e.short_mark(distinct.left)), low}, {x(e.short_mark(distinct.left)), high});
    if (e.lap) line(item, e.lap->keeps_upper ? Pen::hidden : Pen::outline, {x(e.lap->outside_mm), low}, {x(e.lap->inside_mm), high});
    line(item, Pen::cut, outer, inner);
    words(item, {0.0, words_mm - 1.5}, {capital(side), names}, width);
    return item;
}

// --- sheets -----------------------------------------------------------------------------------------------------------------

void check_bar(Drawing& sheet, Vec2 from, Vec2 along, double length_mm, const std::string& name) {
    const Vec2 to = from + length_mm * along, tick = 1.5 * left_of(along);
    sheet.strokes.push_back({Pen::thin, {from, to}, false});
    for (const Vec2 end : {from, to}) sheet.strokes.push_back({Pen::thin, {end - tick, end + tick}, false});
    const double turn = direction_deg(along);
    sheet.labels.push_back({from + 0.5 * length_mm * along + 2.4 * left_of(along), name, kSmallMm, turn, Align::centre, false});
}

Drawing empty_sheet(const Plan& plan, const std::string& what, const std::string& how) {
    Drawing sheet;
    sheet.title = fmt::format("{}: full size", plan.project.title);
    sheet.describes = "Angles and ends at full size, with bars to check the print.";
    sheet.page_high = {kPaperShortMm, kPaperLongMm};
    TextColumn column(sheet, {0.0, kPaperLongMm - 1.0}, kPaperShortMm);
    column.text(capital(what) + " - " + plan.project.title, kNumberMm, true, 0.0, 1);
    column.text("Print at 100 %, not fitted to the page. Check the bars first. Paper is for angles and short offsets; lengths come from the rule.", kBodyMm,
                false, 0.0, 2);
    column.text(how, kBodyMm, false, 0.0, 3);
    check_bar(sheet, {kBarsMm, 2.0}, {1.0, 0.0}, 100.0, "100 mm");
    check_bar(sheet, {kBarsMm, 9.0}, {1.0, 0.0}, 101.6, "4 in");
    check_bar(sheet, {5.5, kBarsMm}, {0.0, 1.0}, 100.0, "100 mm");
    check_bar(sheet, {12.5, kBarsMm}, {0.0, 1.0}, 101.6, "4 in");
    return sheet;
}

void put(Drawing& sheet, const Drawing& part) {
    sheet.regions.insert(sheet.regions.end(), part.regions.begin(), part.regions.end());
    sheet.strokes.insert(sheet.strokes.end(), part.strokes.begin(), part.strokes.end());
    sheet.circles.insert(sheet.circles.end(), part.circles.begin(), part.circles.end());
    sheet.labels.insert(sheet.labels.end(), part.labels.begin(), part.labels.end());
}

// Items side by side in rows, rows from the top, as many sheets as it takes.
void lay_out(const Plan& plan, const std::string& what, const std::string& how, const std::vector<Item>& items, std::vector<Drawing>& sheets) {
    constexpr double kAll = 1e9;
    bool open = false;
    double x = 0.0, top = 0.0, row = 0.0;
    for (const Item& item : items) {
        if (open && x > 0.0 && x + item.size.x > kRoom.x) {
            top -= row + kBetweenMm;
            x = row = 0.0;
        }
        if (!open || top - item.size.y < 0.0) {
            sheets.push_back(empty_sheet(plan, what, how));
            open = true;
            x = row = 0.0;
            top = kRoom.y;
        }
        put(sheets.back(), cut_out(item.drawing, {-kAll, -kAll}, {kAll, kAll}, {kBarsMm + x, kBarsMm + top - item.size.y}));
        x += item.size.x + kBetweenMm;
        row = std::max(row, item.size.y);
    }
}

void cross(Drawing& sheet, Vec2 at) {
    sheet.strokes.push_back({Pen::thin, {at - Vec2{3.0, 0.0}, at + Vec2{3.0, 0.0}}, false});
    sheet.strokes.push_back({Pen::thin, {at - Vec2{0.0, 3.0}, at + Vec2{0.0, 3.0}}, false});
}

// One item over several sheets. A cross stands in the middle of every overlap's ends, on both sheets.
void lay_tiles(const Plan& plan, const std::string& what, const std::string& how, const Item& item, std::vector<Drawing>& sheets) {
    const std::vector<Vec2> corners = tile_corners(item.size, kRoom, kOverlapMm);
    std::vector<Vec2> crosses;
    for (const Vec2 a : corners) {
        for (const Vec2 b : corners) {
            const Vec2 low{std::max(a.x, b.x), std::max(a.y, b.y)};
            const Vec2 high{std::min({a.x + kRoom.x, b.x + kRoom.x, item.size.x}), std::min({a.y + kRoom.y, b.y + kRoom.y, item.size.y})};
            if (a == b || low.x > high.x || low.y > high.y) continue;
            if (a.y == b.y) crosses.insert(crosses.end(), {{0.5 * (low.x + high.x), low.y + 5.0}, {0.5 * (low.x + high.x), high.y - 5.0}});
            if (a.x == b.x) crosses.insert(crosses.end(), {{low.x + 5.0, 0.5 * (low.y + high.y)}, {high.x - 5.0, 0.5 * (low.y + high.y)}});
        }
    }
    Drawing whole = item.drawing;
    for (const Vec2 at : crosses) cross(whole, at);
    for (std::size_t i = 0; i < corners.size(); ++i) {
        Drawing sheet = empty_sheet(plan, what, fmt::format("Sheet {} of {}: lay cross on cross. ", i + 1, corners.size()) + how);
        put(sheet, cut_out(whole, corners[i], corners[i] + kRoom, Vec2{kBarsMm, kBarsMm} - corners[i]));
        sheets.push_back(std::move(sheet));
    }
}

}  // namespace

std::vector<Drawing> draw_full_size(const Plan& plan) {
    std::vector<Drawing> sheets;
    std::vector<Item> angles;
    for (const Slope& slope : slopes_of(plan)) angles.push_back(wedge(slope, plan.project));
    for (const Block& block : blocks_of(plan)) angles.push_back(corner_block(block));
    lay_out(plan, "angles at full size", "Wedges: set the bevel between the wide line, the board's edge, and the widest, the saw line. Blocks: clamp over them, wide lines "
            "against the boards.",
            angles, sheets);

    std::vector<Item> small;
    std::vector<std::pair<std::string, Item>> large;
    for (const DistinctEnd& end : ends_of(plan)) {
        Item item = end_item(end);
        if (item.size.x <= kRoom.x && item.size.y <= kRoom.y) {
            small.push_back(std::move(item));
        } else if (tile_corners(item.size, kRoom, kOverlapMm).size() <= kMostTiles) {
            large.emplace_back(fmt::format("end {} at full size", end.names.front()), std::move(item));
        }
    }
    const std::string how = fmt::format("They lie as on the bench: {}, outside below. Hatched: waste. Line the lower edge up with the board's.",
                                        plan.project.lie == Lie::flat ? "show face up" : "top edge up");
    lay_out(plan, "ends at full size", how, small, sheets);
    for (const auto& [what, item] : large) lay_tiles(plan, what, how, item, sheets);
    return sheets;
}

}  // namespace boardring
