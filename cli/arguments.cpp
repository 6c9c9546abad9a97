#include "arguments.hpp"

#include <CLI/CLI.hpp>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "command_line.hpp"
#include "io/wording.hpp"
#include "plan/one_joint.hpp"
#include "projects_here.hpp"
#include "spoken/sentence.hpp"
#include "spoken_project.hpp"

namespace boardring::cli {
namespace {

constexpr const char* kAbout =
    "Plans polygon frames of boards of mixed thickness: marks, slopes, lengths, cut list, and whether it closes.";

constexpr const char* kExits =
    "Exit codes: 0 fine (warnings allowed), 1 the project has errors, 2 wrong command line or unreadable file, 3 our bug.\n"
    "A project is a JSON file; its name may leave out .json, and where only one lies in the folder you need not name it.";

constexpr const char* kProjectOrSentence =
    "project file, or what you want in words: hexagon 640 inside flats, 145x38 on edge; - reads standard input";

constexpr const char* kSentences =
    "In words: say the shape, its size and where it is measured, the boards and how they lie. Any order; commas where it helps.\n"
    "  boardring plan hexagon 640 inside flats, 145x38 on edge, two courses, one 28\n"
    "  boardring plan 'octagon 24 in inside flats, 5 1/2 x 3/4 on edge, butt at B, kerf 1/8'\n"
    "It says how every phrase was read and what it assumed, writes a project file here (never over another) and plans it.\n"
    "All words: boardring plan --words";

constexpr const char* kQuestions =
    "? says why a question is asked, < goes back to the one before, Ctrl-C stops: the answers are kept in boardring-new.txt, and\n"
    "boardring new goes on there. Answers may also be piped in, a line each. The project is written under a name that is free.";

constexpr const char* kWhatCanBeSaid =
    "What can be said (docs/changing.md has all of it):\n"
    "  corners, sides    C is 97   AB is 902   AC is 1423 +-3   E is 90 inward   C is at 880, 690\n"
    "  size              over flats is 660   side is 400   length is 1200   rise is 380   margin is 6\n"
    "  boards            board 4 is 30   board 4 is 145x30   board 4 is slim   boards lie flat   3 courses\n"
    "  stock             rail is 40 thick   rail 2400 costs 9.80   rail also 3600 costs 15.10\n"
    "  joints, ends      joint B butt, 2 through   joints half-lap   end A along 89.5\n"
    "  tools, wishes     saw stops at 45   kerf is 3   accuracy is fine   gap is 0.5   fit 6 last\n"
    "  the rest          title is ...   leave out margin   corses means courses   /pieces/0/length is 80\n"
    "The old file stays beside the new one: planter.before.json.";

}  // namespace

void describe_commands(CLI::App& app, Arguments& a) {
    app.footer(kExits);
    app.require_subcommand(1);
    app.set_version_flag("--version", "boardring " BOARDRING_VERSION);

    CLI::App* new_project = app.add_subcommand("new", "nine questions make a project; Enter takes the usual answer");
    new_project->footer(kQuestions);
    new_project->callback([&a] { a.command = Command::new_project; });

    CLI::App* plan = app.add_subcommand("plan", "the whole way: the page for the bench, and with --out the files");
    plan->add_option("PROJECT", a.words, kProjectOrSentence);
    plan->add_flag("--words", a.word_list, "list the words a sentence is made of; with a project: that project in words");
    plan->footer(kSentences);
    plan->add_option_function<std::string>("--out", [&a](const std::string& dir) { a.out = dir; },
                                           "write plan.json, report.txt, cut-list.csv and the drawings into DIR (default: named after the project)")
        ->expected(0, 1)
        ->type_name("DIR");
    plan->add_flag("--json", a.json, "print plan.json instead of the page");
    plan->add_flag("--more", a.more, "add the hand-method table, settings, sections and every joint's closure");
    plan->callback([&a] { a.command = Command::plan; });

    CLI::App* check = app.add_subcommand("check", "does it close, can it be sawn? findings only, before you buy");
    check->add_option("PROJECT", a.words, kProjectOrSentence);
    check->callback([&a] { a.command = Command::check; });

    CLI::App* joint = app.add_subcommand("joint", "one joint of two boards, by hand");
    joint->add_option("--corner", a.corner, "angle between the boards inside the frame, degrees: 108, 22-1/2")->required()->type_name("ANGLE");
    joint->add_option("--boards", a.boards, "widths in the joint, first and second board: 90,45 or '3-1/2 in, 1-1/2 in'")
        ->required()
        ->type_name("W1,W2");
    joint->add_option("--kind", a.kind, joined({kJointWords.begin(), kJointWords.end()}))->type_name(fmt::format("{}", fmt::join(kJointWords, "|")));
    joint->add_option("--through", a.through, "butt: which board runs on, 1 or 2")->check(CLI::Range(1, 2))->type_name("1|2");
    joint->add_option("--units", a.unit, "mm, cm, m, in or ft: of numbers without their own, and of the answer (default: that of the lengths given)")->type_name("mm|cm|m|in|ft");
    joint->callback([&a] { a.command = Command::joint; });

    CLI::App* papers = app.add_subcommand("papers", "papers for the bench: pages, cards and drawings to print, wedges at full size");
    papers->add_option("FILE", a.file, "project file; - reads standard input");
    papers->add_option_function<std::string>("--out", [&a](const std::string& dir) { a.out = dir; },
                                             "write papers.html, papers.pdf, full-size.pdf and plan.dxf into DIR (default: named after the project)")
        ->expected(0, 1)
        ->type_name("DIR");
    papers->callback([&a] { a.command = Command::papers; });

    CLI::App* buy = app.add_subcommand("buy", "what to buy and how to saw it, for one project or several together");
    buy->add_option("FILE", a.files, "project files; the same file twice builds it twice");
    buy->add_option_function<std::string>("--out", [&a](const std::string& dir) { a.out = dir; },
                                          "write buying.txt, buying.csv, a drawing for every long board and wood-left.json into DIR")
        ->expected(0, 1)
        ->type_name("DIR");
    buy->add_option("--time-limit", a.time_limit_s, "seconds to look for a cheaper plan (default 10)")
        ->check(CLI::Range(0.0, 86400.0))
        ->type_name("SECONDS");
    buy->callback([&a] { a.command = Command::buy; });

    CLI::App* change = app.add_subcommand("change", "change a project in words; keeps comments and order, and the old file beside it");
    change->add_option("FILE", a.file, "project file; - reads standard input and writes the new text to standard output")->required();
    change->add_option("CHANGE", a.changes, "what is to be different: \"C is 97\", \"board 4 is 30\", \"saw stops at 45\"; several at once")->required();
    change->footer(kWhatCanBeSaid);
    change->callback([&a] { a.command = Command::change; });

    CLI::App* describe = app.add_subcommand("describe", "the man page, or what bash, zsh or fish need to complete commands");
    describe->add_option("READER", a.reader, "for whom: man, bash, zsh or fish")
        ->required()
        ->check(CLI::IsMember({"man", "bash", "zsh", "fish"}))
        ->type_name("man|bash|zsh|fish");
    describe->callback([&a] { a.command = Command::describe; });
    CLI::App* refit = app.add_subcommand("refit", "some boards are cut: work the rest out anew so that the ring closes");
    refit->add_option("FILE", a.file, "project file; it is never changed")->required();
    refit->add_option("MEASURED", a.measured,
                      "what was measured: 3=400 from long point to long point, 4=423.5/368 long and short points, AC=812 straight across, "
                      "A=0/0.8 the last joint's gap inside and outside; or one as-cut file")
        ->required();
    refit->add_option("--keep", a.keep, "what the rest keeps of the plan: outline (default), angles or lengths")
        ->check(CLI::IsMember({"outline", "angles", "lengths"}))
        ->type_name("WHAT");
    refit->callback([&a] { a.command = Command::refit; });
    CLI::App* closure = app.add_subcommand("closure", "the last joint: how far it will be out, why, and what to do about it");
    closure->add_option("FILE", a.file, "project file; - reads standard input");
    closure->add_option("--runs", a.runs, "rings to try (default: until the numbers stand still)")
        ->check(CLI::Range(100, 10000000))
        ->type_name("N");
    closure->add_option("--seed", a.seed, "another number tries other rings; the same number the same ones (default 1)")
        ->check(CLI::Range(std::int64_t{0}, std::int64_t{999999999999}))
        ->type_name("S");
    closure->add_option("--threads", a.threads, "rings tried side by side (default: one for each core); changes no number")
        ->check(CLI::Range(1, 64))
        ->type_name("N");
    closure->add_option_function<std::string>("--out", [&a](const std::string& dir) { a.out = dir; },
                                              "write the page and the drawing of the openings into DIR (default: named after the project)")
        ->expected(0, 1)
        ->type_name("DIR");
    closure->callback([&a] { a.command = Command::closure; });

    CLI::App* explain = app.add_subcommand("explain", "what a finding means and what to do about it");
    explain->add_option("CODE", a.code, "the small word at the end of a finding; without it, all of them");
    explain->callback([&a] { a.command = Command::explain; });
}

namespace {

std::vector<std::string> command_names(const CLI::App& app) {
    std::vector<std::string> names;
    for (const CLI::App* command : app.get_subcommands({})) names.push_back(command->get_name());
    return names;
}

std::vector<std::string> option_names(const CLI::App& command) {
    std::vector<std::string> names;
    for (const CLI::Option* option : command.get_options()) {
        for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    }
    return names;
}

std::string nearest(std::string_view word, const std::vector<std::string>& names) {
    return nearest_word(word, {names.begin(), names.end()});
}

ParsedArguments refused(const std::string& why, std::string next) {
    return {std::nullopt, why + "\n", 2, std::move(next)};
}

// What the library could not place, with the nearest of what it could.
ParsedArguments unplaced(const CLI::App& app) {
    const std::vector<CLI::App*> chosen = app.get_subcommands();
    const CLI::App& command = chosen.empty() ? app : *chosen.front();
    const std::string help = chosen.empty() ? "boardring --help" : fmt::format("boardring {} --help", command.get_name());
    std::vector<std::string> odd = command.remaining();
    if (odd.empty()) odd = app.remaining(true);
    if (odd.empty()) return refused("There is a word too many.", help);
    // An option that is not known leaves its value over too.
    const auto option = std::find_if(odd.begin(), odd.end(), [](const std::string& word) { return word.starts_with("--"); });
    const std::string word = (option != odd.end() ? *option : odd.front()).substr(0, 40);
    if (!word.starts_with("-")) return refused(fmt::format("I don't know what to do with {}.", boardring::in_quotes(word)), help);
    const std::string near = nearest(word.substr(0, word.find('=')), option_names(command));
    return refused(fmt::format("I don't know the option {}.{}", boardring::in_quotes(word), near.empty() ? "" : " Did you mean " + near + "?"), help);
}

// A whole sentence behind a command that wants a file: `plan` makes the file of it. Words up to the first option.
std::optional<ParsedArguments> sentence_for_plan(const std::string& command, int argc, const char* const* argv) {
    constexpr std::array<std::string_view, 4> kOfFiles{"buy", "change", "closure", "papers"};
    if (std::find(kOfFiles.begin(), kOfFiles.end(), command) == kOfFiles.end()) return std::nullopt;
    std::vector<std::string> words;
    for (int i = 2; i < argc && argv[i][0] != '-'; ++i) words.emplace_back(argv[i]);
    const std::optional<std::string> sentence = words.empty() || names_file(words.front()) ? std::nullopt : sentence_of(words);
    if (!sentence || read_sentence(*sentence).project_text.empty()) return std::nullopt;
    return refused(fmt::format("{} works from a project file. plan writes one of what you say:", command), plan_line(*sentence));
}

}  // namespace

ParsedArguments parse_arguments(int argc, const char* const* argv) {
    if (argc < 2) return {std::nullopt, how_to_start(), 0, ""};
    CLI::App app{kAbout, "boardring"};
    Arguments arguments;
    describe_commands(app, arguments);
    const std::vector<std::string> commands = command_names(app);
    const std::string word = argv[1];
    if (!word.empty() && word.front() != '-' && std::find(commands.begin(), commands.end(), word) == commands.end()) {
        // The library would only say that a command is missing; a maker wants to know which word was meant.
        const std::string near = nearest(word, commands);
        const std::string why = fmt::format("I don't know the command {}.", boardring::in_quotes(word));
        if (!near.empty()) return refused(why + " Did you mean " + near + "?", fmt::format("boardring {} --help", near));
        return refused(fmt::format("{} I know {}.", why, fmt::join(commands, ", ")), "boardring");
    }
    if (std::optional<ParsedArguments> sentence = sentence_for_plan(word, argc, argv)) return *sentence;
    try {
        app.parse(argc, argv);
    } catch (const CLI::CallForHelp&) {
        const std::vector<CLI::App*> chosen = app.get_subcommands();
        return {std::nullopt, chosen.empty() ? app.help() : chosen.front()->help(), 0, ""};
    } catch (const CLI::CallForVersion& version) {
        return {std::nullopt, std::string(version.what()) + "\n", 0, ""};
    } catch (const CLI::ExtrasError&) {
        return unplaced(app);
    } catch (const CLI::ParseError& error) {
        // A mistyped name leaves the right one missing: the slip is what to speak of.
        ParsedArguments slip = unplaced(app);
        const std::vector<CLI::App*> chosen = app.get_subcommands();
        if (slip.text.find("Did you mean") != std::string::npos) return slip;
        return refused(error.what(), chosen.empty() ? "boardring --help" : fmt::format("boardring {} --help", chosen.front()->get_name()));
    }
    if (const std::optional<std::string> sentence = sentence_of(arguments.words)) {
        arguments.sentence = *sentence;
    } else if (!arguments.words.empty()) {
        arguments.file = arguments.words.front();
    }
    return {arguments, "", 0, ""};
}

}  // namespace boardring::cli
