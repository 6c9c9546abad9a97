// Any phrase said to a project: refused with the old text kept, or a text that reads, and the way back gives the old bytes.
#include <string>
#include <vector>

#include "fuzz/driver.hpp"
#include "io/read_project.hpp"
#include "spoken/change.hpp"

using namespace boardring;
using boardring_test::must;

namespace {

const std::string kProject = R"({
  // a bed
  "format": "boardring-project-1", "title": "Bed", "units": "mm",
  "outline": { "line": "inside", "readings": [ "AB 900", "BC 820", "CD 900", "DA 820", "A 90", "B 90", "C 90", "D 90" ] },
  "stock": { "rail": { "width": 145, "thickness": 38 } },
  "boards": { "lie": "on edge", "all": { "stock": "rail" }, "3": { "thickness": 30 } },
  "tools": { "kerf": 3 }
}
)";

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    std::vector<std::string> phrases;
    std::string_view rest = boardring_test::text_of(data, size);
    while (phrases.size() < 4) {
        const std::size_t end = rest.find('\n');
        phrases.emplace_back(rest.substr(0, end));
        if (end == std::string_view::npos) break;
        rest.remove_prefix(end + 1);
    }
    const ChangedProject changed = change_project(kProject, phrases);
    if (!changed.ok()) {
        must(changed.text == kProject, "what is refused changes nothing");
        return 0;
    }
    must(read_project(changed.text).project.has_value(), "a changed project reads");
    if (changed.back.empty()) return 0;
    const ChangedProject back = change_project(changed.text, changed.back);
    must(back.ok() && back.text == kProject, "the way back gives the old bytes");
    return 0;
}
