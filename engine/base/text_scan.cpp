#include "base/text_scan.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <utility>

#include "base/utf8.hpp"

namespace boardring {
namespace {

struct Glyph {
    char32_t code;
    double num;
    double den;
};

// Unicode "Number Forms" and Latin-1 fractions. U+2189 is 0/3.
constexpr std::array<Glyph, 19> kFractions{{{0x00BC, 1, 4},
                                            {0x00BD, 1, 2},
                                            {0x00BE, 3, 4},
                                            {0x2150, 1, 7},
                                            {0x2151, 1, 9},
                                            {0x2152, 1, 10},
                                            {0x2153, 1, 3},
                                            {0x2154, 2, 3},
                                            {0x2155, 1, 5},
                                            {0x2156, 2, 5},
                                            {0x2157, 3, 5},
                                            {0x2158, 4, 5},
                                            {0x2159, 1, 6},
                                            {0x215A, 5, 6},
                                            {0x215B, 1, 8},
                                            {0x215C, 3, 8},
                                            {0x215D, 5, 8},
                                            {0x215E, 7, 8},
                                            {0x2189, 0, 3}}};
constexpr char32_t kFractionOneOver = 0x215F;

// Nobody's rule has finer marks, and show_length writes none; it keeps a slip like 1/16000 from passing as a length.
constexpr double kLargestDenominator = 1024.0;

// More digits than this do not fit a double exactly.
constexpr std::size_t kExactDigits = 15;

bool is_digit(char32_t c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char32_t c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

bool is_space(char32_t c) {
    return c == ' ' || c == '\t' || c == 0xA0 || (c >= 0x2000 && c <= 0x200A) || c == 0x202F || c == 0x205F || c == 0x3000;
}

bool is_dash(char32_t c) {
    return c == '-' || (c >= 0x2010 && c <= 0x2015) || c == 0x2212;
}
bool is_slash(char32_t c) {
    return c == '/' || c == 0x2044 || c == 0x2215;
}

// ' and what people's keyboards, phones and word processors make of it.
bool is_single_mark(char32_t c) {
    return c == '\'' || c == 0x2032 || c == 0x2018 || c == 0x2019 || c == 0x02B9 || c == 0x02BC || c == 0xB4;
}
bool is_double_mark(char32_t c) {
    return c == '"' || c == 0x2033 || (c >= 0x201C && c <= 0x201F) || c == 0x02BA;
}
bool is_degree(char32_t c) {
    return c == 0xB0 || c == 0xBA || c == 0x02DA;
}

int superscript_digit(char32_t c) {
    if (c == 0xB9) return 1;
    if (c == 0xB2) return 2;
    if (c == 0xB3) return 3;
    if (c == 0x2070 || (c >= 0x2074 && c <= 0x2079)) return static_cast<int>(c - 0x2070);
    return -1;
}

int subscript_digit(char32_t c) {
    return c >= 0x2080 && c <= 0x2089 ? static_cast<int>(c - 0x2080) : -1;
}

double to_double(std::string_view digits) {
    double value = 0.0;
    std::from_chars(digits.data(), digits.data() + digits.size(), value);
    return value;
}

// Powers of ten up to 22 are exact in a double.
double power_of_ten(std::size_t exponent) {
    double power = 1.0;
    for (std::size_t k = 0; k < exponent; ++k) power *= 10.0;
    return power;
}

class Scanner {
public:
    explicit Scanner(std::string_view text) {
        for (std::size_t at = 0; at < text.size();) {
            const Decoded c = decode_utf8(text, at);
            codes_.push_back(c.code);
            at += c.bytes;
        }
    }

    std::vector<Token> tokens() {
        std::vector<Token> found;
        while (true) {
            const std::size_t before = at_;
            while (is_space(peek())) ++at_;
            Token token = next();
            token.after_space = at_space(before);
            found.push_back(std::move(token));
            if (found.back().kind == Token::Kind::end) return found;
        }
    }

private:
    std::vector<char32_t> codes_;
    std::size_t at_ = 0;

    [[nodiscard]] char32_t peek(std::size_t ahead = 0) const {
        return at_ + ahead < codes_.size() ? codes_[at_ + ahead] : char32_t{0};
    }
    [[nodiscard]] bool at_space(std::size_t before) const { return before < codes_.size() && is_space(codes_[before]); }

    Token next() {
        if (at_ >= codes_.size()) return {};
        const char32_t c = peek();
        if (is_digit(c) || (c == '.' && is_digit(peek(1)))) return number();
        if (superscript_digit(c) >= 0) return raised_fraction();
        if (is_letter(c)) return word();
        ++at_;
        for (const Glyph& glyph : kFractions) {
            if (glyph.code == c) return fraction(glyph.num, glyph.den, true);
        }
        if (c == kFractionOneOver) return fraction(1.0, denominator(), true);
        if (is_single_mark(c)) return single_or_double();
        return plain(kind_of(c));
    }

    static Token plain(Token::Kind kind) {
        Token token;
        token.kind = kind;
        return token;
    }

    static Token::Kind kind_of(char32_t c) {
        if (is_dash(c)) return Token::Kind::dash;
        if (is_slash(c)) return Token::Kind::slash;
        if (is_double_mark(c)) return Token::Kind::double_mark;
        if (is_degree(c)) return Token::Kind::degree;
        if (c == '+') return Token::Kind::plus;
        if (c == ',') return Token::Kind::comma;
        if (c == '%') return Token::Kind::percent;
        if (c == 0xD7) return Token::Kind::times;
        return Token::Kind::other;
    }

    Token single_or_double() {
        if (!is_single_mark(peek())) return plain(Token::Kind::single_mark);
        ++at_;
        return plain(Token::Kind::double_mark);
    }

    static Token fraction(double num, double den, bool glyph) {
        if (!(den >= 1.0 && den <= kLargestDenominator)) return plain(Token::Kind::other);
        Token token = plain(Token::Kind::fraction);
        token.ratio = {num, den};
        token.last_unit = 1.0 / den;
        token.glyph = glyph;
        return token;
    }

    std::string digits() {
        std::string run;
        while (is_digit(peek())) run.push_back(static_cast<char>(codes_[at_++]));
        return run;
    }

    // Digits under a fraction slash, plain or lowered; 0 (refused by the caller) if there are none.
    double denominator() {
        if (is_digit(peek())) return to_double(digits());
        std::string run;
        while (subscript_digit(peek()) >= 0) run.push_back(static_cast<char>('0' + subscript_digit(codes_[at_++])));
        return run.empty() ? 0.0 : to_double(run);
    }

    Token number() {
        const std::string before = digits();
        if (!before.empty() && is_slash(peek()) && is_digit(peek(1))) {
            ++at_;
            return fraction(to_double(before), denominator(), false);
        }
        Token token = plain(Token::Kind::number);
        token.text = before;
        token.whole = true;
        std::string after;
        if (peek() == '.') {
            ++at_;
            after = digits();
            token.whole = false;
            token.text += '.' + after;
        }
        token.last_unit = 1.0 / power_of_ten(after.size());
        const std::string all = before + after;
        const std::size_t zeros = std::min(all.find_first_not_of('0'), all.size());
        const bool exact = all.size() - zeros <= kExactDigits && after.size() <= kExactDigits;
        token.ratio = exact ? Ratio{to_double(all), power_of_ten(after.size())} : Ratio{to_double(token.text), 1.0};
        return token;
    }

    Token raised_fraction() {
        std::string run;
        while (superscript_digit(peek()) >= 0) run.push_back(static_cast<char>('0' + superscript_digit(codes_[at_++])));
        if (!is_slash(peek())) return plain(Token::Kind::other);
        ++at_;
        return fraction(to_double(run), denominator(), true);
    }

    Token word() {
        Token token = plain(Token::Kind::word);
        while (is_letter(peek())) {
            const char c = static_cast<char>(codes_[at_++]);
            token.text.push_back(c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
        }
        if (token.text == "x") token.kind = Token::Kind::times;
        if (peek() == '.') ++at_;
        return token;
    }
};

}  // namespace

std::vector<Token> scan_text(std::string_view text) {
    return Scanner(text).tokens();
}

bool read_quantity(const std::vector<Token>& tokens, std::size_t& at, Quantity& quantity) {
    using Kind = Token::Kind;
    const Token& first = tokens[at];
    if (first.kind != Kind::number && first.kind != Kind::fraction) return false;
    quantity = {};
    quantity.ratio = first.ratio;
    quantity.last_unit = first.last_unit;
    quantity.whole = first.kind == Kind::number && first.whole;
    quantity.has_fraction = first.kind == Kind::fraction;
    quantity.improper = quantity.has_fraction && first.ratio.num >= first.ratio.den;
    ++at;
    if (!quantity.whole) return true;
    const bool dash = tokens[at].kind == Kind::dash;
    const Token& part = tokens[at + (dash ? 1 : 0)];
    if (part.kind != Kind::fraction) return true;
    quantity.ratio = {first.ratio.num * part.ratio.den + part.ratio.num, part.ratio.den};
    quantity.last_unit = part.last_unit;
    quantity.whole = false;
    quantity.has_fraction = true;
    quantity.dashed = dash;
    quantity.improper = part.ratio.num >= part.ratio.den;
    at += dash ? 2 : 1;
    return true;
}

Finding refused_text(std::string_view code, std::string message, std::string fix) {
    Finding finding;
    finding.code = code;
    finding.message = std::move(message) + '.';
    finding.fix = std::move(fix) + '.';
    return finding;
}

}  // namespace boardring
