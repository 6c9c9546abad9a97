#include "report/paper_sheets.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <utility>

#include "base/ensure.hpp"
#include "report/drawing_parts.hpp"

namespace boardring {
namespace {

using Column = PaperTable::Column;

// Sizes on the sheet [mm], which is its drawing's unit.
constexpr double kTextMm = 3.0;          // letters of words; what is set or marked is kNumberMm high, other figures as they have room
constexpr double kLineHeights = 1.55;    // from line to line, of the letters' height
constexpr double kFootMm = 7.0;          // of a sheet, for what it belongs to
constexpr double kTextWidthMm = kPaperShortMm - 2.0 * kMarginMm;
constexpr double kTermGapMm = 3.0;
constexpr double kWidestTermMm = 46.0;
constexpr double kPadMm = 1.6;           // between a cell's text and its lines
constexpr double kBigColumnMm = 17.0;
constexpr double kRoomMm = 24.0;         // to write a number in
constexpr double kRoomHighMm = 9.0;
constexpr double kTickMm = 5.0;
constexpr double kHeadedMm = 38.0;       // of a heading with what follows it
constexpr double kLeastWordsMm = 30.0;   // of a column of words

// Sets one paper: a pen that goes down the sheet and takes a new one where there is no more room.
class SheetSetter {
public:
    explicit SheetSetter(const Paper& paper) : paper_(paper) {}

    std::vector<Drawing> set() && {
        for (const PaperPart& part : paper_.parts) std::visit([&](const auto& what) { set(what); }, part);
        return std::move(sheets_);
    }

private:
    // --- sheets ---
    void new_sheet() {
        Drawing sheet;
        sheet.title = paper_.name;
        sheet.describes = paper_.name + ", words and tables.";
        sheet.page_high = {kPaperShortMm, kPaperLongMm};
        sheets_.push_back(std::move(sheet));
        y_ = kPaperLongMm - kMarginMm;
        is_set_ = true;
        write({kMarginMm, y_ - 0.5 * kNumberMm}, paper_.name, kNumberMm, true);
        y_ -= kLineHeights * kNumberMm + 1.0;
        line({kMarginMm, y_}, {kPaperShortMm - kMarginMm, y_}, Pen::outline);
        y_ -= 3.0;
        top_ = y_;
    }
    [[nodiscard]] bool has_room(double high) const { return is_set_ && y_ - high >= kFootMm + kMarginMm; }
    void need(double high) {
        if (!has_room(high)) new_sheet();
    }
    void space(double high) {
        if (is_set_ && y_ < top_) y_ -= high;
    }
    Drawing& sheet() { return sheets_.back(); }

    void write(Vec2 at, const std::string& words, double height, bool strong, Align align = Align::left) {
        if (!words.empty()) sheet().labels.push_back({at, words, height, 0.0, align, strong});
    }
    void line(Vec2 from, Vec2 to, Pen pen) { sheet().strokes.push_back({pen, {from, to}, false}); }

    // Lines of words from x on, each where there is room.
    void words(const std::string& text, double height, bool strong, double x, double width) {
        for (const std::string& part : wrapped_text(text, width, height, strong)) {
            need(kLineHeights * height);
            write({x, y_ - 0.5 * height}, part, height, strong);
            y_ -= kLineHeights * height;
        }
    }

    // --- parts ---
    void set(const PaperHeading& heading) {
        space(3.0);
        need(kHeadedMm);
        words(heading.words, kTextMm + 0.5, true, kMarginMm, kTextWidthMm);
        y_ -= 1.0;
    }

    void set(const PaperText& text) {
        words(text.words, kTextMm, false, kMarginMm, kTextWidthMm);
        y_ -= 2.0;
    }

    void set(const PaperCommand& command) {
        const std::vector<std::string> lines = wrapped_text(command.line, kTextWidthMm - 6.0, kTextMm, false);
        constexpr double kApartMm = 2.2 * kTextMm;  // room to write in the blanks
        const double high = kApartMm * static_cast<double>(lines.size()) + 3.0;
        need(high);
        sheet().strokes.push_back({Pen::thin,
                                   {{kMarginMm, y_}, {kMarginMm, y_ - high}, {kMarginMm + kTextWidthMm, y_ - high}, {kMarginMm + kTextWidthMm, y_}},
                                   true});
        double at = y_ - 1.5;
        for (const std::string& part : lines) {
            write({kMarginMm + 3.0, at - 0.5 * kApartMm}, part, kTextMm, false);
            at -= kApartMm;
        }
        y_ -= high + 3.0;
    }

