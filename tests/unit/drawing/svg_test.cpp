#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

#include "base/utf8.hpp"
#include "drawing/svg.hpp"
#include "report/board_drawing.hpp"
#include "report/plan_drawing.hpp"
#include "support/catch.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;

namespace {

// A small reader of XML: enough to say where a file is not well-formed. "" if it is.
class XmlCheck {
public:
    explicit XmlCheck(std::string_view text) : text_(text) {}

    std::string fault() {
        for (std::size_t i = 0; i < text_.size();) {
            const Decoded c = decode_utf8(text_, i);
            if (!c.valid) return "bytes that are not UTF-8";
            if (c.code < 0x20 && c.code != '\n') return "control character";
            if (c.code == 0xFFFE || c.code == 0xFFFF) return "no character";
            i += c.bytes;
        }
        constexpr std::string_view kHead = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
        if (text_.substr(0, kHead.size()) != kHead) return "no XML declaration";
        at_ = kHead.size();
        while (at_ < text_.size()) {
            if (text_[at_] == '<') {
                if (std::string f = tag(); !f.empty()) return f;
            } else if (std::string f = text_run(); !f.empty()) {
                return f;
            }
        }
        if (!open_.empty()) return "left open";
        return roots_ == 1 ? "" : "not one root";
    }

private:
    std::string reference() {  // at '&'
        for (const std::string_view known : {"&amp;", "&lt;", "&gt;", "&quot;"}) {
            if (text_.substr(at_, known.size()) == known) {
                at_ += known.size();
                return "";
            }
        }
        return "unknown reference";
    }
    std::string text_run() {
        while (at_ < text_.size() && text_[at_] != '<') {
            if (text_[at_] == '>') return "bare >";
            if (open_.empty() && text_[at_] != '\n') return "text outside";
            if (text_[at_] == '&') {
                if (std::string f = reference(); !f.empty()) return f;
            } else {
                ++at_;
            }
        }
        return "";
    }
    std::string name() {
        const std::size_t from = at_;
        while (at_ < text_.size() && (std::isalnum(static_cast<unsigned char>(text_[at_])) != 0 || text_[at_] == '-')) ++at_;
        return std::string(text_.substr(from, at_ - from));
    }
    std::string tag() {
        ++at_;
        if (text_[at_] == '/') {
            ++at_;
            const std::string closed = name();
            if (open_.empty() || open_.back() != closed) return "closes what is not open";
            open_.pop_back();
            return text_[at_++] == '>' ? "" : "bad end tag";
        }
        const std::string opened = name();
        if (opened.empty()) return "bad tag";
        std::vector<std::string> attributes;
        while (at_ < text_.size() && text_[at_] == ' ') {
            ++at_;
            const std::string attribute = name();
            if (std::find(attributes.begin(), attributes.end(), attribute) != attributes.end()) return "an attribute twice";
            attributes.push_back(attribute);
            if (attribute.empty() || text_.substr(at_, 2) != "=\"") return "bad attribute";
            at_ += 2;
            while (at_ < text_.size() && text_[at_] != '"') {
                if (text_[at_] == '<') return "< in attribute";
                if (text_[at_] == '&') {
                    if (std::string f = reference(); !f.empty()) return f;
                } else {
                    ++at_;
                }
            }
            ++at_;
        }
        roots_ += open_.empty() ? 1 : 0;
        if (text_.substr(at_, 2) == "/>") {
            at_ += 2;
            return "";
        }
        if (text_[at_] != '>') return "bad end of a tag";
        ++at_;
        open_.push_back(opened);
        return "";
    }

