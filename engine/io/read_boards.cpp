#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "base/names.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"
#include "io/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostCourses = 100;

BoardEntry read_entry(Job& job, const Spot& spot, const StockRead& stock, std::optional<Lie> placed) {
    const auto fields = Fields::open(job, spot, {"stock", "width", "thickness"});
    if (fields) return read_board_entry(job, *fields, stock, placed);
    BoardEntry entry;
    entry.pointer = spot.pointer;
    entry.has_stock = entry.has_width = entry.has_thickness = true;
    return entry;
}

std::string listed(const std::vector<std::size_t>& boards) {
    constexpr std::size_t kMostListed = 12;
    std::string text = boards.size() == 1 ? "Board " : "Boards ";
    for (std::size_t i = 0; i < boards.size() && i < kMostListed; ++i) text += (i == 0 ? "" : ", ") + board_number(boards[i]);
    return boards.size() > kMostListed ? text + fmt::format(" and {} more", boards.size() - kMostListed) : text;
}

void tell_sizeless(Job& job, const Spot& spot, const std::vector<std::size_t>& sizeless, std::size_t boards) {
    if (sizeless.empty()) return;
    job.tell(
        spot, "board.no-size",
        fmt::format("{} {} no width and thickness.", sizeless.size() == boards ? "The boards" : listed(sizeless),
                    sizeless.size() == 1 ? "has" : "have"),
        "Give \"stock\", or \"width\" and \"thickness\" as measured: for all boards under \"all\", for one under its number.");
}

void tell_misplaced_taper(Job& job, const Spot& spot, std::optional<Lie> placed) {
    if (!placed) {
        job.tell(spot, "board.taper-place", fmt::format("{} has two sizes, but a board of a pile has no ends yet that they could be of.", name_at_start(spot)),
                 "Give the larger; or leave out the pile and name every board by its number.");
        return;
    }
    const bool flat = *placed == Lie::flat;
    job.tell(spot, "board.taper-place",
             fmt::format("{} has two sizes, but the boards lie {}: only their {} lies in the plan and may differ from end to end.", name_at_start(spot),
                         flat ? "flat" : "on edge", flat ? "width" : "thickness"),
             "Give one size: the smaller, to which the board will have to be made.");
}

// One size, or two: at the first corner of the board and at its second.
struct Sizes {
    double larger_mm = 0.0;
    double taper_mm = 0.0;
};

Sizes read_sizes(Job& job, const Spot& spot, const LengthLimits& limits, std::optional<Lie> placed) {
    if (spot.json->type != JsonValue::Type::list) return {read_length(job, spot, limits).value_or(0.0), 0.0};
    const bool in_plan = placed && (limits.measures == Measures::width) == (*placed == Lie::flat);
    if (!in_plan) {
        tell_misplaced_taper(job, spot, placed);
        return {};
    }
    if (!read_list(job, spot, 2, 2, "sizes")) return {};
    std::array<double, 2> mm{};
    for (std::size_t e = 0; e < 2; ++e) {
        mm[e] = read_length(job, {&spot.json->children[e], fmt::format("{}/{}", spot.pointer, e)}, limits).value_or(0.0);
    }
    return {std::max(mm[0], mm[1]), mm[1] - mm[0]};
}

std::map<std::size_t, BoardEntry> read_own_entries(Job& job, const Fields& fields, const StockRead& stock, Lie lie,
                                              std::optional<std::size_t> boards) {
    std::map<std::size_t, BoardEntry> own;
    for (const auto& [key, spot] : fields.others()) {
        const auto number = board_key(key);
        if (!number) continue;
        own.emplace(*number - 1, read_entry(job, spot, stock, lie));
        if (boards && *number > *boards) {
            job.tell(spot, "board.no-such-board", fmt::format("There is no board {}: the outline has {} boards.", key, *boards),
                     fmt::format("Use 1 to {}.", *boards));
        }
    }
    return own;
}

// With a pile no board has its place yet: one named by number would be asked for twice.
void tell_pile_and_numbers(Job& job, const Fields& fields) {
    for (const auto& [key, spot] : fields.others()) {
        if (!board_key(key)) continue;
        job.tell(spot, "pile.and-numbers",
                 fmt::format("The boards are given as a pile, and board {} by its number as well.", key),
                 fmt::format("Leave out \"{}\" and I find every board its place, or leave out \"pile\" and name every board by its number.", key));
    }
}

// The first boards of the pile, one a place, until they are arranged.
std::vector<BoardAsked> first_of_pile(const std::vector<PileKind>& pile, std::size_t boards) {
    std::vector<BoardAsked> first;
    for (const PileKind& kind : pile) {
        for (std::size_t i = 0; i < kind.count && first.size() < boards; ++i) first.push_back(kind.board);
    }
    return first;
}

}  // namespace

std::optional<std::size_t> board_key(std::string_view key) {
    if (key.empty() || key.size() > 6 || key.front() == '0') return std::nullopt;
    std::size_t number = 0;
    for (const char c : key) {
        if (c < '0' || c > '9') return std::nullopt;
        number = number * 10 + static_cast<std::size_t>(c - '0');
    }
    return number;
}

