#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "closure/advice.hpp"
#include "closure/sources.hpp"
#include "plan/plan.hpp"
#include "report/page_parts.hpp"
#include "report/report_text.hpp"

namespace boardring {

// What the pages of rings (closure_page) and of open chains (free_ends_page) have in common.

/// "slopes by bevel"
std::string way_words(SlopeBy way);
/// "garden work"
std::string preset_words(Preset preset);
/// show_small in the maker's style.
std::string small(double mm, const Project& project);

/// "(20000 rings tried, seed 1, share good to 0.5 of 100)". \param what  "rings" or "chains"
std::string trials_words(std::size_t runs, const char* what, std::uint64_t seed, double within_error, bool still);

/// A standard deviation in the unit of its kind: "0.2 deg", "0.5 mm", "0.2 in 1000".
std::string sd_words(ErrorKind kind, double sd, const Project& project);

/// A share in words that never promise: "97 of 100", "fewer than 1 of 100", "more than 99 of 100".
std::string of_hundred(double share);

/// A share in whole per cent: "18 %", "< 1 %", "0 %".
std::string share_words(double share);

/// Source, how far out, how often, two shares; the first row are titles.
using SourceRow = std::array<std::string, 5>;
std::vector<std::string> sources_table(const std::vector<SourceRow>& rows);

/// What to learn from scrap before the first real cut.
Lines test_cut_lines(const std::vector<TestRing>& tests, const Project& project);

/// What was assumed, and the caution.
Lines closing_words(const Project& project, const PageOptions& options);

}  // namespace boardring
