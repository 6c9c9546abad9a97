#include <CLI/CLI.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <string>
#include <string_view>
#include <vector>

#include "command_line.hpp"
#include "commands.hpp"

// Man page and completions, made from the description of the commands that also parses them.

namespace boardring::cli {
namespace {

struct OptionText {
    std::string name;  ///< "--out", or "FILE" of a value that stands alone
    bool stands_alone = false;
    std::string value;               ///< "DIR"; "" if it takes none
    std::vector<std::string> words;  ///< those the value may be, if they are few
    bool may_be_left_out = false;    ///< the value of an option; the whole of a value that stands alone
    bool many = false;
    std::string help;
};

struct CommandText {
    std::string name;
    std::string help;
    std::string footer;
    std::vector<OptionText> options;
};

std::vector<std::string> parted(const std::string& text) {
    std::vector<std::string> words;
    if (text.find('|') == std::string::npos) return words;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find('|', at), text.size());
        words.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return words;
}

OptionText option_text(const CLI::Option& option) {
    OptionText text;
    text.stands_alone = option.get_positional();
    text.name = text.stands_alone ? option.get_name(true) : "--" + (option.get_lnames().empty() ? option.get_name() : option.get_lnames().front());
    // The library appends what checks a value to the name of its type.
    const std::string type = option.get_type_name().substr(0, option.get_type_name().find(':'));
    if (option.get_type_size() != 0) text.value = text.stands_alone && parted(type).empty() ? text.name : type;
    text.words = parted(text.value);
    text.may_be_left_out = text.stands_alone ? !option.get_required() : option.get_expected_min() == 0;
    text.many = option.get_expected_max() > 1;
    text.help = option.get_description();
    return text;
}

std::vector<CommandText> command_texts() {
    CLI::App app;
    Arguments arguments;
    describe_commands(app, arguments);
    std::vector<CommandText> texts;
    for (const CLI::App* command : app.get_subcommands({})) {
        CommandText text{command->get_name(), command->get_description(), command->get_footer(), {}};
        for (const CLI::Option* option : command->get_options()) {
            if (option->get_name() != "--help") text.options.push_back(option_text(*option));
        }
        texts.push_back(std::move(text));
    }
    return texts;
}

std::string usage(const OptionText& option) {
    std::string text = option.stands_alone ? option.value : option.name;
    if (!option.stands_alone && !option.value.empty()) text += option.may_be_left_out ? " [" + option.value + "]" : " " + option.value;
    if (option.many) text += "...";
    return text;
}

// ---- man ----

std::string roff(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\') {
            out += "\\e";
        } else if (c == '-') {
            out += "\\-";
        } else {
            if ((c == '.' || c == '\'') && (out.empty() || out.back() == '\n')) out += "\\&";
            out += c;
        }
    }
    return out;
}

std::string man_page(const std::vector<CommandText>& commands) {
    std::string text = fmt::format(".TH BOARDRING 1 \"\" \"boardring {}\" \"User commands\"\n", BOARDRING_VERSION);
    text +=
        ".SH NAME\nboardring \\- plan rings of boards: marks, slopes, lengths, cut list, and whether they close\n"
        ".SH SYNOPSIS\n";
    for (const CommandText& command : commands) {
        text += fmt::format(".B boardring {}\n", roff(command.name));
        for (const OptionText& option : command.options) {
            const bool needed = option.stands_alone && !option.may_be_left_out;
            text += fmt::format("{}\n", roff(needed ? usage(option) : "[" + usage(option) + "]"));
        }
        text += ".br\n";
    }
    text +=
        ".SH DESCRIPTION\n"
        "A planter, a raised bed, a window surround, an arch: a ring or chain of boards that may all have different thickness.\n"
        "You give the outline you want and the boards as they really are. Before any wood is bought boardring says whether angles\n"
        "and lengths can close, and which reading is wrong if they cannot; where every mark goes, how every slope is set, how long\n"
        "every board is, what to buy, and how far the last joint will be out.\n"
        ".PP\n"
        "FILE is a project file (JSON with comments). Its name may leave out\n.BR .json ;\n"
        "where only one project lies in the folder it need not be named;\n.B \\-\nis standard input.\n"
        ".SH COMMANDS\n";
    for (const CommandText& command : commands) {
        text += fmt::format(".SS {}\n{}\n", roff(command.name), roff(command.help));
        for (const OptionText& option : command.options) text += fmt::format(".TP\n.B {}\n{}\n", roff(usage(option)), roff(option.help));
        if (!command.footer.empty()) text += fmt::format(".PP\n.nf\n{}\n.fi\n", roff(command.footer));
    }
    text +=
        ".SH EXIT STATUS\n"
        ".TP\n.B 0\nfine; warnings are allowed\n.TP\n.B 1\nthe project has errors\n.TP\n.B 2\nwrong command line or unreadable file\n"
        ".TP\n.B 3\na bug of boardring's\n"
        ".SH ENVIRONMENT\n"
        ".TP\n.B NO_COLOR\nif set, no colour even on a terminal. Colour never says what words do not.\n"
        ".SH CARE\n"
        "A plan gives sizes; it does not licence a cut. Your saw's own manual, your local code and licensed trades come first.\n";
    return text;
}

