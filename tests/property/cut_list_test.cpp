// Laws of the cut list on random frames: every board in one group, every cut in one setting, counts that add up, and the same
// groups however the ring is numbered, whichever way its letters run.
#include "cutlist/cut_list.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "cutlist/grouping.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"
#include "support/random_frame.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::cases;
using boardring_test::FrameCase;
using boardring_test::Random;
using boardring_test::random_frame_case;

namespace {

struct Made {
    Project project;
    Outline outline;
    Frame frame;
};

void ask_wood(Project& project, Random& random) {
    project.courses = 1 + random.index(3);
    project.tools.saw_step_deg = random.chance(0.5) ? 0.5 : 0.1;
    project.wanted.spares = random.index(3);
    for (const Surface surface : {Surface::plain, Surface::show_face, Surface::moulded}) {
        Stock stock;
        stock.width_mm = 145.0;
        stock.thickness_mm = 38.0;
        stock.surface = surface;
        project.stock.push_back(stock);
    }
    const std::size_t surfaces = random.chance(0.3) ? 3 : 2;  // moulded boards of unlike sections cannot be mitred
    for (BoardAsked& board : project.boards) {
        if (random.chance(0.7)) board.stock = random.index(surfaces);
    }
    for (std::size_t i = random.index(3); i > 0; --i) {
        project.pieces.push_back({"piece", random.index(3), random.between(80.0, 800.0), 1 + random.index(8), random.between(-50.0, 50.0), 0.0, "/pieces"});
    }
}

// A frame that can be built, its stock, surfaces, courses and extra pieces at random.
Made random_made(std::uint64_t seed) {
    for (std::uint64_t attempt = 0;; ++attempt) {
        FrameCase asked = random_frame_case(seed + 1'000'000 * attempt, static_cast<int>(std::min<std::uint64_t>(attempt, 6)));
        Random random(seed + attempt);
        ask_wood(asked.project, random);
        const Result<Frame> built = build_frame(asked.project, asked.outline);
        if (built.ok()) return {asked.project, asked.outline, built.value()};
    }
}

// The same ring with its numbering begun `by` boards later.
Made renumbered(const Made& made, std::size_t by) {
    Made to = made;
    const auto rotate = [by](auto& list) { std::rotate(list.begin(), list.begin() + static_cast<std::ptrdiff_t>(by), list.end()); };
    rotate(to.outline.corners_mm);
    rotate(to.outline.sides_mm);
    rotate(to.outline.interior_deg);
    rotate(to.outline.turn_deg);
    rotate(to.outline.direction_deg);
    rotate(to.project.boards);
    rotate(to.project.joints);
    rotate(to.project.outline.margin_mm);
    const std::size_t n = made.frame.boards.size();
    for (JointAsked& joint : to.project.joints) {
        if (joint.through) joint.through = (*joint.through + n - by) % n;
    }
    to.project.wanted.fit_last = (made.project.wanted.fit_last.value_or(n - 1) + n - by) % n;
    const Result<Frame> built = build_frame(to.project, to.outline);
    REQUIRE(built.ok());
    to.frame = built.value();
    return to;
}

// Groups by the boards of the first numbering.
std::set<std::set<std::size_t>> partition(const CutList& list, std::size_t by, std::size_t boards) {
    std::set<std::set<std::size_t>> all;
    for (const PieceGroup& group : list.groups) {
        std::set<std::size_t> members;
        for (const GroupMember& member : group.members) members.insert((member.board + by) % boards);
        if (!members.empty()) all.insert(members);
    }
    return all;
}

std::set<std::set<std::tuple<std::size_t, std::size_t>>> settings_partition(const CutList& list, std::size_t by, std::size_t boards) {
    std::set<std::set<std::tuple<std::size_t, std::size_t>>> all;
    for (const SettingGroup& setting : list.settings) {
        std::set<std::tuple<std::size_t, std::size_t>> cuts;
        for (const CutRef& cut : setting.cuts) cuts.insert({(cut.board + by) % boards, cut.end});
        all.insert(cuts);
    }
    return all;
}

void check_counts(const Made& made, const CutList& list) {
    const std::size_t n = made.frame.boards.size();
    std::vector<int> seen(n, 0);
    std::size_t pieces = 0;
    std::size_t last_first = 0;
    for (const PieceGroup& group : list.groups) {
        REQUIRE(group.extra.has_value() == group.members.empty());
        pieces += group.count;
        if (group.extra) continue;
        REQUIRE(group.count == group.members.size() * made.project.courses);
        REQUIRE(group.members.front().turning == Turning::as_first);
        REQUIRE((last_first == 0 || group.members.front().board > last_first));
        last_first = group.members.front().board;
        for (const GroupMember& member : group.members) ++seen[member.board];
        if (group.mirror_of) REQUIRE(list.groups[*group.mirror_of].members.front().board < group.members.front().board);
    }
    REQUIRE(std::all_of(seen.begin(), seen.end(), [](int times) { return times == 1; }));

    std::size_t section_pieces = 0;
    double rough = 0.0, tests = 0.0;
    for (const SectionTotal& section : list.sections) {
        section_pieces += section.pieces;
        rough += section.rough_mm;
        tests += section.test_mm;
        REQUIRE(section.rough_mm > section.finished_mm);
    }
    REQUIRE(section_pieces == pieces);

    std::size_t cuts = 0, ends = 0;
    double steepest = -1.0;
    for (const SettingGroup& setting : list.settings) {
        cuts += setting.count;
        ends += setting.cuts.size();
        REQUIRE(setting.left + setting.right == (setting.shown_deg > 0.0 ? setting.count : 0));
        REQUIRE(setting.setting_deg > steepest);
        steepest = setting.setting_deg;
        for (const CutRef& cut : setting.cuts) {
            const double off = std::abs(std::abs(made.frame.boards[cut.board].ends[cut.end].saw_deg) - setting.setting_deg);
            REQUIRE(off < 0.25 * made.project.tools.saw_step_deg);
        }
    }
    REQUIRE(cuts == 2 * pieces);
    REQUIRE(ends == 2 * n);

    // Rough lengths once more from the pieces themselves.
    double sum = tests;
    for (std::size_t k = 0; k < n; ++k) sum += static_cast<double>(made.project.courses) * list.rough_length_mm[k];
    const PieceGroup* commonest = nullptr;
    for (const PieceGroup& group : list.groups) {
        if (group.extra) sum += static_cast<double>(group.count) * group.rough_length_mm;
        if (!group.extra && (commonest == nullptr || group.count > commonest->count)) commonest = &group;
    }
    sum += static_cast<double>(made.project.wanted.spares) * commonest->rough_length_mm;
    REQUIRE_THAT(rough, within_mm(sum, 1e-9 * sum));
}

// What the pieces of one group have in common whatever way they are turned: section, the two lengths, the two slopes.
void check_members(const Made& made, const CutList& list) {
    for (const PieceGroup& group : list.groups) {
        if (group.extra) continue;
        const Piece first = piece_of(made.project, made.frame, group.members.front().board);
        for (const GroupMember& member : group.members) {
            const Piece piece = turned(piece_of(made.project, made.frame, member.board), member.turning);
            REQUIRE(piece.stock == first.stock);
            // A chain of values, each within the tolerance of the next, may be a little longer than the tolerance.
            REQUIRE_THAT(piece.width_mm, within_mm(first.width_mm, 10 * kSamePieceMm));
            REQUIRE_THAT(piece.inside_mm, within_mm(first.inside_mm, 10 * kSamePieceMm));
            REQUIRE_THAT(piece.outside_mm, within_mm(first.outside_mm, 10 * kSamePieceMm));
            for (std::size_t e = 0; e < 2; ++e) {
                REQUIRE_THAT(piece.ends[e].saw_deg, within_deg(first.ends[e].saw_deg, 10 * kSamePieceDeg));
                REQUIRE(piece.ends[e].lap.has_value() == first.ends[e].lap.has_value());
                if (piece.ends[e].lap) REQUIRE(piece.ends[e].lap->keeps_upper == first.ends[e].lap->keeps_upper);
            }
        }
    }
}

}  // namespace