    std::string_view text_;
    std::size_t at_ = 0;
    std::vector<std::string> open_;
    int roots_ = 0;
};

// All values of an attribute, in order.
std::vector<std::string> values_of(const std::string& svg, const std::string& attribute) {
    std::vector<std::string> values;
    const std::string key = std::string(1, ' ').append(attribute).append("=\"");
    for (std::size_t at = svg.find(key); at != std::string::npos; at = svg.find(key, at + 1)) {
        const std::size_t from = at + key.size();
        values.push_back(svg.substr(from, svg.find('"', from) - from));
    }
    return values;
}

std::vector<std::string> all_drawings() {
    using namespace boardring_test;
    std::vector<std::string> files;
    for (const Project& project : {hexagon_planter(), pentagon_bed(), octagon_window(), l_shaped_bed(), door_casing(),
                                   wall_planter(), lapped_frame(), gate_arch()}) {
        const Plan plan = make_plan(project);
        REQUIRE(plan.complete());
        files.push_back(write_svg(draw_plan(plan)));
        for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) files.push_back(write_svg(draw_board(plan, g)));
    }
    return files;
}

Drawing small_drawing() {
    Drawing d;
    d.title = "T";
    d.describes = "D";
    d.scale = 10.0;
    d.page_low = {-100.0, -50.0};
    d.page_high = {1800.0, 2490.0};
    return d;
}

}  // namespace

TEST_CASE("Every drawing is well-formed XML", "[report][svg]") {
    for (const std::string& svg : all_drawings()) {
        CHECK(XmlCheck(svg).fault() == "");
        CHECK(svg.find("<title>") != std::string::npos);
        CHECK(svg.find("<desc>") != std::string::npos);
    }
}

TEST_CASE("The checker of these tests sees broken XML", "[report][svg]") {
    const std::string head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
    CHECK(XmlCheck(head + "<a b=\"1\"><c/></a>\n").fault() == "");
    CHECK(XmlCheck(head + "<a><c></a>\n").fault() != "");
    CHECK(XmlCheck(head + "<a>&nope;</a>\n").fault() != "");
    CHECK(XmlCheck(head + "<a>a & b</a>\n").fault() != "");
    CHECK(XmlCheck(head + "<a b=\"1\" b=\"2\"/>\n").fault() != "");
    CHECK(XmlCheck(head + "<a>\x01</a>\n").fault() != "");
    CHECK(XmlCheck(head + "<a>\xFF</a>\n").fault() != "");
    CHECK(XmlCheck(head + "<a/><b/>\n").fault() != "");
}

TEST_CASE("The paper's size is given in millimetres and the picture is counted in them", "[report][svg]") {
    Drawing d = small_drawing();
    d.strokes.push_back({Pen::thin, {{-100.0, 2490.0}, {0.0, 0.0}, {1800.0, -50.0}}, false});
    const std::string svg = write_svg(d);
    CHECK_THAT(svg, ContainsSubstring("width=\"190mm\" height=\"254mm\" viewBox=\"0 0 190 254\""));
    CHECK_THAT(svg, ContainsSubstring("points=\"0,0 10,249 190,254\""));  // top left, where the drawing's origin is, bottom right
}

TEST_CASE("Numbers have at most three decimals, are finite and never minus zero", "[report][svg]") {
    Drawing d = small_drawing();
    d.strokes.push_back({Pen::thin, {{-100.0 - 1e-9, 2490.0 + 1e-9}, {1.0 / 3.0, 2.0 / 3.0}}, false});
    d.labels.push_back({{0.0, 0.0}, "x", 35.0, -1e-9, Align::left, false});
    const std::string svg = write_svg(d);
    CHECK_THAT(svg, ContainsSubstring("points=\"0,0 10.033,248.933\""));
    for (const std::string& file : all_drawings()) {
        CHECK(file.find("nan") == std::string::npos);
        CHECK(file.find("inf") == std::string::npos);
        for (const char* attribute : {"points", "d", "cx", "cy", "r", "y", "font-size", "transform", "stroke-dasharray"}) {
            for (const std::string& value : values_of(file, attribute)) {
                std::string number;
                for (const char c : value + " ") {
                    if (std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '.' || c == '-') {
                        number += c;
                        continue;
                    }
                    if (number.empty()) continue;
                    REQUIRE(number != "-0");
                    const std::size_t point = number.find('.');
                    if (point != std::string::npos) {
                        REQUIRE(number.size() - point - 1 <= 3);
                        REQUIRE(number.back() != '0');
                    }
                    number.clear();
                }
            }
        }
    }
}

