#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "spoken/sentence.hpp"
#include "spoken/tokens.hpp"
#include "spoken/word_table.hpp"

namespace boardring {

// Reads the phrases of one sentence from left to right: every phrase takes what belongs to it at the place reached and leaves
// the place behind itself. The phrases stand in listen_*.cpp as the word table sorts them. Not for use outside this room.

/// Words that go with one number, before or behind it: radius, margin, courses.
bool is_number_noun(Sense sense);

class Listener {
public:
    Listener(std::string_view text, std::vector<SpokenToken> tokens);
    PhrasesHeard hear();

private:
    using Kind = SpokenToken::Kind;

    // Two amounts with `by` or x between them, of which it is not yet known whether they are the size or the boards.
    struct Pair {
        SpokenToken first, second;
        bool by_word = false;
        bool measured = false;  // inside or outside stands behind it
        std::size_t phrase = 0;
        std::string said;
    };

    std::string_view text_;
    std::vector<SpokenToken> tokens_;
    std::vector<std::string> words_;  // of each token, "" unless it is a word
    std::size_t at_ = 0;
    PhrasesHeard heard_;
    Draft& draft_ = heard_.draft;
    std::string bare_is_unclear_;      // why a plain number may be inches or mm; "" where it is clear
    bool told_unclear_ = false;
    std::size_t unknown_ = 0;
    std::optional<std::size_t> size_phrase_;
    bool shape_wants_pair_ = false;    // the shape word stood just before
    std::vector<Pair> pairs_;
    std::vector<SaidOffer>* offers_ = &draft_.offers;  // of the boards spoken of last
    std::string offers_of_;                            // which boards they are, where not all of them
    std::vector<SaidJoint*> joints_{&draft_.joints};   // spoken of last

    // listener.cpp: looking about, and the way through the sentence
    void choose_unit();
    void hear_one();
    void hear_word(const SpokenWord& row, std::size_t count);
    void hear_unknown(std::size_t token);
    [[nodiscard]] const SpokenToken& token(std::size_t at) const { return tokens_[at < tokens_.size() ? at : tokens_.size() - 1]; }
    [[nodiscard]] bool is_amount(std::size_t at) const { return token(at).kind == Kind::amount; }
    [[nodiscard]] WordFound word_at(std::size_t at) const { return find_word(words_, at); }
    [[nodiscard]] bool is_sense(std::size_t at, Sense sense) const;
    [[nodiscard]] bool is_unknown(std::size_t at) const;
    [[nodiscard]] bool is_link(std::size_t at) const;
    [[nodiscard]] bool follows_unknown(std::size_t at) const;
    [[nodiscard]] std::size_t past_links(std::size_t at) const;
    bool take(Sense sense);
    void take_links() { at_ = past_links(at_); }
    [[nodiscard]] std::string said(std::size_t first, std::size_t end) const;
    std::size_t note_phrase(std::size_t first, std::string means);
    void tell(std::string code, std::string message, std::string fix);
    void tell_twice(const std::string& what, const std::string& first, const std::string& second);
    std::optional<SaidLength> length_of(const SpokenToken& amount, bool zero_allowed = false);
    std::optional<double> angle_of(const SpokenToken& amount, double most_deg);
    std::optional<std::size_t> count_of(const SpokenToken& amount, std::size_t most, std::string_view what);
    std::string show(const SaidLength& length) const { return spoken_length(length, draft_.unit); }
    void set(std::optional<SaidLength>& to, const std::optional<SaidLength>& value, const std::string& what);
    void set(std::optional<double>& to, const std::optional<double>& value, const std::string& what);
    void set(std::size_t& to, const std::optional<std::size_t>& value, const std::string& what);

    // listen_amount.cpp: what a number is
    [[nodiscard]] bool starts_pair(std::size_t at) const;
    [[nodiscard]] bool starts_exception(std::size_t at) const;
    [[nodiscard]] Sense noun_behind(std::size_t at) const;
    [[nodiscard]] Sense noun_before(std::size_t at) const;
    [[nodiscard]] bool is_plain(std::size_t at) const;
    [[nodiscard]] bool noun_is_clear(std::size_t at) const;
    [[nodiscard]] bool counts_courses(std::size_t noun) const;
    void hear_amount();
    void hear_noun(Sense noun, std::size_t amount, std::size_t first);
    void hear_length_noun(std::string_view name, std::string_view means, bool zero_allowed, std::optional<SaidLength>& to,
                          const SpokenToken& number, std::size_t first);
    void hear_sides(const SpokenToken& number, std::size_t first);
    void hear_litres(const SpokenToken& number, std::size_t first);
    void hear_size(std::size_t first);
    void hear_pair(std::size_t first);
    Pair take_pair();
    void settle_pairs();
    void take_as_size(const Pair& pair);
    void take_as_notch(const Pair& pair);

    // listen_shape.cpp, listen_boards.cpp, listen_rest.cpp
    void hear_shape(const SpokenWord& row, std::size_t first);
    void hear_half(std::size_t first);
    void hear_part(Sense part, std::size_t first);
    bool hear_noun_first(Sense noun, std::size_t first);
    bool hear_outline_word(const SpokenWord& row, std::size_t first);
    std::optional<SaidSection> section_of(const Pair& pair);
    std::optional<SaidSection> take_section();
    std::string section_words(const SaidSection& section) const;
    void hear_section(const SaidSection& section, std::size_t first);
    void hear_exception(std::size_t first);
    void hear_boards(std::size_t first);
    std::vector<std::size_t> take_numbers();
    void hear_offers(bool own, std::size_t first);
    bool hear_board_word(const SpokenWord& row, std::size_t first);
    [[nodiscard]] std::string letter_at(std::size_t at) const;
    std::vector<std::string> take_letters();
    void hear_joint_kind(JointKind kind, std::size_t first);
    void take_all_corners();
    void set_corners(const std::vector<std::string>& letters, JointKind kind, std::size_t first);
    bool hear_corners(std::size_t first);
    // A title's text, and the token behind it.
    struct Title {
        std::string text;
        std::size_t token = 0;
    };
    [[nodiscard]] Title title_end(std::size_t at) const;
    void hear_title(std::size_t first);
    void hear_wish(Sense wish, std::size_t first);
    bool hear_angle(std::optional<double>& to, const std::string& what, std::string_view means, double most_deg, std::size_t first);
    bool hear_reads(std::size_t first);
    bool hear_leave_long(std::size_t first);
    void hear_preset(const SpokenWord& row, std::size_t first);
    bool hear_other_word(const SpokenWord& row, std::size_t first);
};

}  // namespace boardring