// ---- shells ----

bool is_file(const OptionText& option) {
    return option.value == "FILE" || option.value == "PROJECT";
}

std::string spaced(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, " "));
}

std::vector<std::string> names_of(const CommandText& command) {
    std::vector<std::string> names{"--help"};
    for (const OptionText& option : command.options) {
        if (!option.stands_alone) names.push_back(option.name);
    }
    return names;
}

std::string bash_completion(const std::vector<CommandText>& commands) {
    std::string names;
    std::string cases;
    for (const CommandText& command : commands) {
        names += command.name + " ";
        cases += fmt::format("        {})\n            case $before in\n", command.name);
        for (const OptionText& option : command.options) {
            if (option.stands_alone || option.value.empty()) continue;
            const std::string reply = !option.words.empty() ? fmt::format("COMPREPLY=($(compgen -W \"{}\" -- \"$word\"))", spaced(option.words))
                                      : option.value == "DIR" ? "COMPREPLY=($(compgen -d -- \"$word\"))"
                                                              : "COMPREPLY=()";
            cases += fmt::format("                {}) {}; return ;;\n", option.name, reply);
        }
        cases += "            esac\n";
        cases += fmt::format("            if [[ $word == -* ]]; then COMPREPLY=($(compgen -W \"{}\" -- \"$word\")); return; fi\n", spaced(names_of(command)));
        for (const OptionText& option : command.options) {
            if (!option.stands_alone) continue;
            if (is_file(option)) cases += "            _boardring_projects\n";
            if (option.value == "CODE") cases += "            COMPREPLY=($(compgen -W \"$(boardring explain 2>/dev/null)\" -- \"$word\"))\n";
            if (!option.words.empty()) cases += fmt::format("            COMPREPLY=($(compgen -W \"{}\" -- \"$word\"))\n", spaced(option.words));
        }
        cases += "            ;;\n";
    }
    return fmt::format(R"(# Completions of boardring for bash, made by: boardring describe bash
_boardring_projects() {{
    local name
    COMPREPLY=()
    while IFS= read -r name; do
        if [[ -d $name ]]; then
            COMPREPLY+=("$name/")
        elif [[ $name == *.json && $name != *.before.json && $name != *.before-*.json ]]; then
            COMPREPLY+=("${{name%.json}}")
        fi
    done < <(compgen -f -- "$word")
}}
_boardring() {{
    local word=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}}
    COMPREPLY=()
    if (( COMP_CWORD == 1 )); then
        COMPREPLY=($(compgen -W "{}--help --version" -- "$word"))
        return
    fi
    case ${{COMP_WORDS[1]}} in
{}    esac
}}
complete -F _boardring boardring
)",
                       names, cases);
}

// In a pair of single quotes of zsh and fish.
std::string in_quotes(std::string_view text, std::string_view quote_as) {
    std::string out;
    for (const char c : text) {
        if (c == '\'') {
            out += quote_as;
        } else {
            out += c;
        }
    }
    return out;
}