    void set(const PaperTerms& terms) {
        double wide = 0.0;
        for (const PaperTerm& term : terms) wide = std::max(wide, text_width(term.label, true) * kTextMm);
        const double indent = std::min(wide, kWidestTermMm) + kTermGapMm;
        space(2.0);
        for (const PaperTerm& term : terms) {
            need(kLineHeights * kTextMm);
            write({kMarginMm, y_ - 0.5 * kTextMm}, term.label, kTextMm, true);
            words(term.words, kTextMm, false, kMarginMm + indent, kTextWidthMm - indent);
            y_ -= 1.2;
        }
        y_ -= 1.0;
    }

    void set(const PaperList& list) {
        space(1.0);
        std::size_t number = 0;
        for (const std::string& item : list.items) {
            need(kLineHeights * kTextMm);
            write({kMarginMm, y_ - 0.5 * kTextMm}, list.numbered ? fmt::format("{}", ++number) : "-", kTextMm, true);
            words(item, kTextMm, false, kMarginMm + 6.0, kTextWidthMm - 6.0);
            y_ -= 0.8;
        }
        y_ -= 1.5;
    }

    void set(const PaperCard& card) {
        sheets_.push_back(card.drawing);
        is_set_ = false;
    }

    // --- tables ---
    struct Cell {
        std::vector<std::string> lines;
        double height = 0.0;  // of its letters
        bool strong = false;
    };
    struct Widths {
        double words = 0.0;    // letters of heads and words
        double numbers = 0.0;  // letters of figures that are neither marked nor set
        std::vector<double> columns;
    };

    static double letters_of(Column column, const Widths& widths) {
        return column == Column::big ? kNumberMm : column == Column::number ? widths.numbers : widths.words;
    }

    // The widest word, and the widest cell, of a column.
    static std::pair<double, double> needs(const PaperTable& table, std::size_t c, const Widths& letters) {
        double word = 0.0, cell = 0.0;
        const auto add = [&](const std::string& text, double height, bool strong) {
            cell = std::max(cell, text_width(text, strong) * height);
            for (const std::string& part : parted(text)) word = std::max(word, text_width(part, strong) * height);
        };
        add(table.head[c], letters.words, true);
        cell = word;  // a head may be broken at its blanks
        for (const std::vector<std::string>& row : table.rows) add(row[c], letters_of(table.columns[c], letters), table.columns[c] == Column::big || c == 0);
        return {word, cell};
    }

    static std::vector<std::string> parted(const std::string& text) {
        std::vector<std::string> parts;
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = std::min(text.find(' ', at), text.size());
            if (end > at) parts.push_back(text.substr(at, end - at));
            at = end + 1;
        }
        return parts;
    }

    // Columns of figures as wide as they must be; those of words share what is left. False where they would have too little.
    static bool fit_columns(const PaperTable& table, Widths& widths) {
        widths.columns.assign(table.head.size(), 0.0);
        double fixed = 0.0, wanted = 0.0;
        std::vector<std::size_t> flexible;
        for (std::size_t c = 0; c < table.head.size(); ++c) {
            const auto [word, cell] = needs(table, c, widths);
            double wide = cell + 2.0 * kPadMm + 0.01;  // a width that is just enough must not be too little by a rounding
            if (table.columns[c] == Column::big) wide = std::max(wide, kBigColumnMm);
            if (table.columns[c] == Column::room) wide = std::max(wide, kRoomMm);
            if (table.columns[c] == Column::tick) wide = std::max(wide, kTickMm + 2.0 * kPadMm);
            if (table.columns[c] == Column::words && wide > kLeastWordsMm) {
                flexible.push_back(c);
                wanted += wide;
            } else {
                fixed += wide;
            }
            widths.columns[c] = wide;
        }
        double left = kTextWidthMm - fixed;
        if (wanted <= left) return true;
        if (left < kLeastWordsMm * static_cast<double>(flexible.size()) || flexible.empty()) return false;
        // The narrow ones get what they want, the others an even share of what is left.
        std::sort(flexible.begin(), flexible.end(), [&](std::size_t a, std::size_t b) { return widths.columns[a] < widths.columns[b]; });
        for (std::size_t i = 0; i < flexible.size(); ++i) {
            double& wide = widths.columns[flexible[i]];
            wide = std::min(wide, left / static_cast<double>(flexible.size() - i));
            left -= wide;
        }
        return true;
    }

