#include "io/read_as_cut.hpp"

#include <algorithm>
#include <cctype>
#include <utility>

#include <fmt/format.h>

#include "base/length_text.hpp"
#include "base/names.hpp"
#include "base/quoted.hpp"
#include "io/located_json.hpp"
#include "io/sections.hpp"
#include "io/text_bytes.hpp"
#include "io/values.hpp"

namespace boardring {
namespace {

constexpr std::string_view kFormat = "boardring-as-cut-1";
constexpr NumberLimits kFromSquare{0.0, 89.0};
constexpr NumberLimits kFromEdge{1.0, 90.0};  // on a scale that reads 90 at square
constexpr NumberLimits kAngleAccuracy{0.0, 10.0, false, true};
constexpr LengthLimits kGap{0.0, 100.0};

// Two corners of one key: "AC", or "A-AC" beyond 26.
std::optional<std::pair<std::size_t, std::size_t>> corner_pair(std::string_view key, std::size_t corners) {
    const std::size_t dash = key.find('-');
    if (dash == std::string_view::npos && key.size() != 2) return std::nullopt;
    const auto first = corner_index(dash == std::string_view::npos ? key.substr(0, 1) : key.substr(0, dash));
    const auto second = corner_index(dash == std::string_view::npos ? key.substr(1) : key.substr(dash + 1));
    if (!first || !second || *first == *second || *first >= corners || *second >= corners) return std::nullopt;
    return std::pair(*first, *second);
}

bool is_pair_key(std::string_view key) { return corner_pair(key, kMostCorners).has_value(); }

std::string no_such_board(const Project& project, std::string_view key) {
    return fmt::format("there is no board {}: the ring has {} boards", in_quotes(key), project.boards.size());
}

double away_from_square_deg(double on_scale_deg, const Tools& tools) {
    return tools.scale_at_square_deg == 0.0 ? on_scale_deg : tools.scale_at_square_deg - on_scale_deg;
}

std::optional<AsCutBoard> read_board(Job& job, const Project& project, const std::string& key, const Spot& spot) {
    const std::size_t n = project.boards.size();
    const auto number = board_key(key);
    if (!number || *number > n) {
        job.tell(spot, "refit.not-understood", no_such_board(project, key), fmt::format("use 1 to {}", n));
        return std::nullopt;
    }
    AsCutBoard board;
    board.board = *number - 1;
    board.pointer = spot.pointer;
    const auto fields = Fields::open(job, spot, {"long", "short"}, {is_corner_key, "the letters of its corners"});
    if (!fields) return std::nullopt;
    if (const auto at = fields->find("long")) board.long_mm = read_length(job, *at, kPositiveLength);
    if (const auto at = fields->find("short")) board.short_mm = read_length(job, *at, kPositiveLength);
    if (board.long_mm && board.short_mm && *board.short_mm > *board.long_mm) {
        job.tell(*fields->find("short"), "refit.not-understood", fmt::format("the short points of board {} are farther apart than the long ones", key),
                 "change the two about, or measure again");
    }
    for (const auto& [letter, value] : fields->others()) {
        const auto corner = corner_index(letter);
        const std::size_t second = *number == n ? 0 : *number;
        if (!corner || (*corner != board.board && *corner != second)) {
            job.tell(value, "refit.not-understood", fmt::format("board {} has no end at {}", key, in_quotes(letter)),
                     fmt::format("its ends are {} and {}", corner_letter(board.board), corner_letter(second)));
            continue;
        }
        std::optional<double>& saw_deg = board.saw_deg[*corner == board.board ? 0 : 1];
        if (saw_deg) {
            job.tell(value, "refit.not-understood", fmt::format("board {} has the slope at {} twice", key, corner_letter(*corner)), "keep the better of the two");
            continue;
        }
        if (const auto angle = read_angle(job, value, project.tools.scale_at_square_deg == 0.0 ? kFromSquare : kFromEdge))
            saw_deg = away_from_square_deg(*angle, project.tools);
    }
    return board;
}

bool is_there(const AsCut& as_cut, const std::pair<std::size_t, std::size_t>& corners) {
    return std::any_of(as_cut.diagonals.begin(), as_cut.diagonals.end(),
                       [&](const AsCutDiagonal& d) { return std::minmax(d.first, d.second) == std::minmax(corners.first, corners.second); });
}

std::string pair_words(const std::pair<std::size_t, std::size_t>& corners) {
    return fmt::format("the length from {} to {}", corner_letter(corners.first), corner_letter(corners.second));
}

void read_diagonals(Job& job, const Project& project, const Fields& fields, AsCut& as_cut) {
    const auto spot = fields.find("diagonals");
    if (!spot) return;
    const auto pairs = Fields::open(job, *spot, {}, {is_pair_key, "two corners, such as AC"});
    if (!pairs) return;
    for (const auto& [key, value] : pairs->others()) {
        const auto corners = corner_pair(key, project.joints.size());
        const auto mm = read_length(job, value, kPositiveLength);
        if (!corners) {
            job.tell(value, "refit.not-understood", fmt::format("{} names no two corners of this ring", in_quotes(key)), "write \"AC\"");
        } else if (is_there(as_cut, *corners)) {
            job.tell(value, "refit.not-understood", fmt::format("{} is given twice", pair_words(*corners)), "keep the better of the two");
        } else if (mm) {
            as_cut.diagonals.push_back({corners->first, corners->second, *mm, value.pointer});
        }
    }
}

void read_gap(Job& job, const Project& project, const Fields& fields, AsCut& as_cut) {
    const auto spot = fields.find("gap");
    if (!spot) return;
    const auto joints = Fields::open(job, *spot, {}, {is_corner_key, "the letter of a corner"});
    if (!joints) return;
    for (const auto& [key, value] : joints->others()) {
        const auto corner = corner_index(key);
        const auto sides = Fields::open(job, value, {"inside", "outside"});
        if (!sides) continue;
        if (!corner || *corner >= project.joints.size() || as_cut.gap) {
            job.tell(value, "refit.not-understood", fmt::format("{} is no second joint to give a gap at", in_quotes(key)), "hold every joint tight but one, and give the gap of that one");
            continue;
        }
        DryFitGap gap{*corner, 0.0, 0.0, value.pointer};
        if (const auto at = sides->find("inside")) gap.inside_mm = read_length(job, *at, kGap).value_or(0.0);
        if (const auto at = sides->find("outside")) gap.outside_mm = read_length(job, *at, kGap).value_or(0.0);
        as_cut.gap = gap;
    }
}

void sort_boards(AsCut& as_cut) {
    std::stable_sort(as_cut.boards.begin(), as_cut.boards.end(), [](const AsCutBoard& a, const AsCutBoard& b) { return a.board < b.board; });
}

// ---- words of a command line ----

Finding not_understood(std::string_view word, std::string message) {
    return {Severity::error, "refit.not-understood", "", fmt::format("{}: {}", in_quotes(word), message),
            "write 3=400 for a board from long point to long point, 4=423.5/368 for long and short points, AC=812 straight across, A=0/0.8 for a joint open outside"};
}

// One length, or two with a stroke between them.
struct Lengths {
    std::vector<double> mm;
    Findings trouble;
};
Lengths parted(std::string_view text, Unit unit) {
    Lengths lengths;
    const Result<LengthRead> whole = parse_length(text, unit);
    if (whole.ok()) return {{whole.value().mm}, {}};
    std::size_t ways = 0;
    for (std::size_t at = text.find('/'); at != std::string_view::npos; at = text.find('/', at + 1)) {
        const Result<LengthRead> first = parse_length(text.substr(0, at), unit), second = parse_length(text.substr(at + 1), unit);
        if (!first.ok() || !second.ok()) continue;
        ++ways;
        lengths.mm = {first.value().mm, second.value().mm};
    }
    if (ways != 1) return {{}, whole.findings()};
    return lengths;
}

std::optional<Finding> add_word(const std::string& word, const Project& project, AsCut& as_cut) {
    const std::size_t equals = word.find('=');
    if (equals == std::string::npos) return not_understood(word, "there is no = in it");
    const std::string_view name = std::string_view(word).substr(0, equals);
    const std::string_view value = std::string_view(word).substr(equals + 1);
    const Lengths lengths = parted(value, project.unit);
    if (!lengths.trouble.empty()) return not_understood(word, lengths.trouble.front().message);
    if (const auto number = board_key(name)) {
        if (*number > project.boards.size()) return not_understood(word, no_such_board(project, name));
        AsCutBoard board;
        board.board = *number - 1;
        board.long_mm = lengths.mm[0];
        if (lengths.mm.size() == 2) board.short_mm = lengths.mm[1];
        const bool twice = std::any_of(as_cut.boards.begin(), as_cut.boards.end(), [&](const AsCutBoard& b) { return b.board == board.board; });
        if (twice) return not_understood(word, fmt::format("board {} is given twice", name));
        if (!(board.long_mm > 0.0) || (board.short_mm && (!(board.short_mm > 0.0) || *board.short_mm > *board.long_mm)))
            return not_understood(word, "the long points are farther apart than the short ones, and both more than 0");
        as_cut.boards.push_back(board);
        return std::nullopt;
    }
    const auto corner = corner_index(name);
    if (corner && *corner < project.joints.size() && lengths.mm.size() == 2) {
        if (as_cut.gap) return not_understood(word, "the gap of one joint is enough: hold every other joint tight");
        if (lengths.mm[0] < 0.0 || lengths.mm[1] < 0.0) return not_understood(word, "a gap is 0 or more");
        as_cut.gap = DryFitGap{*corner, lengths.mm[0], lengths.mm[1], ""};
        return std::nullopt;
    }
    const auto corners = corner_pair(name, project.joints.size());
    if (corners && lengths.mm.size() == 1 && lengths.mm[0] > 0.0) {
        if (is_there(as_cut, *corners)) return not_understood(word, fmt::format("{} is given twice", pair_words(*corners)));
        as_cut.diagonals.push_back({corners->first, corners->second, lengths.mm[0], ""});
        return std::nullopt;
    }
    return not_understood(word, "I know no such board, joint or pair of corners");
}

}  // namespace

AsCutRead read_as_cut(std::string_view text, const Project& project) {
    AsCutRead read;
    LocatedJson json = read_located_json(text);
    Job job;
    job.unit = project.unit;
    job.findings = std::move(json.findings);
    if (json.root) {
        AsCut as_cut;
        const auto fields = Fields::open(job, {&*json.root, ""}, {"format", "title", "boards", "diagonals", "gap", "accuracy"});
        if (fields) {
            if (const auto spot = fields->require(job, "format", "which format this file has", fmt::format("\"{}\"", kFormat))) read_word(job, *spot, {kFormat});
            if (const auto spot = fields->find("title")) read_text(job, *spot, 0, 200);
            if (const auto spot = fields->require(job, "boards", "what was measured on which board", "{ \"3\": { \"long\": 400 } }")) {
                if (const auto boards = Fields::open(job, *spot, {}, {is_board_key, "board numbers"})) {
                    for (const auto& [key, value] : boards->others()) {
                        if (auto board = read_board(job, project, key, value)) as_cut.boards.push_back(std::move(*board));
                    }
                }
            }
            read_diagonals(job, project, *fields, as_cut);
            read_gap(job, project, *fields, as_cut);
            if (const auto accuracy = open_section(job, *fields, "accuracy", {"length", "angle"})) {
                if (const auto spot = accuracy->find("length")) as_cut.length_accuracy_mm = read_length(job, *spot, kPositiveLength);
                if (const auto spot = accuracy->find("angle")) as_cut.angle_accuracy_deg = read_angle(job, *spot, kAngleAccuracy);
            }
        }
        sort_boards(as_cut);
        if (!has_error(job.findings)) read.as_cut = std::move(as_cut);
    }
    read.findings = std::move(job.findings);
    return read;
}

AsCutRead read_as_cut_words(const std::vector<std::string>& words, const Project& project) {
    AsCutRead read;
    AsCut as_cut;
    for (const std::string& word : words) {
        if (auto trouble = add_word(word, project, as_cut)) read.findings.push_back(std::move(*trouble));
    }
    sort_boards(as_cut);
    if (read.findings.empty()) read.as_cut = std::move(as_cut);
    return read;
}

}  // namespace boardring
