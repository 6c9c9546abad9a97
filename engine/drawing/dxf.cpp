#include "drawing/dxf.hpp"

#include <fmt/format.h>

#include <cstddef>
#include <string_view>

#include "base/utf8.hpp"
#include "drawing/line_styles.hpp"

namespace boardring {
namespace {

std::string number(double value) {
    std::string text = fmt::format("{:.6f}", value);
    while (text.back() == '0' && text[text.size() - 2] != '.') text.pop_back();
    return text == "-0.0" ? "0.0" : text;
}

std::string_view layer_of(Pen pen) {
    switch (pen) {
        case Pen::outline: return "OUTLINE";
        case Pen::thin: return "THIN";
        case Pen::hidden: return "HIDDEN";
        case Pen::given: return "GIVEN";
        case Pen::dimension: return "DIMENSION";
        case Pen::cut: return "CUT";
    }
    return "THIN";
}

constexpr std::string_view kWaste = "WASTE";
constexpr std::string_view kNotes = "NOTES";

// Pairs of a group code and its value, a line each: all there is to the format.
class Groups {
public:
    void text(int code, std::string_view value) { out_ += fmt::format("{:>3}\n{}\n", code, value); }
    void real(int code, double value) { text(code, number(value)); }
    void whole(int code, int value) { text(code, std::to_string(value)); }
    void point(int code, Vec2 p) {
        real(code, p.x);
        real(code + 10, p.y);
        real(code + 20, 0.0);
    }
    void entity(std::string_view name, std::string_view layer) {
        text(0, name);
        text(8, layer);
    }
    [[nodiscard]] std::string taken() { return std::move(out_); }

private:
    std::string out_;
};

std::string ascii(std::string_view line) {
    const std::string plain = plain_line(line);
    std::string out;
    for (std::size_t i = 0; i < plain.size();) {
        const Decoded c = decode_utf8(plain, i);
        i += c.bytes;
        if (c.code == U'\u00B0') {
            out += "%%d";
        } else if (c.code == U'\u00B1') {
            out += "%%p";
        } else if (c.code == U'%') {
            out += "%%37";
        } else if (c.code < 0x80U) {
            out += static_cast<char>(c.code);
        } else {
            out += fmt::format("\\U+{:04X}", static_cast<unsigned>(c.code));
        }
    }
    return out;
}

void header(Groups& groups, const Drawing& drawing) {
    groups.text(999, "Lengths in millimetres of the thing drawn.");
    groups.text(0, "SECTION");
    groups.text(2, "HEADER");
    groups.text(9, "$ACADVER");
    groups.text(1, "AC1009");
    groups.text(9, "$EXTMIN");
    groups.point(10, drawing.page_low);
    groups.text(9, "$EXTMAX");
    groups.point(10, drawing.page_high);
    groups.text(0, "ENDSEC");
}

void line_type(Groups& groups, std::string_view name, std::string_view describes, const std::vector<double>& dashes_mm, double scale) {
    groups.text(0, "LTYPE");
    groups.text(2, name);
    groups.whole(70, 0);
    groups.text(3, describes);
    groups.whole(72, 65);  // "A": dashes start and end at the ends of a line
    groups.whole(73, static_cast<int>(dashes_mm.size()));
    double period = 0.0;
    for (const double mm : dashes_mm) period += mm * scale;
    groups.real(40, period);
    for (std::size_t i = 0; i < dashes_mm.size(); ++i) groups.real(49, (i % 2 == 0 ? 1.0 : -1.0) * dashes_mm[i] * scale);
}

void layer(Groups& groups, std::string_view name, std::string_view type) {
    groups.text(0, "LAYER");
    groups.text(2, name);
    groups.whole(70, 0);
    groups.whole(62, 7);  // black on white, white on black
    groups.text(6, type);
}

void start_table(Groups& groups, std::string_view name, int entries) {
    groups.text(0, "TABLE");
    groups.text(2, name);
    groups.whole(70, entries);
}

void tables(Groups& groups, const Drawing& drawing) {
    constexpr double kTypicalMm = 60.0;  // dashes of a line of this length
    groups.text(0, "SECTION");
    groups.text(2, "TABLES");
    start_table(groups, "LTYPE", 3);
    line_type(groups, "CONTINUOUS", "full line", {}, drawing.scale);
    line_type(groups, "DASHES", "short dashes", dash_mm(Pen::hidden, kTypicalMm), drawing.scale);
    line_type(groups, "DASH_DOT", "long dash and dot", dash_mm(Pen::given, kTypicalMm), drawing.scale);
    groups.text(0, "ENDTAB");
    start_table(groups, "LAYER", static_cast<int>(kPens.size()) + 3);
    layer(groups, "0", "CONTINUOUS");
    for (const Pen pen : kPens)
        layer(groups, layer_of(pen), pen == Pen::hidden ? "DASHES" : pen == Pen::given ? "DASH_DOT" : "CONTINUOUS");
    layer(groups, kWaste, "CONTINUOUS");
    layer(groups, kNotes, "CONTINUOUS");
    groups.text(0, "ENDTAB");
    start_table(groups, "STYLE", 1);
    groups.text(0, "STYLE");
    groups.text(2, "STANDARD");
    groups.whole(70, 0);
    groups.real(40, 0.0);
    groups.real(41, 1.0);
    groups.real(50, 0.0);
    groups.whole(71, 0);
    groups.real(42, 1.0);
    groups.text(3, "txt");
    groups.text(4, "");
    groups.text(0, "ENDTAB");
    groups.text(0, "ENDSEC");
}

void line(Groups& groups, std::string_view layer, Vec2 a, Vec2 b) {
    groups.entity("LINE", layer);
    groups.point(10, a);
    groups.point(11, b);
}

void stroke(Groups& groups, const Stroke& stroke) {
    const std::string_view layer = layer_of(stroke.pen);
    if (stroke.points.size() == 2) {
        line(groups, layer, stroke.points.front(), stroke.points.back());
        return;
    }
    groups.entity("POLYLINE", layer);
    groups.whole(66, 1);  // vertices follow
    groups.point(10, {0.0, 0.0});
    groups.whole(70, stroke.closed ? 1 : 0);
    for (const Vec2 p : stroke.points) {
        groups.entity("VERTEX", layer);
        groups.point(10, p);
    }
    groups.entity("SEQEND", layer);
}

void region(Groups& groups, const Region& region, double scale) {
    if (region.fill == Fill::waste) {
        for (const auto& [a, b] : hatch_lines(region.points, kHatchMm * scale)) line(groups, kWaste, a, b);
    }
    if (region.fill != Fill::ink) return;
    for (std::size_t i = 1; i + 1 < region.points.size(); ++i) {
        groups.entity("SOLID", layer_of(Pen::outline));
        groups.point(10, region.points.front());
        groups.point(11, region.points[i]);
        groups.point(12, region.points[i + 1]);
        groups.point(13, region.points[i + 1]);  // a triangle says its last corner twice
    }
}

void label(Groups& groups, const Label& label) {
    constexpr int kMiddle = 2;  // of the letters' height, where `at` lies
    groups.entity("TEXT", kNotes);
    groups.point(10, label.at);
    groups.real(40, label.height);
    groups.text(1, ascii(label.text));
    groups.real(50, label.turn_deg);
    groups.whole(72, label.align == Align::left ? 0 : label.align == Align::centre ? 1 : 2);
    groups.point(11, label.at);
    groups.whole(73, kMiddle);
}

}  // namespace

std::string write_dxf(const Drawing& drawing) {
    Groups groups;
    header(groups, drawing);
    tables(groups, drawing);
    groups.text(0, "SECTION");
    groups.text(2, "ENTITIES");
    for (const Region& r : drawing.regions) region(groups, r, drawing.scale);
    for (const Stroke& s : drawing.strokes) stroke(groups, s);
    for (const Circle& circle : drawing.circles) {
        groups.entity("CIRCLE", layer_of(circle.pen));
        groups.point(10, circle.centre);
        groups.real(40, circle.radius);
    }
    for (const Label& l : drawing.labels) label(groups, l);
    groups.text(0, "ENDSEC");
    groups.text(0, "EOF");
    return groups.taken();
}

}  // namespace boardring
