#include "spoken/phrase.hpp"

#include <algorithm>

namespace boardring {
namespace {

constexpr std::string_view kBlank = " \t";

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

}  // namespace

Phrase::Phrase(std::string_view text) : text_(text), lower_(text) {
    std::transform(lower_.begin(), lower_.end(), lower_.begin(), lower);
    for (std::size_t begin = text_.find_first_not_of(kBlank); begin != std::string::npos;) {
        const std::size_t end = std::min(text_.find_first_of(kBlank, begin), text_.size());
        words_.push_back({begin, end});
        begin = text_.find_first_not_of(kBlank, end);
    }
}

std::string_view Phrase::word(std::size_t ahead) const {
    if (ahead >= size()) return {};
    const Word& word = words_[at_ + ahead];
    return std::string_view(lower_).substr(word.begin, word.end - word.begin);
}

std::string_view Phrase::written(std::size_t ahead) const {
    if (ahead >= size()) return {};
    const Word& word = words_[at_ + ahead];
    return std::string_view(text_).substr(word.begin, word.end - word.begin);
}

std::string_view Phrase::rest() const {
    if (empty()) return {};
    return std::string_view(text_).substr(words_[at_].begin, words_.back().end - words_[at_].begin);
}

void Phrase::skip(std::size_t words) {
    at_ = std::min(at_ + words, words_.size());
}

bool Phrase::take(std::string_view words) {
    std::size_t count = 0;
    while (!words.empty()) {
        const std::size_t end = std::min(words.find(' '), words.size());
        if (word(count) != words.substr(0, end)) return false;
        words.remove_prefix(std::min(end + 1, words.size()));
        ++count;
    }
    skip(count);
    return count > 0;
}

bool Phrase::take_any(const std::vector<std::string_view>& words) {
    return std::any_of(words.begin(), words.end(), [this](std::string_view word) { return take(word); });
}

}  // namespace boardring
