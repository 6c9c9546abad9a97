#include <fmt/format.h>
#include <sys/select.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>

#include "commands.hpp"
#include "files.hpp"
#include "next_line.hpp"
#include "project_input.hpp"
#include "report/command_text.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"
#include "spoken/interview.hpp"
#include "spoken_project.hpp"

namespace boardring::cli {
namespace {

constexpr const char* kKept = "boardring-new.txt";
constexpr std::string_view kFirstLine = "boardring new: answers so far, a line each; the program takes them up again";
constexpr std::string_view kIndent = "        ";

void print_lines(const Lines& lines) {
    fmt::print("{}", text_of(lines));
}

void say(std::string_view text) {
    for (const std::string& line : wrapped(clean_text(text, 2000), kTextColumns - kIndent.size())) fmt::print("{}{}\n", kIndent, line);
}

// Ctrl-C ends the wait for an answer, not the program: what was said is kept, and it says so.
volatile std::sig_atomic_t interrupted = 0;

extern "C" void note_interrupt(int /*signal*/) { interrupted = 1; }

// From here on Ctrl-C is let through only while an answer is waited for: pressed a moment before, it is not lost but waits too.
void stop_gently_on_interrupt() {
    struct sigaction gently {};
    gently.sa_handler = note_interrupt;
    sigemptyset(&gently.sa_mask);
    gently.sa_flags = 0;
    sigaction(SIGINT, &gently, nullptr);
    sigset_t ctrl_c;
    sigemptyset(&ctrl_c);
    sigaddset(&ctrl_c, SIGINT);
    sigprocmask(SIG_BLOCK, &ctrl_c, nullptr);
    std::setvbuf(stdin, nullptr, _IONBF, 0);  // nothing read ahead: what waits at the descriptor is all there is
}

// The next character of standard input; EOF at its end and on Ctrl-C.
int next_character() {
    sigset_t open;
    sigprocmask(SIG_BLOCK, nullptr, &open);
    sigdelset(&open, SIGINT);
    while (interrupted == 0) {
        fd_set input;
        FD_ZERO(&input);
        FD_SET(STDIN_FILENO, &input);
        if (pselect(STDIN_FILENO + 1, &input, nullptr, nullptr, nullptr, &open) >= 0 || errno != EINTR) return std::fgetc(stdin);
    }
    return EOF;
}

// A line of the maker's; nothing at the end of input. Of a line longer than any answer only the beginning is read.
std::optional<std::string> listen(const std::string& prompt) {
    fmt::print("{}", prompt);
    std::fflush(stdout);
    constexpr std::size_t kMostRead = 4 * Interview::kLongestAnswer;
    std::string line;
    int c = next_character();
    if (c == EOF) {
        fmt::print("\n");
        return std::nullopt;
    }
    for (; c != EOF && c != '\n'; c = next_character()) {
        if (line.size() < kMostRead) line += static_cast<char>(c);
    }
    if (!line.empty() && line.back() == '\r') line.pop_back();
    if (c == EOF && (interrupted != 0 || std::ferror(stdin) != 0)) return std::nullopt;  // Ctrl-C in the middle of a line: that line was no answer yet
    // What is typed at a terminal stands there already.
    if (isatty(STDIN_FILENO) == 0) fmt::print("{}\n", clean_text(line, 200));
    return line;
}

// After every answer, so that nothing is lost however the run ends.
void keep(const Interview& interview) {
    std::string text = std::string(kFirstLine) + "\n";
    for (const std::string& line : interview.lines()) text += line + "\n";
    if (const std::string trouble = write_text(kKept, text); !trouble.empty()) fmt::print(stderr, "{}\n", trouble);
}

void forget() {
    std::error_code ignored;
    std::filesystem::remove(kKept, ignored);
}

std::optional<Interview> kept() {
    std::error_code ignored;
    if (!std::filesystem::is_regular_file(kKept, ignored)) return std::nullopt;
    const FileText file = read_text(kKept);
    if (!file.text || !file.text->starts_with(kFirstLine)) return std::nullopt;
    Interview interview;
    for (std::size_t at = file.text->find('\n') + 1; at != 0 && at < file.text->size();) {
        const std::size_t end = std::min(file.text->find('\n', at), file.text->size());
        interview.answer(std::string_view(*file.text).substr(at, end - at));
        at = end + 1;
    }
    return interview.lines().empty() || interview.done() ? std::nullopt : std::optional(interview);
}

int stopped(bool something_said) {
    if (something_said) {
        fmt::print("\nSTOPPED    your answers are kept in {}\n", kKept);
        print_next(stdout, "boardring new", "goes on where you stopped");
    } else {
        fmt::print("\nSTOPPED    nothing was written\n");
        print_next(stdout, "boardring new");
    }
    return 1;
}

// Whether to go on where an earlier run stopped; nothing when the input ended.
std::optional<Interview> begin() {
    const std::optional<Interview> before = kept();
    if (!before) return Interview();
    std::string said;
    for (const std::string& line : before->lines()) said += (said.empty() ? "" : "; ") + (line.empty() ? std::string("Enter") : line);
    say("Last time you stopped after: " + said + ".");
    const auto answer = listen(fmt::format("{}Go on from there? [yes] ", kIndent));
    if (!answer) return std::nullopt;
    fmt::print("\n");
    const bool no = answer->starts_with('n') || answer->starts_with('N');
    if (no) forget();
    return no ? Interview() : *before;
}

// While the boards are still to be said, only the outline can be judged.
bool is_about_outline(const Finding& finding) {
    return finding.code.starts_with("outline.") || finding.code.starts_with("fit.") || finding.code.starts_with("reading.");
}

// What cannot be built, as soon as enough is known: better told at the answer that did it than behind the ninth. Told once; behind the
// question about the saw also whether it can make the cuts. Returns what is wrong now, "" for nothing.
std::string tell_trouble(const Interview& interview, const std::string& told_before) {
    const InterviewProject so_far = interview.project();
    if (so_far.text.empty()) return told_before;
    const Planned planned = plan_project_text(so_far.text, so_far.name + ".json");
    const Findings& findings = planned.plan.findings;
    const auto error = std::find_if(findings.begin(), findings.end(), [&](const Finding& f) {
        return f.severity == Severity::error && (interview.has_boards() || is_about_outline(f));
    });
    if (error == findings.end()) {
        if (interview.asked_of_saw() && planned.plan.complete()) {
            for (const std::string& line : sawing_lines(planned.plan)) say(line);
        }
        return "";
    }
    if (error->message == told_before) return told_before;
    say(sentence(error->message));
    say(sentence(error->fix));
    say("Go back with < and say another, or go on and put it right later.");
    return error->message;
}

std::string prompt_of(const Interview& interview) {
    const std::string usual = interview.usual();
    return usual.empty() ? fmt::format("{}> ", kIndent) : fmt::format("{}[{}] ", kIndent, usual);
}

void ask(const Interview& interview) {
    const Lines asked = wrapped(interview.question(), kTextColumns - kIndent.size());
    for (std::size_t i = 0; i < asked.size(); ++i) {
        fmt::print("{}{}\n", i == 0 ? fmt::format("{} of {}  ", interview.number(), Interview::kQuestions) : std::string(kIndent), asked[i]);
    }
}

int finish(const Interview& interview) {
    const InterviewProject project = interview.project();
    if (project.text.empty()) {
        for (const Finding& finding : project.findings) say(finding.message + " " + finding.fix);
        fmt::print("\n");
        print_next(stdout, "boardring new", "your answers are kept");
        return 1;
    }
    const NewFile written = write_new_project(project.name, project.text);
    if (!written.trouble.empty()) {
        fmt::print(stderr, "{}\n", written.trouble);
        print_next(stderr, "boardring new", "your answers are kept");
        return 2;
    }
    forget();
    print_lines(labelled("WROTE", fmt::format("{}: change a size there, or in words with boardring change", written.path), kVerdictColumns));
    if (!project.sentence.empty()) print_lines(plan_command("AT ONCE", project.sentence, kVerdictColumns));
    for (std::size_t i = 0; i < project.assumed.size(); ++i) {
        print_lines(labelled(i == 0 ? "I ASSUMED" : "", sentence(project.assumed[i]), kVerdictColumns));
    }
    print_outcome(written.path);
    return 0;
}

}  // namespace

int run_new(const Arguments& /*arguments*/) {
    stop_gently_on_interrupt();
    fmt::print("Nine questions. Enter takes what stands in [ ], ? says why it is asked, < goes back. Ctrl-C stops\n"
               "and keeps your answers.\n\n");
    std::optional<Interview> interview = begin();
    if (!interview) return stopped(true);
    std::size_t asked = 0;  // a question that takes several lines is asked once
    std::string wrong;
    while (!interview->done()) {
        if (asked != interview->number()) ask(*interview);
        asked = interview->number();
        const auto line = listen(prompt_of(*interview));
        if (!line) return stopped(!interview->lines().empty());
        const std::size_t lines_before = interview->lines().size();
        const Answered answered = interview->answer(*line);
        for (const std::string& text : answered.says) say(text);
        if (answered.taken && interview->has_outline()) wrong = tell_trouble(*interview, wrong);
        if (asked != interview->number() || !answered.taken) fmt::print("\n");
        if (interview->lines().size() != lines_before) keep(*interview);
        if (!answered.taken && asked == interview->number() && interview->lines().size() == lines_before) asked = 0;
        if (interview->lines().empty()) forget();
    }
    return finish(*interview);
}

}  // namespace boardring::cli
