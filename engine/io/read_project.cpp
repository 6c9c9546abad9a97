#include "io/read_project.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "io/located_json.hpp"
#include "io/sections.hpp"
#include "io/text_bytes.hpp"
#include "io/values.hpp"

namespace boardring {
namespace {

constexpr std::string_view kFormat = "boardring-project-1";
const std::vector<std::string_view> kUnitWords{"mm", "cm", "m", "in", "ft"};  // in the order of Unit
constexpr std::size_t kMostTitle = 200;
constexpr std::size_t kMostCopies = 1000;

// Parts of a file in the order people write them; defaults are told in this order.
constexpr std::array<std::string_view, 9> kSections{"/units", "/outline", "/stock", "/boards",  "/joints",
                                                    "/ends",  "/pieces",  "/tools", "/accuracy"};

void check_format(Job& job, const Fields& fields) {
    const auto spot = fields.require(job, "format", "which format this file has", fmt::format("\"{}\"", kFormat));
    if (!spot) job.mended_by(fmt::format("format is {}", kFormat));
    if (spot) read_word(job, *spot, {kFormat});
}

void sort_in_file_order(Findings& findings) {
    std::stable_sort(findings.begin(), findings.end(),
                     [](const Finding& a, const Finding& b) { return std::tie(a.line, a.column) < std::tie(b.line, b.column); });
}

// A key may hold characters that must not reach a terminal; then the pointer stops at what surrounds it.
void shorten_unprintable_pointers(Findings& findings) {
    for (Finding& finding : findings) {
        while (has_control_character(finding.pointer)) finding.pointer.resize(finding.pointer.rfind('/'));
    }
}

void sort_by_section(std::vector<Assumption>& assumed) {
    const auto rank = [](const Assumption& assumption) {
        return std::find_if(kSections.begin(), kSections.end(),
                            [&](std::string_view section) { return assumption.pointer.starts_with(section); }) -
               kSections.begin();
    };
    std::stable_sort(assumed.begin(), assumed.end(), [&](const Assumption& a, const Assumption& b) { return rank(a) < rank(b); });
}

// No outline, but pieces, and nothing that speaks of a ring.
bool is_pieces_alone(const Fields& fields) {
    const auto pieces = fields.find("pieces");
    if (!pieces || pieces->json->children.empty() || fields.find("outline") || fields.find("joints") || fields.find("ends")) return false;
    const auto boards = fields.find("boards");
    if (!boards) return true;
    return std::all_of(boards->json->children.begin(), boards->json->children.end(), [](const JsonValue& v) { return v.name == "lie"; });
}

// What only a ring has.
void read_ring(Job& job, const Fields& fields, const StockRead& stock, Project& project) {
    OutlineRead outline = read_outline(job, fields);
    project.outline = std::move(outline.asked);
    BoardsRead boards = read_boards(job, fields, stock, outline.boards);
    project.lie = boards.lie;
    project.courses = boards.courses;
    project.boards = std::move(boards.boards);
    project.pile = std::move(boards.pile);
    project.joints = read_joints(job, fields, outline.boards, project.outline.open);
    const EndsRead ends = read_ends(job, fields, project.outline, outline.boards);
    project.first_end = ends.first;
    project.last_end = ends.last;
    project.wanted = read_wanted(job, fields, project.accuracy.preset, outline.boards);
}

Project read_sections(Job& job, const Fields& fields, const ReadBeside& beside) {
    Project project;
    check_format(job, fields);
    if (const auto title = fields.find("title")) project.title = read_text(job, *title, 0, kMostTitle).value_or("");
    const std::optional<Unit> unit = read_unit(job, fields);
    project.unit = job.unit = unit.value_or(Unit::mm);
    project.tools = read_tools(job, fields);
    project.accuracy = read_accuracy(job, fields);
    if (const auto copies = fields.find("copies")) project.copies = read_count(job, *copies, {1, kMostCopies}).value_or(1);
    StockRead stock = read_stock(job, fields);
    const std::size_t listed = stock.stock.size();
    add_stock_files(job, fields, beside, stock);
    if (is_pieces_alone(fields)) {
        project.lie = read_lie_of_pieces(job, fields);
    } else {
        read_ring(job, fields, stock, project);
    }
    project.pieces = read_pieces(job, fields, stock);
    project.year = read_year(job, fields, stock.stock, project.accuracy.preset);
    project.stock = std::move(stock.stock);
    if (!has_error(job.findings)) note_unused_stock(job, fields, project, listed);
    if (unit) warn_of_odd_scale(job);
    return project;
}

}  // namespace

std::optional<Unit> read_unit(Job& job, const Fields& file) {
    const auto spot = file.require(job, "units", "what a plain number is: mm, cm, m, in or ft", "\"mm\"");
    if (!spot) return std::nullopt;
    return read_choice<Unit>(job, *spot, kUnitWords);
}

ProjectRead read_project(std::string_view text, const ReadBeside& beside) {
    ProjectRead read;
    LocatedJson json = read_located_json(text);
    Job job;
    job.findings = std::move(json.findings);
    if (json.root) {
        read.places = places_of(*json.root);
        const auto fields = Fields::open(job, {&*json.root, ""},
                                         {"format", "title", "units", "copies", "outline", "stock", "stock_file", "boards", "joints", "ends",
                                          "pieces", "tools", "accuracy", "wanted", "year"});
        if (fields) {
            Project project = read_sections(job, *fields, beside);
            sort_by_section(job.assumed);
            project.assumed = std::move(job.assumed);
            if (!has_error(job.findings)) read.project = std::move(project);
        }
    }
    shorten_unprintable_pointers(job.findings);
    sort_in_file_order(job.findings);
    read.findings = std::move(job.findings);
    return read;
}

Place place_of(const std::map<std::string, Place>& places, const std::string& pointer) {
    std::string at = pointer;
    for (;;) {
        const auto found = places.find(at);
        if (found != places.end()) return found->second;
        if (at.empty()) return {};
        const std::size_t slash = at.rfind('/');
        at.resize(slash == std::string::npos ? 0 : slash);
    }
}

}  // namespace boardring
