#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"
#include "base/length_text.hpp"

namespace boardring {

/// What one answer came to.
struct Answered {
    bool taken = false;             ///< it stands; what comes is the next question, or none
    std::vector<std::string> says;  ///< for the maker: how it was understood, why it is asked, what is wrong with it
};

/// What an interview ends with.
struct InterviewProject {
    std::string text;                  ///< the project file; "" if any finding is an error
    std::string name;                  ///< for the file, without folder and ending
    std::string sentence;              ///< the answers as a sentence; "" where readings were given
    std::vector<std::string> assumed;  ///< as SentenceRead
    Findings findings;
};

/// Nine questions that make a project. Answers are phrases of a sentence (spoken/sentence.hpp): the project is that of the
/// sentence they make together, so the two cannot differ [interview_test]. Each is checked with all before it and the usual
/// answers to what is still to be asked.
///
/// `?` says why it is asked, `<` goes back to the question before, an empty line takes the usual answer. Where sizes were found
/// with a tape, the size is asked line by line from the notebook; an empty line ends them. Such a project has the readings in
/// place of the size and `"basis": "found"`; all else is as a sentence of as many sides says it. Plain numbers are mm, or inches where
/// the first length says inches or feet.
/// Never throws on any bytes of an answer; longer ones than kLongestAnswer and such as cannot be shown are refused.
class Interview {
public:
    static constexpr std::size_t kQuestions = 9;
    static constexpr std::size_t kLongestAnswer = 500;

    [[nodiscard]] bool done() const { return at_ == kQuestions; }
    [[nodiscard]] std::size_t number() const { return at_ + 1; }  ///< of the question asked now, from 1
    [[nodiscard]] std::string question() const;
    [[nodiscard]] std::string usual() const;  ///< what an empty line says; "" where it ends a list
    Answered answer(std::string_view line);

    /// True once shape and size are known: from here on what `project` says of the outline holds ...
    [[nodiscard]] bool has_outline() const { return at_ > 2; }
    /// ... and once the boards are, all of it is worth a look while the rest is asked.
    [[nodiscard]] bool has_boards() const { return at_ > 3; }
    /// True right behind the question about the saw.
    [[nodiscard]] bool asked_of_saw() const { return at_ == 8; }
    /// Every line taken so far: said again in this order to a new interview, they lead to the same place.
    [[nodiscard]] const std::vector<std::string>& lines() const { return lines_; }
    /// The project of the answers so far, with the usual answers to what is still to be asked.
    [[nodiscard]] InterviewProject project() const;

private:
    void go_back();
    [[nodiscard]] bool asks_readings() const;
    [[nodiscard]] std::string usual_of(std::size_t question) const;
    [[nodiscard]] std::vector<std::string> phrases_said() const;
    [[nodiscard]] Unit notebook_unit() const;
    [[nodiscard]] std::string sentence_with_usual() const;
    [[nodiscard]] InterviewProject with_notebook(InterviewProject project) const;
    Answered take_basis(std::string_view answer);
    Answered take_reading(std::string_view line);
    Answered end_readings();
    Answered take(const std::string& answer);

    std::size_t at_ = 0;
    bool found_ = false;                ///< sizes found, not wanted
    std::vector<std::string> answers_;  ///< as phrases, by question
    std::vector<std::string> readings_;
    std::vector<std::string> beside_readings_;  ///< phrases among them: outside, margin 6
    std::vector<std::string> lines_;
};

}  // namespace boardring
