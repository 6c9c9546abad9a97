#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "closure/opening_lanes.hpp"
#include "closure/ring_motion.hpp"
#include "closure/sources.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

/// How wide a drawn-in ring's widest joint opens, over many builds.
struct OpeningOdds {
    double within = 0.0;      ///< share of the builds in which no joint opens more than the wanted gap
    double typical_mm = 0.0;  ///< half of the builds stay under this
    double most_mm = 0.0;     ///< 95 of 100 builds stay under this
    double mean_mm = 0.0;     ///< over the builds
    double sd_mm = 0.0;       ///< standard deviation over the builds
};

/// The widest opening of the boards as meant, and its standard deviation by one linear map: as long as the same gaps are shut.
struct OpeningAsMeant {
    std::size_t corner = 0;
    bool inside = false;     ///< the inner gap, else the outer one
    double meant_mm = 0.0;   ///< what the steps of rule, bevel or saw leave there
    double sd_mm = 0.0;      ///< of that gap, by the map
    double same_shut = 0.0;  ///< share of the builds that shut just these gaps: where it is small, the map says little
};

/// How long to leave the board that is fitted last.
struct LeaveLong {
    std::size_t board = 0;
    std::size_t corner = 0;    ///< where it is trimmed: its second corner
    double long_mm = 0.0;      ///< too short in fewer than 1 of 100 builds; not rounded, >= 0
    double trimmed_mm = 0.0;   ///< what then comes off on average where least comes off
    double told_mm = 0.0;      ///< how long the project says to leave it, 0: not at all
    double too_short = 0.0;    ///< share of the builds in which it is too short when left told_mm long
    double lip_mm = 0.0;       ///< 95 of 100 builds stay under this lip, which trimming does not mend
};

/// One source and what it does.
struct BudgetLine {
    ErrorSource source;
    double stiff_share = 0.0;   ///< of the variance of inner and outer gap together, all other joints held tight
    double spread_share = 0.0;  ///< of the sum of squared openings of the drawn-in ring, before gaps are cut off at 0
};

/// What the errors of one way of making the boards do to the last joint, to first order.
struct Budget {
    SlopeBy way = SlopeBy::bevel;
    std::size_t corner = 0;  ///< the last joint: second corner of the board that is fitted last
    double gap_in_sd_mm = 0.0, gap_out_sd_mm = 0.0, lip_in_sd_mm = 0.0, angle_left_sd_deg = 0.0;
    /// Of (gap in, lip in, angle left): mm, mm, deg.
    std::array<std::array<double, 3>, 3> covariance{};
    std::vector<BudgetLine> lines;  ///< most of the drawn-in opening first
    OpeningOdds spread;
    std::optional<OpeningAsMeant> as_meant;  ///< empty where the boards as meant close without any opening
    LeaveLong leave_long;
};

/// A closed ring made one way with all that can go wrong: what budget, advice and simulation share.
///
/// ready() is false for rings whose joints all slide along one line; nothing can be said of them.
class RingErrors {
public:
    /// \param base  boards as meant, one for each board
    RingErrors(const Project& project, const Frame& frame, SlopeBy way, std::vector<MadeBoard> base);

    [[nodiscard]] bool ready() const { return openings.ready(); }

    /// Odds to first order when source s is `factor[s]` times as large (empty: as they are).
    [[nodiscard]] OpeningOdds odds(const std::vector<double>& factor, double wanted_mm, std::size_t builds) const;
    /// \param told_mm  how long the board is left
    [[nodiscard]] LeaveLong leave_long(std::size_t board, double told_mm) const;
    [[nodiscard]] std::optional<OpeningAsMeant> as_meant(std::size_t builds) const;

    ErrorModel model;
    RingMotion ring;
    OpeningLanes openings;
    std::vector<Twist> twists;  ///< by input
    Twist mean{};               ///< of the boards as meant: what rounding leaves

private:
    [[nodiscard]] std::array<Twist, 3> root_of_covariance(const std::vector<double>& factor) const;
};

/// \param builds  random builds for the odds, a multiple of 8
/// Laws   stiff standard deviations scale with the sources; shares add up to 1; a ring lettered from another corner has the
///        same odds, but for the builds drawn
/// Cost   about 1 ms for six boards and 1,000 builds, most of it the kBuildsOfAdvice builds of leave_long [bench_last_joint]
/// Source docs/theory/last_joint.md
Budget budget_of(const RingErrors& errors, std::size_t fit_last, const Wanted& wanted, std::size_t builds);

/// Enough for a page: the share within is known to 1.5 of 100.
inline constexpr std::size_t kBuildsOfPage = 1024;
/// Enough for advice that compares: the same builds every time, so differences are finer than their share.
inline constexpr std::size_t kBuildsOfAdvice = 8192;

}  // namespace boardring
