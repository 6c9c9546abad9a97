#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/ensure.hpp"
#include "spoken/listener.hpp"

// Shapes, and the words of an outline.

namespace boardring {
namespace {

struct ShapeMeant {
    Sense sense;
    SpokenShape shape;
    std::string_view means;
};
constexpr std::array<ShapeMeant, 11> kShapes{{
    {Sense::regular, SpokenShape::regular, ""},
    {Sense::ring, SpokenShape::regular, "pieces round a whole circle"},
    {Sense::square, SpokenShape::rectangle, "four equal boards, square corners"},
    {Sense::rectangle, SpokenShape::rectangle, "four boards, square corners"},
    {Sense::ell, SpokenShape::ell, "a rectangle with one corner notched out"},
    {Sense::u_shape, SpokenShape::u_shape, "a rectangle with a notch in one long side"},
    {Sense::tee, SpokenShape::tee, "a rectangle with two corners notched out"},
    {Sense::part_ring, SpokenShape::part_ring, ""},
    {Sense::arch, SpokenShape::arch, "pieces along an arc, open at the ends"},
    {Sense::window, SpokenShape::window, "round an opening on a wall: sill, legs, head"},
    {Sense::door, SpokenShape::door, "head and two legs, open at the floor"},
}};

const ShapeMeant& shape_of(Sense sense) {
    const auto found = std::find_if(kShapes.begin(), kShapes.end(), [sense](const ShapeMeant& s) { return s.sense == sense; });
    ENSURE(found != kShapes.end());
    return *found;
}

}  // namespace

// Half of a regular ring: `half hexagon`, `half an octagon`, `half a 12-sided ring`.
void Listener::hear_half(std::size_t first) {
    const bool named = is_sense(at_, Sense::regular);
    const bool counted = is_amount(at_) && noun_behind(at_) == Sense::sides;
    if (!named && !counted) return hear_unknown(first);
    std::optional<std::size_t> corners;
    if (named) {
        corners = static_cast<std::size_t>(word_at(at_).row->value);
        at_ += word_at(at_).count;
    } else {
        corners = count_of(token(at_), 1000, "sides");
        at_ = past_links(at_ + 1);
        at_ += word_at(at_).count;
    }
    if (!corners) return;
    const std::string word = "half " + regular_name(*corners);
    if (draft_.shape != SpokenShape::none) return tell_twice("the shape", draft_.shape_word, word);
    if (*corners % 2 == 1 || *corners < 4) {
        return tell("sentence.does-not-fit", fmt::format("Half of {} sides has two ends that are not alike.", *corners), "Say an even number of sides, 4 or more: half hexagon, half octagon.");
    }
    draft_.shape = SpokenShape::regular;
    draft_.half = true;
    draft_.corners = *corners;
    draft_.shape_word = word;
    note_phrase(first, fmt::format("half of a ring of {} equal sides, open at the ends", *corners));
}

void Listener::hear_shape(const SpokenWord& row, std::size_t first) {
    if (row.sense == Sense::half) return hear_half(first);
    if (row.sense == Sense::thing) {
        const std::string thing = said(first, at_);
        if (draft_.thing.empty()) {
            draft_.thing = thing;
            note_phrase(first, "a word of its name");
        }
        return;
    }
    const SpokenShape shape = shape_of(row.sense).shape;
    const std::string word = said(first, at_);
    const auto corners = static_cast<std::size_t>(row.sense == Sense::regular ? row.value : 0);
    // A half round arch is a half ring.
    if (draft_.shape == SpokenShape::part_ring && shape == SpokenShape::arch) return void(note_phrase(first, "a word of its shape"));
    const bool same_ring = shape == SpokenShape::regular && draft_.shape == shape && (corners == 0 || draft_.corners == 0 || corners == draft_.corners);
    if (draft_.shape != SpokenShape::none && !same_ring) return tell_twice("the shape", draft_.shape_word, word);
    draft_.shape = shape;
    if (!(row.sense == Sense::ring && draft_.corners != 0)) draft_.shape_word = row.sense == Sense::window || row.sense == Sense::door ? word : std::string(row.word);
    if (corners != 0) draft_.corners = corners;
    draft_.circle = draft_.circle || row.sense == Sense::ring;
    if (row.sense == Sense::part_ring) draft_.span_deg = row.value;
    if (row.sense == Sense::window && word != "opening" && !draft_.sill) draft_.sill = true;
    if (row.sense == Sense::door) draft_.sill = false;
    if (row.sense == Sense::square) draft_.of = RegularOutline::Of::side;
    shape_wants_pair_ = true;
    if (shape == SpokenShape::regular && !draft_.circle) {
        note_phrase(first, fmt::format("a ring of {} equal boards, corners of {}", draft_.corners,
                                       show_number(180.0 - 360.0 / static_cast<double>(draft_.corners), 2)));
    } else if (shape == SpokenShape::part_ring) {
        note_phrase(first, fmt::format("pieces along {} degrees of a circle, open at the ends", row.value));
    } else {
        note_phrase(first, std::string(shape_of(row.sense).means));
    }
}

// Head, legs and sill of an opening: how long they are, or which boards they are made of.
void Listener::hear_part(Sense part, std::size_t first) {
    const std::string name = part == Sense::head ? "head" : part == Sense::legs ? "legs" : "sill";
    if (part == Sense::head && take(Sense::through)) {
        draft_.head_through = true;
        note_phrase(first, "the head runs on over the legs");
        return;
    }
    take_links();
    const bool own_width = is_amount(at_) && noun_behind(at_) == Sense::wide, own_thickness = is_amount(at_) && noun_behind(at_) == Sense::thick;
    if (starts_pair(at_)) {
        if (const auto section = section_of(take_pair())) {
            draft_.parts[name] = *section;
            note_phrase(first, fmt::format("{}: {}", name, section_words(*section)));
        }
    } else if (own_width || own_thickness) {
        const auto value = length_of(token(at_));
        at_ = past_links(at_ + 1);
        at_ += word_at(at_).count;
        set(own_width ? draft_.parts[name].width : draft_.parts[name].thickness, value, fmt::format("the {}", name));
        if (value) note_phrase(first, fmt::format("{}: {} {}", name, show(*value), own_width ? "wide" : "thick"));
    } else if (is_plain(at_)) {
        const auto value = length_of(token(at_++));
        if (!value) return;
        if (part == Sense::head) set(draft_.head, value, "the head");
        if (part == Sense::sill) set(draft_.sill_length, value, "the sill");
        std::string means = fmt::format("{}: {} long", name, show(*value));
        if (part == Sense::legs) {
            draft_.legs = {*value};
            if (at_ < words_.size() && words_[at_] == "and" && is_plain(at_ + 1)) {
                ++at_;
                if (const auto left = length_of(token(at_++))) {
                    draft_.legs.push_back(*left);
                    means = fmt::format("legs: {} long at the right, {} at the left", show(*value), show(*left));
                }
            }
        }
        note_phrase(first, means);
    } else {
        if (part == Sense::sill) draft_.sill = true;
        note_phrase(first, part == Sense::legs ? "two of them" : fmt::format("with a {}", name));
    }
}

// `radius 500`, `margin of 6`: the number follows.
bool Listener::hear_noun_first(Sense noun, std::size_t first) {
    take_links();
    if (!is_amount(at_) || starts_pair(at_)) return false;
    hear_noun(noun, at_++, first);
    return true;
}

bool Listener::hear_outline_word(const SpokenWord& row, std::size_t first) {
    const Sense sense = row.sense;
    if (sense == Sense::sides && token(at_).kind == Kind::word && words_[first] == "corners") return hear_corners(first);
    if (sense == Sense::sides) {  // "sides of 400"; "six sides" is read from its number
        take_links();
        if (!is_plain(at_)) return false;
        draft_.of = RegularOutline::Of::side;
        const std::size_t before = heard_.phrases.size();
        hear_size(at_);
        if (heard_.phrases.size() > before) heard_.phrases.back().said = said(first, at_);
        return true;
    }
    if (sense >= Sense::inside && sense <= Sense::circumscribed) {
        hear_size(first);
        return true;
    }
    if (sense == Sense::notch) {
        take_links();
        if (!starts_pair(at_)) return false;
        Pair pair = take_pair();
        pair.phrase = note_phrase(first, "");
        take_as_notch(pair);
        return true;
    }
    if (sense == Sense::head || sense == Sense::legs || sense == Sense::sill) {
        hear_part(sense, first);
        return true;
    }
    if (sense == Sense::no) {
        if (!take(Sense::sill)) return false;
        draft_.sill = false;
        note_phrase(first, "head and two legs, open below");
        return true;
    }
    if (sense == Sense::fits_flats || sense == Sense::fits_corners) {
        draft_.fits = sense == Sense::fits_flats ? ArcOutline::Fits::flats : ArcOutline::Fits::corners;
        note_phrase(first, sense == Sense::fits_flats ? "the sides of the pieces touch the circle" : "the corners of the pieces lie on the circle");
        return true;
    }
    if (sense == Sense::open_ends) return draft_.ends_square = true, note_phrase(first, "both free ends are cut square"), true;
    if (sense == Sense::clockwise) return draft_.clockwise = true, note_phrase(first, "the letters go clockwise"), true;
    if (sense == Sense::from_room) return draft_.from_room = true, note_phrase(first, "drawn as seen from the room"), true;
    return is_number_noun(sense) && hear_noun_first(sense, first);
}

}  // namespace boardring
