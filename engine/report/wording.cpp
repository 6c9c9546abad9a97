#include "report/wording.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <utility>

#include "base/angle_text.hpp"
#include "base/inch_units.hpp"
#include "base/names.hpp"
#include "base/utf8.hpp"
#include "closure/made_board.hpp"

namespace boardring {
namespace {

constexpr double kInchMm = 25.4;

// Marks that move the cursor, end a line, hide, or turn the direction of writing.
bool is_blank_or_control(char32_t c) {
    return c <= 0x20 || (c >= 0x7F && c <= 0xA0) || c == 0xAD || c == 0x061C || c == 0x180E || (c >= 0x2000 && c <= 0x200F) ||
           (c >= 0x2028 && c <= 0x202F) || (c >= 0x205F && c <= 0x206F) || c == 0x3000 || c == 0xFEFF ||
           (c >= 0xFFF0 && c <= 0xFFFC) || (c >= 0xE0000 && c <= 0xE0FFF);
}

// A decimal as printed, in millionths, so that sums are exact.
long long millionths(std::string_view text) {
    return std::llround(std::strtod(std::string(text).c_str(), nullptr) * 1e6);
}

}  // namespace

std::string clean_text(std::string_view text, std::size_t most) {
    std::string clean;
    bool gap = false;
    for (std::size_t at = 0; at < text.size();) {
        const Decoded c = decode_utf8(text, at);
        if (c.valid && is_blank_or_control(c.code)) {
            gap = !clean.empty();
        } else {
            if (gap) clean += ' ';
            gap = false;
            if (c.valid) {
                clean.append(text.substr(at, c.bytes));
            } else {
                clean += '?';
            }
        }
        at += c.bytes;
    }
    if (columns_of(clean) <= most) return clean;
    std::size_t end = 0;
    for (std::size_t taken = 0; taken + 3 < most; ++taken) end += decode_utf8(clean, end).bytes;
    return clean.substr(0, end) + "...";
}

std::string clean_line(std::string_view text) {
    std::string clean;
    for (std::size_t at = 0; at < text.size();) {
        const Decoded c = decode_utf8(text, at);
        if (!c.valid) {
            clean += '?';
        } else if (is_blank_or_control(c.code)) {
            clean += ' ';
        } else {
            clean.append(text.substr(at, c.bytes));
        }
        at += c.bytes;
    }
    return clean;
}

std::size_t columns_of(std::string_view text) {
    std::size_t columns = 0;
    for (std::size_t at = 0; at < text.size(); ++columns) {
        const bool plain = static_cast<unsigned char>(text[at]) < 0x80;  // nearly all of every page
        at += plain ? 1 : decode_utf8(text, at).bytes;
    }
    return columns;
}

std::string padded(std::string_view text, std::size_t columns) {
    const std::size_t own = columns_of(text);
    return std::string(text) + std::string(own < columns ? columns - own : 0, ' ');
}

std::string padded_before(std::string_view text, std::size_t columns) {
    const std::size_t own = columns_of(text);
    return std::string(own < columns ? columns - own : 0, ' ') + std::string(text);
}

std::vector<std::string> wrapped(std::string_view text, std::size_t columns) {
    std::vector<std::string> lines;
    std::string line;
    std::size_t line_columns = 0, at = 0;
    while (at < text.size()) {
        const std::size_t word_at = std::min(text.find_first_not_of(' ', at), text.size());
        const std::size_t word_end = std::min(text.find(' ', word_at), text.size());
        const std::string gap(text.substr(at, word_at - at));
        std::string word(text.substr(word_at, word_end - word_at));
        at = word_end;
        if (word.empty()) break;
        std::size_t word_columns = columns_of(word);
        if (!line.empty() && line_columns + gap.size() + word_columns > columns) {
            lines.push_back(line);
            line.clear();
            line_columns = 0;
        }
        if (!line.empty() || lines.empty()) {
            line += gap;
            line_columns += gap.size();
        }
        while (line_columns + word_columns > columns) {  // only a word longer than a line
            const std::size_t room = columns - std::min(columns, line_columns);
            std::size_t cut = 0;
            for (std::size_t c = 0; c < room; ++c) cut += decode_utf8(word, cut).bytes;
            lines.push_back(line + word.substr(0, cut));
            word.erase(0, cut);
            word_columns -= room;
            line.clear();
            line_columns = 0;
        }
        line += word;
        line_columns += word_columns;
    }
    if (!line.empty() || lines.empty()) lines.push_back(line);
    return lines;
}

std::string count_word(std::size_t n) {
    constexpr std::array<const char*, 13> kWords{"no",    "one",   "two",  "three", "four",   "five",  "six",
                                                 "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    return n < kWords.size() ? kWords[n] : std::to_string(n);
}

std::string counted(std::size_t n, std::string_view one, std::string_view many) {
    return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string and_list(const std::vector<std::string>& items, std::string_view last_word) {
    std::string list;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (i > 0) list += i + 1 == items.size() ? fmt::format(" {} ", last_word) : std::string(", ");
        list += items[i];
    }
    return list;
}

std::string board_list(std::vector<std::size_t> boards) {
    std::sort(boards.begin(), boards.end());
    std::vector<std::string> items;
    for (std::size_t i = 0; i < boards.size();) {
        std::size_t end = i + 1;
        while (end < boards.size() && boards[end] == boards[end - 1] + 1) ++end;
        if (end - i >= 4) {
            items.push_back(fmt::format("{} to {}", board_number(boards[i]), board_number(boards[end - 1])));
            i = end;
        } else {
            items.push_back(board_number(boards[i++]));
        }
    }
    return and_list(items);
}

std::string joined(const std::vector<std::string>& items, std::string_view between) {
    return fmt::format("{}", fmt::join(items, between));
}

std::string capital(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

std::string sentence(std::string text) {
    if (text.empty()) return text;
    text = capital(std::move(text));
    const char last = text.back();
    if (last != '.' && last != '?' && last != ':' && last != '!') text += '.';
    return text;
}

std::string headline(std::string text) {
    const auto plain = [](char c) { return c >= ' ' && c <= '~'; };
    if (!std::all_of(text.begin(), text.end(), plain)) return text;
    for (char& c : text) {
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    }
    return text;
}

bool in_inches(const Project& project) {
    return in_inches(project.unit);
}

std::string unit_words(Unit unit) {
    switch (unit) {
        case Unit::inch:
            return "inches";
        case Unit::foot:
            return "feet and inches";
        case Unit::mm:
        case Unit::cm:
        case Unit::m:
            break;
    }
    return std::string(unit_name(unit));
}

std::string turning_words(Turning turning, Lie lie) {
    const bool flat = lie == Lie::flat;
    switch (turning) {
        case Turning::as_first:
            return "";
        case Turning::top_to_bottom:
            return flat ? "turned over end for end" : "turned upside down (outside still outside)";
        case Turning::edge_for_edge:
            return flat ? "turned over edge for edge" : "turned face for face (the ends stay)";
        case Turning::end_for_end:
            return flat ? "turned round on the bench (outside becomes inside)" : "turned round (outside becomes inside)";
    }
    return "";
}

std::string ring_name(std::size_t corners) {
    constexpr std::array<const char*, 9> kNames{"", "", "", "triangle", "square", "pentagon", "hexagon", "heptagon", "octagon"};
    return corners < kNames.size() ? kNames[corners] : fmt::format("{}-sided ring", count_word(corners));
}

double shown_away_deg(double saw_deg, const Project& project) {
    if (project.tools.slope_by == SlopeBy::saw) {
        Bench bench;
        bench.saw_step_deg = project.tools.saw_step_deg;
        bench.scale_at_square_deg = project.tools.scale_at_square_deg;
        return std::abs(set_saw_deg(saw_deg, bench));
    }
    return rounded_to_step(std::abs(saw_deg), 0.1);
}

double on_scale_deg(double away_deg, const Tools& tools) {
    return tools.scale_at_square_deg != 0.0 ? tools.scale_at_square_deg - away_deg : away_deg;
}

std::string show_setting(double saw_deg, const Project& project) {
    return show_angle(on_scale_deg(shown_away_deg(saw_deg, project), project.tools),
                      project.tools.slope_by == SlopeBy::saw ? 2 : 1);
}

double stepped_up_mm(double mm, const Project& project) {
    constexpr double kSameStep = 1e-9;  // a computed full step stays one
    return std::ceil(mm / project.tools.rule_step_mm - kSameStep) * project.tools.rule_step_mm;
}

std::string shown(double mm, const Project& project) {
    return show_length(mm, project.style());
}

std::string shown_misfit(double mm, const Project& project) {
    const double size = std::abs(mm);
    const bool fine = project.accuracy.preset == Preset::fine;
    if (in_inches(project)) {
        if (fine) return size < 0.001 * kInchMm ? std::string("under 0.001") : show_number(size / kInchMm, size < kInchMm ? 3 : 2);
        const double part = kInchMm / (project.accuracy.preset == Preset::garden ? 32.0 : 64.0);  // what a rule of such work shows
        return show_length(std::max(size, part), {Unit::inch, part}).insert(0, size < part * (1.0 - 1e-9) ? "under " : "");
    }
    const char* unit = project.unit == Unit::mm ? "" : " mm";  // nobody speaks of gaps in metres
    const double least = project.accuracy.preset == Preset::garden ? 1.0 : fine ? 0.01 : 0.1;
    if (size < least) return fmt::format("under {}{}", show_number(least, 2), unit);
    return show_number(size, size < 0.1 ? 2 : size < 10.0 ? 1 : 0) + unit;
}

std::string shown_wanted_gap(const Project& project) {
    const double gap = project.wanted.gap_mm;
    if (!in_inches(project)) return show_number(gap, 2) + (project.unit == Unit::mm ? "" : " mm");
    const double part = kInchMm / 64.0;
    const bool is_part = gap > 0.0 && std::abs(gap - rounded_to_step(gap, part)) < 1e-6 * gap;
    return is_part ? show_length(gap, {Unit::inch, part}) : show_number(gap / kInchMm, 3);
}

std::string bevel_words(double rise_mm, double base_mm, const Project& project) {
    constexpr double kSameArm = 1.0 + 1e-12;
    if (rise_mm <= base_mm * kSameArm) return fmt::format("rise {} from {}", shown(rise_mm, project), shown(base_mm, project));
    return fmt::format("rise {} from {}", shown(base_mm, project), shown(base_mm * base_mm / rise_mm, project));
}

std::string bevel_cell(double rise_mm, double base_mm, const Project& project) {
    constexpr double kSameArm = 1.0 + 1e-12;
    if (rise_mm <= base_mm * kSameArm) return shown(rise_mm, project);
    return fmt::format("{} in {}", shown(base_mm, project), shown(base_mm * base_mm / rise_mm, project));
}

std::string shown_run(double mm, Unit unit) {
    constexpr double kNothing = 1e-9;
    if (in_inches(unit))
        return fmt::format("{} ft", show_number(std::ceil(mm / unit_in_mm(Unit::foot) - kNothing), 0));
    return fmt::format("{} m", show_number(std::ceil(mm / 100.0 - kNothing) / 10.0, 1));
}

std::string shown_section(double width_mm, double thickness_mm, const Project& project) {
    return fmt::format("{} x {}", shown(width_mm, project), shown(thickness_mm, project));
}

std::string shown_width(const Board& board, bool second_end_left, const Project& project) {
    const std::string left = shown(board.width_at(second_end_left ? 1 : 0), project), right = shown(board.width_at(second_end_left ? 0 : 1), project);
    return left == right ? left : fmt::format("{} to {}", left, right);
}

bool adds_up(const std::vector<std::string>& parts, std::string_view sum) {
    long long total = 0;
    for (const std::string& part : parts) total += millionths(part);
    return total == millionths(sum);
}

}  // namespace boardring
