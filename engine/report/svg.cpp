#include "report/svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string_view>

#include "base/utf8.hpp"

namespace boardring {
namespace {

constexpr double kHatchMm = 2.0;

// Millimetres of paper, at most three decimals.
std::string number(double value) {
    std::string text = fmt::format("{:.3f}", value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

// Controls, marks that turn the direction of writing, and codes that are no characters.
bool left_out(char32_t code) {
    if (code < 0x20U || (code >= 0x7FU && code <= 0x9FU)) return true;
    if (code == 0x200EU || code == 0x200FU || (code >= 0x202AU && code <= 0x202EU) || (code >= 0x2066U && code <= 0x2069U))
        return true;
    return (code & 0xFFFEU) == 0xFFFEU || (code >= 0xFDD0U && code <= 0xFDEFU);
}

std::string escaped(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const auto [code, bytes, valid] = decode_utf8(text, i);
        i += bytes;
        if (code == '\t' || code == '\n') {
            out += ' ';
        } else if (left_out(code)) {
            continue;
        } else if (code == '&') {
            out += "&amp;";
        } else if (code == '<') {
            out += "&lt;";
        } else if (code == '>') {
            out += "&gt;";
        } else if (code == '"') {
            out += "&quot;";
        } else {
            append_utf8(out, code);
        }
    }
    return out;
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

std::string_view fill_colour(Fill fill) {
    switch (fill) {
        case Fill::none:
            return "none";
        case Fill::blank:
            return "#fff";
        case Fill::wood:
            return "#ececec";
        case Fill::waste:
            return "#fff";
        case Fill::ink:
            return "#000";
    }
    return "none";
}

// Wide 0.5, middle 0.35, narrow 0.18 to 0.25: the line groups of ISO 128; dashes in millimetres.
std::string_view pen_style(Pen pen) {
    switch (pen) {
        case Pen::outline:
            return R"(stroke-width="0.5")";
        case Pen::thin:
            return R"(stroke-width="0.25")";
        case Pen::hidden:
            return R"(stroke-width="0.35")";
        case Pen::given:
            return R"(stroke-width="0.6")";
        case Pen::dimension:
            return R"(stroke-width="0.2")";
        case Pen::cut:
            return R"(stroke-width="0.7")";
    }
    return "";
}

void write_regions(const Drawing& drawing, const Paper& paper, std::string& out) {
    for (const Region& region : drawing.regions) {
        out += fmt::format("<polygon fill=\"{}\" points=\"{}\"/>\n", fill_colour(region.fill), paper.points(region.points));
        if (region.fill != Fill::waste) continue;
        std::string path;
        for (const auto& [a, b] : hatch_lines(region.points, kHatchMm * drawing.scale)) {
            path += fmt::format("M{} {}L{} {}", paper.x(a), paper.y(a), paper.x(b), paper.y(b));
        }
        if (!path.empty()) out += fmt::format("<path fill=\"none\" stroke=\"#000\" stroke-width=\"0.18\" d=\"{}\"/>\n", path);
    }
}

double path_length(const Stroke& stroke) {
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < stroke.points.size(); ++i) sum += length(stroke.points[i + 1] - stroke.points[i]);
    if (stroke.closed && !stroke.points.empty()) sum += length(stroke.points.front() - stroke.points.back());
    return sum;
}

// Dashes [mm of paper], stretched or squeezed so that the line begins and ends with a whole one: corners stay visible.
std::string dashes(Pen pen, double length_mm) {
    const bool given = pen == Pen::given;
    if (!given && pen != Pen::hidden) return "";
    constexpr double kLong = 6.0, kDot = 0.8, kGap = 1.3, kShort = 2.0;
    const double period = given ? kLong + kDot + 2.0 * kGap : kShort + kGap;
    const double last = given ? kLong : kShort;
    const double periods = std::max(1.0, std::round((length_mm - last) / period));
    const double by = length_mm / (periods * period + last);
    if (given)
        return fmt::format(" stroke-dasharray=\"{0} {1} {2} {1}\"", number(by * kLong), number(by * kGap), number(by * kDot));
    return fmt::format(" stroke-dasharray=\"{} {}\"", number(by * kShort), number(by * kGap));
}

std::string shapes(const Drawing& drawing, const Paper& paper, Pen pen, bool dashed) {
    std::string out;
    for (const Stroke& stroke : drawing.strokes) {
        if (stroke.pen != pen) continue;
        out += fmt::format("<{} points=\"{}\"{}/>\n", stroke.closed ? "polygon" : "polyline", paper.points(stroke.points),
                           dashed ? dashes(pen, paper.size(path_length(stroke))) : "");
    }
    return out;
}

// All strokes of one pen together: the file says each line kind once. The given line often lies on an edge: a white line under
// its dashes keeps it legible there.
void write_strokes(const Drawing& drawing, const Paper& paper, std::string& out) {
    for (const Pen pen : {Pen::outline, Pen::given, Pen::hidden, Pen::thin, Pen::dimension, Pen::cut}) {
        const std::string body = shapes(drawing, paper, pen, true);
        if (body.empty()) continue;
        if (pen == Pen::given)
            out += fmt::format("<g fill=\"none\" stroke=\"#fff\" stroke-width=\"0.8\">\n{}</g>\n",
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
                           label.strong ? " font-weight=\"bold\"" : "", escaped(label.text));
    }
    out += "</g>\n";
}

}  // namespace

std::string write_svg(const Drawing& drawing) {
    const Paper paper(drawing);
    const std::string width = number(paper.size(drawing.page_high.x - drawing.page_low.x));
    const std::string height = number(paper.size(drawing.page_high.y - drawing.page_low.y));
    std::string out = fmt::format(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\">\n"
        "<title>{2}</title>\n<desc>{3}</desc>\n<rect fill=\"#fff\" width=\"{0}\" height=\"{1}\"/>\n",
        width, height, escaped(drawing.title), escaped(drawing.describes));
    write_regions(drawing, paper, out);
    write_strokes(drawing, paper, out);
    write_circles(drawing, paper, out);
    write_labels(drawing, paper, out);
    return out + "</svg>\n";
}

}  // namespace boardring
