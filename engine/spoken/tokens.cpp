#include "spoken/tokens.hpp"

#include <algorithm>
#include <array>

#include "base/text_scan.hpp"
#include "base/utf8.hpp"
#include "spoken/word_table.hpp"

namespace boardring {
namespace {

using Kind = SpokenToken::Kind;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

class Splitter {
public:
    explicit Splitter(std::string_view text) : text_(text) {}

    std::vector<SpokenToken> tokens() {
        while (true) {
            skip_what_says_nothing();
            SpokenToken token;
            token.begin = at_;
            if (at_ < text_.size()) read_into(token);
            token.end = at_;
            if (token.text.empty()) token.text = std::string(text_.substr(token.begin, token.end - token.begin));
            tokens_.push_back(std::move(token));
            if (tokens_.back().kind == Kind::end) return std::move(tokens_);
        }
    }

private:
    std::string_view text_;
    std::size_t at_ = 0;
    std::vector<SpokenToken> tokens_;

    [[nodiscard]] char peek(std::size_t at) const { return at < text_.size() ? text_[at] : '\0'; }

    // The kind of the character at `at` as the length texts see it, and how many bytes it takes.
    [[nodiscard]] Token::Kind mark_at(std::size_t at, std::size_t& bytes) const {
        if (at >= text_.size()) return Token::Kind::end;
        bytes = decode_utf8(text_, at).bytes;
        return scan_text(text_.substr(at, bytes)).front().kind;
    }

    void skip_what_says_nothing() {
        static constexpr std::array<std::string_view, 9> kPassedOver{" ", "\xC2\xA0", "$", "\xC2\xA3", "\xE2\x82\xAC", ":", "=", "(", ")"};
        for (bool skipped = true; skipped;) {
            skipped = false;
            for (const std::string_view mark : kPassedOver) {
                if (!text_.substr(at_).starts_with(mark)) continue;
                at_ += mark.size();
                skipped = true;
            }
            const bool stop = peek(at_) == '.' && !is_digit(peek(at_ + 1));
            const bool hyphen = peek(at_) == '-' && !is_digit(peek(at_ + 1));
            if (stop || hyphen) ++at_, skipped = true;
        }
    }

    void read_into(SpokenToken& token) {
        const char c = peek(at_);
        if (is_digit(c) || (c == '.' && is_digit(peek(at_ + 1))) || (c == '-' && is_digit(peek(at_ + 1))) || is_fraction(at_)) {
            read_amount(token);
        } else if (c == ',' || c == ';') {
            token.kind = Kind::comma;
            ++at_;
        } else if (is_times(at_)) {
            token.kind = Kind::times;
            at_ += decode_utf8(text_, at_).bytes;
        } else if (is_letter(c)) {
            read_word(token);
        } else {
            token.kind = Kind::odd;
            at_ += decode_utf8(text_, at_).bytes;
        }
    }

