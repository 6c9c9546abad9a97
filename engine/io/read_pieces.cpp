#include <string>

#include <fmt/format.h>

#include "base/quoted.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostPieces = 1000;
constexpr NumberLimits kEndAngle{-90.0, 90.0, false, false};

double read_end(Job& job, const Fields& piece, std::string_view side, const std::string& name) {
    const auto spot = piece.find(side);
    if (!spot) {
        job.assume(piece.pointer(side), fmt::format("{}: {} end cut square", name, side));
        return 0.0;
    }
    const auto fields = Fields::open(job, *spot, {"saw_deg"});
    if (!fields) return 0.0;
    const auto saw = fields->require(job, "saw_deg", "the saw setting from square, + if the outside is longer", "22.5");
    return saw ? read_angle(job, *saw, kEndAngle).value_or(0.0) : 0.0;
}

PieceAsked read_piece(Job& job, const Spot& spot, const StockRead& stock) {
    PieceAsked piece;
    piece.pointer = spot.pointer;
    const auto fields = Fields::open(job, spot, {"name", "stock", "length", "count", "left", "right"});
    if (!fields) return piece;
    if (const auto name = fields->require(job, "name", "what you call the piece", "\"foot\""))
        piece.name = read_text(job, *name, 1, 60).value_or("");
    if (const auto name = fields->require(job, "stock", "which boards it is cut from", "\"rail\""))
        piece.stock = read_stock_name(job, *name, stock).value_or(0);
    if (const auto length = fields->require(job, "length", "how long it is from long point to long point", "80"))
        piece.length_mm = read_length(job, *length, kPieceLength).value_or(0.0);
    if (const auto count = fields->find("count")) {
        piece.count = read_count(job, *count, {1, 10'000}).value_or(1);
    } else {
        job.assume(fields->pointer("count"), piece.name + ": one piece");
    }
    piece.left_saw_deg = read_end(job, *fields, "left", piece.name);
    piece.right_saw_deg = read_end(job, *fields, "right", piece.name);
    return piece;
}

}  // namespace

std::vector<PieceAsked> read_pieces(Job& job, const Fields& project, const StockRead& stock) {
    std::vector<PieceAsked> pieces;
    const auto spot = project.find("pieces");
    if (!spot) return pieces;
    const auto count = read_list(job, *spot, 0, kMostPieces, "pieces");
    for (std::size_t i = 0; i < count.value_or(0); ++i) pieces.push_back(read_piece(job, spot->item(i), stock));
    return pieces;
}

}  // namespace boardring
