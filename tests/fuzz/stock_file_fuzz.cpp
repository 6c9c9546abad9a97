// Any text as a list of stock beside a project: refused at the key that names it, or boards that are legal and can be planned with.
#include <cmath>
#include <string>
#include <string_view>

#include "fuzz/driver.hpp"
#include "io/read_project.hpp"
#include "plan/plan.hpp"

using namespace boardring;
using boardring_test::must;

namespace {

constexpr const char* kRing = R"({"format": "boardring-project-1", "units": "mm", "stock_file": "yard.json",
 "outline": {"line": "inside", "regular": {"corners": 5, "side": 400}}, "boards": {"lie": "on edge", "all": {"stock": "rail"}}})";
constexpr const char* kPieces = R"({"format": "boardring-project-1", "units": "in", "stock_file": ["yard.json", "yard.json"],
 "stock": {"rail": {"width": 5.5, "thickness": 1.5}}, "pieces": [{"name": "foot", "stock": "rail", "length": 8}]})";

void look_at(const char* project, std::string_view text) {
    ProjectRead read = read_project(project, [text](const std::string& name) {
        must(name == "yard.json", "only the file that is named is asked for");
        return BesideText{std::string(text), ""};
    });
    for (const Finding& finding : read.findings) must(!finding.message.empty() && finding.line > 0, "a finding says what was found and where");
    if (!read.project) {
        must(!read.findings.empty(), "a list that is refused has a finding");
        return;
    }
    for (Stock& stock : read.project->stock) {
        must(!stock.name.empty(), "a stock has a name");
        must(std::isfinite(stock.width_mm) && stock.width_mm > 0.0 && std::isfinite(stock.thickness_mm) && stock.thickness_mm > 0.0, "a board has a size");
        must(std::isfinite(stock.end_trim_mm) && stock.end_trim_mm >= 0.0, "what is trimmed is a length");
        for (const auto& length : stock.lengths) must(std::isfinite(length.length_mm) && length.length_mm > 0.0, "what is on sale has a length");
        stock.lengths.clear();  // the search for what to buy has a test of its own
    }
    const Plan plan = make_plan(*read.project);
    must(plan.complete() || plan.of_pieces_alone() || !plan.findings.empty(), "a plan that stops says why");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = boardring_test::text_of(data, size);
    look_at(kRing, text);
    look_at(kPieces, text);
    return 0;
}
