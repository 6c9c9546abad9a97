#include "project/used_stock.hpp"

#include <cstddef>
#include <optional>

namespace boardring {

std::vector<bool> used_stock(const Project& project) {
    std::vector<bool> used(project.stock.size(), false);
    const auto use = [&used](std::optional<std::size_t> stock) {
        if (stock) used[*stock] = true;
    };
    for (const BoardAsked& board : project.boards) use(board.stock);
    for (const PileKind& kind : project.pile) use(kind.board.stock);
    for (const PieceAsked& piece : project.pieces) use(piece.stock);
    return used;
}

}  // namespace boardring
