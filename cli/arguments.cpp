#include "arguments.hpp"

#include <CLI/CLI.hpp>
#include <array>
#include <string_view>

#include "base/suggest.hpp"

namespace boardring::cli {
namespace {

constexpr std::array<std::string_view, 6> kCommands{"plan", "check", "change", "joint", "buy", "explain"};

constexpr const char* kHowToStart =
    "boardring plans frames of boards: every mark, slope and length of a ring that closes.\n"
    "  boardring plan planter                       the page for planter.json\n"
    "  boardring joint --corner 108 --boards 90,45  one joint by hand, no file needed\n"
    "  boardring --help                             everything else\n";

constexpr const char* kAbout =
    "Plans polygon frames of boards of mixed thickness: marks, slopes, lengths, cut list, and whether it closes.";

constexpr const char* kExits =
    "Exit codes: 0 fine (warnings allowed), 1 the project has errors, 2 wrong command line or unreadable file, 3 our bug.\n"
    "A project is a JSON file; its name may leave out .json, and where only one lies in the folder you need not name it.";

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

void describe(CLI::App& app, Arguments& a) {
    app.footer(kExits);
    app.require_subcommand(1);
    app.set_version_flag("--version", "boardring " BOARDRING_VERSION);

    CLI::App* plan = app.add_subcommand("plan", "the whole way: the page for the bench, and with --out the files");
    plan->add_option("FILE", a.file, "project file; - reads standard input");
    plan->add_option_function<std::string>("--out", [&a](const std::string& dir) { a.out = dir; },
                                           "write plan.json, report.txt, cut-list.csv and the drawings into DIR (default: named after the project)")
        ->expected(0, 1)
        ->type_name("DIR");
    plan->add_flag("--json", a.json, "print plan.json instead of the page");
    plan->add_flag("--more", a.more, "add the hand-method table, settings, sections and every joint's closure");
    plan->callback([&a] { a.command = Command::plan; });

    CLI::App* check = app.add_subcommand("check", "does it close, can it be sawn? findings only, before you buy");
    check->add_option("FILE", a.file, "project file; - reads standard input");
    check->callback([&a] { a.command = Command::check; });

    CLI::App* joint = app.add_subcommand("joint", "one joint of two boards, by hand");
    joint->add_option("--corner", a.corner, "angle between the boards inside the frame, degrees: 108, 22-1/2")->required()->type_name("ANGLE");
    joint->add_option("--boards", a.boards, "widths in the joint, first and second board: 90,45 or '3-1/2 in, 1-1/2 in'")
        ->required()
        ->type_name("W1,W2");
    joint->add_option("--kind", a.kind, "mitre, butt or half-lap")->type_name("KIND");
    joint->add_option("--through", a.through, "butt: which board runs on, 1 or 2")->check(CLI::Range(1, 2))->type_name("1|2");
    joint->add_option("--units", a.unit, "mm, cm, m, in or ft for numbers without their own")->type_name("UNIT");
    joint->callback([&a] { a.command = Command::joint; });

    CLI::App* buy = app.add_subcommand("buy", "what to buy and how to saw it, for one project or several together");
    buy->add_option("FILE", a.files, "project files; the same file twice builds it twice");
    buy->add_option("--time-limit", a.time_limit_s, "seconds to look for a cheaper plan (default 10)")
        ->check(CLI::Range(0.0, 86400.0))
        ->type_name("SECONDS");
    buy->callback([&a] { a.command = Command::buy; });

    CLI::App* change = app.add_subcommand("change", "change a project in words; keeps comments and order, and the old file beside it");
    change->add_option("FILE", a.file, "project file; - reads standard input and writes the new text to standard output")->required();
    change->add_option("CHANGE", a.changes, "what is to be different: \"C is 97\", \"board 4 is 30\", \"saw stops at 45\"; several at once")->required();
    change->footer(kWhatCanBeSaid);
    change->callback([&a] { a.command = Command::change; });

    CLI::App* explain = app.add_subcommand("explain", "what a finding means and what to do about it");
    explain->add_option("CODE", a.code, "the small word at the end of a finding; without it, all of them");
    explain->callback([&a] { a.command = Command::explain; });
}

}  // namespace

ParsedArguments parse_arguments(int argc, const char* const* argv) {
    if (argc < 2) return {std::nullopt, kHowToStart, 0};
    const std::string_view word = argv[1];
    if (!word.empty() && word.front() != '-' && std::find(kCommands.begin(), kCommands.end(), word) == kCommands.end()) {
        // The library would only say that a command is missing; a maker wants to know which word was meant.
        const std::string near = nearest_word(word, {kCommands.begin(), kCommands.end()});
        std::string text = "I don't know the command \"" + std::string(word.substr(0, 40)) + "\".";
        text += near.empty() ? " I know plan, check, joint, buy and explain.\n" : " Did you mean: boardring " + near + "\n";
        return {std::nullopt, text, 2};
    }

    CLI::App app{kAbout, "boardring"};
    Arguments arguments;
    describe(app, arguments);
    try {
        app.parse(argc, argv);
    } catch (const CLI::CallForHelp&) {
        const std::vector<CLI::App*> chosen = app.get_subcommands();
        return {std::nullopt, chosen.empty() ? app.help() : chosen.front()->help(), 0};
    } catch (const CLI::CallForVersion& version) {
        return {std::nullopt, std::string(version.what()) + "\n", 0};
    } catch (const CLI::ParseError& error) {
        return {std::nullopt, std::string(error.what()) + "\nTry: boardring --help\n", 2};
    }
    return {arguments, "", 0};
}

}  // namespace boardring::cli
