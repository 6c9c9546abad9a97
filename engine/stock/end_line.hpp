#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "stock/sequence.hpp"
#include "stock/strip.hpp"

namespace boardring {

/// The ends of pieces as points of a line, so that what an order of pieces loses is half the length of a walk along it
/// (docs/theory/stock.md). Every piece is a way between its two points, the bar itself begins and ends at the point of a square cut, and
/// neighbours whose points differ cost half their distance. What does not depend on the order belongs to the pieces.
///
/// How points come about depends on the turnings:
///   all four                    slants without sign: exact when the ends of a bar are sawn
///   end for end                 slants with sign: too short by at most kerf (1/cos S - 1) for each pair of unlike hands
///   top to bottom, or none      unlike hands always meet as they slant, so half of every slant belongs to its piece, and points are kerfs
///                               alone: too short where some ends slant the other way, and where pieces may not be turned
/// Where a cut beside a bar's end may run off it, the two steepest kerfs are given up: too short by at most two kerfs' slants.
class EndLine {
public:
    EndLine(const Strip& strip, const std::vector<StripPiece>& kinds);

    /// The same with at most `points` points: the narrowest gaps are taken for nothing, so that no walk becomes longer.
    [[nodiscard]] EndLine with_fewer_points(std::size_t points) const;

    /// Never more than the least length a bar needs for these pieces [mm] [end_line_test].
    [[nodiscard]] double least_mm(const Counts& counts) const;

    /// Pieces along a shortest walk, each turned as it is passed. Nothing where pieces may not be turned as they would be passed.
    [[nodiscard]] std::optional<Sequence> order(const Counts& counts) const;

    [[nodiscard]] const Strip& strip() const { return strip_; }
    [[nodiscard]] const std::vector<StripPiece>& kinds() const { return kinds_; }
    /// True if points are kerfs alone, which hardly differ.
    [[nodiscard]] bool slants_are_shared() const { return what_ == Points::kerfs; }
    [[nodiscard]] std::size_t points() const { return gaps_.size() + 1; }
    [[nodiscard]] std::size_t square_point() const { return square_; }
    [[nodiscard]] double gap_mm(std::size_t gap) const { return gaps_[gap]; }
    [[nodiscard]] const std::array<std::size_t, 2>& ends_at(std::size_t kind) const { return ends_at_[kind]; }
    /// Length with its share of the losses.
    [[nodiscard]] double own_mm(std::size_t kind) const { return own_mm_[kind]; }
    /// What a bar of any of the pieces needs besides; may be negative.
    [[nodiscard]] double base_mm() const;

private:
    enum class Points { slants, signed_slants, kerfs };
    struct Moves {                           ///< what is walked besides the pieces
        double length_mm = 0.0;
        std::vector<int> across;             ///< per gap: how often it is crossed without a piece
    };

    void lay_out_points();
    void share_slants();
    void give_up_shared_kerfs();
    [[nodiscard]] Moves moves_for(const Counts& counts) const;
    [[nodiscard]] Turning turning_of(std::size_t kind, bool backwards, double run_before) const;

    Strip strip_;
    std::vector<StripPiece> kinds_;
    Points what_ = Points::slants;
    std::vector<double> gaps_;               ///< between neighbouring points [mm]
    std::size_t square_ = 0;
    std::vector<std::array<std::size_t, 2>> ends_at_;  ///< per kind: points of its left and its right end
    std::vector<double> own_mm_;
    std::vector<double> steepest_kerf_mm_;   ///< per kind
};

}  // namespace boardring
