// Sentences against the files they must make, and those that must be refused, from tests/golden/sentences.
#include "spoken/sentence.hpp"

#include <fstream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "io/read_project.hpp"
#include "spoken/word_table.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"
#include "support/source_folder.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

// Pairs of lines: a sentence, and four blanks further in what is expected of it.
std::vector<std::pair<std::string, std::string>> table(const std::string& name) {
    std::ifstream file(source_folder() / "tests/golden/sentences" / name);
    std::vector<std::pair<std::string, std::string>> pairs;
    for (std::string line; std::getline(file, line);) {
        if (line.empty() || line.front() == '#') continue;
        if (line.starts_with("    ")) {
            REQUIRE(!pairs.empty());
            REQUIRE(pairs.back().second.empty());
            pairs.back().second = line.substr(4);
        } else {
            pairs.emplace_back(line, "");
        }
    }
    return pairs;
}

// The file without comments, blanks outside texts, and its first key, which every file has.
std::string compact(const std::string& text) {
    std::string kept;
    bool quoted = false;
    for (std::size_t k = 0; k < text.size(); ++k) {
        if (!quoted && text.compare(k, 2, "//") == 0) k = text.find('\n', k);
        if (text[k] == '"' && text[k - 1] != '\\') quoted = !quoted;
        if (quoted || (text[k] != ' ' && text[k] != '\n')) kept.push_back(text[k]);
    }
    const std::string format = R"("format":"boardring-project-1",)";
    const std::size_t at = kept.find(format);
    return at == std::string::npos ? kept : kept.erase(at, format.size());
}

SentenceRead must_read(const std::string& sentence) {
    SentenceRead read = read_sentence(sentence);
    INFO(sentence);
    INFO((read.findings.empty() ? "" : read.findings.front().message));
    REQUIRE(!read.project_text.empty());
    return read;
}

}  // namespace

TEST_CASE("every sentence of the table makes its file, and the file is a project") {
    const auto sentences = table("read.txt");
    CHECK(sentences.size() >= 200);
    for (const auto& [sentence, expected] : sentences) {
        const SentenceRead read = must_read(sentence);
        CHECK(compact(read.project_text) == expected);
        CHECK(read_project(read.project_text).project.has_value());
        for (const HeardPhrase& phrase : read.phrases) {
            INFO(phrase.said);
            CHECK(!phrase.means.empty());
        }
    }
}

TEST_CASE("sentences that cannot be read are refused and say which word it is") {
    const auto sentences = table("refused.txt");
    CHECK(sentences.size() >= 100);
    for (const auto& [sentence, expected] : sentences) {
        const SentenceRead read = read_sentence(sentence);
        INFO(sentence);
        CHECK(read.project_text.empty());
        REQUIRE(!read.findings.empty());
        CHECK(read.findings.front().code + ": " + read.findings.front().message == expected);
        for (const Finding& finding : read.findings) CHECK(!finding.fix.empty());
    }
}

TEST_CASE("phrases parted by commas may stand in any order") {
    const std::vector<std::string> phrases{"hexagon", "640 inside flats", "145x38 on edge", "two courses", "board 4 is 28", "kerf 3", "saw tilts to 45", "butt at B", "gap 1"};
    Random random(11);
    const std::string expected = compact(must_read("hexagon, 640 inside flats, 145x38 on edge, two courses, board 4 is 28, kerf 3, saw tilts to 45, butt at B, gap 1").project_text);
    for (int round = 0; round < 200; ++round) {
        std::vector<std::string> mixed = phrases;
        for (std::size_t k = mixed.size(); k > 1; --k) std::swap(mixed[k - 1], mixed[random.index(k)]);
        std::string sentence;
        for (const std::string& phrase : mixed) sentence += (sentence.empty() ? "" : ", ") + phrase;
        INFO(sentence);
        CHECK(compact(must_read(sentence).project_text) == expected);
    }
}

TEST_CASE("an answer read alone and in the whole sentence means the same") {
    // What an interview leans on: phrases heard one by one put the same things into the draft.
    const PhrasesHeard size = hear_phrases("640 inside flats");
    CHECK(size.findings.empty());
    REQUIRE(size.draft.size.has_value());
    CHECK(size.draft.size->mm == 640.0);
    CHECK(size.draft.of == RegularOutline::Of::over_flats);
    const PhrasesHeard whole = hear_phrases("hexagon, 640 inside flats, 145x38 on edge");
    CHECK(whole.draft.size->json == size.draft.size->json);
    CHECK(whole.phrases.size() == 4);
    CHECK(whole.phrases[1].said == "640 inside flats");
    CHECK(whole.phrases[1].means == "640 mm over the flats, measured inside");
}

