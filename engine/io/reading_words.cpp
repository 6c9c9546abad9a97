#include "io/reading_words.hpp"

#include <cstddef>
#include <utility>

namespace boardring {
namespace {

constexpr std::pair<std::string_view, ReadingWord> kWords[] = {
    {"falls", ReadingWord::fall},   {"fall", ReadingWord::fall},   {"rises", ReadingWord::rise}, {"rise", ReadingWord::rise},
    {"level", ReadingWord::level},  {"right", ReadingWord::right}, {"left", ReadingWord::left},  {"plumb", ReadingWord::plumb},
    {"to", ReadingWord::to},
    {"sill", ReadingWord::sill},    {"bottom", ReadingWord::sill}, {"head", ReadingWord::head},  {"top", ReadingWord::head},
    {"bows", ReadingWord::bow},     {"bow", ReadingWord::bow},     {"tie", ReadingWord::tie},
};

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

}  // namespace

ReadingWord take_reading_word(std::string_view& value) {
    for (const auto& [word, meaning] : kWords) {
        if (!value.starts_with(word)) continue;
        std::string_view rest = value.substr(word.size());
        if (!rest.empty() && is_letter(rest.front())) continue;
        if (rest.starts_with(':')) rest.remove_prefix(1);
        const std::size_t first = rest.find_first_not_of(" \t");
        value = first == std::string_view::npos ? std::string_view{} : rest.substr(first);
        return meaning;
    }
    return ReadingWord::none;
}

}  // namespace boardring
