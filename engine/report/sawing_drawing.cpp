#include "report/sawing_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/drawing_parts.hpp"
#include "report/shopping_list.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kWidthMm = kPaperLongMm - 2.0 * kMarginMm;  // of the paper that is used
constexpr double kAcrossMm = 20.0;                           // the board is drawn so wide, whatever it is
constexpr double kRowHeights = 1.5;  // of the letters
constexpr double kColumnGapMm = 4.0;
constexpr double kNumbersMm = 8.0;  // what the numbers of the pieces take
constexpr double kNameMm = 36.0;    // of a piece's name, at least
constexpr double kTableHighMm = 105.0;

// Cells of one row: six marks and slopes, right-aligned, then the turning.
using Cells = std::array<std::string, 7>;

class SawingPage {
public:
    SawingPage(const SawnBoards& boards, const std::vector<const Project*>& projects)
        : boards_(boards), projects_(projects), purchase_(*boards.purchase), project_(*projects[purchase_.frame]),
          bar_(purchase_.buy.bars[boards.bar]), length_(purchase_.section.offers[bar_.offer].length_mm) {
        for (const Scale& scale : round_scales(in_inches(project_))) {
            if (length_ > kWidthMm * scale.units_per_mm) continue;
            drawing_.scale = scale.units_per_mm;
            scale_words_ = scale.text;
            break;
        }
    }

    Drawing draw() && {
        const double top = write_head();
        const double bottom = top - mm(6.0) - mm(kAcrossMm);
        draw_board(bottom);
        const double foot = write_foot(write_table(bottom - mm(5.0)));
        drawing_.page_low = {-mm(kMarginMm), foot - mm(kMarginMm)};
        drawing_.page_high = {mm(kWidthMm + kMarginMm), mm(kMarginMm)};
        drawing_.title = sawn_heading(boards_);
        drawing_.describes = fmt::format("{}, {} {} pieces from left to right, at {} along the board; their marks stand in the table.",
                                         sawn_heading(boards_), sawn_subject(boards_, project_), bar_.pieces.size(), scale_words_);
        return std::move(drawing_);
    }

private:
    [[nodiscard]] double mm(double paper) const { return paper * drawing_.scale; }

    double write_head() {
        TextColumn head(drawing_, {0.0, 0.0}, mm(kWidthMm));
        head.text(sawn_heading(boards_), kNumberMm, true, 0.0, 1);
        if (!project_.title.empty()) head.text(clean_text(project_.title, 100), kBodyMm, false, 0.0, 1);
        head.text(fmt::format("{} Mark and saw from the left.{}", sawn_subject(boards_, project_), length_words(project_)), kBodyMm, false);
        return head.at().y;
    }

    // Waste below, pieces over it.
    void draw_board(double low) {
        const double high = low + mm(kAcrossMm);
        const std::vector<Vec2> whole{{0.0, low}, {length_, low}, {length_, high}, {0.0, high}};
        drawing_.regions.push_back({Fill::waste, whole});
        const std::vector<BarMarks> marks = bar_marks(purchase_.section, bar_);
        for (std::size_t i = 0; i < marks.size(); ++i) {
            const BarMarks& m = marks[i];
            const std::vector<Vec2> piece{{m.left_lower_mm, low}, {m.right_lower_mm, low}, {m.right_upper_mm, high}, {m.left_upper_mm, high}};
            drawing_.regions.push_back({Fill::blank, piece});
            drawing_.regions.push_back({Fill::wood, piece});
            drawing_.strokes.push_back({Pen::outline, piece, true});
            number_piece(i, m, low);
        }
        drawing_.strokes.push_back({Pen::outline, whole, true});
    }

    // As large as the piece has room for; slivers get none, and the table goes by their order.
    void number_piece(std::size_t i, const BarMarks& m, double low) {
        const std::string number = std::to_string(i + 1);
        const double middle = 0.25 * (m.left_lower_mm + m.right_lower_mm + m.left_upper_mm + m.right_upper_mm);
        const double room = std::min(m.right_upper_mm, m.right_lower_mm) - std::max(m.left_upper_mm, m.left_lower_mm);
        for (const double height : {kNumberMm, kBodyMm, kSmallMm}) {
            if (text_width(number, true) * mm(height) + mm(1.0) > room) continue;
            drawing_.labels.push_back({{middle, low + mm(0.5 * kAcrossMm)}, number, mm(height), 0.0, Align::centre, true});
            return;
        }
    }

