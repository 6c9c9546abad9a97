#include "spoken/tell_project.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <set>
#include <string_view>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/inch_units.hpp"
#include "base/names.hpp"
#include "io/read_project.hpp"
#include "project/joint_kinds.hpp"
#include "project/nominal_size.hpp"
#include "spoken/draft.hpp"
#include "spoken/same_project.hpp"
#include "spoken/sentence.hpp"
#include "spoken/word_table.hpp"

namespace boardring {
namespace {

constexpr std::array<std::string_view, 3> kLineWords{"inside", "outside", "middle"};
constexpr std::array<std::string_view, 3> kPresetWords{"garden", "joinery", "fine"};

bool near(double a, double b) {
    constexpr double kPart = 1e-10;
    return std::abs(a - b) <= kPart * std::max(std::abs(a), std::abs(b)) || std::abs(a - b) < 1e-12;
}

// The fewest decimals that bring the number back.
std::string number_words(double value) {
    constexpr int kMostDecimals = 12;
    for (int decimals = 0; decimals < kMostDecimals; ++decimals) {
        const double step = std::pow(10.0, -decimals);
        if (near(std::round(value / step) * step, value)) return show_number(value, decimals);
    }
    return show_number(value, kMostDecimals);
}

// `B`, `B and C`, `B, C and E`.
std::string listed(const std::vector<std::string>& names) {
    std::string text;
    for (std::size_t k = 0; k < names.size(); ++k) text += (k == 0 ? "" : k + 1 == names.size() ? " and " : ", ") + names[k];
    return text;
}

class Teller {
public:
    explicit Teller(const Project& project) : p_(project) {}

    // "" if the outline has no words.
    std::string sentence() {
        const std::string shape = shape_words();
        if (shape.empty()) return "";
        say(shape);
        p_.pile.empty() ? say_boards() : say_pile();
        say_wood();
        if (p_.courses != 1 || stated("/boards/courses")) say(fmt::format("{} {}", p_.courses, p_.courses == 1 ? "course" : "courses"));
        say_joints();
        say_outline_words();
        say_tools();
        say_wishes();
        if (p_.unit == Unit::mm && named_) say("in mm");
        if (p_.unit != Unit::mm) say(fmt::format("in {}", p_.unit == Unit::m ? "metres" : p_.unit == Unit::inch ? "inches" : unit_name(p_.unit)));
        return text_ + title_words();
    }

private:
    const Project& p_;
    std::string text_;
    bool named_ = false;         // boards called by a sawn name: then it must be said what plain numbers are
    bool window_ = false;

    void say(const std::string& phrase) { text_ += (text_.empty() ? "" : ", ") + phrase; }

    [[nodiscard]] bool stated(std::string_view pointer) const {
        return std::none_of(p_.assumed.begin(), p_.assumed.end(), [pointer](const Assumption& a) { return a.pointer == pointer; });
    }

    // As a plain number of the job; feet jobs name inches, which read better than parts of a foot.
    [[nodiscard]] std::string length(double mm) const {
        if (!in_inches(p_.unit)) return number_words(mm / unit_in_mm(p_.unit));
        const double inches = mm / unit_in_mm(Unit::inch);
        std::string text = number_words(inches);
        for (double parts = 2.0; parts <= 64.0; parts *= 2.0) {
            const double whole = std::floor(inches), over = (inches - whole) * parts;
            if (!near(std::round(over), over) || near(over, 0.0) || near(over, parts)) continue;
            text = fmt::format("{}{}/{}", whole > 0.0 ? fmt::format("{:.0f} ", whole) : "", std::round(over), parts);
            break;
        }
        return p_.unit == Unit::foot ? text + " in" : text;
    }

    [[nodiscard]] std::string line() const { return std::string(kLineWords[static_cast<std::size_t>(p_.outline.line)]); }

    std::string shape_words() {
        if (p_.outline.hang || p_.outline.pegs || p_.boards.empty()) return "";
        return std::visit([this](const auto& form) { return words_of(form); }, p_.outline.form);
    }

    [[nodiscard]] std::string ring_name(std::size_t corners) const {
        const std::string name = regular_name(corners);
        return name.find('-') == std::string::npos ? name : fmt::format("{} sides", corners);
    }

