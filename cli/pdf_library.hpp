#pragma once
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "pdf/pdf.hpp"

namespace boardring::cli {

/// A PDF, or why there is none.
struct Pdf {
    std::string bytes;
    std::string trouble;  ///< "" if there is one
};

/// Drawings as a PDF, a page each (pdf/pdf.hpp). The library that writes it is loaded here and nowhere else: it lies beside the
/// program (built or installed).
Pdf make_pdf(const std::vector<Drawing>& drawings, const Sheet& sheet, const std::string& title);

}  // namespace boardring::cli
