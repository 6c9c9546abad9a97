#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "plan/buying_plan.hpp"
#include "project/project.hpp"

namespace boardring {

/// Long boards that are sawn alike: same section, same length, same pieces in the same order.
struct SawnBoards {
    const SectionPurchase* purchase = nullptr;
    std::size_t bar = 0;                 ///< the first of them, index into purchase->buy.bars
    std::vector<std::size_t> numbers;    ///< on paper, from 0, through all sections
};
std::vector<SawnBoards> sawn_boards(const Buying& buying);

/// One piece on its long board, as papers show it; marks are measured from the board's left end as bought.
struct SawnPiece {
    std::string name;
    std::string left_far, left_near, left_saw;     ///< slopes as on the saw, with / or \ for the way the cut leans seen from above
    std::string right_far, right_near, right_saw;
    std::string turned;                            ///< "" or a word of pieces_legend
};
std::vector<SawnPiece> sawn_pieces(const SawnBoards& boards, const std::vector<const Project*>& projects);

/// "LONG BOARDS 1 and 2 (sawn alike)".
std::string sawn_heading(const SawnBoards& boards);
/// "145 x 38, 2.4 m. Left over: 394.5."
std::string sawn_subject(const SawnBoards& boards, const Project& project);
/// How the pieces of these boards are turned, and what a rough one is, a sentence each; none where there is none.
std::vector<std::string> pieces_legend(const std::vector<SawnBoards>& boards, const std::vector<const Project*>& projects);

/// From where the marks are counted, what the slopes mean, how pieces are turned, and the care it takes.
std::string how_to_saw(const std::vector<SawnBoards>& boards, const std::vector<const Project*>& projects);

/// Every long board with its pieces as tables, and how to read them. No line is wider than kPageColumns.
std::vector<std::string> sawing_order_lines(const Buying& buying, const std::vector<const Project*>& projects);

}  // namespace boardring
