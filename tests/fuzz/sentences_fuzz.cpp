// Any text as a sentence: refused with words, or a project file that reads.
#include "fuzz/driver.hpp"
#include "io/read_project.hpp"
#include "spoken/sentence.hpp"

using namespace boardring;
using boardring_test::must;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = boardring_test::text_of(data, size);
    looks_like_sentence(text);
    const SentenceRead read = read_sentence(text);
    if (!read.findings.empty()) {
        must(read.project_text.empty(), "what is refused makes no file");
        return 0;
    }
    must(!read.name.empty() && read.name.find('/') == std::string::npos && read.name.front() != '.', "a file's name stays in its folder");
    const ProjectRead project = read_project(read.project_text);
    must(project.project.has_value(), "the file of a sentence reads:\n" + read.project_text);
    return 0;
}
