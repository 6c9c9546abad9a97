#include "outline/pegs.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/ensure.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "outline/laid_on.hpp"
#include "outline/outline.hpp"
#include "outline/speaker.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostTriedAll = 14;
constexpr std::size_t kMostPairs = 4000;
constexpr double kTwice = 2.0;  // standard deviations: nineteen in twenty

using Choice = std::vector<bool>;  // of pegs to keep; on one peg alone the bed is laid with the turn that suits all

struct Way {
    Choice keep;
    std::vector<Vec2> places;
    std::size_t kept = 0;
    double moved_mm = 0.0;
    bool possible = false;
};

class Search {
public:
    Search(const std::vector<Vec2>& wanted, const std::vector<Vec2>& found, const std::vector<double>& within, const Choice& must_stay)
        : wanted_(wanted), found_(found), within_(within), must_stay_(must_stay) {}

    [[nodiscard]] Way way_of(const Choice& keep) const {
        Way way{keep, laid_on(wanted_, found_, keep), 0, 0.0, true};
        for (std::size_t c = 0; c < keep.size(); ++c) {
            const double off = length(way.places[c] - found_[c]);
            if (!keep[c]) {
                way.moved_mm += off;
                continue;
            }
            ++way.kept;
            if (off > within_[c] && !must_stay_[c]) way.possible = false;
        }
        return way;
    }

    void offer(const Choice& keep) {
        Way way = way_of(keep);
        if (!way.possible) return;
        const bool better = !best_.possible || way.kept > best_.kept || (way.kept == best_.kept && way.moved_mm < best_.moved_mm * (1.0 - 1e-9));
        if (better) best_ = std::move(way);
    }

    // Every choice that keeps what must stay; nothing is kept at least once.
    void try_all() {
        const std::size_t n = wanted_.size();
        for (std::size_t bits = 1; bits < (std::size_t{1} << n); ++bits) {
            Choice keep(n);
            std::size_t kept = 0;
            bool stays = true;
            for (std::size_t c = 0; c < n; ++c) {
                keep[c] = ((bits >> c) & 1U) != 0;
                kept += keep[c] ? std::size_t{1} : std::size_t{0};
                stays = stays && (keep[c] || !must_stay_[c]);
            }
            if (stays && (!best_.possible || kept >= best_.kept)) offer(keep);
        }
    }

    void grow_from_pairs() {
        const std::size_t n = wanted_.size();
        const std::size_t step = 1 + n * (n - 1) / 2 / kMostPairs;
        std::size_t pair = 0;
        for (std::size_t a = 0; a < n; ++a) {
            for (std::size_t b = a + 1; b < n; ++b) {
                if (pair++ % step != 0) continue;
                Choice keep = must_stay_;
                keep[a] = keep[b] = true;
                for (int round = 0; round < 6; ++round) {
                    offer(keep);
                    const std::vector<Vec2> places = laid_on(wanted_, found_, keep);
                    Choice next = must_stay_;
                    for (std::size_t c = 0; c < n; ++c) next[c] = next[c] || length(places[c] - found_[c]) <= within_[c];
                    if (next == keep || std::count(next.begin(), next.end(), true) < 2) break;
                    keep = std::move(next);
                }
            }
            Choice alone = must_stay_;
            alone[a] = true;
            offer(alone);
        }
    }

    [[nodiscard]] const Way& best() const { return best_; }

private:
    const std::vector<Vec2>& wanted_;
    const std::vector<Vec2>& found_;
    const std::vector<double>& within_;
    const Choice& must_stay_;
    Way best_;
};

// In words for the bench: along a string, and square to it.
void say_way(PegMove& move, std::size_t c, const std::vector<Vec2>& found, const std::vector<Vec2>& places, bool closed) {
    const std::size_t n = found.size();
    const Vec2 way = places[c] - found[c];
    double most = -1.0;
    for (const bool next : {true, false}) {
        if (!closed && (next ? c + 1 == n : c == 0)) continue;
        const std::size_t other = next ? (c + 1) % n : (c + n - 1) % n;
        const Vec2 string = places[other] - found[c];
        if (!(length(string) > 0.0)) continue;
        const Vec2 e = (1.0 / length(string)) * string;
        if (std::abs(dot(way, e)) <= most * (1.0 + 1e-9)) continue;
        most = std::abs(dot(way, e));
        move.string_to = other;
        move.towards_mm = dot(way, e);
        move.out_mm = dot(way, next ? right_of(e) : left_of(e));
    }
}

