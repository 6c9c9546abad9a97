#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace boardring {

/// A phrase taken word by word from the left; words are compared without regard to case (ASCII), what is left stays as written.
class Phrase {
public:
    explicit Phrase(std::string_view text);

    [[nodiscard]] bool empty() const { return at_ == words_.size(); }
    [[nodiscard]] std::size_t size() const { return words_.size() - at_; }
    /// Word `ahead` of here, in lower case; "" behind the end.
    [[nodiscard]] std::string_view word(std::size_t ahead = 0) const;
    /// The same as written.
    [[nodiscard]] std::string_view written(std::size_t ahead = 0) const;
    /// Everything from here on as written, without blanks at its ends.
    [[nodiscard]] std::string_view rest() const;
    void skip(std::size_t words = 1);
    /// Takes `words` (blank between each) off the front if they stand there.
    bool take(std::string_view words);
    /// Takes any of `words`, once.
    bool take_any(const std::vector<std::string_view>& words);

private:
    struct Word {
        std::size_t begin = 0;
        std::size_t end = 0;
    };
    std::string text_;
    std::string lower_;
    std::vector<Word> words_;
    std::size_t at_ = 0;
};

}  // namespace boardring