    void read_word(SpokenToken& token) {
        while (is_letter(peek(at_))) {
            const char c = peek(at_++);
            token.text.push_back(c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
        }
        token.kind = Kind::word;
        const int number = spelled_number(token.text);
        if (number == 0) return;
        token.kind = Kind::amount;
        token.value = number;
        token.whole = token.spelled = true;
    }

    [[nodiscard]] bool is_times(std::size_t at) const {
        const char c = peek(at);
        if (c == '*') return true;
        if (c == 'x' || c == 'X') return !is_letter(peek(at + 1));
        std::size_t bytes = 0;
        return mark_at(at, bytes) == Token::Kind::times;
    }

    [[nodiscard]] bool is_fraction(std::size_t at) const {
        if (at >= text_.size() || is_letter(text_[at])) return false;
        std::size_t bytes = 0;
        return mark_at(at, bytes) == Token::Kind::fraction;
    }

    void skip_digits() {
        while (is_digit(peek(at_))) ++at_;
    }

    void skip_blanks() {
        while (peek(at_) == ' ') ++at_;
    }

    // Digits, with a decimal point, or digits over digits. A comma between digits stays in.
    void skip_number() {
        if (is_fraction(at_)) {
            at_ += decode_utf8(text_, at_).bytes;
            return;
        }
        skip_digits();
        while ((peek(at_) == '.' || peek(at_) == ',' || peek(at_) == '/') && is_digit(peek(at_ + 1))) {
            ++at_;
            skip_digits();
        }
    }

    // A fraction behind a whole number: `5 1/2`, `5-1/2`, `5½`. A dash before digits always belongs to the number.
    void skip_fraction() {
        const std::size_t before = at_;
        skip_blanks();
        if (is_fraction(at_)) {
            skip_number();
            return;
        }
        const bool digits_over_digits = [this] {
            std::size_t k = at_;
            while (is_digit(peek(k))) ++k;
            return k > at_ && peek(k) == '/' && is_digit(peek(k + 1));
        }();
        if (digits_over_digits) {
            skip_number();
            return;
        }
        at_ = before;
        while (peek(at_) == '-' && is_digit(peek(at_ + 1))) {
            ++at_;
            skip_number();
        }
    }

    // A unit word or mark at `at_`, passed over if it is one.
    std::optional<Unit> skip_unit() {
        const std::size_t before = at_;
        std::size_t bytes = 0;
        const Token::Kind mark = mark_at(at_, bytes);
        if (mark == Token::Kind::double_mark) {
            at_ += bytes;
            return Unit::inch;
        }
        if (mark == Token::Kind::single_mark) {
            at_ += bytes;
            if (mark_at(at_, bytes) != Token::Kind::single_mark) return Unit::foot;
            at_ += bytes;
            return Unit::inch;
        }
        skip_blanks();
        SpokenToken word;
        if (is_letter(peek(at_))) read_word(word);
        const WordFound found = find_word({word.text}, 0);
        if (found.row != nullptr && found.row->sense == Sense::unit && !(word.text == "in" && unit_word_follows())) {
            return static_cast<Unit>(found.row->value);
        }
        at_ = before;
        return std::nullopt;
    }

    // `64 in cm` says what the numbers are in.
    bool unit_word_follows() {
        const std::size_t before = at_;
        skip_blanks();
        SpokenToken word;
        if (is_letter(peek(at_))) read_word(word);
        at_ = before;
        const WordFound found = find_word({word.text}, 0);
        return found.row != nullptr && found.row->sense == Sense::unit && word.text != "in";
    }

    // `6 3/4"` behind `3'`, `20 cm` behind `1 m`. Nothing is taken unless it belongs to the length before.
    void skip_smaller_part(Unit larger, bool by_mark) {
        const std::size_t before = at_;
        skip_blanks();
        if (peek(at_) == '-') ++at_;
        if (is_digit(peek(at_)) || is_fraction(at_)) {
            skip_number();
            skip_fraction();
            const std::optional<Unit> unit = skip_unit();
            const bool inches = larger == Unit::foot && (unit == Unit::inch || (by_mark && !unit && !is_times(at_)));
            const bool metric = (larger == Unit::m && (unit == Unit::cm || unit == Unit::mm)) || (larger == Unit::cm && unit == Unit::mm);
            if (inches || metric) return;
        }
        at_ = before;
    }

    void read_amount(SpokenToken& token) {
        token.kind = Kind::amount;
        if (peek(at_) == '-') ++at_;
        skip_number();
        skip_fraction();
        const std::string_view number = text_.substr(token.begin, at_ - token.begin);
        const std::vector<Token> parts = scan_text(number.substr(0, kLongestText));
        std::size_t part = number.front() == '-' ? 1 : 0;
        Quantity quantity;
        if (read_quantity(parts, part, quantity)) token.value = quantity.ratio.value();
        if (number.front() == '-') token.value = -token.value;
        const bool mark = peek(at_) != ' ' && !is_letter(peek(at_));
        token.unit = skip_unit();
        if (token.unit) {
            skip_smaller_part(*token.unit, mark);
        } else {
            token.whole = quantity.whole && parts[part].kind == Token::Kind::end;
            std::size_t bytes = 0;
            if (mark_at(at_, bytes) == Token::Kind::degree) at_ += bytes;
        }
    }
};

}  // namespace

std::vector<SpokenToken> split_sentence(std::string_view sentence) {
    return Splitter(sentence).tokens();
}

}  // namespace boardring
