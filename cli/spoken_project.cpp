#include "spoken_project.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "files.hpp"
#include "report/wording.hpp"
#include "spoken/sentence.hpp"

namespace boardring::cli {
namespace {

constexpr std::size_t kPageColumns = 100;
constexpr std::size_t kMostSaidColumns = 40;

void print_wrapped(std::FILE* to, const std::string& label, const std::string& text) {
    const std::vector<std::string> lines = wrapped(text, kPageColumns - label.size());
    for (std::size_t k = 0; k < lines.size(); ++k) {
        fmt::print(to, "{}{}\n", k == 0 ? label : std::string(label.size(), ' '), lines[k]);
    }
}

void print_refusal(const SentenceRead& read) {
    fmt::print(stderr, "I CAN'T READ THIS YET. Nothing was written.\n\n");
    for (const Finding& finding : read.findings) {
        print_wrapped(stderr, "", fmt::format("{} {}", finding.message, finding.fix));
    }
    fmt::print(stderr, "\nNEXT       say it again; all words: boardring plan --words\n");
}

void print_reading(const SentenceRead& read) {
    std::size_t widest = 0;
    for (const HeardPhrase& phrase : read.phrases) widest = std::max(widest, std::min(columns_of(phrase.said), kMostSaidColumns));
    std::string label = "I READ     ";
    for (const HeardPhrase& phrase : read.phrases) {
        print_wrapped(stdout, label + padded(phrase.said, widest + 2), phrase.means);
        label = std::string(label.size(), ' ');
    }
    label = "I ASSUMED  ";
    for (const std::string& assumed : read.assumed) {
        print_wrapped(stdout, label, assumed);
        label = std::string(label.size(), ' ');
    }
}

// hexagon-640.json, or hexagon-640-2.json where that is taken.
std::string free_name(const std::string& name) {
    std::error_code ignored;
    std::string file = name + ".json";
    for (int k = 2; std::filesystem::exists(std::filesystem::symlink_status(file, ignored)); ++k) file = fmt::format("{}-{}.json", name, k);
    return file;
}

}  // namespace

std::optional<std::string> sentence_of(const std::vector<std::string>& words) {
    if (words.empty() || words.front() == "-") return std::nullopt;
    std::string sentence;
    for (const std::string& word : words) sentence += (sentence.empty() ? "" : " ") + word;
    if (words.size() == 1) {
        std::error_code ignored;
        const bool is_file = std::filesystem::exists(sentence, ignored) || std::filesystem::exists(sentence + ".json", ignored);
        if (is_file || !looks_like_sentence(sentence)) return std::nullopt;
    }
    return sentence;
}

SpokenProject project_from_sentence(const std::string& sentence, bool write) {
    const SentenceRead read = read_sentence(sentence);
    if (read.project_text.empty()) {
        print_refusal(read);
        return {"", "", 2};
    }
    print_reading(read);
    SpokenProject project{read.project_text, free_name(read.name), 0};
    if (!write) {
        fmt::print("\n");
        return project;
    }
    if (const std::string trouble = write_text(project.file_name, project.text); !trouble.empty()) {
        fmt::print(stderr, "{}\n", trouble);
        return {"", "", 2};
    }
    fmt::print("WROTE      {}: change a size there, and plan it again\n\n", project.file_name);
    return project;
}

}  // namespace boardring::cli
