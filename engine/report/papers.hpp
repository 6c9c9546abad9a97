#pragma once
#include <cstddef>
#include <string>
#include <variant>
#include <vector>

#include "drawing/drawing.hpp"
#include "plan/plan.hpp"
#include "report/report_text.hpp"

namespace boardring {

// The papers for the bench before anybody decides how they look: what they say, once, for a page of HTML (papers_html.hpp) and for
// sheets of paper (paper_sheets.hpp).

struct PaperHeading {
    std::string words;
};

struct PaperText {
    std::string words;
};

/// What is typed, as it is typed; blanks to fill in are underscores.
struct PaperCommand {
    std::string line;
};

/// A label and what is said behind it: CLOSES., ORDER ...
struct PaperTerm {
    std::string label, words;
};
using PaperTerms = std::vector<PaperTerm>;

struct PaperList {
    std::vector<std::string> items;
    bool numbered = false;
};

struct PaperTable {
    enum class Column { words, number, big, room, tick };  ///< `big`: set on a saw or marked; `room`: left empty to write in
    std::string caption;
    std::vector<std::string> head;
    std::vector<Column> columns;                 ///< as many as `head`
    std::vector<std::vector<std::string>> rows;  ///< the first cell names the row
};

/// A drawing that stands for itself on a sheet. `tables` and `lines` say the same for who cannot see it or holds a phone.
struct PaperCard {
    std::string heading;
    Drawing drawing;
    std::vector<PaperTable> tables;
    std::vector<std::string> lines;
};

using PaperPart = std::variant<PaperHeading, PaperText, PaperCommand, PaperTerms, PaperList, PaperTable, PaperCard>;

struct Paper {
    std::string id;    ///< one short word
    std::string name;  ///< its heading
    std::vector<PaperPart> parts;
};

/// Front page, plan view, saw page, a card for every distinct piece, what to buy and the sawing order of every long board, assembly, log
/// of what was cut, cautions and assumptions; a paper that would be empty is left out.
/// \param plan  complete, without errors
std::vector<Paper> papers_of(const Plan& plan, const PageOptions& options);

/// "Courtyard planter - hexagon, 640 over the flats inside": what stands over all of them.
std::string papers_heading(const Plan& plan);

/// Lines of the page with their labels as terms: the label column is the term, the rest its words.
PaperTerms terms_of(const std::vector<std::string>& lines, std::size_t label_columns);

// One each.
Paper front_paper(const Plan& plan, const PageOptions& options);
Paper saw_paper(const Plan& plan);
Paper cards_paper(const Plan& plan);
Paper sawing_paper(const Plan& plan);
Paper assembly_paper(const Plan& plan);
Paper log_paper(const Plan& plan, const PageOptions& options);
Paper care_paper(const Plan& plan, const PageOptions& options);

}  // namespace boardring
