#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "closure/open_chain.hpp"
#include "closure/ring_motion.hpp"
#include "closure/sources.hpp"
#include "closure/trials.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

// An open chain has no last joint: its joints are held tight, and what is left shows at its free ends. Laid with both on the line
// they belong on, the chain is too long or too short, and each end face stands off its own line by a wedge.
// docs/theory/last_joint.md section 6

/// An open chain made one way with all that can go wrong.
class ChainErrors {
public:
    /// \param frame  open; must outlive this
    /// \param base   boards as meant, one for each board
    ChainErrors(const Project& project, const Frame& frame, SlopeBy way, std::vector<MadeBoard> base);

    /// What one standard deviation of an error does to the far end, to first order, analytically.
    /// Accuracy  1e-6 of its size against differences of the exact chain [free_ends_test]
    [[nodiscard]] SpanMiss first_order(const ErrorInput& input) const;
    /// The far end of boards with these errors, in standard deviations: exactly.
    [[nodiscard]] SpanMiss walked(const std::vector<double>& errors) const;

    const Frame& frame;
    ErrorModel model;
    OpenChain chain;
    std::array<double, 2> face_mm{};  ///< widths of the first and the last end face

private:
    std::vector<MadeBoard> exact_;
    std::vector<RingMotion::JointPlace> places_;
};

/// One source and what it does.
struct FreeEndsLine {
    ErrorSource source;
    double span_share = 0.0;  ///< of the variance of the span
    double face_share = 0.0;  ///< of that of both faces' wedges together
};

/// To first order.
struct FreeEndsBudget {
    SlopeBy way = SlopeBy::bevel;
    double span_sd_mm = 0.0;             ///< between the inside marks of both free ends
    std::array<double, 2> face_sd_mm{};  ///< by how much one edge of the first and of the last face stands off more than the other
    std::vector<FreeEndsLine> lines;     ///< most of the span first
};

/// Laws  sources k times as large: standard deviations k times; shares add up to 1, but where nothing scatters
FreeEndsBudget budget_of_free_ends(const ChainErrors& errors);

/// Very many chains, each walked.
struct FreeEndsTrials {
    std::size_t runs = 0;
    bool still = false;
    std::uint64_t seed = 0;
    TrialResult longer;     ///< span less the wanted one, mm, with its sign
    TrialResult off;        ///< its size
    std::array<TrialResult, 2> faces;  ///< sizes of the first and the last end face's wedges, mm
    TrialResult face;       ///< the larger of both
    TrialResult held;       ///< how far the far end's inside mark misses its place where the first end is fixed first, mm
    double within = 0.0;        ///< share of the chains no end face of which stands off more than the wanted gap
    double within_error = 0.0;  ///< its own standard error
};

/// \param options  runs, seed, threads, progress; the answer depends on runs and seed only
FreeEndsTrials try_free_ends(const ChainErrors& errors, double wanted_mm, const TrialOptions& options);

}  // namespace boardring
