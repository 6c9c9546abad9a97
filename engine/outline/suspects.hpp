#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/length_text.hpp"
#include "outline/chain.hpp"
#include "outline/notebook.hpp"

namespace boardring {

/// A usual slip at a corner: what was written instead of the interior angle I (common practice).
enum class Slip {
    outside_ring,  ///< the angle outside the ring: 360 - I
    turn,          ///< what the boards turn: 180 - I, or I - 180 at an inward corner
    half,          ///< half the corner
    saw,           ///< the saw's setting for equal boards: 90 - I/2, or I/2 - 90 at an inward corner
    swapped,       ///< two digits exchanged
};

/// A usual slip at a side (common practice).
enum class SideSlip {
    none,
    hundred,        ///< tape held at 100 mm and not taken off (or taken off twice)
    ten,            ///< the same with 10 mm
    inch,           ///< the same with 1 in
    swapped,        ///< two digits exchanged
    factor_ten,     ///< cm for mm, or a nought too many
    factor_inch,    ///< inches for mm, or the other way
    factor_twelve,  ///< inches for feet, or the other way
    outside_taken,  ///< read along the other line of the boards: outside for inside, or the other way
    middle_taken,   ///< read along the middle of the boards, or along a line instead of the middle
};

/// A suspect fits if errors as large as the chain's `within` (as standard deviations) could leave its miss: e^-9, 1 in 8000.
inline constexpr double kFits = 9.0;

/// What would close if only this corner were wrong.
struct CornerSuspect {
    std::size_t corner = 0;
    double would_be_deg = 0.0;
    double miss_mm = 0.0;     ///< how far the sides then are from meeting
    double noise_mm = 0.0;    ///< root mean square of what errors of all the other values alone would leave; 0 until asked for
    double unlikely = 0.0;    ///< how badly it fits: half the squared miss in units of that noise, direction by direction
    double vague = 0.0;       ///< logarithm of the area the noise covers: of two that fit alike, the sharper one is the likelier
    std::vector<Slip> slips;  ///< those that explain it, closest first
    bool slip_exact = false;  ///< the first one gives what would close to the last digit

    [[nodiscard]] bool fits() const { return unlikely <= kFits; }
};

/// What would bring the sides nearest if only this side were wrong.
struct SideSuspect {
    std::size_t side = 0;
    double would_be_mm = 0.0;
    double miss_mm = 0.0;   ///< what is left across the side
    double unlikely = 0.0;  ///< as for corners, across the side only
    double vague = 0.0;
    SideSlip slip = SideSlip::none;

    [[nodiscard]] bool fits() const { return unlikely <= kFits; }
};

/// Two values that stand in each other's place.
struct ExchangeSuspect {
    bool sides = false;  ///< two sides, else two corners
    std::size_t first = 0;
    std::size_t second = 0;
    double miss_mm = 0.0;
};

/// A slip made at every corner.
struct AllCornersSuspect {
    Slip slip = Slip::turn;
    double miss_mm = 0.0;
};

/// Every corner in turn given the whole misfit of the angle sum, nearest to meeting first; corners that would leave (0, 360)
/// are left out. With the walk turned about corner P by the misfit d, the miss is 2 sin(|d|/2) |P - Q|, Q the one centre of that
/// turn (docs/theory/outline.md section 4): linear but for the sorting. Noise and slips are filled for the first `detailed`.
std::vector<CornerSuspect> corner_suspects(const Notebook& book, const std::vector<Reading>& readings, std::size_t detailed);

/// The corner meant where `given_deg` was written by this slip; `inward`: at a corner that points into the ring.
double corner_that_gives(Slip slip, double given_deg, bool inward);

/// The slips that would turn `would_be_deg` into what is written, allowing `within_deg`.
std::vector<Slip> angle_slips(double given_deg, double would_be_deg, double within_deg);

/// All numbers that two exchanged digits make of this one, written with up to three decimals.
std::vector<double> with_digits_swapped(double value);

/// A slip at all corners that makes the angles add up and the sides meet within the digits.
std::optional<AllCornersSuspect> all_corners_suspect(const Chain& given);

/// Two corners that, read on the inside instead of outside the ring, make the angles add up and the sides meet; rings of up
/// to 60.
std::optional<ExchangeSuspect> two_inward_suspect(const Chain& given);

/// Every side in turn, likeliest first; for chains whose angles add up. Sides that would have to vanish are left out.
std::vector<SideSuspect> side_suspects(const Chain& balanced, const LengthStyle& style);

/// Two sides or two corners exchanged so that the sides meet within the digits, best first; rings of up to 200.
std::vector<ExchangeSuspect> exchange_suspects(const Chain& balanced);

/// Root mean square of the miss that errors of `within` in all values leave once the angle sum is shared out [mm].
double closing_noise_mm(const Chain& chain);

/// Across corner c, from its neighbour before to its neighbour after, for a corner of `interior_deg` [mm].
double across_corner_mm(const Chain& chain, std::size_t corner, double interior_deg);

}  // namespace boardring
