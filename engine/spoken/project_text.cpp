#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "base/names.hpp"
#include "outline/build.hpp"
#include "project/joint_kinds.hpp"
#include "project/nominal_size.hpp"
#include "spoken/draft.hpp"

// A draft as a project file that people read: one thing a line, comments where something was assumed.

namespace boardring {
namespace {

constexpr std::array<std::string_view, 5> kOfKeys{"side", "over_flats", "over_points", "inscribed_diameter", "circumscribed_diameter"};
constexpr std::array<std::string_view, 3> kLineWords{"inside", "outside", "middle"};
constexpr std::array<std::string_view, 3> kSurfaceWords{"plain", "show-face", "moulded"};
constexpr std::array<std::string_view, 3> kPresetWords{"garden", "joinery", "fine"};

template <std::size_t N, class Enum>
std::string_view word_of(const std::array<std::string_view, N>& words, Enum value) {
    return words[static_cast<std::size_t>(value)];
}

std::string json_text(std::string_view text) {
    std::string json = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') json.push_back('\\');
        json.push_back(c);
    }
    return json + '"';
}

std::string joined(const std::vector<std::string>& parts) {
    std::string text;
    for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
    return text;
}

std::string object(const std::vector<std::string>& parts) {
    return parts.empty() ? "{ }" : fmt::format("{{ {} }}", joined(parts));
}

// The lines of a file: commas and comments are put in when all lines are known.
class File {
public:
    void open(std::string_view key, std::string_view comment = "") { add(fmt::format("\"{}\": {{", key), comment), ++depth_; }
    void close() {
        --depth_;
        lines_.push_back({std::string(2 * depth_, ' ') + "}", ""});
    }
    void entry(std::string_view key, std::string_view json, std::string_view comment = "") { add(fmt::format("{}: {}", json_text(key), json), comment); }

    [[nodiscard]] std::string text(std::string_view heading) const {
        std::string text = heading.empty() ? "" : fmt::format("// {}\n", heading);
        text += "{\n";
        for (std::size_t k = 0; k < lines_.size(); ++k) {
            std::string line = lines_[k].text;
            const bool opens = line.back() == '{';
            const bool ends = k + 1 == lines_.size() || lines_[k + 1].text.find_first_not_of(' ') == lines_[k + 1].text.find('}');
            if (!opens && !ends) line += ',';
            if (!lines_[k].comment.empty()) {
                constexpr std::size_t kCommentColumn = 56;
                line += std::string(line.size() < kCommentColumn ? kCommentColumn - line.size() : 2, ' ') + "// " + lines_[k].comment;
            }
            text += line + "\n";
        }
        return text + "}\n";
    }

private:
    struct Line {
        std::string text, comment;
    };
    std::vector<Line> lines_;
    std::size_t depth_ = 1;

    void add(std::string text, std::string_view comment) { lines_.push_back({std::string(2 * depth_, ' ') + text, std::string(comment)}); }
};

class Writer {
public:
    explicit Writer(const Draft& draft) : d_(draft) {}

    std::string text() {
        file_.entry("format", "\"boardring-project-1\"");
        file_.entry("title", json_text(project_title(d_)));
        file_.entry("units", json_text(unit_name(d_.unit)), "of a plain number; any size may name its own: \"5 1/2 in\"");
        write_outline();
        write_stock();
        write_boards();
        write_joints();
        write_tools();
        if (d_.preset) file_.entry("accuracy", object({fmt::format("\"preset\": \"{}\"", word_of(kPresetWords, *d_.preset))}));
        write_wanted();
        return file_.text(d_.heard.empty() ? "" : "From: " + d_.heard);
    }

private:
    const Draft& d_;
    File file_;

    [[nodiscard]] std::string note(const std::string& pointer) const {
        const auto found = d_.notes.find(pointer);
        return found == d_.notes.end() ? "" : found->second;
    }

