#include "cutlist/grouping.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/ensure.hpp"
#include "cutlist/ranks.hpp"

namespace boardring {
namespace {

PieceEnd end_of(const Board& board, std::size_t e) {
    const BoardEnd& end = board.ends[e];
    const double into_board = e == 0 ? 1.0 : -1.0;
    PieceEnd to;
    to.saw_deg = end.saw_deg;
    to.width_mm = board.width_at(e);
    if (end.lap) {
        to.lap = PieceLap{end.lap->depth_mm, into_board * (end.lap->shoulder_inside_mm - end.inside_mm),
                          into_board * (end.lap->shoulder_outside_mm - end.outside_mm), end.lap->keeps_upper};
    }
    return to;
}

void swap_top_and_bottom(Piece& piece) {
    for (PieceEnd& end : piece.ends) {
        if (end.lap) end.lap->keeps_upper = !end.lap->keeps_upper;
    }
}

void swap_inside_and_outside(Piece& piece) {
    std::swap(piece.inside_mm, piece.outside_mm);
    if (piece.ends[0].width_mm != piece.ends[1].width_mm) piece.from_other_edge = !piece.from_other_edge;
    for (PieceEnd& end : piece.ends) {
        end.saw_deg = -end.saw_deg;
        if (end.lap) std::swap(end.lap->inside_mm, end.lap->outside_mm);
    }
}

void swap_ends(Piece& piece) { std::swap(piece.ends[0], piece.ends[1]); }

Surface surface_of(const Project& project, std::size_t board) {
    const std::optional<std::size_t> stock = project.boards[board].stock;
    return stock ? project.stock[*stock].surface : Surface::plain;
}

// Rank of an angle with the angle's sign, so that turning (which negates angles) commutes with ranking.
double signed_rank(const Ranks& sizes, double deg) {
    const auto rank = static_cast<double>(sizes.of(std::abs(deg)));
    return deg < 0.0 ? -rank : rank;
}

// The pieces with every length and angle replaced by its rank among all of them: equal exactly where the pieces are the same.
std::vector<Piece> ranked(const std::vector<Piece>& pieces) {
    std::vector<double> lengths;
    std::vector<double> angles{0.0};  // a square cut is its own opposite
    for (const Piece& piece : pieces) {
        lengths.insert(lengths.end(), {piece.width_mm, piece.height_mm, piece.inside_mm, piece.outside_mm});
        for (const PieceEnd& end : piece.ends) {
            angles.push_back(std::abs(end.saw_deg));
            lengths.push_back(end.width_mm);
            if (end.lap) lengths.insert(lengths.end(), {end.lap->depth_mm, end.lap->inside_mm, end.lap->outside_mm});
        }
    }
    const Ranks length_ranks(std::move(lengths), kSamePieceMm);
    const Ranks angle_ranks(std::move(angles), kSamePieceDeg);
    const auto rank_length = [&](double& mm) { mm = static_cast<double>(length_ranks.of(mm)); };
    std::vector<Piece> result = pieces;
    for (Piece& piece : result) {
        rank_length(piece.width_mm);
        rank_length(piece.height_mm);
        rank_length(piece.inside_mm);
        rank_length(piece.outside_mm);
        for (PieceEnd& end : piece.ends) {
            end.saw_deg = signed_rank(angle_ranks, end.saw_deg);
            rank_length(end.width_mm);
            if (!end.lap) continue;
            rank_length(end.lap->depth_mm);
            rank_length(end.lap->inside_mm);
            rank_length(end.lap->outside_mm);
        }
    }
    return result;
}

// The same for all turnings of one piece: the least of them.
Piece representative(const Piece& piece, const std::vector<Turning>& allowed) {
    Piece least = piece;
    for (const Turning turning : allowed) {
        Piece other = turned(piece, turning);
        if (other < least) least = std::move(other);
    }
    return least;
}

Turning turning_between(const Piece& from, const Piece& to, const std::vector<Turning>& allowed) {
    for (const Turning turning : allowed) {
        if (turned(from, turning) == to) return turning;
    }
    ENSURE(false);
    return Turning::as_first;
}

}  // namespace

Piece piece_of(const Project& project, const Frame& frame, std::size_t board) {
    const Board& b = frame.boards[board];
    Piece piece;
    piece.stock = project.boards[board].stock;
    piece.width_mm = std::max(b.width_at(0), b.width_at(1));
    piece.height_mm = b.height_mm;
    piece.inside_mm = b.inside_length_mm();
    piece.outside_mm = b.outside_length_mm();
    piece.ends = {end_of(b, 0), end_of(b, 1)};
    return piece;
}

Piece turned(const Piece& piece, Turning turning) {
    Piece result = piece;
    switch (turning) {
        case Turning::as_first: break;
        case Turning::top_to_bottom:
            swap_top_and_bottom(result);
            swap_ends(result);
            break;
        case Turning::edge_for_edge:
            swap_inside_and_outside(result);
            swap_top_and_bottom(result);
            break;
        case Turning::end_for_end:
            swap_inside_and_outside(result);
            swap_ends(result);
            break;
    }
    return result;
}

Piece mirrored(const Piece& piece) {
    Piece result = piece;
    swap_ends(result);
    return result;
}

std::vector<Turning> allowed_turnings(Surface surface, Lie lie) {
    switch (surface) {
        case Surface::plain: return {Turning::as_first, Turning::top_to_bottom, Turning::end_for_end, Turning::edge_for_edge};
        case Surface::show_face: return {Turning::as_first, lie == Lie::on_edge ? Turning::top_to_bottom : Turning::end_for_end};
        case Surface::moulded: return {Turning::as_first};
    }
    ENSURE(false);
    return {};
}

std::vector<PieceGroup> group_boards(const Project& project, const Frame& frame) {
    const std::size_t n = frame.boards.size();
    ENSURE(project.boards.size() == n);
    std::vector<Piece> pieces;
    pieces.reserve(n);
    for (std::size_t k = 0; k < n; ++k) pieces.push_back(piece_of(project, frame, k));
    pieces = ranked(pieces);

    std::vector<PieceGroup> groups;
    std::map<Piece, std::size_t> group_of;  // by representative; ordered, and only looked up
    for (std::size_t k = 0; k < n; ++k) {
        const std::vector<Turning> allowed = allowed_turnings(surface_of(project, k), project.lie);
        const auto [place, is_new] = group_of.try_emplace(representative(pieces[k], allowed), groups.size());
        if (!is_new) {
            PieceGroup& group = groups[place->second];
            group.members.push_back({k, turning_between(pieces[k], pieces[group.members.front().board], allowed)});
            continue;
        }
        PieceGroup group;
        group.members.push_back({k, Turning::as_first});
        const auto image = group_of.find(representative(mirrored(pieces[k]), allowed));
        if (image != group_of.end() && image->second != groups.size()) group.mirror_of = image->second;
        groups.push_back(std::move(group));
    }
    for (PieceGroup& group : groups) group.count = group.members.size() * project.of_each_board();
    return groups;
}

}  // namespace boardring
