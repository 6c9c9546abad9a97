#include "spoken/same_project.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "base/ensure.hpp"
#include "base/names.hpp"

namespace boardring {
namespace {

bool same(double a, double b) {
    constexpr double kPart = 1e-9;
    return std::abs(a - b) <= kPart * std::max({1.0, std::abs(a), std::abs(b)});
}

bool same(const std::optional<double>& a, const std::optional<double>& b) {
    return a.has_value() == b.has_value() && (!a || same(*a, *b));
}

bool same(const Reading& a, const Reading& b) {
    return a.kind == b.kind && a.first == b.first && a.second == b.second && a.inward == b.inward && same(a.value, b.value) && same(a.near, b.near) &&
           same(a.accuracy, b.accuracy) && same(a.deg_per_mm, b.deg_per_mm);
}

bool same(const std::vector<Reading>& a, const std::vector<Reading>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Reading& x, const Reading& y) { return same(x, y); });
}

bool same(const RegularOutline& a, const RegularOutline& b) {
    return a.corners == b.corners && a.of == b.of && same(a.size_mm, b.size_mm);
}

bool same(const RectangleOutline& a, const RectangleOutline& b) {
    return same(a.length_mm, b.length_mm) && same(a.width_mm, b.width_mm);
}

bool same(const PointsOutline& a, const PointsOutline& b) {
    return std::equal(a.points_mm.begin(), a.points_mm.end(), b.points_mm.begin(), b.points_mm.end(), [](Vec2 p, Vec2 q) { return same(p.x, q.x) && same(p.y, q.y); });
}

bool same(const ArcOutline& a, const ArcOutline& b) {
    return same(a.radius_mm, b.radius_mm) && same(a.span_deg, b.span_deg) && a.pieces == b.pieces && a.fits == b.fits;
}

bool same(const ReadingsOutline& a, const ReadingsOutline& b) {
    return a.found == b.found && a.corners == b.corners && same(a.readings, b.readings);
}

bool same_form(const OutlineAsked& a, const OutlineAsked& b) {
    if (a.open != b.open || a.form.index() != b.form.index()) return false;
    return std::visit([&b](const auto& form) { return same(form, std::get<std::decay_t<decltype(form)>>(b.form)); }, a.form);
}

// A board with what its stock says of it. Lengths belong to boards of the stock's own size only; a board measured otherwise is asked
// for by its size.
struct Wood {
    double width_mm = 0.0, thickness_mm = 0.0, end_trim_mm = 0.0;
    Surface surface = Surface::plain;
    Grain grain = Grain::flat_sawn;
    std::string species;
    std::vector<StockLength> lengths;
};