    void write_outline() {
        file_.open("outline");
        file_.entry("line", json_text(word_of(kLineWords, *d_.line)), note("/outline/line"));
        if (d_.margin) file_.entry("margin", d_.margin->json);
        if (d_.clockwise) file_.entry("letters", "\"clockwise\"");
        if (d_.from_room) file_.entry("seen", "\"from the room\"");
        switch (d_.shape) {
            case SpokenShape::none: break;
            case SpokenShape::regular:
                if (d_.half) {
                    write_half();
                    break;
                }
                file_.entry("regular", object({fmt::format("\"corners\": {}", d_.corners), fmt::format("\"{}\": {}", word_of(kOfKeys, *d_.of), d_.size->json)}), note("/outline/regular"));
                break;
            case SpokenShape::rectangle: write_rectangle(); break;
            case SpokenShape::window: case SpokenShape::door: is_open(d_) ? write_door() : write_rectangle(); break;
            case SpokenShape::ell: case SpokenShape::u_shape: case SpokenShape::tee: write_points(); break;
            case SpokenShape::part_ring: case SpokenShape::arch: write_arc(); break;
        }
        file_.close();
    }

    void write_rectangle() {
        std::string comment = note("/outline/rectangle");
        if (d_.shape == SpokenShape::window) comment += fmt::format("{}board 1 is the sill, 2 the right leg, 3 the head, 4 the left leg", comment.empty() ? "" : "; ");
        file_.entry("rectangle", object({"\"length\": " + d_.first->json, "\"width\": " + d_.second->json}), comment);
    }

    void write_door() {
        const auto plain = [this](const SaidLength& length) { return spoken_length(length, d_.unit); };
        file_.entry("open", "true");
        file_.entry("basis", "\"wanted\"");
        const std::vector<std::string> readings{json_text("AB " + plain(d_.legs[0])), json_text("BC " + plain(*d_.first)), json_text("CD " + plain(d_.legs[1])), "\"B 90\"", "\"C 90\""};
        file_.entry("readings", fmt::format("[ {} ]", joined(readings)), "AB right leg, BC head, CD left leg");
    }

    void write_points() {
        const double l = d_.first->mm, w = d_.second->mm, a = d_.notch_along->mm, c = d_.notch_across->mm;
        std::vector<Vec2> points;
        if (d_.shape == SpokenShape::ell) points = {{0, 0}, {l, 0}, {l, w - c}, {l - a, w - c}, {l - a, w}, {0, w}};
        if (d_.shape == SpokenShape::tee) points = {{a, 0}, {l - a, 0}, {l - a, c}, {l, c}, {l, w}, {0, w}, {0, c}, {a, c}};
        if (d_.shape == SpokenShape::u_shape) {
            const double from = d_.notch_from->mm;
            points = {{0, 0}, {l, 0}, {l, w}, {from + a, w}, {from + a, w - c}, {from, w - c}, {from, w}, {0, w}};
        }
        std::string list;
        for (const Vec2 p : points) {
            list += fmt::format("{}[{}, {}]", list.empty() ? "" : ", ", length_in_unit(p.x, d_.unit).json, length_in_unit(p.y, d_.unit).json);
        }
        file_.entry("points", "[ " + list + " ]", note("/outline/points"));
    }

    void write_arc() {
        std::vector<std::string> parts;
        if (d_.wide && d_.rise) {
            parts = {"\"chord\": " + d_.wide->json, "\"rise\": " + d_.rise->json};
        } else {
            parts = {"\"radius\": " + d_.radius->json, fmt::format("\"span_deg\": {}", *d_.span_deg)};
        }
        parts.push_back(fmt::format("\"pieces\": {}", d_.pieces));
        parts.push_back(fmt::format("\"fits\": \"{}\"", *d_.fits == ArcOutline::Fits::flats ? "flats" : "corners"));
        file_.entry("arc", object(parts), note("/outline/arc"));
    }

