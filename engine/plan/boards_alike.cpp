#include "plan/boards_alike.hpp"

namespace boardring {
namespace {

PieceTurn turn_of(Turning turning) {
    switch (turning) {
        case Turning::as_first: return {};
        case Turning::top_to_bottom: return {true, false};
        case Turning::edge_for_edge: return {false, true};
        case Turning::end_for_end: return {true, true};
    }
    return {};
}

}  // namespace

std::vector<AlikeBoard> boards_alike(const CutList& cuts, std::size_t boards) {
    std::vector<AlikeBoard> alike(boards);
    for (std::size_t k = 0; k < boards; ++k) alike[k].first = k;
    for (const PieceGroup& group : cuts.groups) {
        for (const GroupMember& member : group.members)
            alike[member.board] = {group.members.front().board, turn_of(member.turning)};
    }
    return alike;
}

}  // namespace boardring
