#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "base/quoted.hpp"
#include "base/vec2.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"
#include "io/wording.hpp"

namespace boardring {
namespace {

const std::vector<std::string_view> kForms{"regular", "rectangle", "points", "arc", "readings"};
const std::vector<std::string_view> kRegularSizes{"side", "over_flats", "over_points", "inscribed_diameter",
                                                  "circumscribed_diameter"};

// The keys of `of` that are there, in the order of `of`.
std::vector<std::string_view> present(const Fields& fields, const std::vector<std::string_view>& of) {
    std::vector<std::string_view> keys;
    for (const std::string_view key : of) {
        if (fields.find(key)) keys.push_back(key);
    }
    return keys;
}

void read_regular(Job& job, const Spot& spot, OutlineRead& read) {
    const auto fields =
        Fields::open(job, spot, {"corners", "side", "over_flats", "over_points", "inscribed_diameter", "circumscribed_diameter"});
    if (!fields) return;
    RegularOutline regular;
    if (const auto corners = fields->require(job, "corners", "how many corners the ring has", "6")) {
        read.boards = read_count(job, *corners, {3, kMostCorners});
        regular.corners = read.boards.value_or(0);
    }
    const auto sizes = present(*fields, kRegularSizes);
    if (sizes.size() != 1) {
        job.tell(spot, "outline.one-size",
                 sizes.empty() ? "A regular ring needs a size."
                               : fmt::format("A regular ring takes one size; here are {}.", joined(sizes, " and ")),
                 fmt::format("Give exactly one of {}.", joined(kRegularSizes)));
    }
    for (const std::string_view key : sizes) {
        const auto size = read_length(job, *fields->find(key), kOutlineSize);
        regular.of =
            static_cast<RegularOutline::Of>(std::find(kRegularSizes.begin(), kRegularSizes.end(), key) - kRegularSizes.begin());
        regular.size_mm = size.value_or(0.0);
        const bool needs_even = regular.of == RegularOutline::Of::over_flats || regular.of == RegularOutline::Of::over_points;
        if (needs_even && regular.corners % 2 == 1) {
            const bool flats = regular.of == RegularOutline::Of::over_flats;
            job.tell(*fields->find(key), "outline.odd-corners",
                     fmt::format("A ring of {} corners has no opposite {}, so nothing can be measured over them.",
                                 regular.corners, flats ? "flats" : "points"),
                     flats ? "Give \"side\", or \"inscribed_diameter\": the circle that touches the sides."
                           : "Give \"side\", or \"circumscribed_diameter\": the circle through the corners.");
        }
    }
    read.asked.form = regular;
}

void read_rectangle(Job& job, const Spot& spot, OutlineRead& read) {
    read.boards = 4;
    const auto fields = Fields::open(job, spot, {"length", "width"});
    if (!fields) return;
    RectangleOutline rectangle;
    if (const auto length = fields->require(job, "length", "how long side AB is", "1200"))
        rectangle.length_mm = read_length(job, *length, kOutlineSize).value_or(0.0);
    if (const auto width = fields->require(job, "width", "how long side BC is", "600"))
        rectangle.width_mm = read_length(job, *width, kOutlineSize).value_or(0.0);
    read.asked.form = rectangle;
}

Vec2 read_point(Job& job, const Spot& spot) {
    if (spot.json->type != JsonValue::Type::list || spot.json->children.size() != 2) {
        tell_wrong_type(job, spot, "a point of two lengths", "Write [to the right, up], such as [900, 0].");
        return {};
    }
    const auto x = read_length(job, spot.item(0), kSignedLength);
    const auto y = read_length(job, spot.item(1), kSignedLength);
    return {x.value_or(0.0), y.value_or(0.0)};
}

// The larger of the two sides of the box round the points.
double extent(const std::vector<Vec2>& points) {
    const auto [left, right] = std::minmax_element(points.begin(), points.end(), [](Vec2 a, Vec2 b) { return a.x < b.x; });
    const auto [low, high] = std::minmax_element(points.begin(), points.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
    return std::max(right->x - left->x, high->y - low->y);
}

void read_points(Job& job, const Spot& spot, OutlineRead& read) {
    const auto count = read_list(job, spot, read.asked.open ? 2 : 3, kMostCorners, "points");
    if (!count) return;
    read.boards = read.asked.open ? *count - 1 : *count;
    PointsOutline points;
    const std::size_t plain_before = job.plain_lengths.size(), told_before = job.findings.size();
    for (std::size_t i = 0; i < *count; ++i) points.points_mm.push_back(read_point(job, spot.item(i)));
    if (job.findings.size() == told_before && extent(points.points_mm) < kShortestMm) {
        job.tell(spot, "value.out-of-range", "The points lie nearer together than anybody saws; the outline must be at least 1 mm across.",
                 "Write them in the unit of the job, or with their own: [\"900 mm\", 0].");
    }
    const bool all_plain = job.plain_lengths.size() - plain_before == 2 * *count;
    if (all_plain) job.plain_lengths.push_back({spot, Measures::outline, extent(points.points_mm)});
    read.asked.form = points;
}

void read_radius_and_span(Job& job, const Fields& fields, ArcOutline& arc) {
    if (const auto radius = fields.require(job, "radius", "how far the arc is from its middle", "500")) {
        arc.radius_mm = read_length(job, *radius, kOutlineSize).value_or(0.0);
    }
    if (const auto span = fields.require(job, "span_deg", "how many degrees of the circle the arc takes", "180")) {
        arc.span_deg = read_angle(job, *span, {0.0, 360.0, false, false}).value_or(0.0);
    }
}

// With half the chord c and the rise h the half span's half has tangent h/c, and 2 R h = c^2 + h^2.
void read_chord_and_rise(Job& job, const Fields& fields, ArcOutline& arc) {
    const auto chord_spot = fields.require(job, "chord", "how wide the arc is from end to end", "1100");
    const auto rise_spot = fields.require(job, "rise", "how high the arc stands over its chord", "400");
    const auto chord = chord_spot ? read_length(job, *chord_spot, kOutlineSize) : std::nullopt;
    const auto rise = rise_spot ? read_length(job, *rise_spot, kOutlineSize) : std::nullopt;
    if (!chord || !rise) return;
    const double half = *chord / 2.0;
    arc.radius_mm = (half * (half / *rise) + *rise) / 2.0;
    arc.span_deg = 4.0 * degrees(std::atan2(*rise, half));
}

void read_arc(Job& job, const Spot& spot, OutlineRead& read) {
    const auto fields = Fields::open(job, spot, {"radius", "span_deg", "chord", "rise", "pieces", "fits"});
    if (!fields) return;
    ArcOutline arc;
    const bool by_radius = !present(*fields, {"radius", "span_deg"}).empty();
    const bool by_chord = !present(*fields, {"chord", "rise"}).empty();
    if (by_radius == by_chord) {
        job.tell(spot, "outline.one-size", by_radius ? "The arc is given in two ways at once." : "The arc has no size.",
                 "Give radius and span_deg, or chord and rise.");
    } else if (by_radius) {
        read_radius_and_span(job, *fields, arc);
    } else {
        read_chord_and_rise(job, *fields, arc);
    }
    if (const auto pieces = fields->require(job, "pieces", "how many boards make the arc", "7")) {
        read.boards = read_count(job, *pieces, {2, kMostCorners - 1});
        arc.pieces = read.boards.value_or(0);
    }
    if (const auto fits = fields->require(job, "fits", "what touches the arc: the sides (flats) or the corners", "\"flats\"")) {
        arc.fits = read_choice<ArcOutline::Fits>(job, *fits, {"flats", "corners"}).value_or(arc.fits);
    }
    read.asked.form = arc;
}

// An arc is always open, a regular ring or a rectangle never; points and readings can be either.
void read_open(Job& job, const Fields& fields, std::string_view form, OutlineAsked& asked) {
    asked.open = form == "arc";
    const auto spot = fields.find("open");
    if (!spot) return;
    const auto open = read_flag(job, *spot);
    if (!open) return;
    const bool free_choice = form == "points" || form == "readings" || form.empty();
    if (free_choice) {
        asked.open = *open;
    } else if (*open != asked.open) {
        job.tell(*spot, "outline.open-form",
                 *open ? fmt::format("\"open\" is true, and a {} outline closes by itself.", form)
                       : "\"open\" is false, and an arc is always open.",
                 *open ? "Remove \"open\", or give the corners as points or readings." : "Remove \"open\".");
    }
}

// True for sizes found with a tape, to be fitted.
bool read_basis(Job& job, const Fields& fields, std::string_view form) {
    const auto spot = fields.find("basis");
    if (!spot) {
        if (form == "readings") job.assume(fields.pointer("basis"), "the readings are sizes you want, not sizes you found");
        return false;
    }
    const bool found = read_word(job, *spot, {"wanted", "found"}) == std::size_t{1};
    if (found && form != "readings" && !form.empty()) {
        job.tell(*spot, "outline.found-basis",
                 fmt::format("\"basis\" is found, and a {} outline holds nothing you read with a tape.", form),
                 "Write what you measured as \"readings\", or \"wanted\".");
    }
    return found;
}

void read_form(Job& job, const Fields& fields, std::string_view form, bool found, OutlineRead& read) {
    const Spot spot = *fields.find(form);
    if (form == "regular") read_regular(job, spot, read);
    if (form == "rectangle") read_rectangle(job, spot, read);
    if (form == "points") read_points(job, spot, read);
    if (form == "arc") read_arc(job, spot, read);
    if (form == "readings") {
        ReadingsRead readings = read_readings(job, spot, read.asked.open, found, !read.asked.seen_from_room);
        read.boards = readings.boards;
        read.asked.form = std::move(readings.outline);
    }
}

// "least" and "most" of a margin: how far it may take up what is crooked.
void read_margin_range(Job& job, const Fields& fields, std::vector<double>& margin_mm, std::optional<HangAsked>& hang) {
    const auto least = fields.find("least"), most = fields.find("most");
    if (!least && !most) return;
    const auto low = fields.require(job, "least", "how narrow the margin may get", "4");
    const auto high = fields.require(job, "most", "how wide the margin may get", "14");
    if (!low || !high) return;
    const auto low_mm = read_length(job, *low, kSignedLength), high_mm = read_length(job, *high, kSignedLength);
    if (!low_mm || !high_mm) return;
    if (*low_mm > *high_mm) {
        job.tell(*low, "hang.least-over-most", fmt::format("The least margin, {}, is more than the most, {}.", written(*low), written(*high)),
                 "Change the two about. Margins that go inward are below 0: the least is the one farther in.");
        return;
    }
    hang = HangAsked{false, *low_mm, *high_mm, fields.spot().pointer};
    if (!fields.find("all")) {
        margin_mm.assign(margin_mm.size(), 0.5 * (*low_mm + *high_mm));
        job.assume(fields.pointer("all"), "a margin half-way between the least and the most");
    }
}

// Lengths in the same unit as `spot` was written in, for a message beside it.
std::string margin_words(const Job& job, double mm) {
    return fmt::format("{} {}", show_number(mm / unit_in_mm(job.unit), 4), unit_name(job.unit));
}

// A board's margin that is ten or a hundred times what the others have may be one with a nought or a point too few. A margin written with
// its unit is meant.
void warn_of_odd_margin(Job& job, const Spot& spot, std::size_t board, const std::vector<double>& margin_mm) {
    constexpr double kFarFrom = 9.0, kNear = 2.0;  // times the others
    double others_mm = 0.0;
    for (std::size_t k = 0; k < margin_mm.size(); ++k) {
        if (k != board) others_mm = std::max(others_mm, std::abs(margin_mm[k]));
    }
    const double mm = margin_mm[board];
    if (spot.json->type != JsonValue::Type::number || others_mm <= 0.0 || std::abs(mm) < kFarFrom * others_mm) return;
    for (const double factor : {10.0, 100.0}) {
        const double meant = mm / factor;
        if (std::abs(meant) < others_mm / kNear || std::abs(meant) > kNear * others_mm) continue;
        job.tell(spot, "value.odd-scale",
                 fmt::format("The margin of board {} is {}; no other is over {}.", board_number(board), margin_words(job, mm), margin_words(job, others_mm)),
                 fmt::format("Write {} if that is meant, or the unit with it if it is right: \"{}\".", show_number(meant / unit_in_mm(job.unit), 4),
                             margin_words(job, mm)),
                 Severity::warning);
        return;
    }
}

// What a margin that gives is wanted to be lies between its least and its most, else it cannot be kept.
void warn_of_margin_outside(Job& job, const Spot& spot, const std::string& whose, double mm, const HangAsked& hang) {
    if (mm >= hang.least_mm && mm <= hang.most_mm) return;
    job.tell(spot, "hang.margin-outside",
             fmt::format("The margin of {} is {}, but it may be from {} to {}: hung true it cannot be kept.", whose, margin_words(job, mm),
                         margin_words(job, hang.least_mm), margin_words(job, hang.most_mm)),
             fmt::format("Write a margin between the two, or change \"{}\".", mm < hang.least_mm ? "least" : "most"), Severity::warning);
}

void read_margin_by_board(Job& job, const Spot& spot, std::optional<std::size_t> boards, std::vector<double>& margin_mm,
                          std::optional<HangAsked>& hang) {
    const auto fields = Fields::open(job, spot, {"all", "least", "most"}, {is_board_key, "board numbers"});
    if (!fields) return;
    const auto all = fields->find("all");
    const double all_mm = all ? read_length(job, *all, kSignedLength).value_or(0.0) : 0.0;
    if (all) margin_mm.assign(margin_mm.size(), all_mm);
    read_margin_range(job, *fields, margin_mm, hang);
    if (hang && all) warn_of_margin_outside(job, *all, "all boards", all_mm, *hang);
    std::vector<std::pair<std::size_t, Spot>> own;
    for (const auto& [key, value] : fields->others()) {
        const auto number = board_key(key);
        if (!number) continue;
        const auto mm = read_length(job, value, kSignedLength);
        if (boards && *number > *boards) {
            job.tell(value, "board.no-such-board", fmt::format("There is no board {}: the outline has {} boards.", key, *boards),
                     fmt::format("Use 1 to {}.", *boards));
        } else if (boards) {
            margin_mm[*number - 1] = mm.value_or(0.0);
            if (mm) own.emplace_back(*number - 1, value);
        }
    }
    for (const auto& [board, spot_of_board] : own) {
        warn_of_odd_margin(job, spot_of_board, board, margin_mm);
        if (hang) warn_of_margin_outside(job, spot_of_board, "board " + board_number(board), margin_mm[board], *hang);
    }
}

void read_margin(Job& job, const Fields& fields, OutlineRead& read) {
    read.asked.margin_mm.assign(read.boards.value_or(0), 0.0);
    const auto spot = fields.find("margin");
    if (!spot) return;
    if (spot->json->type == JsonValue::Type::object) {
        read_margin_by_board(job, *spot, read.boards, read.asked.margin_mm, read.asked.hang);
    } else {
        read.asked.margin_mm.assign(read.boards.value_or(0), read_length(job, *spot, kSignedLength).value_or(0.0));
    }
}

// Whether a frame on a crooked opening follows it or hangs true.
void read_hang(Job& job, const Fields& fields, bool found, OutlineAsked& asked) {
    const auto spot = fields.find("hang");
    if (spot) {
        const auto word = read_word(job, *spot, {"as found", "true"});
        if (!word) return;
        if (!asked.hang) {
            const auto margin = fields.find("margin");
            const bool range_at_fault = margin && (margin->json->member("least") || margin->json->member("most"));  // told already
            if (*word == 0 || range_at_fault) return;
            job.tell(*spot, "hang.no-margins", "To hang true on a crooked opening the margin must give: there is no least and most.",
                     "Write how narrow and how wide it may get: \"margin\": { \"all\": 8, \"least\": 4, \"most\": 14 }.");
            job.mended_by("hang is as found");
            return;
        }
        asked.hang->true_to_level = *word == 1;
        asked.hang->pointer = spot->pointer;
    }
    if (asked.hang && !found) {
        job.tell(spot ? *spot : *fields.find("margin"), "hang.not-found",
                 "A margin with a least and a most takes up what is crooked, but this outline is one you want, not one you found.",
                 "Write \"basis\": \"found\" with your readings of the opening, or one margin: \"margin\": 8.");
        return;
    }
    if (asked.hang && !spot) job.assume(fields.pointer("hang"), "the frame follows the opening as found");
}

// Readings between the pegs of a wanted outline: a list, or a group that also says which of them stay.
void read_pegs(Job& job, const Fields& fields, bool found, OutlineRead& read) {
    const auto spot = fields.find("pegs");
    if (!spot) return;
    PegsAsked pegs;
    std::optional<Spot> list = *spot, stay;
    if (spot->json->type == JsonValue::Type::object) {
        const auto group = Fields::open(job, *spot, {"readings", "stay"});
        if (!group) return;
        list = group->require(job, "readings", "how far the pegs stand apart", "[ \"AB 1210\", \"BC 640\", \"AC 1375\" ]");
        stay = group->find("stay");
    }
    if (found) {
        job.tell(*spot, "pegs.found-outline", "The outline is found with a tape itself, so there is nothing the pegs could be moved to.",
                 "Give the outline you want, and under \"pegs\" what you measured between the pegs.");
        return;
    }
    if (!list) return;
    pegs.pointer = list->pointer;
    ReadingsRead readings = read_readings(job, *list, read.asked.open, true, true);
    pegs.readings = std::move(readings.outline);
    if (readings.boards && read.boards && *readings.boards != *read.boards) {
        job.tell(*list, "pegs.other-corners",
                 fmt::format("The outline has {} boards; pegs with these letters would take {}.", *read.boards, *readings.boards),
                 "Call the pegs by the letters of their corners, each at least once.");
        return;
    }
    if (stay) {
        const auto count = read_list(job, *stay, 1, kMostCorners, "letters of pegs");
        for (std::size_t i = 0; i < count.value_or(0); ++i) {
            const Spot one = stay->item(i);
            const auto letter = read_text(job, one, 1, 3);
            const auto corner = letter ? corner_index(*letter) : std::nullopt;
            if (corner && *corner < pegs.readings.corners) {
                pegs.stay.push_back(*corner);
            } else if (letter) {
                job.tell(one, "pegs.no-such-peg", fmt::format("There is no peg {}.", in_quotes(*letter)),
                         fmt::format("Use A to {}.", corner_letter(pegs.readings.corners > 0 ? pegs.readings.corners - 1 : 0)));
            }
        }
    }
    if (readings.boards) read.asked.pegs = std::move(pegs);
}

bool second_word(Job& job, const Fields& fields, std::string_view key, std::string_view first, std::string_view second,
                 std::string_view assumed) {
    const auto spot = fields.find(key);
    if (spot) return read_word(job, *spot, {first, second}).value_or(0) == 1;
    job.assume(fields.pointer(key), std::string(assumed));
    return false;
}

}  // namespace

OutlineRead read_outline(Job& job, const Fields& project) {
    OutlineRead read;
    const auto spot = project.require(job, "outline", "what shape the boards run round",
                                      R"({ "line": "inside", "regular": { "corners": 6, "side": 400 } })");
    if (!spot) return read;
    const auto fields = Fields::open(
        job, *spot,
        {"line", "margin", "hang", "letters", "seen", "regular", "rectangle", "points", "arc", "readings", "basis", "open",
         "pegs"});
    if (!fields) return read;
    if (const auto line = fields->require(
            job, "line", "where the sizes are taken: along the inside, the outside or the middle of the boards", "\"inside\"")) {
        read.asked.line = read_choice<OutlineLine>(job, *line, {"inside", "outside", "middle"}).value_or(read.asked.line);
    }
    read.asked.letters_clockwise = second_word(job, *fields, "letters", "counterclockwise", "clockwise",
                                               "letters run counter-clockwise, the middle at your left hand");
    read.asked.seen_from_room = second_word(job, *fields, "seen", "from above", "from the room", "seen from above");
    const auto forms = present(*fields, kForms);
    if (forms.size() != 1) {
        job.tell(*spot, "outline.one-form",
                 forms.empty()
                     ? "The outline has no shape."
                     : fmt::format("The outline is given in {} ways at once: {}.", forms.size(), joined(forms, " and ")),
                 fmt::format("Give exactly one of {}.", joined(kForms)));
    }
    const std::string_view form = forms.size() == 1 ? forms.front() : "";
    read_open(job, *fields, form, read.asked);
    const bool found = read_basis(job, *fields, form);
    if (!form.empty()) {
        read.asked.form_pointer = fields->pointer(form);
        read_form(job, *fields, form, found, read);
    }
    read_margin(job, *fields, read);
    read_hang(job, *fields, found, read.asked);
    read_pegs(job, *fields, found, read);
    return read;
}

}  // namespace boardring