    // Corner to corner: pieces along half a circle, whose ends lie along the wall. Side to side: by the places of the corners.
    void write_half() {
        const bool flats = *d_.of == RegularOutline::Of::over_flats || *d_.of == RegularOutline::Of::inscribed;
        const std::string comment = fmt::format("{}: its ends lie along the wall", d_.shape_word);
        if (!has_half_sides(d_)) {
            const RegularOutline ring{d_.corners, *d_.of, d_.size->mm};
            const double half_turn_deg = 180.0 / static_cast<double>(d_.corners);
            const bool by_side = *d_.of == RegularOutline::Of::side;
            const double radius = by_side ? build_regular(ring).sides_mm.front() / (2.0 * sin_deg(half_turn_deg)) : d_.size->mm / 2.0;
            file_.entry("arc", object({"\"radius\": " + length_in_unit(radius, d_.unit).json, "\"span_deg\": 180", fmt::format("\"pieces\": {}", d_.pieces),
                                       fmt::format("\"fits\": \"{}\"", flats ? "flats" : "corners")}), comment);
            return;
        }
        std::string list;
        for (const Vec2 p : half_from_side_to_side({d_.corners, *d_.of, d_.size->mm})) {
            list += fmt::format("{}[{}, {}]", list.empty() ? "" : ", ", length_in_unit(p.x, d_.unit).json, length_in_unit(p.y, d_.unit).json);
        }
        file_.entry("open", "true");
        file_.entry("points", "[ " + list + " ]", comment);
    }

    static std::vector<std::string> size_of(const SaidSection& section) {
        std::vector<std::string> parts;
        if (!section.nominal.empty()) parts.push_back("\"nominal\": " + json_text(section.nominal));
        if (section.width) parts.push_back("\"width\": " + section.width->json);
        if (section.thickness) parts.push_back("\"thickness\": " + section.thickness->json);
        return parts;
    }

    static std::string offer_text(const SaidOffer& offer) {
        std::vector<std::string> parts{"\"length\": " + offer.length.json};
        if (!offer.price.empty()) parts.push_back("\"price\": " + offer.price);
        if (offer.count > 0) parts.push_back(fmt::format("\"count\": {}", offer.count));
        if (offer.own) parts.emplace_back("\"offcut\": true");
        return object(parts);
    }

    void write_section(std::string_view name, const SaidSection& section, const std::vector<SaidOffer>& offers) {
        std::vector<std::string> parts = size_of(section);
        if (d_.surface) parts.push_back(fmt::format("\"surface\": \"{}\"", word_of(kSurfaceWords, *d_.surface)));
        if (!d_.species.empty()) parts.push_back("\"species\": " + json_text(d_.species));
        if (offers.empty()) return file_.entry(name, object(parts));
        std::vector<std::string> lengths;
        for (const SaidOffer& offer : offers) lengths.push_back(offer_text(offer));
        file_.open(name);
        for (const std::string& part : parts) {
            const std::size_t colon = part.find(": ");
            file_.entry(std::string_view(part).substr(1, colon - 2), std::string_view(part).substr(colon + 2));
        }
        file_.entry("lengths", fmt::format("[ {} ]", joined(lengths)));
        file_.close();
    }

    // Boards that differ are a stock of their own when another width, a name or lengths of their own come with them.
    [[nodiscard]] SaidSection filled(const SaidSection& own) const {
        SaidSection section = own;
        if (!section.nominal.empty()) return section;
        if (!section.width) section.width = d_.section.width;
        if (!section.thickness) section.thickness = d_.section.thickness;
        if (!section.width || !section.thickness) section.nominal = d_.section.nominal;
        return section;
    }

    void write_stock() {
        file_.open("stock");
        write_section("board", d_.section, d_.offers);
        for (const SaidException& own : own_stocks(d_)) write_section(own_stock_name(d_, own.section), filled(own.section), own.offers);
        file_.close();
    }