TEST_CASE("what a sentence fills in stands under assumed and as a comment in the file") {
    const SentenceRead read = must_read("hexagon 640 inside flats, 145x38, two courses, one 28");
    REQUIRE(read.assumed.size() == 2);
    CHECK(read.assumed[0] == "boards stand on edge");
    CHECK(read.assumed[1] == "each board goes where it makes the least work; the page says where");
    CHECK_THAT(read.project_text, ContainsSubstring("// assumed: boards stand on edge"));
    CHECK_THAT(read.project_text, ContainsSubstring("// From: hexagon 640 inside flats, 145x38, two courses, one 28"));
    CHECK(read.name == "hexagon-640");
}

TEST_CASE("every example of the word table is heard") {
    for (const SpokenWord& row : word_table()) {
        if (row.example.empty()) continue;
        const PhrasesHeard heard = hear_phrases(row.example);
        INFO(row.example);
        INFO((heard.findings.empty() ? "" : heard.findings.front().message));
        CHECK(heard.findings.empty());
        CHECK(!heard.phrases.empty());
    }
}

TEST_CASE("the word list of the docs is the table") {
    std::ifstream file(source_folder() / "docs/sentences.md");
    const std::string page((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
    std::istringstream table(word_list_markdown());
    for (std::string row; std::getline(table, row);) {
        INFO("docs/sentences.md lacks this row of engine/spoken/word_table.cpp; write it where the table has it:\n" << row);
        CHECK((page.find("\n" + row + "\n") != std::string::npos));
    }
    // One after another, and none besides. The double brackets keep the page out of what a failed check prints.
    CHECK((page.find(word_list_markdown()) != std::string::npos));
}

TEST_CASE("every letter left out, doubled or changed in a sentence is refused or read, never passed over in silence") {
    const std::string sentence = "hexagon 640 inside flats, 145x38 on edge, two courses, kerf 3";
    const std::string expected = compact(must_read(sentence).project_text);
    for (std::size_t k = 0; k < sentence.size(); ++k) {
        if (sentence[k] < 'a' || sentence[k] > 'z' || sentence[k] == 'x') continue;
        std::string wrong = sentence;
        wrong[k] = sentence[k] == 'q' ? 'z' : 'q';
        INFO(wrong);
        CHECK(read_sentence(wrong).project_text.empty());
    }
}

TEST_CASE("hostile sentences are refused at once and shown safely") {
    const std::string huge(1u << 20, 'x');
    CHECK(read_sentence(huge).findings.front().code == "sentence.too-long");
    for (const std::string& bytes : {std::string("hexagon \x1b[31m640"), std::string("hexagon \xe2\x80\xae" "640"), std::string("hex\xff" "agon"), std::string("hexagon\n640"),
                                     std::string("hexagon\0 640", 12), std::string("called \xe2\x81\xa6x")}) {
        const SentenceRead read = read_sentence(bytes);
        REQUIRE(read.findings.size() == 1);
        CHECK(read.findings.front().code == "sentence.characters");
        for (const char c : read.findings.front().message) CHECK(static_cast<unsigned char>(c) >= 0x20);
    }
    // Longest sentences of every kind of token: done in no time, nothing thrown.
    for (const std::string part : {"1 ", "1x", "hexagon ", "( ", "1/2 ", "board 1 and ", "' ", "at 1 and ", "called ", "1,", "\xc2\xbd", "as large as my boards ", "butt at B and "}) {
        std::string sentence;
        while (sentence.size() + part.size() <= kLongestSentence) sentence += part;
        CHECK(read_sentence(sentence).project_text.empty());
    }
}

TEST_CASE("random words and numbers never break the reader") {
    Random random(5);
    std::vector<std::string> parts{"1", "640", "2.5", "1/2", "3' 6\"", "x", ",", "\"", "by", "145x38", "one", "A", "B", "@", "\xc2\xbd", "in", "mm", "-5", "5-3", "1,200"};
    for (const std::string_view word : known_words()) parts.emplace_back(word);
    for (int round = 0; round < 3000; ++round) {
        std::string sentence = random.index(2) == 0 ? "hexagon 640 inside flats 145x38 " : "";
        const std::size_t words = 1 + random.index(12);
        for (std::size_t k = 0; k < words; ++k) sentence += parts[random.index(parts.size())] + " ";
        if (sentence.find("as large") != std::string::npos) continue;
        const SentenceRead read = read_sentence(sentence);
        INFO(sentence);
        CHECK(read.project_text.empty() != read.findings.empty());
        if (!read.project_text.empty()) CHECK(read_project(read.project_text).project.has_value());
    }
}

TEST_CASE("a name of a file is no sentence, a shape and several words are") {
    CHECK(looks_like_sentence("hexagon"));
    CHECK(looks_like_sentence("hexagon 640"));
    CHECK(!looks_like_sentence("planter"));
    CHECK(!looks_like_sentence("planter.json"));
    CHECK(!looks_like_sentence("-"));
    CHECK(!looks_like_sentence(""));
}
