#include "outline/notebook.hpp"

#include <algorithm>
#include <cstddef>
#include <string>

#include <fmt/format.h>

#include "base/ensure.hpp"
#include "base/names.hpp"

namespace boardring {
namespace {

constexpr double kZeroSideMm = 1e-6;

Finding missing(const std::string& what, const std::string& example) {
    return {Severity::error, "outline.missing", "/outline/readings", fmt::format("No value for {} in the notebook.", what),
            fmt::format("Add a line for it, like \"{}\".", example)};
}

Finding twice(const Reading& first, const Reading& again, const std::string& what) {
    return {Severity::error, "outline.twice", again.pointer,
            fmt::format("{} stands twice in the notebook: \"{}\" and \"{}\".", what, first.text, again.text),
            "Keep the one you trust and take the other line out."};
}

}  // namespace

std::string pair_name(std::size_t first, std::size_t second) {
    const std::string a = corner_letter(first);
    const std::string b = corner_letter(second);
    return a.size() + b.size() > 2 ? a + "-" + b : a + b;
}

std::string side_name(const Chain& chain, std::size_t side) {
    return pair_name(side, chain.closed && side + 1 == chain.sides() ? 0 : side + 1);
}

Result<Notebook> open_notebook(const OutlineAsked& asked, const LengthStyle& style) {
    const auto& readings = std::get<ReadingsOutline>(asked.form).readings;
    std::size_t corners = 0;
    for (const Reading& r : readings) corners = std::max({corners, r.first + 1, r.second + 1});
    const std::size_t n = asked.open ? std::max<std::size_t>(corners, 1) - 1 : corners;

    Findings findings;
    if (corners < (asked.open ? 2U : 3U)) {
        return Finding{Severity::error, "outline.missing", "/outline/readings",
                       fmt::format("The notebook names {} corners; {} needs at least {}.", corners, asked.open ? "an open run" : "a ring",
                                   asked.open ? 2 : 3),
                       "Write every side and every corner, one a line, like \"AB 900\" and \"B 115\"."};
    }
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
        if (!r.value) continue;
        const double within = r.accuracy.value_or(r.half_step);
        if (r.kind == Reading::Kind::diagonal) {
            book.diagonal_lines.push_back(line);
        } else if (r.kind == Reading::Kind::side) {
            ENSURE(r.first < n && r.second == (chain.closed && r.first + 1 == n ? 0 : r.first + 1));
            if (book.side_line[r.first] != kNoLine) {
                findings.push_back(twice(readings[book.side_line[r.first]], r, side_name(chain, r.first)));
                continue;
            }
            book.side_line[r.first] = line;
            chain.sides_mm[r.first] = *r.value;
            chain.side_within_mm[r.first] = within;
            if (!(*r.value > kZeroSideMm)) {
                findings.push_back({Severity::error, "outline.zero-side", r.pointer,
                                    fmt::format("{} is {}: a board needs some length.", side_name(chain, r.first), show_length_unit(*r.value, style)),
                                    "Measure it again, or leave one of its two corners out."});
            }
        } else {
            if (book.angle_line[r.first] != kNoLine) {
                findings.push_back(twice(readings[book.angle_line[r.first]], r, "Corner " + corner_letter(r.first)));
                continue;
            }
            book.angle_line[r.first] = line;
            chain.interior_deg[r.first] = interior_meant_deg(r, *r.value);
            chain.angle_within_deg[r.first] = within;
        }
    }
    for (std::size_t k = 0; k < n; ++k) {
        if (book.side_line[k] == kNoLine) findings.push_back(missing("side " + side_name(chain, k), side_name(chain, k) + " 900"));
    }
    for (std::size_t c = 0; c < corners; ++c) {
        const bool free_end = asked.open && (c == 0 || c + 1 == corners);
        if (free_end) {
            book.angle_line[c] = kNoLine;
            chain.interior_deg[c] = 180.0;
        } else if (book.angle_line[c] == kNoLine) {
            findings.push_back(missing("corner " + corner_letter(c), corner_letter(c) + " 120"));
        }
    }
    if (has_error(findings)) return findings;
    return {std::move(book), std::move(findings)};
}

}  // namespace boardring