TEST_CASE("Text that means harm arrives as text", "[report][svg]") {
    Project project = boardring_test::hexagon_planter();
    project.title =
        "</title><script>alert(1)</script> & \"quotes\" 'single' ]]> \x01\x1b[31m \xff\xfe \xe2\x80\xae reversed \xed\xa0\x80";
    const Plan plan = make_plan(project);
    const std::string svg = write_svg(draw_plan(plan));
    CHECK(XmlCheck(svg).fault() == "");
    CHECK(svg.find("<script") == std::string::npos);
    CHECK_THAT(svg, ContainsSubstring("&lt;script&gt;"));
    CHECK(svg.find("\xe2\x80\xae") == std::string::npos);

    // The writer itself does not rely on anybody before it.
    Drawing d = small_drawing();
    d.title = "a<b>\x02&\"\t\n\xff\xe2\x80\xaez\xef\xbf\xbf";
    d.describes = d.title;
    d.labels.push_back({{}, d.title, 35.0, 0.0, Align::left, false});
    const std::string raw = write_svg(d);
    CHECK(XmlCheck(raw).fault() == "");
    CHECK_THAT(raw, ContainsSubstring("<title>a&lt;b&gt;&amp;&quot;  \xef\xbf\xbdz</title>"));
}

TEST_CASE("No script, style, link or colour is in any drawing", "[report][svg]") {
    for (const std::string& svg : all_drawings()) {
        for (const char* word :
             {"script", "style=", "<style", "href", "url(", "@import", "<image", "<use", "foreignObject", "onload"}) {
            CAPTURE(word);
            CHECK(svg.find(word) == std::string::npos);
        }
        CHECK(svg.find("http", svg.find("http") + 1) == std::string::npos);  // the name of the format, once
        for (const char* attribute : {"fill", "stroke"}) {
            for (const std::string& value : values_of(svg, attribute)) {
                if (value == "none") continue;
                REQUIRE(value.front() == '#');
                const std::size_t part = (value.size() - 1) / 3;
                CHECK(value.substr(1, part) == value.substr(1 + part, part));  // a grey
                CHECK(value.substr(1, part) == value.substr(1 + 2 * part, part));
            }
        }
        for (const std::string& face : values_of(svg, "font-family")) CHECK(face == "sans-serif");
    }
}

TEST_CASE("The same plan gives the same bytes", "[report][svg]") {
    CHECK(all_drawings() == all_drawings());
}

TEST_CASE("Dashed lines begin and end with a whole dash", "[report][svg]") {
    for (const double length_mm : {3.0, 9.4, 10.0, 26.5, 100.0, 173.2}) {
        for (const Pen pen : {Pen::given, Pen::hidden}) {
            Drawing d = small_drawing();
            d.strokes.push_back({pen, {{0.0, 0.0}, {10.0 * length_mm, 0.0}}, false});
            const std::vector<std::string> values = values_of(write_svg(d), "stroke-dasharray");
            REQUIRE(values.size() == 1);
            std::vector<double> parts;
            const char* at = values[0].c_str();
            for (char* end = nullptr; *at != '\0'; at = end) parts.push_back(std::strtod(at, &end));
            double period = 0.0;
            for (const double part : parts) period += part;
            const double periods = (length_mm - parts[0]) / period;
            CAPTURE(length_mm, values[0]);
            CHECK_THAT(periods, within_mm(std::round(periods), 0.01));  // dashes are written to a thousandth of a millimetre
            CHECK(periods > 0.5);
        }
    }
}