    [[nodiscard]] std::string size_words(RegularOutline::Of of, double mm) const {
        const std::string size = length(mm);
        switch (of) {
            case RegularOutline::Of::side: return fmt::format("side {} {}", size, line());
            case RegularOutline::Of::over_flats: return fmt::format("{} {} flats", size, line());
            case RegularOutline::Of::over_points: return fmt::format("{} {} points", size, line());
            case RegularOutline::Of::inscribed: return fmt::format("{} inscribed {}", size, line());
            case RegularOutline::Of::circumscribed: return fmt::format("{} circumscribed {}", size, line());
        }
        return "";
    }

    [[nodiscard]] std::string words_of(const RegularOutline& ring) const {
        const std::string name = ring_name(ring.corners);
        return fmt::format("{}{} {}", name, name.ends_with("sides") ? "," : "", size_words(ring.of, ring.size_mm));
    }

    std::string words_of(const RectangleOutline& box) {
        const bool margin = std::any_of(p_.outline.margin_mm.begin(), p_.outline.margin_mm.end(), [](double mm) { return mm != 0.0; });
        window_ = p_.outline.seen_from_room && p_.outline.line == OutlineLine::inside && margin;
        if (!window_ && near(box.length_mm, box.width_mm)) return fmt::format("square {} {}", length(box.length_mm), line());
        return fmt::format("{} {} by {} {}", window_ ? "window" : "rectangle", length(box.length_mm), length(box.width_mm), line());
    }

    [[nodiscard]] std::string words_of(const ArcOutline& arc) const {
        const std::string pieces = fmt::format("{} pieces, {} touch", arc.pieces, arc.fits == ArcOutline::Fits::flats ? "sides" : "corners");
        const std::string radius = fmt::format("radius {}", length(arc.radius_mm));
        if (near(arc.span_deg, 180.0) && (arc.pieces == 3 || arc.pieces == 4)) {  // few enough to see half a hexagon or octagon in them
            const auto of = arc.fits == ArcOutline::Fits::flats ? RegularOutline::Of::over_flats : RegularOutline::Of::over_points;
            return fmt::format("half {} {}, {} boards", regular_name(2 * arc.pieces), size_words(of, 2.0 * arc.radius_mm), arc.pieces);
        }
        if (near(arc.span_deg, 180.0)) return fmt::format("half ring {} {}, {}", radius, line(), pieces);
        if (near(arc.span_deg, 90.0)) return fmt::format("quarter ring {} {}, {}", radius, line(), pieces);
        const double half_deg = arc.span_deg / 2.0;
        const std::string span = number_words(arc.span_deg);
        const std::string wide = length(2.0 * arc.radius_mm * sin_deg(half_deg)), rise = length(arc.radius_mm * (1.0 - cos_deg(half_deg)));
        const bool by_rise = wide.size() + rise.size() < span.size() + length(arc.radius_mm).size();
        return fmt::format("arch {} {}, {}", by_rise ? fmt::format("{} wide, rise {}", wide, rise) : fmt::format("{}, span {}", radius, span), line(), pieces);
    }

    // L, U and T as a sentence puts them, and half a ring cut from side to side.
    [[nodiscard]] std::string words_of(const PointsOutline& outline) const {
        const std::vector<Vec2>& at = outline.points_mm;
        if (p_.outline.open) return half_words(at);
        if (at.size() != 6 && at.size() != 8) return "";
        const auto far = [&at](auto along) { return std::abs(along(*std::max_element(at.begin(), at.end(), [&](Vec2 a, Vec2 b) { return along(a) < along(b); }))); };
        const double length_mm = far([](Vec2 p) { return p.x; }), width_mm = far([](Vec2 p) { return p.y; });
        const std::string size = fmt::format("{} by {} {}", length(length_mm), length(width_mm), line());
        const auto notched = [&](const char* name, double along, double across) { return fmt::format("{} {}, notch {} by {}", name, size, length(along), length(across)); };
        if (at.size() == 6) return notched("L", length_mm - at[3].x, width_mm - at[3].y);
        if (near(at[2].x, length_mm) && near(at[2].y, width_mm)) {
            return notched("U", at[3].x - at[6].x, width_mm - at[4].y) + fmt::format(", {} from the left", length(at[6].x));
        }
        return notched("T", at[0].x, at[2].y);
    }

    [[nodiscard]] std::string half_words(const std::vector<Vec2>& at) const {
        if (at.size() < 4) return "";
        const std::size_t corners = 2 * (at.size() - 2);
        return fmt::format("half {}, {}, {} boards", ring_name(corners), size_words(RegularOutline::Of::over_flats, at.front().x), at.size() - 1);
    }