    void write_boards() {
        file_.open("boards");
        file_.entry("lie", *d_.lie == Lie::flat ? "\"flat\"" : "\"on edge\"", note("/boards/lie"));
        if (d_.courses > 0) file_.entry("courses", fmt::format("{}", d_.courses));
        file_.entry("all", "{ \"stock\": \"board\" }");
        if (!d_.pile.empty()) file_.entry("pile", pile_json(), note("/boards/pile"));
        for (const auto& [number, section] : d_.boards) {
            const std::string stock = own_stock_name(d_, section);
            const std::string own = stock.empty() ? object(size_of_board(section)) : object({"\"stock\": " + json_text(stock)});
            file_.entry(std::to_string(number), own, note("/boards/" + std::to_string(number)));
        }
        file_.close();
    }

    // One text where every entry is one: "5 of 38, 1 of 28".
    [[nodiscard]] std::string pile_json() const {
        std::string text;
        for (const std::string& entry : d_.pile) {
            if (entry.front() != '"') return fmt::format("[ {} ]", joined(d_.pile));
            text += (text.empty() ? "" : ", ") + entry.substr(1, entry.size() - 2);
        }
        return '"' + text + '"';
    }

    // "boards" knows no names: a board of another nominal size is written with its dressed sizes.
    [[nodiscard]] std::vector<std::string> size_of_board(const SaidSection& section) const {
        SaidSection plain = section;
        if (!plain.nominal.empty()) plain = dressed_section(plain.nominal, d_.unit);
        return size_of(plain);
    }

    static std::string joint_text(const SaidJoint& joint) {
        std::vector<std::string> parts;
        if (joint.kind) parts.push_back(fmt::format("\"kind\": \"{}\"", joint_word(*joint.kind)));
        std::vector<std::string> numbers;
        for (const std::size_t number : joint.through) numbers.push_back(fmt::format("{}", number));
        if (numbers.size() == 1) parts.push_back("\"through\": " + numbers.front());
        if (numbers.size() > 1) parts.push_back(fmt::format("\"through\": [{}]", joined(numbers)));
        return object(parts);
    }

    void write_joints() {
        const bool all = d_.joints.kind || !d_.joints.through.empty();
        if (all || !d_.corner_joints.empty()) {
            file_.open("joints");
            if (all) file_.entry("all", joint_text(d_.joints));
            for (const auto& [letter, joint] : d_.corner_joints) file_.entry(letter, joint_text(joint));
            file_.close();
        }
        if (!d_.ends_square) return;
        const std::size_t boards = board_count(d_);
        const std::string last = corner_letter(boards);
        file_.entry("ends", fmt::format("{{ \"A\": {{ \"square\": true }}, \"{}\": {{ \"square\": true }} }}", last));
    }

    void write_tools() {
        std::vector<std::string> parts;
        const auto angle = [&parts](std::string_view key, const std::optional<double>& deg) {
            if (deg) parts.push_back(fmt::format("\"{}\": {}", key, *deg));
        };
        angle("saw_step", d_.step_deg);
        angle("scale_at_square", d_.reads_deg);
        angle("swing_limit", d_.swing_deg);
        angle("tilt_limit", d_.tilt_deg);
        if (d_.kerf) parts.push_back("\"kerf\": " + d_.kerf->json);
        if (!parts.empty()) file_.entry("tools", object(parts));
    }

    void write_wanted() {
        std::vector<std::string> parts;
        if (d_.gap) parts.push_back("\"gap\": " + d_.gap->json);
        if (d_.last > 0) parts.push_back(fmt::format("\"fit_last\": {}", d_.last));
        if (d_.leave_long) parts.push_back("\"leave_long\": " + d_.leave_long->json);
        if (d_.spares > 0) parts.push_back(fmt::format("\"spares\": {}", d_.spares));
        if (!parts.empty()) file_.entry("wanted", object(parts));
    }
};

}  // namespace

SaidSection dressed_section(const std::string& nominal, Unit unit) {
    const auto size = nominal_size(nominal);
    ENSURE(size.has_value());
    return {length_in_unit(size->width_mm, unit), length_in_unit(size->thickness_mm, unit), ""};
}

std::string project_text(const Draft& draft) {
    return Writer(draft).text();
}

}  // namespace boardring
