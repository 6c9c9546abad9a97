#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "plan/buying_plan.hpp"
#include "project/project.hpp"

namespace boardring {

/// One line of what to take: boards of one length and section, bought or from home.
struct ShoppingRow {
    const SectionPurchase* purchase = nullptr;
    std::size_t offer = 0;                ///< index into its section's offers
    std::size_t count = 0;
    std::vector<double> left_over_mm;     ///< one a board, longest first
};

/// What to take, section by section, longest boards first, those already owned last.
std::vector<ShoppingRow> shopping_rows(const Buying& buying);

/// The list as a table of at most kPageColumns: how many, price, sum, what is left of each, what buying each piece by its long points would
/// cost, and which board would be the dearest to lose. Empty where nothing is planned.
std::vector<std::string> shopping_lines(const Buying& buying, const std::vector<const Project*>& projects);

/// The same rows for a spreadsheet: stock, width, thickness, length, unit, count, yours, price each, price, left over.
std::string buying_csv(const Buying& buying, const std::vector<const Project*>& projects);

/// A board asked for as yards do: in metres, or in feet where that says it exactly, else in the unit of the job.
std::string board_length(double mm, const Project& project);

/// Two decimals.
std::string money(double amount);

/// True where there is a plan.
bool is_planned(const SectionBuy& buy);

/// Section of the boards: "145 x 38", with its wood where another section has that size; `project` gives unit and steps.
std::string section_words(const SectionPurchase& purchase, const Project& project);

}  // namespace boardring