// Two pegs whose tapes cross best there.
void say_tapes(PegMove& move, std::size_t c, const std::vector<Vec2>& places, const Choice& keep) {
    double best = -1.0;
    for (std::size_t a = 0; a < places.size(); ++a) {
        for (std::size_t b = a + 1; b < places.size(); ++b) {
            if (a == c || b == c) continue;
            const Vec2 to_a = places[a] - places[c], to_b = places[b] - places[c];
            const double sizes = length(to_a) * length(to_b);
            if (!(sizes > 0.0)) continue;
            const double standing = (keep[a] ? 1.0 : 0.0) + (keep[b] ? 1.0 : 0.0);
            const double score = 2.0 * standing + std::abs(cross(to_a, to_b)) / sizes;
            if (score <= best + 1e-9) continue;
            best = score;
            move.from = {a, b};
            move.from_mm = {length(to_a), length(to_b)};
        }
    }
}

Project project_of_pegs(const Project& project) {
    Project pegs = project;
    pegs.outline.form = project.outline.pegs->readings;
    pegs.outline.form_pointer = project.outline.pegs->pointer;
    pegs.outline.hang.reset();
    pegs.boards.clear();  // pegs stand on one line: no other face was taped
    return pegs;
}

// Words about readings of the outline, said of those of the pegs. Never more than a warning: the outline that is wanted stands
// without them, and so do its boards; only where a peg goes cannot be said.
Findings about_pegs(Findings findings, const PegsAsked& asked) {
    for (Finding& finding : findings) {
        if (finding.severity == Severity::error) finding.severity = Severity::warning;
        if (finding.pointer == "/outline/readings") finding.pointer = asked.pointer;
        finding.message = "Pegs: " + finding.message;
        finding.changes.clear();
    }
    return findings;
}

}  // namespace

PegMoves move_pegs(const std::vector<Vec2>& wanted_mm, const std::vector<Vec2>& found_mm, const std::vector<double>& within_mm,
                   const std::vector<bool>& must_stay, bool closed) {
    const std::size_t n = wanted_mm.size();
    Search search(wanted_mm, found_mm, within_mm, must_stay);
    PegMoves moves;
    moves.every_way = n <= kMostTriedAll;
    if (moves.every_way) {
        search.try_all();
    } else {
        search.grow_from_pairs();
    }
    const Way& best = search.best();
    moves.found_mm = found_mm;
    moves.moved_mm = best.moved_mm;
    moves.moved = n - best.kept;
    const std::vector<Vec2> shared = laid_on(wanted_mm, found_mm, Choice(n, true));
    for (std::size_t c = 0; c < n; ++c) {
        PegMove move;
        move.stays = best.keep[c];
        move.off_mm = length(best.places[c] - found_mm[c]);
        move.within_mm = within_mm[c];
        move.place_mm = best.places[c];
        if (!move.stays) {
            say_way(move, c, found_mm, best.places, closed);
            say_tapes(move, c, best.places, best.keep);
        }
        moves.pegs.push_back(move);
        moves.shared_mm.push_back(length(shared[c] - found_mm[c]));
    }
    return moves;
}

PegsResult place_pegs(const Project& project, const Outline& wanted) {
    PegsResult result;
    if (!project.outline.pegs) return result;
    const PegsAsked& asked = *project.outline.pegs;
    const Result<Outline> found = locate_outline(project_of_pegs(project));
    result.findings = about_pegs(found.findings(), asked);
    if (!found.ok()) return result;
    const std::size_t n = wanted.corners_mm.size();
    ENSURE(found.value().corners_mm.size() == n);  // io/read_outline says so to the maker
    std::vector<double> within_mm;
    for (const double sd : found.value().fitted->corner_sd_mm) within_mm.push_back(std::max(kTwice * sd, project.accuracy.side_mm));
    Choice must_stay(n, false);
    for (const std::size_t c : asked.stay) must_stay[c] = true;
    result.moves = move_pegs(wanted.corners_mm, found.value().corners_mm, within_mm, must_stay, wanted.closed);
    std::vector<std::string> letters;
    double off_mm = 0.0;
    for (std::size_t c = 0; c < n; ++c) {
        const PegMove& peg = result.moves->pegs[c];
        if (!must_stay[c] || peg.off_mm <= peg.within_mm) continue;
        letters.push_back(corner_letter(c));
        off_mm = std::max(off_mm, peg.off_mm);
    }
    if (!letters.empty()) {
        result.findings.push_back({Severity::warning, "pegs.cannot-stay", asked.pointer,
                                   fmt::format("This outline cannot be laid on all the pegs that are to stay: {} {} up to {} off.", listed(letters, "and"),
                                               letters.size() == 1 ? "is" : "are", show_small(off_mm, project.style())),
                                   "Let one of them move, or make the outline fit what is there."});
    }
    return result;
}

}  // namespace boardring
