#pragma once
#include <string>
#include <vector>

#include "drawing/drawing.hpp"

namespace boardring {

/// A size of paper [mm], upright.
struct Sheet {
    double width_mm = 210.0;
    double height_mm = 297.0;
};
inline constexpr Sheet kA4{210.0, 297.0};        ///< ISO 216
inline constexpr Sheet kLetter{215.9, 279.4};    ///< 8 1/2 by 11 in

/// The drawings as one PDF file, a sheet each, in the middle at the top, on its side where the drawing is wider than high: lines,
/// greys and text heights as drawing/svg.hpp has them, true to size (1 mm of paper is 72/25.4 points). Text stays text: it can be
/// searched and copied. Black and greys only. A drawing that is larger than the sheet less 10 mm each side gets a page of its own
/// size.
///
/// The face is the system's sans-serif, found by fontconfig and embedded in part; with no font at all installed the letters are
/// missing (the packages that build boardring bring DejaVu). Labels whose text is wider than the room the drawing reserved (a face
/// wider than drawing/drawing.hpp assumes) are narrowed to it. No date is written: same drawings and fonts, same bytes.
///
/// \param drawings  at least one; an empty list gives an empty text
/// \param title     of the document; cleaned like every label (plain_line)
std::string write_pdf(const std::vector<Drawing>& drawings, const Sheet& sheet, const std::string& title);

}  // namespace boardring

/// write_pdf for a program that loads this library only when it is asked for a PDF: loading the PDF library with every start would
/// take longer than planning a small frame. Appends to `out`; exceptions pass.
extern "C" void boardring_write_pdf(const std::vector<boardring::Drawing>& drawings, const boardring::Sheet& sheet, const std::string& title,
                                    std::string& out);
