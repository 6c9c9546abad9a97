#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/names.hpp"
#include "spoken/completion.hpp"
#include "spoken/wish.hpp"
#include "spoken/word_table.hpp"

// The shape, where its size is taken, the joints; what is missing and what is assumed, in words.

namespace boardring {

Findings Completion::run() {
    if (d_.shape == SpokenShape::none) {
        const std::string likely = d_.pieces >= 3 ? fmt::format("{} boards may be: {}. ", d_.pieces, regular_name(d_.pieces)) : "";
        missing("There is no shape here.", fmt::format("{}Name one: {}.", likely, known_shapes()));
        return std::move(findings_);
    }
    settle_shape();
    if (board_count(d_) == 0) return std::move(findings_);
    settle_boards();
    settle_place();
    if (d_.wish.kind != Wish::Kind::none) {
        if (findings_.empty()) append(findings_, grant_wish(d_));
        if (!findings_.empty()) return std::move(findings_);
    }
    settle_size();
    settle_joints();
    return std::move(findings_);
}

void Completion::tell(std::string code, std::string message, std::string fix) {
    findings_.push_back({Severity::error, std::move(code), "", std::move(message), std::move(fix)});
}

void Completion::missing(std::string message, std::string fix) {
    tell("sentence.missing", std::move(message), std::move(fix));
}

void Completion::unfit(std::string message, std::string fix) {
    tell("sentence.does-not-fit", std::move(message), std::move(fix));
}

void Completion::assume(const std::string& pointer, const std::string& words) {
    d_.assumed.push_back(words);
    if (!pointer.empty()) d_.notes[pointer] = "assumed: " + words;
}

// "a hexagon", "an L".
std::string Completion::an() const {
    const bool vowel = !d_.shape_word.empty() && std::string_view("aeioL8").find(d_.shape_word.front()) != std::string_view::npos;
    const bool eleven = d_.shape_word.starts_with("11-") || d_.shape_word.starts_with("18-");
    return fmt::format("{} {}", vowel || eleven ? "an" : "a", d_.shape_word);
}

std::string Completion::an_upper() const {
    std::string text = an();
    text.front() = 'A';
    return text;
}

void Completion::settle_shape() {
    if (d_.shape == SpokenShape::window && !d_.sill) {
        d_.sill = true;
        assume("/outline/rectangle", "the opening has a sill: boards all round");
    }
    if (d_.shape == SpokenShape::door && d_.sill == true) unfit("A door has no sill here: its legs stand on the floor.", "Say window instead of door if there is one.");
    if (d_.half) return settle_half();
    if (d_.corners != 0) d_.circle = false;  // a hexagonal ring is a hexagon
    const bool from_pieces = d_.circle || d_.shape == SpokenShape::part_ring || d_.shape == SpokenShape::arch;
    if (from_pieces && d_.corners == 0 && d_.pieces == 0 && d_.exceptions.size() == 1 && d_.section.nominal.empty() && !d_.section.width) {
        d_.pieces = d_.exceptions.front().count;  // "7 boards of 120x30"
    }
    if (from_pieces && d_.pieces == 0 && d_.corners == 0) missing(fmt::format("Of how many pieces is the {}?", d_.shape_word), "Say it like: 7 pieces.");
    if (d_.circle && d_.corners == 0) d_.corners = d_.pieces;
    const std::size_t boards = board_count(d_);
    if (d_.pieces != 0 && boards != 0 && d_.pieces != boards) {
        unfit(fmt::format("{} takes {} boards; you say {}.", an_upper(), boards, d_.pieces), fmt::format("Say {} boards, or another shape.", boards));
    }
    if (is_opening()) d_.from_room = true;
    refuse_parts();
}

// Parts of other shapes.
void Completion::refuse_parts() {
    if (d_.ends_square && !is_open(d_)) unfit(fmt::format("{} has no free ends.", an_upper()), "Leave out \"ends square\".");
    if (d_.notch_along && d_.shape != SpokenShape::ell && d_.shape != SpokenShape::u_shape && d_.shape != SpokenShape::tee) {
        unfit(fmt::format("{} has no notch.", an_upper()), "Say L, U or T.");
    }
    if (!is_opening() && (d_.head || d_.sill_length || !d_.legs.empty() || !d_.parts.empty() || d_.head_through)) {
        unfit(fmt::format("{} has no head, legs or sill.", an_upper()), "Say window or door, or name boards by their numbers.");
    }
}

// Cut from corner to corner a half has equal boards; from side to side its first and last are half a side long. Where half the sides
// are an odd number, the first has a board in front, as people build it; else both are built.
void Completion::settle_half() {
    const std::size_t equal = d_.corners / 2;
    const std::string halves = fmt::format("{}: {} whole ones and 2 halves, cut from side to side", equal + 1, equal - 1);
    if (d_.pieces == 0 && d_.exceptions.size() == 1 && d_.section.nominal.empty() && !d_.section.width) d_.pieces = d_.exceptions.front().count;
    if (d_.pieces == 0 && equal % 2 == 0) {
        tell("sentence.ambiguous", fmt::format("{} can be {} equal boards, cut from corner to corner, or {}.", an_upper(), equal, halves),
             fmt::format("Say {} boards, or {} boards.", equal, equal + 1));
        return;
    }
    if (d_.pieces == 0) {
        d_.pieces = equal;
        d_.assumed.push_back(fmt::format("{} equal boards, cut from corner to corner; {} boards would be {} whole ones and 2 halves", equal, equal + 1, equal - 1));
    } else if (d_.pieces != equal && d_.pieces != equal + 1) {
        unfit(fmt::format("{} takes {} equal boards, or {}; you say {}.", an_upper(), equal, halves, d_.pieces), fmt::format("Say {} boards, or {} boards.", equal, equal + 1));
    }
    if (d_.wide && !d_.size) {
        d_.size = std::exchange(d_.wide, std::nullopt);
        const auto along_wall = has_half_sides(d_) ? RegularOutline::Of::over_flats : RegularOutline::Of::over_points;
        if (d_.of && *d_.of != along_wall) unfit(fmt::format("Cut like that it is {} wide over the {}.", show(*d_.size), has_half_sides(d_) ? "flats" : "points"), "Leave out the other word.");
        d_.of = along_wall;
    }
    refuse_parts();
}

void Completion::settle_place() {
    const bool wish_knows = d_.wish.kind == Wish::Kind::fits_round || d_.wish.kind == Wish::Kind::stands_on || d_.wish.kind == Wish::Kind::litres;
    const bool outside = d_.wish.kind == Wish::Kind::stands_on;
    if (wish_knows) {
        const OutlineLine line = outside ? OutlineLine::outside : OutlineLine::inside;
        if (d_.line && *d_.line != line) {
            unfit(outside ? "What a frame stands on is measured outside." : "What a frame holds is measured inside.", fmt::format("Leave out the other word, or say {}.", outside ? "outside" : "inside"));
        }
        d_.line = line;
    }
    if (!d_.line && (is_opening() || d_.wish.kind == Wish::Kind::boards_give)) {
        d_.line = OutlineLine::inside;
        assume("/outline/line", is_opening() ? "the size is that of the opening, the inside of the boards" : "the size is counted inside");
    }
    if (!d_.line) missing("Is the size taken inside or outside the boards?", "Say inside, outside or middle, as in: 640 inside.");
}

void Completion::settle_joints() {
    const std::size_t head = is_open(d_) ? 2 : 3;
    if (d_.head_through) {
        d_.joints.through.push_back(head);
        if (!d_.joints.kind) d_.joints.kind = JointKind::butt;
    }
    if (d_.stop_deg) {
        std::optional<double>& limit = *d_.lie == Lie::on_edge ? d_.tilt_deg : d_.swing_deg;
        if (limit && *limit != *d_.stop_deg) {
            tell("sentence.said-twice", "You say two stops of the saw.", "Leave one of them out.");
        }
        limit = d_.stop_deg;
    }
    share_through();
}

// `butt at B and C, 2 through`: each corner takes the boards that come to it.
void Completion::share_through() {
    const std::size_t boards = board_count(d_);
    std::map<std::size_t, bool> comes;
    for (auto& [letter, joint] : d_.corner_joints) {
        const std::optional<std::size_t> corner = corner_index(letter);
        if (!joint.shared || !corner) continue;
        const std::size_t before = *corner == 0 ? boards : *corner, behind = *corner + 1;
        std::vector<std::size_t> here;
        for (const std::size_t board : joint.through) {
            const bool meets = board == before || board == behind;
            comes[board] = comes[board] || meets;
            if (meets) here.push_back(board);
        }
        joint.through = std::move(here);
    }
    for (const auto& [board, meets] : comes) {
        if (!meets) unfit(fmt::format("Board {} comes to none of the corners you say it runs on at.", board), "Name boards that meet at these corners: 1 and 2 meet at B.");
    }
}

Findings complete(Draft& draft) {
    return Completion(draft).run();
}

}  // namespace boardring