TEST_CASE("every board is in one group, every cut in one setting, and all counts add up", "[property]") {
    for (std::uint64_t seed = 1; seed <= cases(2000, 100'000); ++seed) {
        INFO("seed " << seed);
        const Made made = random_made(seed);
        const CutList list = list_cuts(made.project, made.frame);
        check_counts(made, list);
        check_members(made, list);
    }
}

TEST_CASE("numbering the ring from another board groups the same boards and the same cuts", "[property]") {
    std::size_t rings = 0;
    for (std::uint64_t seed = 1; seed <= cases(1000, 50'000); ++seed) {
        INFO("seed " << seed);
        Made made = random_made(seed);
        if (!made.frame.closed) continue;
        ++rings;
        // Which board runs through a butt by default depends on the numbering where both sides are equally long: ask for it.
        for (const Joint& joint : made.frame.joints) {
            if (joint.through) made.project.joints[joint.corner].through = joint.through;
        }
        const std::size_t n = made.frame.boards.size();
        const std::size_t by = 1 + Random(seed).index(n - 1);
        const Made other = renumbered(made, by);
        const CutList list = list_cuts(made.project, made.frame), again = list_cuts(other.project, other.frame);
        REQUIRE(partition(list, 0, n) == partition(again, by, n));
        REQUIRE(settings_partition(list, 0, n) == settings_partition(again, by, n));
        for (std::size_t s = 0; s < list.settings.size(); ++s) {
            REQUIRE(list.settings[s].left == again.settings[s].left);
            REQUIRE(list.settings[s].right == again.settings[s].right);
            REQUIRE(list.settings[s].test_pair_deg.has_value() == again.settings[s].test_pair_deg.has_value());
            REQUIRE(list.settings[s].within_saw == again.settings[s].within_saw);
        }
    }
    REQUIRE(rings > 100);
}

TEST_CASE("a regular ring of one board is one piece and one setting, half lefts and half rights", "[property]") {
    for (std::size_t n = 3; n <= 60; ++n) {
        const Outline outline = boardring_test::regular_ring(n, 700.0);
        const Project project = boardring_test::project_for(outline, {38.0});
        const CutList list = list_cuts(project, build_frame(project, outline).value());
        REQUIRE(list.groups.size() == 1);
        REQUIRE(list.groups[0].members.size() == n);
        REQUIRE(list.settings.size() == 1);
        REQUIRE(list.settings[0].left == n);
        REQUIRE(list.settings[0].right == n);
        // Two test pieces make the corner.
        REQUIRE_THAT(list.settings[0].test_pair_deg.value(), within_deg(180.0 - 360.0 / static_cast<double>(n), 1e-9));
    }
}

TEST_CASE("clockwise letters swap lefts and rights and nothing else", "[property]") {
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        INFO("seed " << seed);
        Made made = random_made(seed);
        made.project.pieces.clear();  // they lie as they are asked for, whichever way the letters run
        const CutList list = list_cuts(made.project, made.frame);
        made.frame.letters_clockwise = true;
        const CutList mirror = list_cuts(made.project, made.frame);
        REQUIRE(list.settings.size() == mirror.settings.size());
        for (std::size_t s = 0; s < list.settings.size(); ++s) {
            REQUIRE(list.settings[s].left == mirror.settings[s].right);
            REQUIRE(list.settings[s].right == mirror.settings[s].left);
        }
        REQUIRE(partition(list, 0, made.frame.boards.size()) == partition(mirror, 0, made.frame.boards.size()));
    }
}