std::string folded(std::string text) {
    for (char& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return text;
}

Wood wood_of(const Project& project, const BoardAsked& board) {
    Wood wood;
    wood.width_mm = board.width_mm;
    wood.thickness_mm = board.thickness_mm;
    if (!board.stock) return wood;
    const Stock& stock = project.stock[*board.stock];
    wood.surface = stock.surface;
    wood.grain = stock.grain;
    wood.species = folded(stock.species);
    if (same(stock.width_mm, board.width_mm) && same(stock.thickness_mm, board.thickness_mm)) wood.lengths = stock.lengths;
    if (!wood.lengths.empty()) wood.end_trim_mm = stock.end_trim_mm;
    return wood;
}

bool same(const StockLength& a, const StockLength& b) {
    return same(a.length_mm, b.length_mm) && same(a.price, b.price) && a.count == b.count && a.offcut == b.offcut;
}

bool same_lengths(const Wood& a, const Wood& b) {
    return std::equal(a.lengths.begin(), a.lengths.end(), b.lengths.begin(), b.lengths.end(), [](const StockLength& x, const StockLength& y) { return same(x, y); });
}

bool same_size(const Wood& a, const Wood& b) {
    return same(a.width_mm, b.width_mm) && same(a.thickness_mm, b.thickness_mm);
}

class Comparison {
public:
    Comparison(const Project& asked, const Project& other) : a_(asked), b_(other) {}

    std::vector<std::string> run() {
        tell(a_.title != b_.title, "its title");
        tell(a_.unit != b_.unit, fmt::format("plain numbers in {}", unit_name(a_.unit)));
        outline();
        boards();
        joints();
        tools();
        wishes();
        return std::move(told_);
    }

private:
    const Project& a_;
    const Project& b_;
    std::vector<std::string> told_;

    void tell(bool differs, std::string part) {
        if (differs && std::find(told_.begin(), told_.end(), part) == told_.end()) told_.push_back(std::move(part));
    }

    void outline() {
        const OutlineAsked &a = a_.outline, &b = b_.outline;
        tell(!same_form(a, b), "its outline");
        tell(a.line != b.line, "where on the boards its sizes are taken");
        const bool margins = std::equal(a.margin_mm.begin(), a.margin_mm.end(), b.margin_mm.begin(), b.margin_mm.end(), [](double x, double y) { return same(x, y); });
        tell(!margins, "a margin that is not the same all round, or below 0");
        tell(a.letters_clockwise != b.letters_clockwise, "which way its letters run");
        tell(a.seen_from_room != b.seen_from_room, a.seen_from_room ? "that it is drawn from the room" : "that it is drawn from above");
        tell(a.hang.has_value() || b.hang.has_value(), "how it hangs on a crooked opening");
        tell(a.pegs.has_value() || b.pegs.has_value(), "its pegs");
    }

    // What differs of boards, and of which.
    struct OfBoards {
        std::string_view part;
        std::vector<std::string> numbers;
    };

    static void wood(std::vector<OfBoards>& of, const std::string& number, const Wood& a, const Wood& b) {
        const auto note = [&](bool differs, std::string_view part) {
            if (!differs) return;
            const auto known = std::find_if(of.begin(), of.end(), [&](const OfBoards& o) { return o.part == part; });
            (known == of.end() ? *of.insert(of.end(), {part, {}}) : *known).numbers.push_back(number);
        };
        note(!same_size(a, b), "the size of ");
        note(!same_lengths(a, b), "what lengths there are of ");
        note(!same(a.end_trim_mm, b.end_trim_mm), "what is trimmed off the ends of ");
        note(a.surface != b.surface, "what shows of ");
        note(a.species != b.species, "the wood of ");
        note(a.grain != b.grain, "the grain of ");
    }

    void tell_of_boards(const std::vector<OfBoards>& of, std::size_t boards) {
        for (const OfBoards& part : of) {
            std::string who = part.numbers.size() == 1 ? "board " : "boards ";
            for (std::size_t k = 0; k < part.numbers.size(); ++k) who += (k == 0 ? "" : k + 1 == part.numbers.size() ? " and " : ", ") + part.numbers[k];
            tell(true, std::string(part.part) + (part.numbers.size() == boards ? "its boards" : who));
        }
    }

    void boards() {
        tell(a_.lie != b_.lie, "how its boards lie");
        tell(a_.courses != b_.courses, "its courses");
        tell(a_.copies != b_.copies, "how often it is built");
        for (const PieceAsked& piece : a_.pieces) tell(true, fmt::format("another piece: {}", piece.name));
        tell(a_.boards.size() != b_.boards.size(), "how many boards it has");
        if (a_.boards.size() != b_.boards.size()) return;
        if (!a_.pile.empty() || !b_.pile.empty()) return pile();
        std::vector<OfBoards> of;
        for (std::size_t k = 0; k < a_.boards.size(); ++k) {
            tell(!same(a_.boards[k].taper_mm, b_.boards[k].taper_mm), fmt::format("that board {} tapers", board_number(k)));
            wood(of, board_number(k), wood_of(a_, a_.boards[k]), wood_of(b_, b_.boards[k]));
        }
        tell_of_boards(of, a_.boards.size());
    }

    void pile() {
        std::vector<std::pair<std::size_t, Wood>> left;
        std::vector<OfBoards> of;
        for (const PileKind& kind : b_.pile) left.emplace_back(kind.count, wood_of(b_, kind.board));
        for (const PileKind& kind : a_.pile) {
            const Wood asked = wood_of(a_, kind.board);
            const auto found = std::find_if(left.begin(), left.end(), [&](const auto& l) { return l.first == kind.count && same_size(l.second, asked) && same_lengths(l.second, asked); });
            if (found == left.end()) return tell(true, "the pile of boards");
            wood(of, "", asked, found->second);
            left.erase(found);
        }
        tell(!left.empty(), "the pile of boards");
        for (const OfBoards& part : of) tell(true, std::string(part.part) + "the boards of the pile");
    }

    void joints() {
        ENSURE(a_.joints.size() == b_.joints.size() || a_.boards.size() != b_.boards.size());
        const std::size_t from = a_.outline.open ? 1 : 0, end = a_.outline.open ? a_.boards.size() : a_.joints.size();
        for (std::size_t c = from; c < end && c < b_.joints.size(); ++c) {
            const JointAsked &a = a_.joints[c], &b = b_.joints[c];
            tell(a.kind != b.kind || a.through != b.through, fmt::format("the joint at {}", corner_letter(c)));
        }
        const bool ends = same(a_.first_end.saw_deg, b_.first_end.saw_deg) && same(a_.last_end.saw_deg, b_.last_end.saw_deg);
        tell(a_.outline.open && !ends, "how its free ends are cut");
    }

    void tools() {
        const Tools &a = a_.tools, &b = b_.tools;
        tell(!same(a.rule_step_mm, b.rule_step_mm), "the rule's step");
        tell(!same(a.saw_step_deg, b.saw_step_deg), "the saw's step");
        tell(!same(a.scale_at_square_deg, b.scale_at_square_deg), "what the saw's scale reads at square");
        tell(!same(a.swing_limit_deg, b.swing_limit_deg), "how far the saw swings");
        tell(!same(a.tilt_limit_deg, b.tilt_limit_deg), "how far the saw tilts");
        tell(!same(a.fence_height_mm, b.fence_height_mm), "how high the saw's fence is");
        tell(!same(a.kerf_mm, b.kerf_mm), "the saw cut");
        tell(!same(a.hold_length_mm, b.hold_length_mm), "how short a piece can be held by hand");
        tell(a.slope_by != b.slope_by, "how slopes are set");
        tell(a.rounding != b.rounding, "how numbers are rounded");
        tell(!same(a.bevel_base_mm, b.bevel_base_mm), "how long the bevel is set over");
    }

    void wishes() {
        const Accuracy &a = a_.accuracy, &b = b_.accuracy;
        tell(a.preset != b.preset, "how true it is to be");
        const bool numbers = same(a.mark_mm, b.mark_mm) && same(a.cut_angle_deg, b.cut_angle_deg) && same(a.common_angle_deg, b.common_angle_deg) &&
                             same(a.rule_scale_mm_per_m, b.rule_scale_mm_per_m) && same(a.side_mm, b.side_mm) && same(a.angle_deg, b.angle_deg) &&
                             same(a.diagonal_mm, b.diagonal_mm) && same(a.stop_mm, b.stop_mm) && same(a.thickness_mm, b.thickness_mm);
        tell(a.preset == b.preset && !numbers, "how true it is to be, in numbers");
        tell(!same(a_.wanted.gap_mm, b_.wanted.gap_mm), "the gap that will do");
        tell(a_.wanted.fit_last != b_.wanted.fit_last, "the board fitted last");
        tell(!same(a_.wanted.leave_long_mm, b_.wanted.leave_long_mm), "how much the last board is left long");
        tell(a_.wanted.spares != b_.wanted.spares, "its spares");
        const bool asked_of_year = (a_.year && a_.year->asked) || (b_.year && b_.year->asked);
        const bool years = a_.year.has_value() == b_.year.has_value() &&
                           (!a_.year || (same(a_.year->dry_pct, b_.year->dry_pct) && same(a_.year->wet_pct, b_.year->wet_pct) && same(a_.year->made_pct, b_.year->made_pct)));
        tell(asked_of_year && !years, "its dry and wet months");
    }
};

}  // namespace

std::vector<std::string> what_differs(const Project& asked, const Project& other) {
    return Comparison(asked, other).run();
}

}  // namespace boardring
