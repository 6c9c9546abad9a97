#include "spoken_project.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "next_line.hpp"
#include "report/command_text.hpp"
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
    fmt::print(stderr, "\n");
    print_next(stderr, "boardring plan --words", "all the words I know");
}

void print_reading(const SentenceRead& read, std::FILE* talk) {
    std::size_t widest = 0;
    for (const HeardPhrase& phrase : read.phrases) widest = std::max(widest, std::min(columns_of(phrase.said), kMostSaidColumns));
    std::string label = "I READ     ";
    for (const HeardPhrase& phrase : read.phrases) {
        print_wrapped(talk, label + padded(phrase.said, widest + 2), phrase.means);
        label = std::string(label.size(), ' ');
    }
    label = "I ASSUMED  ";
    for (const std::string& assumed : read.assumed) {
        print_wrapped(talk, label, assumed);
        label = std::string(label.size(), ' ');
    }
}

std::string numbered(const std::string& name, int number) {
    return number == 1 ? name + ".json" : fmt::format("{}-{}.json", name, number);
}

// Parts that the shell hears as several words are put together again: it is only the marks that need quotes.
std::string words_for_shell(std::string words) {
    const bool plain = words.find_first_of("'\"\\`$&|;<>()*?[]{}!#~") == std::string::npos;
    return plain ? words : shell_word(words);
}

}  // namespace

bool names_file(const std::string& word) {
    std::error_code ignored;
    return std::filesystem::exists(word, ignored) || std::filesystem::exists(word + ".json", ignored);
}

std::optional<std::string> sentence_of(const std::vector<std::string>& words) {
    if (words.empty() || words.front() == "-") return std::nullopt;
    std::string sentence;
    for (const std::string& word : words) sentence += (sentence.empty() ? "" : " ") + word;
    if (words.size() == 1 && (names_file(sentence) || !looks_like_sentence(sentence))) return std::nullopt;
    return sentence;
}

std::string plan_line(std::string_view sentence) { return "boardring plan " + words_for_shell(std::string(sentence)); }

std::vector<std::string> plan_command(std::string_view label, std::string_view sentence, std::size_t label_columns) {
    constexpr std::size_t kQuotesAndBackslash = 4;
    std::vector<std::string> lines = wrapped(fmt::format("boardring plan {}", sentence), kPageColumns - label_columns - kQuotesAndBackslash);
    const std::string command = "boardring plan ";
    for (std::size_t k = 0; k < lines.size(); ++k) {
        std::string words = k == 0 ? lines[k].substr(command.size()) : lines[k];
        words = words_for_shell(std::move(words));
        lines[k] = padded(k == 0 ? label : "", label_columns) + (k == 0 ? command : "") + words + (k + 1 < lines.size() ? " \\" : "");
    }
    return lines;
}

std::string free_name(const std::string& name) {
    std::error_code ignored;
    int number = 1;
    while (std::filesystem::exists(std::filesystem::symlink_status(numbered(name, number), ignored))) ++number;
    return numbered(name, number);
}

NewFile write_new_project(const std::string& name, const std::string& text) {
    return write_new([&name](int number) { return numbered(name, number); }, text);
}

SpokenProject project_from_sentence(const std::string& sentence, bool write, std::FILE* talk) {
    const SentenceRead read = read_sentence(sentence);
    if (read.project_text.empty()) {
        print_refusal(read);
        return {"", "", 2};
    }
    print_reading(read, talk);
    if (!write) {
        fmt::print(talk, "\n");
        return {read.project_text, free_name(read.name), 0};
    }
    const NewFile written = write_new_project(read.name, read.project_text);
    if (!written.trouble.empty()) {
        fmt::print(stderr, "{}\n", written.trouble);
        return {"", "", 2};
    }
    fmt::print(talk, "WROTE      {}: change a size there, and plan it again\n\n", written.path);
    return {read.project_text, written.path, 0};
}

}  // namespace boardring::cli
