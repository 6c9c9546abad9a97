#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/names.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"
#include "io/wording.hpp"
#include "project/joint_kinds.hpp"

// Joints by corner and the free ends of open chains.

namespace boardring {
namespace {

// What one entry of "joints" says. A key that is there but wrong counts as given.
struct Entry {
    Spot spot;
    std::optional<JointKind> kind;
    std::optional<std::vector<std::size_t>> through;  // boards, from 0
    std::optional<Spot> through_spot;
};

void tell_through_unused(Job& job, const Spot& spot) {
    job.tell(spot, "joint.through-unused", "\"through\" names the board that runs on in a butt joint; this joint is none.",
             "Remove \"through\", or write \"kind\": \"butt\".");
}

std::vector<std::size_t> read_through(Job& job, const Spot& spot, std::optional<std::size_t> boards) {
    std::vector<std::size_t> through;
    const CountLimits limits{1, boards.value_or(kMostCorners)};
    if (spot.json->type != JsonValue::Type::list) {
        if (const auto board = read_count(job, spot, limits)) through.push_back(*board - 1);
        return through;
    }
    const auto count = read_list(job, spot, 1, kMostCorners, "board numbers");
    for (std::size_t i = 0; i < count.value_or(0); ++i) {
        if (const auto board = read_count(job, spot.item(i), limits)) through.push_back(*board - 1);
    }
    return through;
}

Entry read_entry(Job& job, const Spot& spot, std::optional<std::size_t> boards) {
    Entry entry;
    entry.spot = spot;
    const auto fields = Fields::open(job, spot, {"kind", "through"});
    if (!fields) return entry;
    if (const auto kind = fields->find("kind")) {
        entry.kind = read_choice<JointKind>(job, *kind, {kJointWords.begin(), kJointWords.end()}).value_or(JointKind::butt);
    }
    entry.through_spot = fields->find("through");
    if (entry.through_spot) {
        entry.through = read_through(job, *entry.through_spot, boards);
        if (entry.kind.value_or(JointKind::butt) != JointKind::butt) {
            tell_through_unused(job, *entry.through_spot);
        }
    }
    return entry;
}

bool has(const std::vector<std::size_t>& boards, std::size_t board) {
    return std::find(boards.begin(), boards.end(), board) != boards.end();
}

// The listed board that meets at the corner. None may meet there if the list is for all corners.
std::optional<std::size_t> through_at(Job& job, const Entry& entry, std::size_t corner, std::size_t before, std::size_t after,
                                      bool for_all) {
    const bool first = has(*entry.through, before);
    const bool second = has(*entry.through, after);
    const std::string letter = corner_letter(corner);
    if (first && second) {
        job.tell(*entry.through_spot, "joint.through-both",
                 fmt::format("Boards {} and {} meet at {} and cannot both run through.", before + 1, after + 1, letter),
                 fmt::format("Name one of them for {}: \"{}\": {{ \"through\": {} }}.", letter, letter, before + 1));
    } else if (!first && !second && !for_all && !entry.through->empty()) {
        job.tell(*entry.through_spot, "joint.through-elsewhere",
                 fmt::format("Board {} does not come to {}; boards {} and {} meet there.", entry.through->front() + 1, letter,
                             before + 1, after + 1),
                 fmt::format("Write {} or {}.", before + 1, after + 1));
    } else if (first || second) {
        return first ? before : after;
    }
    return std::nullopt;
}

struct Corners {
    std::size_t boards = 0;  // 0: the outline could not be read, nothing is known of its corners
    bool open = false;
    [[nodiscard]] bool known() const { return boards > 0; }
    [[nodiscard]] std::size_t count() const { return known() && open ? boards + 1 : boards; }
    [[nodiscard]] bool is_free(std::size_t corner) const { return open && (corner == 0 || corner == boards); }
    [[nodiscard]] std::size_t before(std::size_t corner) const { return corner == 0 ? boards - 1 : corner - 1; }
    [[nodiscard]] std::string letters() const { return fmt::format("A to {}", corner_letter(count() - 1)); }
};

std::map<std::size_t, Entry> read_own_entries(Job& job, const Fields& fields, const Corners& corners) {
    std::map<std::size_t, Entry> own;
    for (const auto& [key, spot] : fields.others()) {
        const auto corner = corner_index(key);
        if (!corner) continue;  // told as an unknown key
        const Entry entry = read_entry(job, spot, corners.known() ? std::optional(corners.boards) : std::nullopt);
        if (corners.known() && *corner >= corners.count()) {
            job.tell(spot, "joint.no-such-corner",
                     fmt::format("There is no corner {}: the corners are {}.", key, corners.letters()),
                     "Use one of these letters.");
        } else if (corners.known() && corners.is_free(*corner)) {
            job.tell(spot, "joint.free-end", fmt::format("{} is a free end: no boards are joined there.", corner_letter(*corner)),
                     "Say under \"ends\" how it is cut, and remove it here.");
        } else if (!own.emplace(*corner, entry).second) {
            job.tell(spot, "joint.repeated",
                     fmt::format("{} is the same corner as {}, given above.", key, own.at(*corner).spot.json->name),
                     "Keep one of them.");
        }
    }
    return own;
}

JointAsked merged(Job& job, const Entry& all, const Entry* own, const Corners& corners, std::size_t corner, const Spot& section) {
    JointAsked joint;
    joint.kind = own != nullptr && own->kind ? *own->kind : all.kind.value_or(JointKind::mitre);
    joint.pointer = own != nullptr ? own->spot.pointer : all.spot.json != nullptr ? all.spot.pointer : section.pointer;
    if (joint.kind != JointKind::butt || corners.is_free(corner)) {
        if (own != nullptr && own->through_spot && !own->kind) tell_through_unused(job, *own->through_spot);
        return joint;
    }
    if (own != nullptr && own->through) {
        joint.through = through_at(job, *own, corner, corners.before(corner), corner, false);
    } else if (all.through) {
        joint.through = through_at(job, all, corner, corners.before(corner), corner, true);
    }
    return joint;
}

void assume_joints(Job& job, const Fields& fields, const Entry& all, bool some_own, const std::vector<JointAsked>& joints) {
    const std::string pointer = fields.pointer("all");
    if (!all.kind) job.assume(pointer + "/kind", some_own ? "mitres at the other corners" : "mitres");
    const bool left_open =
        std::any_of(joints.begin(), joints.end(), [](const JointAsked& j) { return j.kind == JointKind::butt && !j.through; });
    if (left_open) job.assume(pointer + "/through", "where boards butt, the one on the longer side runs on");
}

struct WayOfEnd {
    std::string_view name;
    std::optional<double> (*read)(Job& job, const Fields& fields);
};

std::optional<double> read_square(Job& job, const Fields& fields) {
    const Spot spot = *fields.find("square");
    const auto square = read_flag(job, spot);
    if (square == false) {
        job.tell(spot, "value.not-allowed", "\"square\" is false; it can only be true.",
                 "Give \"along_deg\", or \"rise\" and \"run\", for an end that is not square.");
        return std::nullopt;
    }
    return square ? std::optional(0.0) : std::nullopt;
}

// The angle between board and wall on the inside is 90 at a square end; the smaller it is, the longer is the outside.
std::optional<double> read_along(Job& job, const Fields& fields) {
    const auto along = read_angle(job, *fields.find("along_deg"), {0.0, 180.0, false, false});
    return along ? std::optional(90.0 - *along) : std::nullopt;
}

std::optional<double> read_rise_and_run(Job& job, const Fields& fields) {
    const auto rise_spot = fields.require(job, "rise", "how far the outside stands out over the inside", "5");
    const auto run_spot = fields.require(job, "run", "over which width the rise was measured", "300");
    const auto rise = rise_spot ? read_length(job, *rise_spot, kSignedLength) : std::nullopt;
    const auto run = run_spot ? read_length(job, *run_spot, kPositiveLength) : std::nullopt;
    if (!rise || !run) return std::nullopt;
    return degrees(std::atan2(*rise, *run));
}

std::optional<double> read_end(Job& job, const Spot& spot) {
    const auto fields = Fields::open(job, spot, {"square", "along_deg", "rise", "run"});
    if (!fields) return std::nullopt;
    const bool square = fields->find("square").has_value();
    const bool along = fields->find("along_deg").has_value();
    const bool rise = fields->find("rise") || fields->find("run");
    if (int{square} + int{along} + int{rise} != 1) {
        job.tell(spot, "end.one-way",
                 square || along || rise ? fmt::format("{} is cut in two ways at once.", name_at_start(spot))
                                         : fmt::format("Nothing says how {} is cut.", name_of(spot)),
                 "Give exactly one of: \"square\": true, \"along_deg\", or \"rise\" and \"run\".");
        return std::nullopt;
    }
    if (square) return read_square(job, *fields);
    return along ? read_along(job, *fields) : read_rise_and_run(job, *fields);
}

void assume_end(Job& job, const Fields& fields, std::size_t corner, bool radial) {
    const std::string letter = corner_letter(corner);
    job.assume(fields.pointer(letter), radial ? fmt::format("end {} points to the middle of the arc", letter)
                                              : fmt::format("end {} is cut square", letter));
}

}  // namespace

bool is_corner_key(std::string_view key) {
    return corner_index(key).has_value();
}

std::vector<JointAsked> read_joints(Job& job, const Fields& project, std::optional<std::size_t> boards, bool open) {
    const Corners corners{boards.value_or(0), open};
    const auto spot = project.find("joints");
    const auto fields =
        spot ? Fields::open(job, *spot, {"all"}, {is_corner_key, "corner letters"}) : Fields::absent(project.spot(), "joints");
    if (!fields) return {};
    Entry all;
    if (const auto all_spot = fields->find("all")) all = read_entry(job, *all_spot, boards);
    const auto own = read_own_entries(job, *fields, corners);
    std::vector<JointAsked> joints;
    for (std::size_t corner = 0; corner < corners.count(); ++corner) {
        const auto found = own.find(corner);
        joints.push_back(merged(job, all, found == own.end() ? nullptr : &found->second, corners, corner, fields->spot()));
    }
    const bool any_butt =
        std::any_of(joints.begin(), joints.end(), [](const JointAsked& j) { return j.kind == JointKind::butt; });
    if (all.through_spot && !all.kind && !any_butt) tell_through_unused(job, *all.through_spot);
    assume_joints(job, *fields, all, !own.empty(), joints);
    return joints;
}

EndsRead read_ends(Job& job, const Fields& project, const OutlineAsked& outline, std::optional<std::size_t> boards) {
    EndsRead ends;
    const auto spot = project.find("ends");
    if (spot && boards && !outline.open) {
        job.tell(*spot, "end.closed-ring", "\"ends\" is for open chains; this ring closes and has no free end.",
                 "Remove \"ends\", or write \"open\": true in the outline.");
        return ends;
    }
    if (!boards || !outline.open) return ends;
    const auto fields = spot ? Fields::open(job, *spot, {}, {is_corner_key, "the letters of the free ends"})
                             : Fields::absent(project.spot(), "ends");
    if (!fields) return ends;
    const auto* arc = std::get_if<ArcOutline>(&outline.form);
    const double default_deg = arc != nullptr ? arc->span_deg / (2.0 * static_cast<double>(*boards)) : 0.0;
    std::map<std::size_t, Spot> given;
    for (const auto& [key, value] : fields->others()) {
        const auto corner = corner_index(key);
        if (!corner) continue;
        if (*corner != 0 && *corner != *boards) {
            job.tell(value, "end.not-free",
                     fmt::format("{} is no free end: the free ends are A and {}.", key, corner_letter(*boards)),
                     "Use these letters.");
        } else if (!given.emplace(*corner, value).second) {
            job.tell(value, "end.repeated", fmt::format("End {} is given twice.", corner_letter(*corner)), "Keep one of them.");
        }
    }
    for (const std::size_t corner : {std::size_t{0}, *boards}) {
        EndAsked& end = corner == 0 ? ends.first : ends.last;
        const auto found = given.find(corner);
        if (found == given.end()) {
            assume_end(job, *fields, corner, arc != nullptr);
            end = {default_deg, fields->spot().pointer};
        } else {
            end = {read_end(job, found->second).value_or(0.0), found->second.pointer};
        }
    }
    return ends;
}

}  // namespace boardring