    double write_table(double top) {
        const std::vector<SawnPiece> pieces = sawn_pieces(boards_, projects_);
        std::vector<Cells> rows{{"from: far", "near", "saw", "to: far", "near", "saw", ""}};
        for (std::size_t i = 0; i < std::min(pieces.size(), kMostSawnRows); ++i) {
            const SawnPiece& p = pieces[i];
            rows.push_back({p.left_far, p.left_near, p.left_saw, p.right_far, p.right_near, p.right_saw, p.turned});
        }
        // Figures as large as the sheet has room for; feet, inches and sixteenths, or many pieces, need smaller ones.
        double height = kSmallMm;
        for (const double larger : {kNumberMm, 4.5, 4.0, kBodyMm, 3.0}) {
            const bool high = larger > kBodyMm && kRowHeights * larger * static_cast<double>(rows.size()) > kTableHighMm;
            if (high || table_mm(rows, larger) > kWidthMm) continue;
            height = larger;
            break;
        }
        name_mm_ = std::min(kWidthMm - (table_mm(rows, height) - kNameMm), 62.0);
        double y = top;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const std::string name = i == 0 ? "piece" : pieces[i - 1].name;
            const double letters = std::min(height, kBodyMm);  // of what is neither marked nor set
            if (i > 0) drawing_.labels.push_back({{mm(kNumbersMm - 3.0), y}, std::to_string(i), mm(letters), 0.0, Align::right, true});
            drawing_.labels.push_back({{mm(kNumbersMm), y}, wrapped_text(name, mm(name_mm_), mm(letters), false).front(), mm(letters), 0.0,
                                       Align::left, false});
            write_cells(rows, i, y, height);
            y -= mm(kRowHeights * height);
        }
        return y;
    }

    // The head's words, and how a piece is turned, are neither marked nor set.
    [[nodiscard]] static double letters_mm(const std::vector<Cells>& rows, std::size_t row, std::size_t column, double height) {
        return row == 0 || column + 1 == rows[row].size() ? std::min(height, kBodyMm) : height;
    }

    [[nodiscard]] static double column_mm(const std::vector<Cells>& rows, std::size_t column, double height) {
        double widest = 0.0;
        for (std::size_t r = 0; r < rows.size(); ++r) widest = std::max(widest, text_width(rows[r][column], false) * letters_mm(rows, r, column, height));
        return widest;
    }

    [[nodiscard]] static double table_mm(const std::vector<Cells>& rows, double height) {
        double width = kNumbersMm + kNameMm;
        for (std::size_t c = 0; c < rows.front().size(); ++c) width += kColumnGapMm + column_mm(rows, c, height);
        return width;
    }

    void write_cells(const std::vector<Cells>& rows, std::size_t row, double y, double height) {
        double x = kNumbersMm + name_mm_;
        for (std::size_t c = 0; c < rows[row].size(); ++c) {
            x += kColumnGapMm;
            const double width = column_mm(rows, c, height);
            const bool marks = c + 1 < rows[row].size();
            if (!rows[row][c].empty()) {
                drawing_.labels.push_back({{mm(marks ? x + width : x), y}, rows[row][c], mm(letters_mm(rows, row, c, height)), 0.0,
                                           marks ? Align::right : Align::left, false});
            }
            x += width;
        }
    }

    double write_foot(double top) {
        TextColumn foot(drawing_, {0.0, top}, mm(kWidthMm));
        if (bar_.pieces.size() > kMostSawnRows) {
            foot.text(fmt::format("and {} more pieces: buying.txt.", bar_.pieces.size() - kMostSawnRows), kBodyMm, false);
        }
        std::string words = fmt::format("Scale {} along the board, not across. Far: the edge away from you. / and \\: the cut as seen from above.",
                                        scale_words_);
        for (const std::string& told : pieces_legend({boards_}, projects_)) words += " " + told;
        foot.text(words + " Look the board over and measure it before the first cut. Your saw's own book comes first.", kBodyMm, false);
        return foot.at().y;
    }

    const SawnBoards& boards_;
    const std::vector<const Project*>& projects_;
    const SectionPurchase& purchase_;
    const Project& project_;
    const CutBar& bar_;
    double length_;
    double name_mm_ = kNameMm;
    Drawing drawing_;
    std::string scale_words_;
};

}  // namespace

Drawing draw_sawing(const SawnBoards& boards, const std::vector<const Project*>& projects) { return SawingPage(boards, projects).draw(); }

}  // namespace boardring