    // A door's head and legs.
    [[nodiscard]] std::string words_of(const ReadingsOutline& outline) const {
        if (outline.found || !p_.outline.open || outline.corners != 4) return "";
        std::array<std::optional<double>, 3> side;
        for (const Reading& reading : outline.readings) {
            if (reading.kind == Reading::Kind::side && reading.first < side.size()) side[reading.first] = reading.value;
        }
        if (!side[0] || !side[1] || !side[2]) return "";
        if (near(*side[0], *side[2])) return fmt::format("door {} by {} {}", length(*side[1]), length(*side[0]), line());
        return fmt::format("door, head {}, legs {} and {}, {}", length(*side[1]), length(*side[0]), length(*side[2]), line());
    }

    // Boards: those of one size and one place to buy them belong together.
    struct Kind {
        BoardAsked board;
        std::size_t count = 0;
        std::vector<std::string> numbers;
    };

    [[nodiscard]] const Stock* stock_of(const BoardAsked& board) const {
        if (!board.stock) return nullptr;
        const Stock& stock = p_.stock[*board.stock];
        return near(stock.width_mm, board.width_mm) && near(stock.thickness_mm, board.thickness_mm) ? &stock : nullptr;
    }

    [[nodiscard]] const std::vector<StockLength>& lengths_of(const BoardAsked& board) const {
        static const std::vector<StockLength> none;
        const Stock* stock = stock_of(board);
        return stock == nullptr ? none : stock->lengths;
    }

    [[nodiscard]] bool alike(const BoardAsked& a, const BoardAsked& b) const {
        const bool sold_alike = lengths_of(a).empty() && lengths_of(b).empty();
        return near(a.width_mm, b.width_mm) && near(a.thickness_mm, b.thickness_mm) && (sold_alike || a.stock == b.stock);
    }

    [[nodiscard]] std::string pair_words(const BoardAsked& board) {
        if (const Stock* stock = stock_of(board); stock != nullptr && !stock->nominal.empty()) {
            const auto nominal = nominal_size(stock->nominal);
            if (nominal && near(nominal->width_mm, board.width_mm) && near(nominal->thickness_mm, board.thickness_mm)) {
                named_ = true;
                return nominal->name;
            }
        }
        const std::string width = length(board.width_mm), thickness = length(board.thickness_mm);
        const std::string by = width.find(' ') == std::string::npos && thickness.find(' ') == std::string::npos && p_.unit != Unit::inch ? "x" : " x ";
        const bool unit_needed = nominal_size(width + "x" + thickness).has_value();
        return width + by + thickness + (unit_needed ? fmt::format(" {}", unit_name(p_.unit)) : "");
    }

    [[nodiscard]] std::string own_size_words(const BoardAsked& board, const BoardAsked& all) {
        if (near(board.width_mm, all.width_mm) && !near(board.thickness_mm, all.thickness_mm)) return length(board.thickness_mm);
        if (near(board.thickness_mm, all.thickness_mm) && !near(board.width_mm, all.width_mm)) return length(board.width_mm) + " wide";
        return pair_words(board);
    }

    void say_lengths(const BoardAsked& board) {
        std::string at, have;
        for (const StockLength& l : lengths_of(board)) {
            std::string& list = l.offcut ? have : at;
            list += list.empty() ? (l.offcut ? "have " : "at ") : " and ";
            if (l.offcut) list += fmt::format("{} of ", l.count.value_or(1));
            list += length(l.length_mm);
            if (l.price) list += " for " + number_words(*l.price);
        }
        if (!at.empty()) say(at);
        if (!have.empty()) say(have);
    }

    [[nodiscard]] std::string lie_words() const { return p_.lie == Lie::flat ? "flat" : "on edge"; }

    void say_boards() {
        std::vector<Kind> kinds;
        for (std::size_t k = 0; k < p_.boards.size(); ++k) {
            auto kind = std::find_if(kinds.begin(), kinds.end(), [&](const Kind& other) { return alike(other.board, p_.boards[k]); });
            if (kind == kinds.end()) kind = kinds.insert(kinds.end(), {p_.boards[k], 0, {}});
            ++kind->count;
            kind->numbers.push_back(board_number(k));
        }
        const auto most = std::max_element(kinds.begin(), kinds.end(), [](const Kind& a, const Kind& b) { return a.count < b.count; });
        const BoardAsked all = most->board;
        kinds.erase(most);
        say(fmt::format("{} {}", pair_words(all), lie_words()));
        say_lengths(all);
        for (const Kind& kind : kinds) {
            const bool one = kind.numbers.size() == 1;
            say(fmt::format("{} {} {} {}", one ? "board" : "boards", listed(kind.numbers), one ? "is" : "are", own_size_words(kind.board, all)));
            say_lengths(kind.board);
        }
    }

