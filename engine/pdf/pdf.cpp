#include "pdf/pdf.hpp"

#include <cairo-pdf.h>
#include <cairo.h>

#include <algorithm>
#include <memory>
#include <numbers>

#include "base/ensure.hpp"
#include "drawing/line_styles.hpp"

namespace boardring {
namespace {

constexpr double kPointsPerMm = 72.0 / 25.4;

struct Closes {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* page) const { cairo_destroy(page); }
};
using Surface = std::unique_ptr<cairo_surface_t, Closes>;
using Page = std::unique_ptr<cairo_t, Closes>;

Vec2 paper_mm(const Drawing& drawing) {
    return (1.0 / drawing.scale) * (drawing.page_high - drawing.page_low);
}

constexpr double kEdgeMm = 10.0;  // that printers may not reach

struct Place {
    Vec2 page_mm;
    Vec2 at_mm;  // upper left corner of the drawing
};

Place place_on(const Sheet& sheet, Vec2 drawn_mm) {
    const bool on_its_side = drawn_mm.x > drawn_mm.y && drawn_mm.x > sheet.width_mm - 2.0 * kEdgeMm;
    const Vec2 page = on_its_side ? Vec2{sheet.height_mm, sheet.width_mm} : Vec2{sheet.width_mm, sheet.height_mm};
    if (drawn_mm.x > page.x - 2.0 * kEdgeMm || drawn_mm.y > page.y - 2.0 * kEdgeMm) return {drawn_mm, {0.0, 0.0}};
    return {page, {0.5 * (page.x - drawn_mm.x), kEdgeMm}};
}

// Draws one drawing; the page's unit is the millimetre of paper, y down.
class PageWriter {
public:
    PageWriter(cairo_t* page, const Drawing& drawing) : page_(page), drawing_(drawing) {}

    void write() {
        for (const Region& region : drawing_.regions) fill(region);
        for (const Pen pen : kPens) strokes(pen);
        for (const Circle& circle : drawing_.circles) draw(circle);
        for (const Label& label : drawing_.labels) write(label);
    }

private:
    [[nodiscard]] Vec2 at(Vec2 p) const {
        return {(p.x - drawing_.page_low.x) / drawing_.scale, (drawing_.page_high.y - p.y) / drawing_.scale};
    }

    void grey(double lightness) { cairo_set_source_rgb(page_, lightness, lightness, lightness); }

    void path(const std::vector<Vec2>& points, bool closed) {
        for (const Vec2 p : points) cairo_line_to(page_, at(p).x, at(p).y);
        if (closed) cairo_close_path(page_);
    }

    void fill(const Region& region) {
        if (region.fill == Fill::none) return;
        grey(fill_grey(region.fill));
        path(region.points, true);
        cairo_fill(page_);
        if (region.fill != Fill::waste) return;
        grey(0.0);
        cairo_set_line_width(page_, kHatchWidthMm);
        for (const auto& [a, b] : hatch_lines(region.points, kHatchMm * drawing_.scale)) {
            cairo_move_to(page_, at(a).x, at(a).y);
            cairo_line_to(page_, at(b).x, at(b).y);
        }
        cairo_stroke(page_);
    }

    void strokes(Pen pen) {
        for (const bool under : {true, false}) {
            if (under && pen != Pen::given) continue;
            grey(under ? 1.0 : 0.0);
            cairo_set_line_width(page_, under ? kHaloMm : pen_width_mm(pen));
            for (const Stroke& stroke : drawing_.strokes) {
                if (stroke.pen != pen) continue;
                const std::vector<double> dashes = under ? std::vector<double>{} : dash_mm(pen, stroke_length(stroke) / drawing_.scale);
                cairo_set_dash(page_, dashes.data(), static_cast<int>(dashes.size()), 0.0);
                path(stroke.points, stroke.closed);
                cairo_stroke(page_);
            }
        }
        cairo_set_dash(page_, nullptr, 0, 0.0);
    }

    void draw(const Circle& circle) {
        cairo_arc(page_, at(circle.centre).x, at(circle.centre).y, circle.radius / drawing_.scale, 0.0, 2.0 * std::numbers::pi);
        if (circle.fill != Fill::none) {
            grey(fill_grey(circle.fill));
            cairo_fill_preserve(page_);
        }
        grey(0.0);
        cairo_set_line_width(page_, pen_width_mm(circle.pen));
        cairo_stroke(page_);
    }

    void write(const Label& label) {
        const std::string text = plain_line(label.text);
        const double height = label.height / drawing_.scale;
        cairo_select_font_face(page_, "sans-serif", CAIRO_FONT_SLANT_NORMAL,
                               label.strong ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
        cairo_set_font_size(page_, height / kCapHeight);
        cairo_text_extents_t extents;
        cairo_text_extents(page_, text.c_str(), &extents);
        const double room = text_width(text, label.strong) * height;
        const double narrow = extents.x_advance > room ? room / extents.x_advance : 1.0;
        const double width = narrow * extents.x_advance;
        const double from = label.align == Align::left ? 0.0 : label.align == Align::centre ? -0.5 * width : -width;
        cairo_save(page_);
        grey(0.0);
        cairo_translate(page_, at(label.at).x, at(label.at).y);
        cairo_rotate(page_, -label.turn_deg * std::numbers::pi / 180.0);
        cairo_translate(page_, from, 0.5 * height);
        cairo_scale(page_, narrow, 1.0);
        cairo_move_to(page_, 0.0, 0.0);
        cairo_show_text(page_, text.c_str());
        cairo_restore(page_);
    }

    cairo_t* page_;
    const Drawing& drawing_;
};

cairo_status_t append(void* to, const unsigned char* bytes, unsigned int count) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), count);
    return CAIRO_STATUS_SUCCESS;
}

}  // namespace

std::string write_pdf(const std::vector<Drawing>& drawings, const Sheet& sheet, const std::string& title) {
    if (drawings.empty()) return "";
    std::string out;
    {
        const Surface surface{cairo_pdf_surface_create_for_stream(append, &out, 1.0, 1.0)};
        cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, plain_line(title).c_str());
        cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "");
        for (const Drawing& drawing : drawings) {
            const Place place = place_on(sheet, paper_mm(drawing));
            cairo_pdf_surface_set_size(surface.get(), kPointsPerMm * place.page_mm.x, kPointsPerMm * place.page_mm.y);
            const Page page{cairo_create(surface.get())};
            cairo_scale(page.get(), kPointsPerMm, kPointsPerMm);
            cairo_translate(page.get(), place.at_mm.x, place.at_mm.y);
            PageWriter(page.get(), drawing).write();
            cairo_show_page(page.get());
            ENSURE(cairo_status(page.get()) == CAIRO_STATUS_SUCCESS);
        }
        cairo_surface_finish(surface.get());
        ENSURE(cairo_surface_status(surface.get()) == CAIRO_STATUS_SUCCESS);
    }
    return out;
}

}  // namespace boardring

extern "C" void boardring_write_pdf(const std::vector<boardring::Drawing>& drawings, const boardring::Sheet& sheet, const std::string& title,
                                    std::string& out) {
    out += boardring::write_pdf(drawings, sheet, title);
}
