// The reader's verdict on the corpus of project files. The schema's verdict on the same files:
// tests/schema/project_schema_test.py.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "io/read_project.hpp"
#include "support/catch.hpp"
#include "support/source_folder.hpp"

using namespace boardring;
namespace fs = std::filesystem;

namespace {

const fs::path kGolden = source_folder() / "tests" / "golden";

std::vector<fs::path> files_in(const fs::path& folder) {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(folder)) {
        if (entry.path().extension() == ".json") files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    return files;
}

std::string text_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

// The lines "// expect CODE POINTER LINE:COLUMN" at the head of a bad file; "-" is the whole file.
std::vector<std::string> announced(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    const std::string head = "// expect ";
    for (std::string line; std::getline(in, line) && line.starts_with(head);) lines.push_back(line.substr(head.size()));
    return lines;
}

std::vector<std::string> told(const Findings& findings) {
    std::vector<std::string> lines;
    for (const Finding& finding : findings) {
        if (finding.severity != Severity::error) continue;
        lines.push_back(finding.code + " " + (finding.pointer.empty() ? "-" : finding.pointer) + " " +
                        std::to_string(finding.line) + ":" + std::to_string(finding.column));
    }
    return lines;
}

}  // namespace

TEST_CASE("Every good project file is read without an error") {
    const auto files = files_in(kGolden / "projects_good");
    CHECK(files.size() >= 30);
    for (const fs::path& file : files) {
        INFO(file.filename().string());
        const ProjectRead read = read_project(text_of(file));
        CHECK(told(read.findings).empty());
        CHECK(read.project.has_value());
    }
}

TEST_CASE("Every bad project file gives exactly the errors its head announces, the one it is named after first") {
    const auto files = files_in(kGolden / "projects_bad");
    CHECK(files.size() >= 60);
    for (const fs::path& file : files) {
        INFO(file.filename().string());
        const std::string text = text_of(file);
        const ProjectRead read = read_project(text);
        CHECK_FALSE(read.project.has_value());
        const auto lines = told(read.findings);
        CHECK(lines == announced(text));
        const std::string name = file.stem().string();
        REQUIRE_FALSE(lines.empty());
        CHECK(lines.front().starts_with(name.substr(0, name.find("--")) + " "));
        for (const Finding& finding : read.findings) {
            CHECK_FALSE(finding.message.empty());
            CHECK_FALSE(finding.fix.empty());
        }
    }
}
