#include "spoken/sentence.hpp"

#include <utility>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "io/read_project.hpp"
#include "spoken/listener.hpp"
#include "spoken/tokens.hpp"

namespace boardring {
namespace {

Finding refused(std::string code, std::string message, std::string fix) {
    return {Severity::error, std::move(code), "", std::move(message), std::move(fix)};
}

}  // namespace

PhrasesHeard hear_phrases(std::string_view text) {
    PhrasesHeard heard;
    if (text.size() > kLongestSentence) {
        heard.findings.push_back(refused("sentence.too-long", fmt::format("The sentence is {} bytes long; I read up to {}.", text.size(), kLongestSentence),
                                         "Say less, or write a project file."));
        return heard;
    }
    if (!can_be_shown(text)) {
        heard.findings.push_back(refused("sentence.characters", fmt::format("The sentence holds characters that cannot be shown: {}.", in_quotes(text)),
                                         "Type it again with plain letters."));
        return heard;
    }
    heard = Listener(text, split_sentence(text)).hear();
    heard.draft.heard = text;
    return heard;
}

SentenceRead read_sentence(std::string_view text) {
    PhrasesHeard heard = hear_phrases(text);
    SentenceRead read{"", "", std::move(heard.phrases), {}, std::move(heard.findings)};
    if (!read.findings.empty()) return read;
    read.findings = complete(heard.draft);
    read.assumed = heard.draft.assumed;
    if (!read.findings.empty()) return read;
    std::string written = project_text(heard.draft);
    // What a file may not say, a sentence may not either; the words are the same.
    for (Finding& finding : read_project(written).findings) {
        if (finding.severity != Severity::error) continue;
        finding.pointer.clear();
        finding.line = finding.column = 0;
        read.findings.push_back(std::move(finding));
    }
    if (!read.findings.empty()) return read;
    read.project_text = std::move(written);
    read.name = project_name(heard.draft);
    return read;
}

bool looks_like_sentence(std::string_view text) {
    const std::vector<SpokenToken> tokens = split_sentence(text.substr(0, kLongestSentence));
    if (text.find_first_of(" \t\r\n") != std::string_view::npos) return true;
    const bool one_word = tokens.size() == 2 && tokens.front().kind == SpokenToken::Kind::word;
    if (!one_word) return false;
    const WordFound found = find_word({tokens.front().text}, 0);
    return found.row != nullptr && found.row->sense < Sense::thing;
}

}  // namespace boardring
