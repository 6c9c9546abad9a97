#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "cutlist/cut_list.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"
#include "stock/buying.hpp"

namespace boardring {

/// One project to buy for, as often as it is to be built (Project::copies).
struct FrameToBuy {
    const Project* project = nullptr;
    const Frame* frame = nullptr;        ///< without boards where the project is pieces alone
    const CutList* cut_list = nullptr;
};

/// What a piece on a bought board is for.
struct BoughtPiece {
    enum class What { board, extra, spare, test };
    What what = What::board;
    std::size_t frame = 0;              ///< index into the frames bought for
    std::vector<std::size_t> boards;    ///< boards of the ring that are cut alike, ascending; what = board or spare
    std::size_t extra = 0;              ///< index into Project::pieces; what = extra
    std::array<double, 2> saw_deg{};    ///< the saw's setting at its left and right end as it lies unturned, away from square, >= 0
    bool rough = false;                 ///< a box over-long, to be brought to its own section before its ends are sawn
};

/// Boards of one section, with everything cut from them.
struct SectionPurchase {
    std::size_t frame = 0;              ///< the first frame that uses it
    std::size_t stock = 0;              ///< index into that project's stock
    BuyingSection section;              ///< upper edge of the strip = inside of a piece that is not turned
    std::vector<BoughtPiece> names;     ///< of section.pieces
    double width_mm = 0.0;              ///< of the boards bought
    double thickness_mm = 0.0;
    std::string wood;                   ///< to tell it by, where another section has its sizes and is of another wood; else ""
    std::vector<BoughtPiece> too_large; ///< boards larger than the section they are to be cut from; not bought
    SectionBuy buy;
    std::optional<double> as_boxes;     ///< price, or length, if every piece were bought as the box round its long points
};

/// The purchase for one or more frames.
struct Buying {
    std::vector<SectionPurchase> sections;  ///< in the order of the cut lists
    [[nodiscard]] bool has_offers() const {
        for (const SectionPurchase& s : sections) {
            if (s.buy.outcome != BuyingOutcome::no_offers) return true;
        }
        return false;
    }
};

/// A board within this of its stock's width and thickness is a board of that stock, measured; farther off it is planed or ripped to
/// its size, which moves the line its ends are marked on. Common practice.
inline constexpr double kSameSectionMm = 2.0;

/// Work allowed for the buying part of a plan: well under a second; `boardring buy` may look longer.
inline constexpr std::uint64_t kBuyingStepsOfPlan = 20'000'000;

/// Pieces of all frames, spares and test pieces included, onto the boards their stock offers. Sections of the same stock name, size, wood,
/// surface, lie, end trim and saw cut are one; an offer written alike in two projects is one offer. Boards given by size only are not bought here.
Buying plan_buying(const std::vector<FrameToBuy>& frames, const BuyingLimits& limits);

/// What the purchase asks to be decided. `projects` are those of the frames bought for; a finding points into the first that uses the
/// section.
///   buy.other-size      warning  a board is smaller than its stock, and bought to be brought to size; or larger, and not bought
///   buy.piece-too-long  warning  fits no board on offer; where it can be joined so that its parts fit, what length would do
///   buy.near-miss       note     a board of the piece's own length, or nearly, is a trim or a few millimetres too short for it
///   buy.too-few-boards  warning  every board is counted, and they do not hold the pieces
///   buy.tight-board     caution  a board filled to within kTightMm of its end
///   buy.short-rest      caution  the last cut of a board is made on a rest shorter than `hold_length`
Findings check_buying(const std::vector<const Project*>& projects, const Buying& buying);

}  // namespace boardring