std::string zsh_text(std::string_view text) {
    std::string out;
    for (const char c : in_quotes(text, "'\\''")) {
        if (c == '[' || c == ']' || c == ':') out += '\\';
        out += c;
    }
    return out;
}

std::string zsh_completion(const std::vector<CommandText>& commands) {
    std::string names;
    std::string cases;
    for (const CommandText& command : commands) {
        names += fmt::format("        '{}:{}'\n", command.name, zsh_text(command.help));
        cases += fmt::format("        {})\n            _arguments '--help[what it does and takes]'", command.name);
        std::size_t place = 1;
        for (const OptionText& option : command.options) {
            const std::string action = !option.words.empty()     ? fmt::format("({})", spaced(option.words))
                                       : is_file(option)         ? "_files -g \"*.json(N)\""
                                       : option.value == "DIR"   ? "_files -/"
                                       : option.value == "CODE"  ? "(${(f)\"$(boardring explain 2>/dev/null)\"})"
                                                                 : " ";
            if (option.stands_alone) {
                const std::string at = option.many ? "*" : std::to_string(place++);
                cases += fmt::format(" \\\n                '{}:{}:{}'", at, zsh_text(option.value), action);
            } else if (option.value.empty()) {
                cases += fmt::format(" \\\n                '{}[{}]'", option.name, zsh_text(option.help));
            } else {
                cases += fmt::format(" \\\n                '{}[{}]:{}{}:{}'", option.name, zsh_text(option.help), option.may_be_left_out ? ":" : "", zsh_text(option.value), action);
            }
        }
        cases += "\n            ;;\n";
    }
    return fmt::format(R"(#compdef boardring
# Completions of boardring for zsh, made by: boardring describe zsh
_boardring() {{
    local -a commands
    commands=(
{}    )
    if (( CURRENT == 2 )); then
        _describe command commands
        return
    fi
    local command=$words[2]
    shift words
    (( CURRENT-- ))
    case $command in
{}    esac
}}
_boardring "$@"
)",
                       names, cases);
}

std::string fish_text(std::string_view text) {
    std::string out;
    for (const char c : text) out += c == '\'' || c == '\\' ? "\\" + std::string(1, c) : std::string(1, c);
    return out;
}

std::string fish_completion(const std::vector<CommandText>& commands) {
    std::string text = "# Completions of boardring for fish, made by: boardring describe fish\ncomplete -c boardring -f\n";
    for (const CommandText& command : commands) {
        text += fmt::format("complete -c boardring -n __fish_use_subcommand -a {} -d '{}'\n", command.name, fish_text(command.help));
    }
    for (const CommandText& command : commands) {
        const std::string when = fmt::format("complete -c boardring -n '__fish_seen_subcommand_from {}'", command.name);
        for (const OptionText& option : command.options) {
            const std::string words = !option.words.empty()    ? fmt::format(" -a '{}'", spaced(option.words))
                                      : is_file(option)        ? " -a '(__fish_complete_suffix .json)'"
                                      : option.value == "CODE" ? " -a '(boardring explain 2>/dev/null)'"
                                      : option.value == "DIR"  ? " -a '(__fish_complete_directories)'"
                                                               : "";
            if (option.stands_alone) {
                if (!words.empty()) text += fmt::format("{}{}\n", when, words);
            } else {
                const bool needs = !option.value.empty() && !option.may_be_left_out;
                text += fmt::format("{} -l {}{}{} -d '{}'\n", when, option.name.substr(2), needs ? " -x" : "", words, fish_text(option.help));
            }
        }
    }
    return text;
}

}  // namespace

std::string describe_for(std::string_view reader) {
    const std::vector<CommandText> commands = command_texts();
    if (reader == "man") return man_page(commands);
    if (reader == "bash") return bash_completion(commands);
    if (reader == "zsh") return zsh_completion(commands);
    if (reader == "fish") return fish_completion(commands);
    return "";
}

int run_describe(const Arguments& arguments) {
    fmt::print("{}", describe_for(arguments.reader));
    return 0;
}

}  // namespace boardring::cli
