#include "report/board_card_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <vector>

#include "report/wording.hpp"

namespace boardring {
namespace {

class CardText {
public:
    explicit CardText(BoardCanvas& card) : card_(card) {}

    void write(const std::string& ring_title) {
        const double width = mm(kPaperShortMm - 2.0 * kMarginMm);
        const double left = 0.5 * card_.last() - 0.5 * width;
        const double top = write_head(left, width, ring_title);
        const double bottom = write_foot(left, width);
        card_.paper.drawing.page_low = {left - mm(kMarginMm), bottom - mm(kMarginMm)};
        card_.paper.drawing.page_high = {left + width + mm(kMarginMm), top + mm(kMarginMm)};
    }

private:
    [[nodiscard]] double mm(double paper) const { return card_.mm(paper); }

    // Written once below zero, then lifted above the drawing.
    double write_head(double left, double width, const std::string& ring_title) {
        const std::size_t first = card_.paper.drawing.labels.size();
        TextColumn head(card_.paper.drawing, {left, 0.0}, width);
        head.text(card_.piece.heading, kNumberMm, true, 0.0, 2);
        if (!ring_title.empty()) head.text(ring_title, kBodyMm, false, 0.0, 1);
        for (const std::string& line : card_.piece.lines) head.text(line, kBodyMm, false);
        for (const std::string& line : card_.piece.cautions) head.text(line, kBodyMm, true);
        head.text(posture_words(card_.project.lie), kBodyMm, true);
        const double top = card_.paper.extent.high.y + mm(3.0) - head.at().y;
        for (std::size_t i = first; i < card_.paper.drawing.labels.size(); ++i) card_.paper.drawing.labels[i].at.y += top;
        return top;
    }

    double write_foot(double left, double width) {
        const double start = card_.paper.extent.low.y - mm(3.0);
        const double half = 0.5 * width - mm(2.0);
        double bottom = start;
        for (const bool is_left : {true, false}) {
            const double column_left = is_left ? left : left + half + mm(4.0);
            bottom = std::min(bottom, write_end(is_left, {column_left, start}, half));
        }
        card_.paper.drawing.strokes.push_back(
            {Pen::thin, {{left + half + mm(1.5), start}, {left + half + mm(1.5), bottom + mm(2.0)}}, false});
        TextColumn foot(card_.paper.drawing, {left, bottom - mm(2.0)}, width);
        const Vec2 sample = foot.at() - Vec2{0.0, mm(0.5 * kBodyMm)};
        const std::vector<Vec2> hatch{sample + Vec2{0.0, -mm(1.8)}, sample + Vec2{mm(9.0), -mm(1.8)},
                                      sample + Vec2{mm(9.0), mm(1.8)}, sample + Vec2{0.0, mm(1.8)}};
        card_.paper.drawing.regions.push_back({Fill::waste, hatch});
        card_.paper.drawing.strokes.push_back({Pen::thin, hatch, true});
        foot.text("waste. Trim the rough end, then mark all from the datum.", kBodyMm, false, 12.0);
        foot.text(fmt::format("Scale {}, true angles{}. Mark by the numbers.", card_.scale.text, card_.gap.any ? ", middle left out" : ""),
                  kBodyMm, false);
        return write_ticks(foot, left, width);
    }

    double write_end(bool is_left, Vec2 top, double width) {
        const EndAsDrawn& e = card_.end(is_left);
        TextColumn column(card_.paper.drawing, top, width);
        const std::string side = is_left ? "Left end" : "Right end";
        column.text(side + (e.letter.empty() ? "" : " " + e.letter) + (e.inward ? ", IN-CORNER" : ""), kBodyMm, true);
        column.space(1.0);
        // The number for the maker's own scale is the big one.
        const std::string setting = show_setting(e.saw_deg, card_.project);
        const double number = text_width(setting, true) * kBigMm;
        const Vec2 beside = column.at() + Vec2{mm(number + 2.5), -mm(0.5 * kBigMm)};
        column.text(setting, kBigMm, true);
        card_.paper.drawing.labels.push_back(
            {beside, e.within_saw ? "on your saw's scale" : "beyond your saw", mm(kBodyMm), 0.0, Align::left, !e.within_saw});
        for (const std::string& line : e.lines) column.text(line, kBodyMm, false);
        return column.at().y;
    }

    // A box to tick for every piece, and a place for what it came out as.
    double write_ticks(TextColumn& foot, double left, double width) {
        constexpr std::size_t kMostBoxes = 12;
        foot.space(2.5);
        const double box = mm(5.0);
        const Vec2 start = foot.at();
        double x = left;
        for (std::size_t i = 0; card_.piece.count <= kMostBoxes && i < card_.piece.count; ++i) {
            card_.paper.drawing.strokes.push_back(
                {Pen::thin, {{x, start.y - box}, {x + box, start.y - box}, {x + box, start.y}, {x, start.y}}, true});
            x += mm(7.5);
        }
        const std::string words =
            card_.piece.count <= kMostBoxes ? "made. Measured, long points:" : fmt::format("Made, of {}:", card_.piece.count);
        card_.paper.drawing.labels.push_back({{x, start.y - 0.5 * box}, words, mm(kBodyMm), 0.0, Align::left, false});
        const double line = x + text_width(words, false) * mm(kBodyMm) + mm(2.0);
        if (line < left + width - mm(15.0))
            card_.paper.drawing.strokes.push_back({Pen::thin, {{line, start.y - box}, {left + width, start.y - box}}, false});
        return start.y - box;
    }

    BoardCanvas& card_;
};

}  // namespace

void write_card_text(BoardCanvas& card, const std::string& ring_title) {
    CardText(card).write(ring_title);
}

}  // namespace boardring
