// Any text as an as-cut file, and as the words of a command line: refused with words, or boards worked out anew.
#include <string>
#include <vector>

#include "fuzz/driver.hpp"
#include "io/read_as_cut.hpp"
#include "io/read_project.hpp"
#include "plan/plan.hpp"
#include "plan/refit_plan.hpp"

using namespace boardring;
using boardring_test::must;

namespace {

const Plan& planned() {
    static const Plan plan = make_plan(*read_project(R"({
      "format": "boardring-project-1", "title": "Bed", "units": "mm",
      "outline": { "line": "inside", "regular": { "corners": 6, "over_flats": 640 } },
      "stock": { "rail": { "width": 145, "thickness": 38 } },
      "boards": { "lie": "on edge", "all": { "stock": "rail" }, "4": { "thickness": 30 } } })").project);
    return plan;
}

void look_at(const AsCutRead& read) {
    if (read.as_cut) {
        for (const Keep keep : {Keep::outline, Keep::angles, Keep::lengths}) make_refit(planned().project, *read.as_cut, keep);
        return;
    }
    must(!read.findings.empty(), "what is refused has a finding");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = boardring_test::text_of(data, size);
    look_at(read_as_cut(text, planned().project));
    std::vector<std::string> words(1);
    for (const char c : text.substr(0, 400)) {
        if (c == ' ') {
            words.emplace_back();
        } else {
            words.back() += c;
        }
    }
    look_at(read_as_cut_words(words, planned().project));
    return 0;
}