    // Where more boards lie about than the ring takes, all are counted; else the rest are as said first.
    void say_pile() {
        std::vector<PileKind> kinds = p_.pile;
        std::size_t total = 0;
        for (const PileKind& kind : kinds) total += kind.count;
        const auto most = std::max_element(kinds.begin(), kinds.end(), [](const PileKind& a, const PileKind& b) { return a.count < b.count; });
        const PileKind all = *most;
        kinds.erase(most);
        const bool more = total > p_.boards.size() || kinds.empty();
        say(fmt::format("{}{} {}", more ? fmt::format("{} of ", all.count) : "", pair_words(all.board), lie_words()));
        say_lengths(all.board);
        for (const PileKind& kind : kinds) {
            say(fmt::format("{} of {}", kind.count, own_size_words(kind.board, all.board)));
            say_lengths(kind.board);
        }
    }

    void say_wood() {
        const std::vector<BoardAsked>& boards = p_.boards;
        const auto with_stock = std::find_if(boards.begin(), boards.end(), [](const BoardAsked& b) { return b.stock.has_value(); });
        if (with_stock == boards.end()) return;
        const Stock& stock = p_.stock[*with_stock->stock];
        if (!stock.species.empty()) {
            std::string species = stock.species;
            for (char& c : species) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
            const std::vector<SpokenWord>& words = word_table();
            if (std::any_of(words.begin(), words.end(), [&](const SpokenWord& w) { return w.sense == Sense::species && w.word == species; })) say(species);
        }
        if (stock.surface != Surface::plain) say(stock.surface == Surface::show_face ? "show face" : "moulded");
    }

    static std::string said_of_all(JointKind kind) {
        switch (kind) {
            case JointKind::mitre: return "mitred";
            case JointKind::butt: return "butt";
            case JointKind::half_lap: return "half-laps";
        }
        return "";
    }

    void say_joints() {
        const std::size_t from = p_.outline.open ? 1 : 0, end = p_.outline.open ? p_.boards.size() : p_.joints.size();
        std::array<std::size_t, kJointKinds.size()> counts{};
        for (std::size_t c = from; c < end; ++c) ++counts[static_cast<std::size_t>(p_.joints[c].kind)];
        // Where nothing was said of all corners, mitres are still assumed there.
        const bool of_all = stated("/joints/all/kind");
        const auto all = of_all ? static_cast<JointKind>(std::max_element(counts.begin(), counts.end()) - counts.begin()) : JointKind::mitre;
        if (of_all) say(said_of_all(all));
        const bool as_all = all == JointKind::butt && say_through_for_all(from, end);
        std::vector<bool> done(end, false);
        for (std::size_t c = from; c < end; ++c) {
            const JointAsked& joint = p_.joints[c];
            if (done[c] || (joint.kind == all && (as_all || !joint.through))) continue;
            std::vector<std::string> letters;
            for (std::size_t d = c; d < end; ++d) {
                const bool goes_together = p_.joints[d].kind == joint.kind && p_.joints[d].through == joint.through;
                if (!goes_together || (d != c && corner_letter(d).size() > 1)) continue;
                letters.push_back(corner_letter(d));
                done[d] = true;
                if (letters.back().size() > 1) break;
            }
            say(fmt::format("{} at {}", joint_word(joint.kind), listed(letters)));
            if (joint.through) say(fmt::format("{} through", *joint.through + 1));
        }
    }

    // `butt, boards 1 and 3 through`, if that says at every butt joint which board runs on.
    bool say_through_for_all(std::size_t from, std::size_t end) {
        std::set<std::size_t> through;
        for (std::size_t c = from; c < end; ++c) {
            if (p_.joints[c].through) through.insert(*p_.joints[c].through);
        }
        const std::size_t boards = p_.boards.size();
        for (std::size_t c = from; c < end; ++c) {
            if (p_.joints[c].kind != JointKind::butt) continue;
            std::optional<std::size_t> here;
            for (const std::size_t board : {c == 0 ? boards - 1 : c - 1, c}) {
                if (!through.contains(board)) continue;
                if (here) return false;
                here = board;
            }
            if (here != p_.joints[c].through) return false;
        }
        std::vector<std::string> numbers;
        for (const std::size_t board : through) numbers.push_back(board_number(board));
        if (!numbers.empty()) say(fmt::format("{} {} through", numbers.size() == 1 ? "board" : "boards", listed(numbers)));
        return true;
    }

