#include "drawing/svg.hpp"

#include <fmt/format.h>

#include <cmath>

#include "drawing/line_styles.hpp"
#include "drawing/markup.hpp"

namespace boardring {
namespace {

// Millimetres of paper, at most three decimals.
std::string number(double value) {
    std::string text = fmt::format("{:.3f}", value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

// Drawing units, y up, to millimetres of paper, y down.
class Paper {
public:
    explicit Paper(const Drawing& drawing) : drawing_(drawing) {}

    [[nodiscard]] double size(double drawn) const { return drawn / drawing_.scale; }
    [[nodiscard]] std::string x(Vec2 p) const { return number((p.x - drawing_.page_low.x) / drawing_.scale); }
    [[nodiscard]] std::string y(Vec2 p) const { return number((drawing_.page_high.y - p.y) / drawing_.scale); }

    [[nodiscard]] std::string points(const std::vector<Vec2>& list) const {
        std::string out;
        for (const Vec2 p : list) {
            if (!out.empty()) out += ' ';
            out += x(p) + ',' + y(p);
        }
        return out;
    }

private:
    const Drawing& drawing_;
};

std::string fill_colour(Fill fill) {
    if (fill == Fill::none) return "none";
    const int grey = static_cast<int>(std::lround(255.0 * fill_grey(fill)));
    return fmt::format("#{0:02x}{0:02x}{0:02x}", grey);
}

std::string pen_style(Pen pen) {
    return fmt::format("stroke-width=\"{}\"", number(pen_width_mm(pen)));
}

void write_regions(const Drawing& drawing, const Paper& paper, std::string& out) {
    for (const Region& region : drawing.regions) {
        out += fmt::format("<polygon fill=\"{}\" points=\"{}\"/>\n", fill_colour(region.fill), paper.points(region.points));
        if (region.fill != Fill::waste) continue;
        std::string path;
        for (const auto& [a, b] : hatch_lines(region.points, kHatchMm * drawing.scale)) {
            path += fmt::format("M{} {}L{} {}", paper.x(a), paper.y(a), paper.x(b), paper.y(b));
        }
        if (!path.empty()) out += fmt::format("<path fill=\"none\" stroke=\"#000\" stroke-width=\"{}\" d=\"{}\"/>\n", number(kHatchWidthMm), path);
    }
}

std::string dashes(Pen pen, double length_mm) {
    std::string list;
    for (const double mm : dash_mm(pen, length_mm)) list += (list.empty() ? "" : " ") + number(mm);
    return list.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", list);
}

std::string shapes(const Drawing& drawing, const Paper& paper, Pen pen, bool dashed) {
    std::string out;
    for (const Stroke& stroke : drawing.strokes) {
        if (stroke.pen != pen) continue;
        out += fmt::format("<{} points=\"{}\"{}/>\n", stroke.closed ? "polygon" : "polyline", paper.points(stroke.points),
                           dashed ? dashes(pen, paper.size(stroke_length(stroke))) : "");
    }
    return out;
}

// All strokes of one pen together: the file says each line kind once. The given line often lies on an edge: a white line under
// its dashes keeps it legible there.
void write_strokes(const Drawing& drawing, const Paper& paper, std::string& out) {
    for (const Pen pen : kPens) {
        const std::string body = shapes(drawing, paper, pen, true);
        if (body.empty()) continue;
        if (pen == Pen::given)
            out += fmt::format("<g fill=\"none\" stroke=\"#fff\" stroke-width=\"{}\">\n{}</g>\n", number(kHaloMm),
                               shapes(drawing, paper, pen, false));
        out += fmt::format("<g fill=\"none\" stroke=\"#000\" stroke-linejoin=\"miter\" {}>\n{}</g>\n", pen_style(pen), body);
    }
}

void write_circles(const Drawing& drawing, const Paper& paper, std::string& out) {
    for (const Circle& circle : drawing.circles) {
        out +=
            fmt::format("<circle fill=\"{}\" stroke=\"#000\" {} cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", fill_colour(circle.fill),
                        pen_style(circle.pen), paper.x(circle.centre), paper.y(circle.centre), number(paper.size(circle.radius)));
    }
}

void write_labels(const Drawing& drawing, const Paper& paper, std::string& out) {
    if (drawing.labels.empty()) return;
    out += "<g font-family=\"sans-serif\" fill=\"#000\">\n";
    for (const Label& label : drawing.labels) {
        const std::string_view anchor = label.align == Align::left ? "start" : label.align == Align::centre ? "middle" : "end";
        const std::string turn = number(-label.turn_deg);
        out += fmt::format("<text transform=\"translate({} {}){}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\"{}>{}</text>\n",
                           paper.x(label.at), paper.y(label.at), turn == "0" ? "" : " rotate(" + turn + ")",
                           number(0.5 * paper.size(label.height)), number(paper.size(label.height) / kCapHeight), anchor,
                           label.strong ? " font-weight=\"bold\"" : "", escaped_markup(label.text));
    }
    out += "</g>\n";
}

}  // namespace

std::string svg_element(const Drawing& drawing) {
    const Paper paper(drawing);
    const std::string width = number(paper.size(drawing.page_high.x - drawing.page_low.x));
    const std::string height = number(paper.size(drawing.page_high.y - drawing.page_low.y));
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\">\n"
        "<title>{2}</title>\n<desc>{3}</desc>\n<rect fill=\"#fff\" width=\"{0}\" height=\"{1}\"/>\n",
        width, height, escaped_markup(drawing.title), escaped_markup(drawing.describes));
    write_regions(drawing, paper, out);
    write_strokes(drawing, paper, out);
    write_circles(drawing, paper, out);
    write_labels(drawing, paper, out);
    return out + "</svg>\n";
}

std::string write_svg(const Drawing& drawing) {
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + svg_element(drawing);
}

}  // namespace boardring
