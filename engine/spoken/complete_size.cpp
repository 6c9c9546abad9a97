#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/inch_units.hpp"
#include "base/length_text.hpp"
#include "spoken/completion.hpp"

// How large the frame is: each shape is sized in its own way.

namespace boardring {

void Completion::settle_size() {
    switch (d_.shape) {
        case SpokenShape::none: return;
        case SpokenShape::regular: return settle_regular();
        case SpokenShape::rectangle: case SpokenShape::ell: case SpokenShape::u_shape: case SpokenShape::tee: return settle_box();
        case SpokenShape::part_ring: case SpokenShape::arch: return settle_arc();
        case SpokenShape::window: case SpokenShape::door: return settle_opening();
    }
}

void Completion::unfit_size(const std::optional<SaidLength>& size, std::string_view name) {
    if (size) unfit(fmt::format("The {} of {}: {} has no {}.", name, show(*size), an(), name), "Leave it out, or say what it belongs to.");
}

void Completion::settle_regular() {
    if (!d_.size && d_.wide && !d_.circle) d_.size = std::exchange(d_.wide, std::nullopt);
    unfit_size(d_.length, "length"), unfit_size(d_.rise, "rise"), unfit_size(d_.wide, "width");
    if (d_.circle && (d_.radius || d_.diameter || !d_.size)) {
        if (d_.size) unfit(fmt::format("{} is a second size.", show(*d_.size)), "Leave it out, or say what it is: thick, wide, margin ...");
        if (d_.radius) d_.size = length_in_unit(2.0 * d_.radius->mm, d_.unit);
        if (d_.diameter && !d_.radius) d_.size = d_.diameter;
        if (!d_.size) return missing("There is no size here.", "Say it like: radius 400, or diameter 800.");
        if (!d_.fits) assume("/outline/regular", "the sides touch the circle");
        const bool corners = d_.fits == ArcOutline::Fits::corners;
        d_.of = corners ? RegularOutline::Of::circumscribed : RegularOutline::Of::inscribed;
        return;
    }
    if (d_.circle && !d_.of && d_.pieces != 0) {
        return tell("sentence.ambiguous", fmt::format("{} can mean the radius or the diameter.", show(*d_.size)),
                    fmt::format("Say radius {} or diameter {}.", show(*d_.size), show(*d_.size)));
    }
    if (d_.circle && d_.corners % 2 == 1 && d_.of == RegularOutline::Of::over_flats) d_.of = RegularOutline::Of::inscribed;  // straight across a circle
    if (d_.radius || d_.diameter) {
        const SaidLength& said = d_.radius ? *d_.radius : *d_.diameter;
        tell("sentence.ambiguous", fmt::format("{} can mean the circle that touches the sides or the one through the corners.", show(said)),
             fmt::format(fmt::runtime(d_.corners % 2 == 0 ? "Say {0} flats, or {0} points." : "Say {0} inscribed, or {0} circumscribed."),
                         show(d_.radius ? length_in_unit(2.0 * said.mm, d_.unit) : said)));
        return;
    }
    if (!d_.size) return missing("There is no size here.", d_.corners % 2 == 0 ? "Say it like: 640 inside flats." : "Say it like: side 400 inside.");
    const std::string size = show(*d_.size);
    const bool flats = d_.of == RegularOutline::Of::over_flats, points = d_.of == RegularOutline::Of::over_points;
    if (d_.corners % 2 == 1 && (flats || points)) {
        return unfit(fmt::format("{} has no opposite {}, so nothing can be measured over them.", an_upper(), flats ? "flats" : "points"),
                     fmt::format("Say side {}, or {} {}.", size, size, flats ? "inscribed" : "circumscribed"));
    }
    if (d_.of) return;
    if (d_.corners % 2 == 0) {
        tell("sentence.ambiguous", fmt::format("{} can mean over the flats, over the points, or one side.", size),
             fmt::format("Say {} flats, {} points, or side {}.", size, size, size));
    } else {
        tell("sentence.ambiguous", fmt::format("{} can mean one side, or the circle that touches the sides, or the one through the corners.", size),
             fmt::format("Say side {}, {} inscribed, or {} circumscribed.", size, size, size));
    }
}

void Completion::settle_box() {
    if (!d_.first && d_.length) d_.first = d_.length;
    if (!d_.second && d_.wide) d_.second = d_.wide;
    if (d_.shape_word == "square" && d_.first && d_.first->mm != d_.second->mm) {
        return unfit(fmt::format("A square has one size; you say {} by {}.", show(*d_.first), show(*d_.second)), "Say rectangle, or one size.");
    }
    if (d_.shape_word == "square" && d_.size && d_.first && d_.size->mm != d_.first->mm) {
        return unfit(fmt::format("A square has one size; you say {} and {}.", show(*d_.size), show(*d_.first)), "Leave one of them out.");
    }
    if (!d_.first && d_.size && d_.shape_word == "square") d_.first = d_.second = d_.size;
    if (!d_.first || !d_.second) {
        if (d_.shape_word == "square") return missing("There is no size here.", "Say it like: square 600 inside.");
        return missing(fmt::format("{} needs a length and a width.", an_upper()), "Say it like: 1200 by 600 inside.");
    }
    if (d_.size && d_.shape_word != "square") unfit(fmt::format("{} is a third size.", show(*d_.size)), "Say what it is: thick, wide, margin ...");
    if (d_.shape == SpokenShape::rectangle) return;
    if (!d_.notch_along || !d_.notch_across) {
        return missing(fmt::format("The {} has no notch.", d_.shape_word), "Say how long and how deep it is: notch 700 by 500.");
    }
    const double room = d_.first->mm - d_.notch_along->mm * (d_.shape == SpokenShape::tee ? 2.0 : 1.0);
    if (room <= 0.0 || d_.notch_across->mm >= d_.second->mm) {
        return unfit(fmt::format("A notch of {} by {} takes all of {} by {}.", show(*d_.notch_along), show(*d_.notch_across), show(*d_.first), show(*d_.second)), "Say a smaller notch.");
    }
    if (d_.shape != SpokenShape::u_shape) {
        if (d_.notch_from) unfit("Only the notch of a U has a place.", "Leave out \"from the left\".");
        return;
    }
    if (!d_.notch_from) {
        d_.notch_from = length_in_unit(room / 2.0, d_.unit);
        assume("/outline/points", "the notch sits in the middle");
    } else if (d_.notch_from->mm <= 0.0 || d_.notch_from->mm >= room) {
        unfit(fmt::format("The notch would reach the end of the U: it may start above 0 and below {}.", show(length_in_unit(room, d_.unit))), "Say another place from the left, or L.");
    }
}

void Completion::settle_arc() {
    const bool part = d_.shape == SpokenShape::part_ring;
    if (!part && d_.high && !d_.rise) {
        d_.rise = std::exchange(d_.high, std::nullopt);
        assume("/outline/arc", fmt::format("{} high is how far the arch rises over its ends", show(*d_.rise)));
    }
    unfit_size(d_.high, "height"), unfit_size(d_.length, "length");
    if (!d_.radius && d_.diameter) d_.radius = length_in_unit(d_.diameter->mm / 2.0, d_.unit);
    if (part && !d_.radius && d_.size) {
        if (!d_.of) {
            return tell("sentence.ambiguous", fmt::format("{} can mean the radius or the diameter.", show(*d_.size)),
                        fmt::format("Say radius {} or diameter {}.", show(*d_.size), show(*d_.size)));
        }
        d_.radius = length_in_unit(d_.size->mm / 2.0, d_.unit);
    }
    if (!part && !d_.wide && d_.size) d_.wide = d_.size;
    if (part && !d_.radius) return missing("There is no size here.", "Say it like: radius 500.");
    if (!part && !(d_.wide && d_.rise) && !(d_.radius && d_.span_deg)) {
        return missing("An arch needs its width and its rise, or its radius and the degrees it spans.", "Say it like: 1100 wide, rise 400.");
    }
    if (!part && d_.wide && d_.rise && (d_.radius || d_.span_deg)) unfit("The arch is sized in two ways.", "Say width and rise, or radius and span.");
    if (!d_.fits) {
        d_.fits = ArcOutline::Fits::flats;
        assume("/outline/arc", sides_touch_words());
    }
}

// Where the sides touch the arc, its ends stand further apart than the arc is wide: by how much is said, since it is the width that is measured.
std::string Completion::sides_touch_words() const {
    const bool by_rise = !d_.radius;
    const double half_deg = by_rise ? 2.0 * degrees(std::atan2(d_.rise->mm, d_.wide->mm / 2.0)) : d_.span_deg.value_or(0.0) / 2.0;
    const double wide_mm = by_rise ? d_.wide->mm : 2.0 * d_.radius->mm * sin_deg(half_deg);
    const double apart_mm = wide_mm / cos_deg(half_deg / static_cast<double>(std::max<std::size_t>(d_.pieces, 1)));
    const LengthStyle style{d_.unit, in_inches(d_.unit) ? 25.4 / 16.0 : 0.5};
    return fmt::format("the sides of the pieces touch the arc: its ends stand {} apart; with corners touch it is {}", show_length_unit(apart_mm, style), show_length_unit(wide_mm, style));
}

void Completion::settle_opening() {
    const bool open = is_open(d_);
    if (!d_.first && d_.wide) d_.first = d_.wide;
    if (!d_.second && d_.high) d_.second = d_.high;
    if (!d_.first && d_.head) d_.first = d_.head;
    if (!d_.first && d_.sill_length) d_.first = d_.sill_length;
    if (d_.legs.size() == 2 && !open) {
        if (d_.legs[0].mm != d_.legs[1].mm) unfit("Legs of two lengths do not close with a sill at square corners.", "Write the four sides and corners into the project file as readings.");
    }
    if (!d_.second && !d_.legs.empty()) d_.second = d_.legs.front();
    if (!d_.first || !d_.second) return missing("An opening needs its width and its height.", "Say it like: 900 by 1200, or head 900, legs 2000.");
    if (d_.legs.empty()) d_.legs = {*d_.second};
    if (d_.legs.size() == 1) d_.legs.push_back(d_.legs.front());
    for (const auto& part : {d_.head, d_.sill_length}) {
        if (part && part->mm != d_.first->mm) unfit(fmt::format("Width {} and a head or sill of {} do not go together.", show(*d_.first), show(*part)), "Say one of them.");
    }
    if (d_.legs.front().mm != d_.second->mm) unfit(fmt::format("Height {} and a leg of {} do not go together.", show(*d_.second), show(d_.legs.front())), "Say one of them.");
}

}  // namespace boardring
