#include "outline/notebook.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <variant>

#include "base/ensure.hpp"
#include "base/names.hpp"

namespace boardring {

std::string pair_name(std::size_t first, std::size_t second) {
    const std::string a = corner_letter(first);
    const std::string b = corner_letter(second);
    return a.size() + b.size() > 2 ? a + "-" + b : a + b;
}

std::string side_name(const Chain& chain, std::size_t side) {
    return pair_name(side, chain.closed && side + 1 == chain.sides() ? 0 : side + 1);
}

Notebook open_notebook(const OutlineAsked& asked) {
    const auto& readings = std::get<ReadingsOutline>(asked.form).readings;
    std::size_t corners = 0;
    for (const Reading& r : readings) corners = std::max({corners, r.first + 1, r.second + 1});
    ENSURE(corners >= (asked.open ? 2U : 3U));
    const std::size_t n = asked.open ? corners - 1 : corners;

    Notebook book;
    Chain& chain = book.chain;
    chain.closed = !asked.open;
    chain.sides_mm.assign(n, 0.0);
    chain.side_within_mm.assign(n, 0.0);
    chain.interior_deg.assign(corners, 180.0);
    chain.angle_within_deg.assign(corners, 0.0);
    book.side_line.assign(n, kNoLine);
    book.angle_line.assign(corners, kNoLine);
    for (std::size_t line = 0; line < readings.size(); ++line) {
        const Reading& r = readings[line];
        const double within = r.accuracy.value_or(r.half_step);
        switch (r.kind) {
            case Reading::Kind::diagonal:
                ENSURE(r.value.has_value());
                book.diagonal_lines.push_back(line);
                break;
            case Reading::Kind::side:
                ENSURE(r.first < n && r.second == (chain.closed && r.first + 1 == n ? 0 : r.first + 1));
                ENSURE(book.side_line[r.first] == kNoLine && r.value.value_or(1.0) > 0.0);
                book.side_line[r.first] = line;
                if (!r.value) {
                    book.open.sides.push_back(r.first);
                    break;
                }
                chain.sides_mm[r.first] = *r.value;
                chain.side_within_mm[r.first] = within;
                break;
            case Reading::Kind::angle:
                ENSURE(book.angle_line[r.first] == kNoLine && (!asked.open || (r.first > 0 && r.first + 1 < corners)));
                book.angle_line[r.first] = line;
                if (!r.value) {
                    book.open.angles.push_back(r.first);
                    break;
                }
                chain.interior_deg[r.first] = interior_meant_deg(r, *r.value);
                chain.angle_within_deg[r.first] = within;
                break;
            case Reading::Kind::fall:
            case Reading::Kind::right:
            case Reading::Kind::width:
            case Reading::Kind::bow:
            case Reading::Kind::sill:
                ENSURE(false);  // only found outlines have them
                break;
        }
    }
    std::sort(book.open.sides.begin(), book.open.sides.end());
    std::sort(book.open.angles.begin(), book.open.angles.end());
    ENSURE(book.open.none() || (chain.closed && book.open.count() <= 3 && book.open.sides.size() <= 2));
    ENSURE(std::find(book.side_line.begin(), book.side_line.end(), kNoLine) == book.side_line.end());
    const std::size_t free_ends = asked.open ? 2 : 0;
    ENSURE(static_cast<std::size_t>(std::count(book.angle_line.begin(), book.angle_line.end(), kNoLine)) == free_ends);
    return book;
}

}  // namespace boardring