    // Figures as high as those on the cards where the table then still stands on one sheet and its words keep their room.
    [[nodiscard]] Widths widths_of(const PaperTable& table) const {
        Widths widths;
        for (const double numbers : {kNumberMm, 4.3, 3.6}) {
            widths = {kTextMm, numbers, {}};
            const double high = static_cast<double>(table.rows.size()) * (kLineHeights * numbers + 1.6) + kHeadedMm;
            if (has_room(high) && fit_columns(table, widths)) return widths;
        }
        for (const double letters : {kTextMm, kSmallMm}) {
            widths = {letters, letters, {}};
            if (fit_columns(table, widths)) return widths;
        }
        // Wider than any sheet: every column gives in proportion, and long words are cut.
        double all = 0.0;
        for (const double wide : widths.columns) all += wide;
        for (double& wide : widths.columns) wide *= kTextWidthMm / all;
        return widths;
    }

    void row(const PaperTable& table, const Widths& widths, const std::vector<std::string>& cells, bool head) {
        std::vector<Cell> set;
        double high = 0.0;
        for (std::size_t c = 0; c < cells.size(); ++c) {
            const double letters = head ? widths.words : letters_of(table.columns[c], widths);
            const bool strong = head || c == 0 || table.columns[c] == Column::big;
            set.push_back({wrapped_text(cells[c], widths.columns[c] - 2.0 * kPadMm, letters, strong), letters, strong});
            double cell = kLineHeights * letters * static_cast<double>(set.back().lines.size()) + 1.6;
            if (!head && table.columns[c] == Column::room) cell = std::max(cell, kRoomHighMm);
            if (!head && table.columns[c] == Column::tick) cell = std::max(cell, kTickMm + 2.0);
            high = std::max(high, cell);
        }
        if (!head && !has_room(high)) {
            new_sheet();
            row(table, widths, table.head, true);
        }
        double x = kMarginMm;
        for (std::size_t c = 0; c < set.size(); ++c) {
            double y = y_ - 0.8;
            for (const std::string& part : set[c].lines) {
                write({x + kPadMm, y - 0.5 * kLineHeights * set[c].height}, part, set[c].height, set[c].strong);
                y -= kLineHeights * set[c].height;
            }
            if (!head && table.columns[c] == Column::tick) {
                const Vec2 low{x + kPadMm, y_ - 1.0 - kTickMm};
                sheet().strokes.push_back({Pen::thin, {low, low + Vec2{kTickMm, 0.0}, low + Vec2{kTickMm, kTickMm}, low + Vec2{0.0, kTickMm}}, true});
            }
            if (c > 0) line({x, y_}, {x, y_ - high}, Pen::dimension);
            x += widths.columns[c];
        }
        y_ -= high;
        line({kMarginMm, y_}, {x, y_}, head ? Pen::outline : Pen::dimension);
    }

    void set(const PaperTable& table) {
        ENSURE(table.columns.size() == table.head.size());
        space(2.0);
        need(5.0 * kLineHeights * kTextMm);  // the caption, the head and a row
        const Widths widths = widths_of(table);
        words(table.caption, kTextMm, true, kMarginMm, kTextWidthMm);
        row(table, widths, table.head, true);
        for (const std::vector<std::string>& cells : table.rows) row(table, widths, cells, false);
        y_ -= 3.0;
    }

    const Paper& paper_;
    std::vector<Drawing> sheets_;
    double y_ = 0.0, top_ = 0.0;
    bool is_set_ = false;  // the last sheet is one to go on writing on
};

// As much of the heading as one line at the foot holds, cut where it has a comma or a dash.
std::string foot_line(const std::string& before, std::string heading) {
    const auto fits = [&] { return wrapped_text(before + heading, kTextWidthMm, kSmallMm, false).size() == 1; };
    while (!fits()) {
        const std::size_t comma = heading.rfind(", "), dash = heading.rfind(" - ");
        const std::size_t at = comma != std::string::npos && (dash == std::string::npos || comma > dash) ? comma : dash;
        if (at == std::string::npos) break;
        heading.resize(at);
    }
    return wrapped_text(before + heading, kTextWidthMm, kSmallMm, false).front();
}

}  // namespace

std::vector<Drawing> paper_sheets(const std::vector<Paper>& papers, const std::string& heading) {
    std::vector<Drawing> sheets;
    for (const Paper& paper : papers) {
        std::vector<Drawing> set = SheetSetter(paper).set();
        for (std::size_t i = 0; i < set.size(); ++i) {
            const bool drawn = set[i].title != paper.name;
            if (!drawn) {
                const std::string foot = foot_line(fmt::format("{}, sheet {} of {}: ", paper.name, i + 1, set.size()), heading);
                set[i].labels.push_back({{kMarginMm, kMarginMm}, foot, kSmallMm, 0.0, Align::left, false});
            }
            sheets.push_back(std::move(set[i]));
        }
    }
    return sheets;
}

}  // namespace boardring
