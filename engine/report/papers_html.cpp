#include "report/papers_html.hpp"

#include <fmt/format.h>

#include <cstddef>
#include <string_view>
#include <variant>
#include <vector>

#include "drawing/markup.hpp"
#include "drawing/svg.hpp"
#include "report/drawing_parts.hpp"
#include "report/papers.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

// Sizes in print: 12 points are 4.2 mm, capitals 3 mm; what is set on a saw or marked is 5 mm high or more.
constexpr std::string_view kStyle = R"css(
:root { color-scheme: light dark; --ink: #111; --paper: #fff; --line: #888; --soft: #eee; }
@media (prefers-color-scheme: dark) { :root { --ink: #eee; --paper: #181818; --line: #999; --soft: #2c2c2c; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 0.8rem; max-width: 60rem; color: var(--ink); background: var(--paper);
       font: 1.05rem/1.45 sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0.3em 0; }
h2 { font-size: 1.3rem; line-height: 1.2; margin: 0 0 0.5em; border-bottom: 2px solid var(--ink); }
h3 { font-size: 1.1rem; margin: 0.8em 0 0.3em; }
p, ul, ol { margin: 0.4em 0; }
nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.2rem 1rem; }
nav a { display: inline-block; padding: 0.5rem 0; color: inherit; }
section { margin: 2rem 0; }
dl { margin: 0.5em 0; }
dt { font-weight: bold; }
dd { margin: 0 0 0.5em 0; }
@media (min-width: 40rem), print {
  dl { display: grid; grid-template-columns: minmax(5rem, max-content) 1fr; gap: 0.3em 1em; }
  dd { margin: 0; }
}
code { font: 1rem/2.2 monospace; }
@media (max-width: 40rem) {
  th, td { padding: 0.2rem 0.3rem; font-size: 0.95rem; }
  th.big, .big { font-size: 1.25rem; }
  .room { min-width: 3.5rem; }
}
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; margin: 0.5em 0; }
caption { text-align: left; font-weight: bold; padding: 0.3em 0; }
th, td { border: 1px solid var(--line); padding: 0.3rem 0.5rem; text-align: left; vertical-align: top; overflow-wrap: normal; }
thead th { background: var(--soft); }
th.big, .big { font-size: 1.45rem; font-weight: bold; white-space: nowrap; }
.number { white-space: nowrap; }
td.words { min-width: 7rem; }
th.words { min-width: 3rem; }
.room { min-width: 6rem; height: 2.6rem; }
figure { margin: 0.8rem 0; }
figure svg { display: block; max-width: 100%; height: auto; background: #fff; }
.card { border: 1px solid var(--line); padding: 0.6rem; margin: 1rem 0; }
@media print {
  @page { margin: 10mm; }
  @page level { size: landscape; }
  :root { --ink: #000; --paper: #fff; --line: #444; --soft: #eee; color-scheme: light; }
  body { font-size: 12pt; max-width: none; padding: 0; }
  nav { display: none; }
  th.big, .big { font-size: 20pt; }
  code { font-size: 12pt; }
  h3 { break-after: avoid; }
  section { break-before: page; margin: 0; }
  section:first-of-type { break-before: auto; }
  .card, figure, tr, p { break-inside: avoid; }
  .card { border: none; padding: 0; }
  .card h3 { display: none; }
  .level { page: level; }
  .typed { break-before: avoid; }
  .wide { overflow: visible; }
  .screen { display: none; }
}
)css";

std::string element(std::string_view name, const std::string& inner, std::string_view attributes = "") {
    return fmt::format("<{0}{1}{2}>{3}</{0}>\n", name, attributes.empty() ? "" : " ", attributes, inner);
}

std::string text(std::string_view name, std::string_view words, std::string_view attributes = "") {
    return element(name, escaped_markup(words), attributes);
}

std::string classes(PaperTable::Column column) {
    switch (column) {
        case PaperTable::Column::big: return "class=\"big\"";
        case PaperTable::Column::room: return "class=\"room\"";
        case PaperTable::Column::number: return "class=\"number\"";
        case PaperTable::Column::words: return "class=\"words\"";
        case PaperTable::Column::tick: break;
    }
    return "";
}

// A table whose first cell of a row names it. On a small screen it is moved by itself, not the page.
std::string table(const PaperTable& cells) {
    std::string head, body;
    for (const std::string& cell : cells.head) head += cell.empty() ? element("td", "") : text("th", cell, "scope=\"col\"");
    for (const std::vector<std::string>& row : cells.rows) {
        std::string line = text("th", row.front(), fmt::format("scope=\"row\" {}", classes(cells.columns.front())));
        for (std::size_t c = 1; c < row.size(); ++c)
            line += text("td", cells.columns[c] == PaperTable::Column::tick ? "\u2610" : row[c], classes(cells.columns[c]));
        body += element("tr", "\n" + line);
    }
    return element("div",
                   "\n" + element("table", "\n" + text("caption", cells.caption) + element("thead", "\n" + element("tr", "\n" + head)) +
                                               element("tbody", "\n" + body)),
                   fmt::format("class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"{}\"", escaped_markup(cells.caption)));
}

std::string list(const PaperList& items) {
    std::string inner;
    for (const std::string& item : items.items) inner += text("li", item);
    return element(items.numbered ? "ol" : "ul", "\n" + inner);
}

struct WritePart {
    std::string operator()(const PaperHeading& heading) const { return text("h3", heading.words); }
    std::string operator()(const PaperText& words) const { return text("p", words.words); }
    std::string operator()(const PaperCommand& command) const { return element("p", "<code>" + escaped_markup(command.line) + "</code>", "class=\"typed\""); }
    std::string operator()(const PaperTerms& terms) const {
        std::string inner;
        for (const PaperTerm& term : terms) inner += text("dt", term.label) + text("dd", term.words);
        return terms.empty() ? "" : element("dl", "\n" + inner);
    }
    std::string operator()(const PaperList& items) const { return items.items.empty() ? "" : list(items); }
    std::string operator()(const PaperTable& cells) const { return table(cells); }
    std::string operator()(const PaperCard& card) const {
        std::string words;
        for (const PaperTable& cells : card.tables) words += table(cells);
        for (const std::string& line : card.lines) words += text("p", line);
        if (!words.empty()) words = element("div", "\n" + words, "class=\"screen\"");
        const std::string drawn = element("figure", "\n" + svg_element(card.drawing));
        const bool level = card.drawing.page_high.x - card.drawing.page_low.x > kPaperShortMm * card.drawing.scale * 1.001;
        return element("article", "\n" + (card.heading.empty() ? "" : text("h3", card.heading)) + drawn + words,
                       level ? "class=\"card level\"" : "class=\"card\"");
    }
};

std::string section(const Paper& paper) {
    std::string inner = "\n" + text("h2", paper.name, fmt::format("id=\"{}\"", paper.id));
    for (const PaperPart& part : paper.parts) inner += std::visit(WritePart{}, part);
    return element("section", inner, fmt::format("aria-labelledby=\"{}\"", paper.id));
}

}  // namespace

std::string papers_html(const Plan& plan, const PageOptions& options) {
    const std::vector<Paper> papers = papers_of(plan, options);
    const std::string heading = papers_heading(plan);
    std::string nav, main;
    for (const Paper& paper : papers) {
        nav += element("li", text("a", paper.name, fmt::format("href=\"#{}\"", paper.id)));
        main += section(paper);
    }
    const std::string print = fmt::format("Lengths in {}. Print at 100 %, not fitted to the page. Paper is for numbers and angles; lengths come from the rule.",
                                          unit_words(plan.project.unit));
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
           text("title", heading) + element("style", std::string(kStyle)) + "</head>\n<body>\n" +
           element("header", "\n" + text("h1", heading) + text("p", print)) +
           element("nav", "\n" + element("ul", "\n" + nav), "aria-label=\"Papers\"") + element("main", "\n" + main) + "</body>\n</html>\n";
}

}  // namespace boardring
