#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "spoken/listener.hpp"

// Shapes, and the words of an outline.

namespace boardring {
namespace {

SpokenShape shape_of(Sense sense) {
    switch (sense) {
        case Sense::regular: case Sense::ring: return SpokenShape::regular;
        case Sense::square: case Sense::rectangle: return SpokenShape::rectangle;
        case Sense::ell: return SpokenShape::ell;
        case Sense::u_shape: return SpokenShape::u_shape;
        case Sense::tee: return SpokenShape::tee;
        case Sense::part_ring: return SpokenShape::part_ring;
        case Sense::arch: return SpokenShape::arch;
        case Sense::window: return SpokenShape::window;
        case Sense::door: return SpokenShape::door;
        default: return SpokenShape::none;
    }
}

std::string_view meaning_of(Sense sense) {
    switch (sense) {
        case Sense::ring: return "pieces round a whole circle";
        case Sense::square: return "four equal boards, square corners";
        case Sense::rectangle: return "four boards, square corners";
        case Sense::ell: return "a rectangle with one corner notched out";
        case Sense::u_shape: return "a rectangle with a notch in one long side";
        case Sense::tee: return "a rectangle with two corners notched out";
        case Sense::arch: return "pieces along an arc, open at the ends";
        case Sense::window: return "round an opening on a wall: sill, legs, head";
        case Sense::door: return "head and two legs, open at the floor";
        default: return "";
    }
}

}  // namespace

void Listener::hear_shape(const SpokenWord& row, std::size_t first) {
    if (row.sense == Sense::thing) {
        const std::string thing = said(first, at_);
        if (draft_.thing.empty()) {
            draft_.thing = thing;
            note_phrase(first, "a word of its name");
        }
        return;
    }
    const SpokenShape shape = shape_of(row.sense);
    const std::string word = said(first, at_);
    const auto corners = static_cast<std::size_t>(row.sense == Sense::regular ? row.value : 0);
    const bool same_ring = shape == SpokenShape::regular && draft_.shape == shape && (corners == 0 || draft_.corners == 0 || corners == draft_.corners);
    if (draft_.shape != SpokenShape::none && !same_ring) return tell_twice("the shape", draft_.shape_word, word);
    draft_.shape = shape;
    draft_.shape_word = row.sense == Sense::window || row.sense == Sense::door ? word : std::string(row.word);
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
        note_phrase(first, std::string(meaning_of(row.sense)));
    }
}

// Head, legs and sill of an opening: how long they are, or which boards they are made of.
bool Listener::hear_part(Sense part, std::size_t first) {
    const std::string name = part == Sense::head ? "head" : part == Sense::legs ? "legs" : "sill";
    if (part == Sense::head && take(Sense::through)) {
        draft_.head_through = true;
        note_phrase(first, "the head runs on over the legs");
        return true;
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
        if (!value) return true;
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
    return true;
}

bool Listener::hear_outline_word(const SpokenWord& row, std::size_t first) {
    switch (row.sense) {
        case Sense::inside: case Sense::outside: case Sense::middle: case Sense::over: case Sense::over_all: case Sense::flats:
        case Sense::points: case Sense::side: case Sense::inscribed: case Sense::circumscribed:
            hear_size(first);
            return true;
        case Sense::sides:  // "sides of 400"; "six sides" is read from its number
            at_ = past_links(at_);
            if (!is_plain(at_)) return false;
            draft_.of = RegularOutline::Of::side;
            hear_size(at_);
            heard_.phrases.back().said = said(first, at_);
            return true;
        case Sense::radius: case Sense::diameter: case Sense::span: case Sense::rise: case Sense::wide: case Sense::high: case Sense::length:
        case Sense::pieces: case Sense::thick: case Sense::margin: case Sense::kerf: case Sense::gap: case Sense::course: case Sense::spare:
        case Sense::step: {
            take_links();
            if (!is_amount(at_) || starts_pair(at_)) return false;
            hear_noun(row.sense, at_++, first);
            return true;
        }
        case Sense::notch: {
            take_links();
            if (!starts_pair(at_)) return false;
            Pair pair = take_pair();
            pair.phrase = note_phrase(first, "");
            take_as_notch(pair);
            return true;
        }
        case Sense::fits_flats: case Sense::fits_corners:
            draft_.fits = row.sense == Sense::fits_flats ? ArcOutline::Fits::flats : ArcOutline::Fits::corners;
            note_phrase(first, row.sense == Sense::fits_flats ? "the sides of the pieces touch the circle" : "the corners of the pieces lie on the circle");
            return true;
        case Sense::head: case Sense::legs: case Sense::sill:
            return hear_part(row.sense, first);
        case Sense::no:
            if (!take(Sense::sill)) return false;
            draft_.sill = false;
            note_phrase(first, "head and two legs, open below");
            return true;
        case Sense::open_ends:
            draft_.ends_square = true;
            note_phrase(first, "both free ends are cut square");
            return true;
        case Sense::clockwise:
            draft_.clockwise = true;
            note_phrase(first, "the letters go clockwise");
            return true;
        case Sense::from_room:
            draft_.from_room = true;
            note_phrase(first, "drawn as seen from the room");
            return true;
        default: return false;
    }
}

}  // namespace boardring
