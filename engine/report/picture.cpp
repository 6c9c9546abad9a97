#include "report/picture.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <optional>

#include "base/names.hpp"

namespace boardring {
namespace {

// Rows count downward, columns to the right. A letter stands in the middle of its cell for steep sides and on its
// base line for level ones, as on a typewriter: "A____B" joins at the foot, "/" leads from cell to cell.
struct Cell {
    int column = 0;
    int row = 0;
};

constexpr double kCellHeights[] = {2.0, 1.9, 2.1, 2.2};  // a character is about twice as high as wide; fonts differ this much
constexpr double kSteep = 0.75;                          // rows per column from which a side is drawn a cell a row
constexpr double kUpright = 0.34;                        // columns per row up to which that cell is |
constexpr int kMargin = 4;                               // columns kept free for numbers left and right

int rounded(double x) {
    return static_cast<int>(x < 0.0 ? -std::floor(-x + 0.5) : std::floor(x + 0.5));
}

bool is_name(char mark) {
    return (mark >= 'A' && mark <= 'Z') || (mark >= '0' && mark <= '9');
}

struct Sheet {
    int columns = 0;
    int rows = 0;
    std::vector<std::string> cells;

    [[nodiscard]] bool holds(Cell c) const { return c.column >= 0 && c.row >= 0 && c.column < columns && c.row < rows; }
    [[nodiscard]] char at(Cell c) const { return cells[static_cast<std::size_t>(c.row)][static_cast<std::size_t>(c.column)]; }
    void put(Cell c, char mark) {
        if (holds(c)) cells[static_cast<std::size_t>(c.row)][static_cast<std::size_t>(c.column)] = mark;
    }
    // Room for a text of this length that touches no other letter or number.
    [[nodiscard]] bool is_free(Cell from, std::size_t length) const {
        const int end = static_cast<int>(length);
        for (int i = -1; i <= end; ++i) {
            const Cell c{from.column + i, from.row};
            const bool own = i >= 0 && i < end;
            if (!holds(c)) {
                if (own) return false;
                continue;
            }
            if (own ? at(c) != ' ' : is_name(at(c))) return false;
        }
        return true;
    }
    [[nodiscard]] bool is_drawn(Cell c) const { return holds(c) && at(c) != ' '; }
    void write(Cell from, const std::string& text) {
        for (std::size_t i = 0; i < text.size(); ++i) put({from.column + static_cast<int>(i), from.row}, text[i]);
    }
};

// Ties go away from the middle of the picture, so that symmetric outlines stay symmetric.
int column_between(double x, double middle) {
    return static_cast<int>(std::lround(middle + rounded(x - middle)));
}

bool is_steep(Cell a, Cell b) {
    const int down = b.row - a.row, across = b.column - a.column;
    return down != 0 && std::abs(down) >= kSteep * std::abs(across);
}

void draw_side(Sheet& sheet, Cell a, Cell b, double middle) {
    const int down = b.row - a.row, across = b.column - a.column;
    if (is_steep(a, b)) {
        const double lean = static_cast<double>(across) / down;
        const char mark = std::abs(lean) <= kUpright ? '|' : lean > 0.0 ? '\\' : '/';
        const int step = down > 0 ? 1 : -1;
        for (int row = a.row + step; row != b.row; row += step) {
            sheet.put({column_between(a.column + lean * (row - a.row), middle), row}, mark);
        }
        return;
    }
    const Cell left = across > 0 ? a : b, right = across > 0 ? b : a;
    const double slope = across == 0 ? 0.0 : static_cast<double>(right.row - left.row) / (right.column - left.column);
    for (int column = left.column + 1; column < right.column; ++column) {
        const double before = left.row + slope * (column - 0.5 - left.column);
        const double after = left.row + slope * (column + 0.5 - left.column);
        const int row_before = rounded(before), row_after = rounded(after);
        if (row_before == row_after) {
            sheet.put({column, row_before}, '_');
        } else if (row_after < row_before) {
            sheet.put({column, row_before}, '/');
        } else {
            sheet.put({column, row_after}, '\\');
        }
    }
}

// In the line of a level side; beside the middle of any other, on its outer hand: the free place nearest to a little way out.
std::optional<Cell> write_number(Sheet& sheet, Cell a, Cell b, bool clockwise, const std::string& number) {
    const int length = static_cast<int>(number.size());
    const int down = b.row - a.row, across = b.column - a.column;
    if (down == 0 && std::abs(across) >= length + 3) {
        const Cell inside{std::min(a.column, b.column) + (std::abs(across) - length + 1) / 2, a.row};
        sheet.write(inside, number);
        return inside;
    }
    // Measured in columns, y down. The middle of the ring is at the left hand of the walk (clockwise: at the right).
    const double foot = is_steep(a, b) ? 0.0 : 1.0;  // level lines run along the foot of their cells
    const Vec2 middle{0.5 * (a.column + b.column), a.row + b.row + foot};
    const double far = std::hypot(across, 2.0 * down);
    const Vec2 along{across / far, 2.0 * down / far};
    const Vec2 outward = clockwise ? Vec2{along.y, -along.x} : Vec2{-along.y, along.x};
    std::optional<Cell> best;
    double best_cost = std::numeric_limits<double>::infinity();
    constexpr double kNearest = 0.9, kWanted = 1.8, kFarthest = 4.2;  // columns away from the side
    for (int row = (a.row + b.row) / 2 - 3; row <= (a.row + b.row) / 2 + 3; ++row) {
        for (int column = static_cast<int>(middle.x) - 7; column <= static_cast<int>(middle.x) + 7; ++column) {
            if (!sheet.is_free({column, row}, number.size())) continue;
            const Vec2 off = Vec2{column + 0.5 * (length - 1), 2.0 * row} - middle;
            const double out = dot(off, outward) - 0.5 * (length - 1) * std::abs(outward.x);
            const double past = std::abs(dot(off, along));
            if (out < kNearest || out > kFarthest || past > 0.5 * far) continue;
            const bool touches = sheet.is_drawn({column - 1, row}) || sheet.is_drawn({column + length, row});
            const double cost = std::abs(out - kWanted) + 0.6 * past + (touches ? 0.8 : 0.0);
            if (cost < best_cost - 1e-9) {
                best_cost = cost;
                best = Cell{column, row};
            }
        }
    }
    if (best) sheet.write(*best, number);
    return best;
}

struct Layout {
    std::vector<Cell> corners;
    double misfit = 0.0;  // largest rounding of a corner, in cells of the picture's height
    double middle = 0.0;
    int columns = 0;
    int rows = 0;
};

Layout lay_out(const std::vector<Vec2>& corners, int rows, double cell_height) {
    Vec2 low = corners.front(), high = corners.front();
    for (const Vec2 p : corners) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    const Vec2 centre = low + 0.5 * (high - low);
    const double tall = high.y - low.y;
    const double scale = tall > 0.0 ? (rows - 1) * cell_height / tall : 1.0;  // columns per mm
    Layout layout;
    const int half_width = rounded(0.5 * (high.x - low.x) * scale);
    layout.middle = half_width + kMargin;
    layout.columns = 2 * (half_width + kMargin) + 1;
    layout.rows = rows + 2;  // one free row above and below
    const double middle_row = 0.5 * (rows - 1) + 1.0;
    for (const Vec2 p : corners) {
        const double x = (p.x - centre.x) * scale, y = (centre.y - p.y) * scale / cell_height;
        const Cell cell{static_cast<int>(layout.middle) + rounded(x), rounded(middle_row + y)};
        layout.misfit = std::max(
            {layout.misfit, std::abs(cell.column - layout.middle - x) / cell_height, std::abs(cell.row - middle_row - y)});
        layout.corners.push_back(cell);
    }
    layout.misfit /= std::max(1, rows - 1);
    return layout;
}

// A name stands where it was written, whole, and touches no other name.
bool is_intact(const Sheet& sheet, Cell at, const std::string& name) {
    for (std::size_t i = 0; i < name.size(); ++i) {
        const Cell c{at.column + static_cast<int>(i), at.row};
        if (!sheet.holds(c) || sheet.at(c) != name[i]) return false;
    }
    const Cell before{at.column - 1, at.row}, after{at.column + static_cast<int>(name.size()), at.row};
    return !(sheet.holds(before) && is_name(sheet.at(before))) && !(sheet.holds(after) && is_name(sheet.at(after)));
}

std::optional<std::vector<std::string>> draw(const Layout& layout, std::size_t sides, bool clockwise) {
    const auto columns = static_cast<std::size_t>(layout.columns), rows = static_cast<std::size_t>(layout.rows);
    Sheet sheet{layout.columns, layout.rows, std::vector<std::string>(rows, std::string(columns, ' '))};
    const std::size_t corners = layout.corners.size();
    const auto second = [&](std::size_t k) { return layout.corners[(k + 1) % corners]; };
    for (std::size_t k = 0; k < sides; ++k) draw_side(sheet, layout.corners[k], second(k), layout.middle);
    for (std::size_t c = 0; c < corners; ++c) sheet.write(layout.corners[c], corner_letter(c));
    std::vector<Cell> numbers;
    for (std::size_t k = 0; k < sides; ++k) {
        const std::optional<Cell> at = write_number(sheet, layout.corners[k], second(k), clockwise, board_number(k));
        if (!at) return std::nullopt;
        numbers.push_back(*at);
    }
    for (std::size_t c = 0; c < corners; ++c) {
        if (!is_intact(sheet, layout.corners[c], corner_letter(c))) return std::nullopt;
    }
    for (std::size_t k = 0; k < sides; ++k) {
        if (!is_intact(sheet, numbers[k], board_number(k))) return std::nullopt;
    }
    return sheet.cells;
}

void trim(std::vector<std::string>& lines) {
    std::size_t indent = std::numeric_limits<std::size_t>::max();
    for (std::string& line : lines) {
        line.erase(line.find_last_not_of(' ') + 1);
        if (!line.empty()) indent = std::min(indent, line.find_first_not_of(' '));
    }
    while (!lines.empty() && lines.back().empty()) lines.pop_back();
    while (!lines.empty() && lines.front().empty()) lines.erase(lines.begin());
    for (std::string& line : lines) {
        if (!line.empty()) line.erase(0, indent);
    }
}

}  // namespace

std::vector<std::string> picture_lines(const std::vector<Vec2>& corners_mm, bool closed, bool clockwise, std::size_t most_rows,
                                       std::size_t most_columns) {
    const std::size_t sides = closed ? corners_mm.size() : corners_mm.size() - 1;
    if (sides > kMostPictureBoards) return {};
    const int ideal = sides <= 4 ? 5 : sides <= 6 ? 7 : sides <= 9 ? 9 : 12;
    std::vector<std::string> best;
    double best_cost = std::numeric_limits<double>::infinity();
    for (int rows = 3; rows <= static_cast<int>(most_rows); ++rows) {
        for (const double cell_height : kCellHeights) {
            const Layout layout = lay_out(corners_mm, rows, cell_height);
            if (layout.columns > static_cast<int>(most_columns)) continue;
            std::optional<std::vector<std::string>> lines = draw(layout, sides, clockwise);
            if (!lines) continue;
            trim(*lines);
            const double cost = layout.misfit + 0.012 * std::abs(rows - ideal) + 0.05 * std::abs(cell_height - kCellHeights[0]);
            if (lines->size() <= most_rows && cost < best_cost) {
                best_cost = cost;
                best = std::move(*lines);
            }
        }
    }
    return best;
}

}  // namespace boardring