    void say_outline_words() {
        const OutlineAsked& outline = p_.outline;
        const bool both = stated("/ends/A") && stated("/ends/" + corner_letter(p_.boards.size()));
        if (outline.open && both && p_.first_end.saw_deg == 0.0 && p_.last_end.saw_deg == 0.0) say("ends square");
        const std::vector<double>& margin = outline.margin_mm;
        const bool even = std::all_of(margin.begin(), margin.end(), [&](double mm) { return mm == margin.front(); });
        if (even && !margin.empty() && margin.front() > 0.0) say("margin " + length(margin.front()));
        const bool door = std::holds_alternative<ReadingsOutline>(outline.form);
        if (outline.seen_from_room && !window_ && !door) say("from the room");
        if (outline.letters_clockwise) say("clockwise");
    }

    void say_tools() {
        const Tools& tools = p_.tools;
        if (stated("/tools/kerf")) say("kerf " + length(tools.kerf_mm));
        if (stated("/tools/tilt_limit")) say("saw tilts to " + number_words(tools.tilt_limit_deg));
        if (stated("/tools/swing_limit")) say("saw swings to " + number_words(tools.swing_limit_deg));
        if (stated("/tools/saw_step")) say("saw step " + number_words(tools.saw_step_deg));
        if (stated("/tools/scale_at_square")) say("saw reads " + number_words(tools.scale_at_square_deg));
    }

    void say_wishes() {
        if (stated("/accuracy/preset")) say(std::string(kPresetWords[static_cast<std::size_t>(p_.accuracy.preset)]));
        if (stated("/wanted/gap")) say("gap " + length(p_.wanted.gap_mm));
        if (p_.wanted.fit_last) say(fmt::format("board {} last", board_number(*p_.wanted.fit_last)));
        if (stated("/wanted/leave_long")) say(fmt::format("leave {} long", length(p_.wanted.leave_long_mm)));
        if (p_.wanted.spares > 0) say(fmt::format("{} {}", p_.wanted.spares, p_.wanted.spares == 1 ? "spare" : "spares"));
    }

    // Behind all else: unless the words name it so by themselves.
    [[nodiscard]] std::string title_words() const {
        const SentenceRead read = read_sentence(text_);
        const ProjectRead made = read_project(read.project_text);
        if (p_.title.empty() || (made.project && made.project->title == p_.title)) return "";
        const std::string_view close = p_.title.find('"') == std::string::npos ? "\"" : "\xE2\x80\x9D";
        const bool plain = p_.title.find_first_of(",;\"()$:=.x*") == std::string::npos && p_.title.front() != ' ' && p_.title.back() != ' ';
        const std::string open = close == "\"" ? "\"" : "\xE2\x80\x9C";
        return fmt::format(", called {}", plain ? p_.title : fmt::format("{}{}{}", open, p_.title, close));
    }
};

// What an outline without words is.
std::string outline_named(const Project& project) {
    const OutlineAsked& outline = project.outline;
    if (project.pieces_alone()) return "pieces alone, without a ring";
    if (outline.hang) return "how it hangs on a crooked opening";
    if (outline.pegs) return "its pegs";
    if (const auto* readings = std::get_if<ReadingsOutline>(&outline.form)) {
        return readings->found ? "its outline, sizes found with a tape" : "its outline, the sides and corners of a notebook";
    }
    return std::holds_alternative<PointsOutline>(outline.form) ? "its outline, corners by their places" : "its outline";
}

}  // namespace

ProjectTold tell_project(const Project& project) {
    ProjectTold told{Teller(project).sentence(), {}};
    if (told.sentence.empty()) return {"", {outline_named(project)}};
    const SentenceRead read = read_sentence(told.sentence);
    const ProjectRead back = read_project(read.project_text);
    if (!back.project) {
        const bool too_long = told.sentence.size() > kLongestSentence;
        return {"", {too_long ? "so much: the sentence would be too long" : fmt::format("all of it: {}", read.findings.empty() ? "" : read.findings.front().message)}};
    }
    told.left_out = what_differs(project, *back.project);
    if (std::find(told.left_out.begin(), told.left_out.end(), "its outline") != told.left_out.end()) return {"", {outline_named(project)}};
    return told;
}

}  // namespace boardring