bool is_board_key(std::string_view key) {
    return board_key(key).has_value();
}

BoardEntry read_board_entry(Job& job, const Fields& fields, const StockRead& stock, std::optional<Lie> placed) {
    BoardEntry entry;
    entry.pointer = fields.spot().pointer;
    if (const auto name = fields.find("stock")) {
        entry.has_stock = true;
        entry.stock = read_stock_name(job, *name, stock);
    }
    if (const auto width = fields.find("width")) {
        entry.has_width = true;
        const Sizes sizes = read_sizes(job, *width, kBoardWidth, placed);
        entry.width_mm = sizes.larger_mm;
        entry.width_taper_mm = sizes.taper_mm;
    }
    if (const auto thickness = fields.find("thickness")) {
        entry.has_thickness = true;
        const Sizes sizes = read_sizes(job, *thickness, kBoardThickness, placed);
        entry.thickness_mm = sizes.larger_mm;
        entry.thickness_taper_mm = sizes.taper_mm;
        if (entry.has_width) tell_if_thicker_than_wide(job, *thickness, entry.width_mm, entry.thickness_mm);
    }
    return entry;
}

BoardEntry merged(const BoardEntry& all, const BoardEntry& own, const StockRead& stock) {
    BoardEntry board = own;
    if (!own.has_stock) {
        board.has_stock = all.has_stock;
        board.stock = all.stock;
    }
    if (!own.has_width && all.has_width) {
        board.has_width = true;
        board.width_mm = all.width_mm;
        board.width_taper_mm = all.width_taper_mm;
    }
    if (!own.has_thickness && all.has_thickness) {
        board.has_thickness = true;
        board.thickness_mm = all.thickness_mm;
        board.thickness_taper_mm = all.thickness_taper_mm;
    }
    if (!board.has_stock) return board;
    if (!board.has_width) board.width_mm = board.stock ? stock.stock[*board.stock].width_mm : 0.0;
    if (!board.has_thickness) board.thickness_mm = board.stock ? stock.stock[*board.stock].thickness_mm : 0.0;
    board.has_width = board.has_thickness = true;
    return board;
}

Lie read_lie_of_pieces(Job& job, const Fields& project) {
    const auto fields = open_section(job, project, "boards", {"lie"});
    const auto lie = fields ? fields->find("lie") : std::nullopt;
    if (lie) return read_choice<Lie>(job, *lie, {"flat", "on edge"}).value_or(Lie::flat);
    job.assume(project.pointer("boards") + "/lie", "pieces lie flat: slopes run across their width");
    return Lie::flat;
}

BoardsRead read_boards(Job& job, const Fields& project, const StockRead& stock, std::optional<std::size_t> boards) {
    BoardsRead read;
    const auto spot = project.require(job, "boards", "how the boards lie and what they are",
                                      R"({ "lie": "on edge", "all": { "stock": "rail" } })");
    if (!spot) return read;
    const auto fields = Fields::open(job, *spot, {"lie", "courses", "all", "pile"}, {is_board_key, "board numbers"});
    if (!fields) return read;
    if (const auto lie = fields->require(
            job, "lie", "how the boards lie: flat, with their width in the plan, or on edge, with their thickness in it",
            "\"on edge\"")) {
        read.lie = read_choice<Lie>(job, *lie, {"flat", "on edge"}).value_or(read.lie);
    }
    if (const auto courses = fields->find("courses")) {
        read.courses = read_count(job, *courses, {1, kMostCourses}).value_or(1);
    } else {
        job.assume(fields->pointer("courses"), "one course");
    }
    const auto all_spot = fields->find("all");
    BoardEntry all;
    const auto pile = fields->find("pile");
    if (all_spot) all = read_entry(job, *all_spot, stock, pile ? std::nullopt : std::optional(read.lie));
    if (pile) {
        tell_pile_and_numbers(job, *fields);
        read.pile = read_pile(job, *pile, read.lie, all, stock, boards);
        read.boards = first_of_pile(read.pile, boards.value_or(0));
        return read;
    }
    const auto own = read_own_entries(job, *fields, stock, read.lie, boards);
    std::vector<std::size_t> sizeless;
    for (std::size_t k = 0; k < boards.value_or(0); ++k) {
        const auto found = own.find(k);
        BoardEntry board = merged(all, found == own.end() ? BoardEntry() : found->second, stock);
        if (board.pointer.empty()) board.pointer = all_spot ? all_spot->pointer : spot->pointer;
        if (!board.has_width || !board.has_thickness) sizeless.push_back(k);
        read.boards.push_back({board.stock, board.width_mm, board.thickness_mm, board.pointer,
                               read.lie == Lie::flat ? board.width_taper_mm : board.thickness_taper_mm});
    }
    tell_sizeless(job, *spot, sizeless, read.boards.size());
    return read;
}

}  // namespace boardring
